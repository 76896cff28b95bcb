"""Prints as PDF files; a big one is made in pieces, so that memory stays small, and the pieces are joined."""

from collections.abc import Callable, Iterator
from io import BytesIO

import pikepdf
from django.template.loader import render_to_string

from housing.pdf import PdfUnavailable, render_pdf
from housing.printing.asked import Asked
from housing.printing.kinds import KINDS, PrintKind
from housing.printing.svg_pdf import drawn_pages, pages_pdf
from objects.core.refusals import Refusal
from objects.core.words import say

CHUNK_PAGES = 50


class PrintRefused(Refusal):
    """A print cannot be made; the message is a sentence for the reader."""


def make_print(*, asked: Asked, progress: Callable[[int, str], None]) -> bytes:
    """The PDF file of a print.

    Raises PrintRefused when nothing is left to print or PDF cannot be made on this computer.
    """
    pieces = list(pieces_of(asked))
    with pikepdf.new() as whole:
        for done, piece in enumerate(pieces):
            stage = say("Setting part {number} of {count}", number=done + 1, count=len(pieces))
            progress(100 * done // len(pieces), stage)
            if file := piece_pdf(piece):
                with pikepdf.open(BytesIO(file)) as part:
                    whole.pages.extend(part.pages)
        if not whole.pages:
            raise PrintRefused(say("Nothing of it is there any more. Choose anew what to print."))
        made = BytesIO()
        whole.save(made)
    return made.getvalue()


def pieces_of(asked: Asked) -> Iterator[Asked]:
    """The same print cut into pieces; only the first may start in the middle of a page."""
    kind: PrintKind = KINDS[asked.what]
    size, start = CHUNK_PAGES * kind.per_page(asked), asked.options.get("start", 1)
    first = size - start + 1
    yield asked.of(asked.keys[:first])
    for at in range(first, len(asked.keys), size):
        yield asked.of(asked.keys[at : at + size], start=1)


def piece_pdf(piece: Asked) -> bytes | None:
    """The file of one piece; None where none of its records is there any more. Raises PrintRefused."""
    kind = KINDS[piece.what]
    if not (context := kind.context(piece)):
        return None
    page = render_to_string(kind.template, context)
    if drawn := drawn_pages(page):
        return pages_pdf(drawn)
    try:
        return render_pdf(page)
    except PdfUnavailable as missing:
        raise PrintRefused(str(missing)) from missing
