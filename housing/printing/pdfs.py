"""Prints as files: set in pieces, so that memory stays small, and joined into a PDF, or a ZIP of several."""

import re
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

from housing.printing.asked import Asked
from housing.printing.joining import join
from housing.printing.kinds import KINDS
from housing.printing.pieces import PrintRefused, page_of, pdf_of, pieces_of
from housing.printing.presses import set_all, set_here
from housing.queries.print_groups import boxes_by
from objects.core.words import say

__all__ = ["PrintRefused", "files_of", "make_print", "title_of", "write_print"]

ONE_FILE = "one"
SET_SHARE = 95  # percent of the work that setting takes; joining takes the rest
LONGEST_NAME = 80  # of a file in a ZIP, in signs; assumed to suit every system
NOT_IN_NAMES = re.compile(
    r'\s*[\x00-\x1f<>:"/\\|?*]+\s*'
)  # signs that some system does not have in file names

type Tell = Callable[[int, str], object]


def title_of(asked: Asked) -> str:
    """What a print is called: of how many things it is."""
    return f"{len(asked.keys):,} {say(KINDS[asked.what].names)}"


def make_print(*, asked: Asked, progress: Tell = lambda percent, stage: None) -> bytes:
    """The PDF file of a print that somebody waits for, made by this process alone.

    Raises PrintRefused when nothing is left to print or PDF cannot be made on this computer.
    """
    pieces = list(pieces_of(asked))
    if len(pieces) == 1:
        if not (page := page_of(asked)):
            raise PrintRefused(say("Nothing of it is there any more. Choose anew what to print."))
        return pdf_of(page)
    with TemporaryDirectory() as folder:
        names = set_here(pieces, Path(folder), _teller(asked, progress))
        return _joined(names, Path(folder), "print", title_of(asked)).read_bytes()


def write_print(*, asked: Asked, folder: Path, title: str, tell: Tell) -> Path:
    """Make the file of a print in the folder in which its pieces are kept.

    tell: called with the percent and what is being done; what it raises ends the work, and finished pieces
    stay. Raises PrintRefused as make_print() does.
    """
    files = files_of(asked)
    pieces = [(number, piece) for number, (_, part) in enumerate(files) for piece in pieces_of(part)]
    names = set_all([piece for _, piece in pieces], folder, _teller(asked, tell))
    tell(SET_SHARE, say("The pages are put together"))
    if asked.options.get("files", ONE_FILE) == ONE_FILE:
        return _joined(names, folder, "print", title)
    return _zipped(files, pieces, names, folder)


def _teller(asked: Asked, tell: Tell) -> Callable[[int], None]:
    """Tells how far setting is, when told how many things are printed."""
    number = len(asked.keys)

    def told(printed: int) -> None:
        done = say("{done:,} of {number:,} are set", done=printed, number=number)
        tell(SET_SHARE * printed // max(number, 1), done)

    return told


def files_of(asked: Asked) -> list[tuple[str, Asked]]:
    """The files that a print consists of: the name of each, and what is printed into it."""
    by = asked.options.get("files", ONE_FILE)
    if by == ONE_FILE:
        return [("", asked)]
    groups = boxes_by(by, asked.keys)
    return [(name, asked.of(keys, start=1)) for name, keys in groups.items()]


def _joined(names: list[str], folder: Path, name: str, title: str) -> Path:
    if not (kept := [folder / one for one in names if one]):
        raise PrintRefused(say("Nothing of it is there any more. Choose anew what to print."))
    target = folder / f"{name}.joined"
    join(kept, target, title)
    return target


def _zipped(
    files: list[tuple[str, Asked]], pieces: list[tuple[int, Asked]], names: list[str], folder: Path
) -> Path:
    """All files in one; what PDF has packed already is not packed again."""
    target, used = folder / "print.zipped", set()
    of_file: dict[int, list[str]] = {}
    for (number, _), name in zip(pieces, names, strict=True):
        if name:
            of_file.setdefault(number, []).append(name)
    if not of_file:
        raise PrintRefused(say("Nothing of it is there any more. Choose anew what to print."))
    with zipfile.ZipFile(target, "w", zipfile.ZIP_STORED) as whole:
        for number, kept in of_file.items():
            title = files[number][0]
            whole.write(_joined(kept, folder, "file", title), f"{_file_name(title, used)}.pdf")
    return target


def _file_name(title: str, used: set[str]) -> str:
    """A name that every system takes, and that no other file has."""
    plain = NOT_IN_NAMES.sub(" - ", title).strip(" .")[:LONGEST_NAME].rstrip(" .-") or "print"
    name = next(name for name in _numbered(plain) if name.casefold() not in used)
    used.add(name.casefold())
    return name


def _numbered(name: str) -> Iterator[str]:
    yield name
    number = 2
    while True:
        yield f"{name} ({number})"
        number += 1
