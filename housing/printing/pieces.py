"""A print in pieces: how it is cut up, the page of each piece, and the pieces kept until all are there.

A piece is kept under the digest of all that is printed on it, so that one made earlier is taken again exactly
when it would be made alike.
"""

import hashlib
import os
import shutil
import time
from collections.abc import Iterator
from functools import cache
from math import ceil
from pathlib import Path

from django.conf import settings
from django.contrib.staticfiles import finders
from django.template.loader import render_to_string

from housing.pdf import PdfUnavailable, press_version, render_pdf
from housing.printing.asked import Asked
from housing.printing.kinds import KINDS
from housing.printing.svg_pdf import drawn_pages, pages_pdf
from objects.core.refusals import Refusal

PIECE_PAGES = 25  # a process that sets so many cut sheets stays below 250 MB, measured
LEAST_PAGES = 6  # less is not worth beginning a file
PIECES_WANTED = 4  # of a small print, so that two processes end at about the same time
KEPT_DAYS = 3  # how long pieces wait for somebody to go on with a print


class PrintRefused(Refusal):
    """A print cannot be made; the message is a sentence for the reader."""


def pages_of(asked: Asked) -> int:
    """How many pages a print has, where everything keeps to its page."""
    return ceil((len(asked.keys) + asked.options.get("start", 1) - 1) / KINDS[asked.what].per_page(asked))


def pieces_of(asked: Asked) -> Iterator[Asked]:
    """The same print cut into pieces; only the first may start in the middle of a page."""
    pages = min(PIECE_PAGES, max(LEAST_PAGES, ceil(pages_of(asked) / PIECES_WANTED)))
    size, start = pages * KINDS[asked.what].per_page(asked), asked.options.get("start", 1)
    first = size - start + 1
    yield asked.of(asked.keys[:first])
    for at in range(first, len(asked.keys), size):
        yield asked.of(asked.keys[at : at + size], start=1)


def page_of(piece: Asked) -> str:
    """The page of a piece as HTML; nothing where none of its records is there any more."""
    kind = KINDS[piece.what]
    context = kind.context(piece)
    return render_to_string(kind.template, context) if context else ""


def pdf_of(page: str) -> bytes:
    """The file of a piece's page. Raises PrintRefused where PDF cannot be made on this computer."""
    if drawn := drawn_pages(page):
        return pages_pdf(drawn)
    try:
        return render_pdf(page)
    except PdfUnavailable as missing:
        raise PrintRefused(str(missing)) from missing


def set_piece(piece: Asked, folder: Path) -> str:
    """Have the file of a piece in a folder; returns its name there, nothing where no record is left."""
    if not (page := page_of(piece)):
        return ""
    file = folder / f"{digest_of(page)}.pdf"
    if not file.exists():
        part = file.with_suffix(f".{os.getpid()}.part")
        part.write_bytes(pdf_of(page))
        part.replace(file)  # whole or not at all, whoever is killed
    return file.name


def digest_of(page: str) -> str:
    """A name for what is printed: all words and pictures of the page, its styles, and what sets it."""
    return hashlib.sha256(f"{_setting_digest()} {page}".encode()).hexdigest()


@cache
def _setting_digest() -> str:
    folder = Path(finders.find("housing/print.css")).parent
    styles = b"".join(path.read_bytes() for path in sorted(folder.glob("*.css")))
    return hashlib.sha256(styles + press_version().encode()).hexdigest()


# ---- The folder of a job ---------------------------------------------------------------------------------


def folder_of(job_pk: int) -> Path:
    """Where the pieces of a job are kept until its print is whole."""
    folder = _root() / str(job_pk)
    folder.mkdir(parents=True, exist_ok=True)
    for part in folder.glob("*.part"):  # of a process that was killed
        part.unlink()
    return folder


def kept_pieces(job_pk: int) -> int:
    """How many pieces of a job are kept."""
    return len(list((_root() / str(job_pk)).glob("*.pdf")))


def drop_pieces(job_pk: int) -> None:
    shutil.rmtree(_root() / str(job_pk), ignore_errors=True)


def drop_old_pieces(but: int) -> None:
    """Remove what nobody went on with for some days. but: the job at work."""
    oldest = time.time() - KEPT_DAYS * 24 * 3600
    for folder in _root().glob("*"):
        if folder.name != str(but) and folder.stat().st_mtime < oldest:
            shutil.rmtree(folder, ignore_errors=True)


def _root() -> Path:
    return Path(settings.VAR_DIR) / "pieces"
