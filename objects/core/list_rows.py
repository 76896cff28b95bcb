"""The rows of a list, from whatever file: which one holds the headings, and what is odd about the others."""

import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from objects.core.list_text import ListError
from objects.core.words import say

MOST_COLUMNS = 500
MOST_CELLS = 5_000_000  # 200,000 rows of 25 columns; what a small server holds at once; assumed
_MOST_NOTES = 50  # rows of odd length that are named one by one; assumed, what a person still reads
_MOST_TITLES = 30  # rows above the headings; assumed


@dataclass(frozen=True)
class ReadList:
    """A list as read.

    header: the columns' names. rows: cells as they stand, each row as long as the header. line_numbers: the
    line of the file each row begins on, from 1. encoding, delimiter: as named to a person. format: delimited,
    xlsx or lido. sheet, sheets: of a spreadsheet the one that was read, and all that hold rows.
    """

    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    line_numbers: tuple[int, ...]
    encoding: str
    delimiter: str
    notes: tuple[str, ...] = ()
    format: str = "delimited"
    sheet: str = ""
    sheets: tuple[str, ...] = ()


class NoList(ListError):
    """There are no headings, or no rows below them."""


@dataclass
class ListRows:
    """Rows gathered under their header. called: what the file's rows are called, Line or Row."""

    called: str
    name_column: Callable[[int], str]
    notes: list[str]
    header: tuple[str, ...] = ()
    rows: list[tuple[str, ...]] = field(default_factory=list)
    lines: list[int] = field(default_factory=list)
    odd_lengths: int = 0

    def gather(self, records: Iterable[tuple[int, Sequence[str]]], max_rows: int) -> None:
        """Take up the rows; what stands above the headings is left out and noted.

        records: the number of each row in the file and its cells, blank rows left out.
        Raises ListError where there is no usable header, no row, or too many rows, columns or cells.
        """
        rest = self._below_titles(iter(records))
        self.header = self._checked_header(next(rest)[1])
        width = len(self.header)
        most = min(max_rows, MOST_CELLS // width)
        for line, cells in rest:
            if len(self.rows) == most:
                raise ListError(_too_many(max_rows, width))
            self.rows.append(tuple(cells) if len(cells) == width else self._fitted(line, cells, width))
            self.lines.append(line)
        if not self.rows:
            raise NoList(
                say("The list holds only headings and no rows. Check that the right file was chosen.")
            )
        if self.odd_lengths > _MOST_NOTES:
            self.notes.append(
                say(
                    "{odd_lengths} more lines have too many or too few cells.",
                    odd_lengths=self.odd_lengths - _MOST_NOTES,
                )
            )
        self._settle_unnamed()

    def _below_titles(
        self, records: Iterator[tuple[int, Sequence[str]]]
    ) -> Iterator[tuple[int, Sequence[str]]]:
        """The row of headings and those below it."""
        titles = 0
        held = next(records, None)
        while held is not None:
            line, cells = held
            following = next(records, None)
            if filled(cells) == 1:
                text = "".join(cells).strip()[:80]
                self.notes.append(
                    say(
                        "{called} {line}, “{text}”, was taken as a title and left out.",
                        called=self.called,
                        line=line,
                        text=text,
                    )
                )
            elif following is not None and _is_group_row(cells, following[1]):
                self.notes.append(
                    say(
                        "{called} {line} groups the headings in {called2} {following} below it and was left "
                        "out.",
                        called=self.called,
                        line=line,
                        called2=self.called.lower(),
                        following=following[0],
                    )
                )
            else:
                yield held
                if following is not None:
                    yield following
                yield from records
                return
            held, titles = following, titles + 1
            if titles > _MOST_TITLES:
                break
        raise NoList(say("No line with column headings was found. The first line must name the columns."))

    def _checked_header(self, cells: Sequence[str]) -> tuple[str, ...]:
        if len(cells) > MOST_COLUMNS:
            raise ListError(
                say(
                    "The list has {cells} columns; at most {most_columns} can be read. Leave some out.",
                    cells=len(cells),
                    most_columns=MOST_COLUMNS,
                )
            )
        names = tuple(" ".join(cell.split()) for cell in cells)
        figures = [name for name in names if re.fullmatch(r"[\d\s.,/-]+", name)]
        values = [name for name in names if re.match(r"[-+.,]?\d", name)]
        if len(values) > 1 and 2 * len(values) >= filled(names):
            shown = " and ".join(f"“{name[:40]}”" for name in values[:2])
            raise ListError(
                say(
                    "The first row holds values such as {shown} and no headings. Put a row above it that "
                    "names the columns.",
                    shown=shown,
                )
            )
        counts = Counter(name.casefold() for name in names if name)
        twice = list(dict.fromkeys(name for name in names if counts[name.casefold()] > 1))
        if twice:
            listed = ", ".join(f"“{name}”" for name in twice)
            raise ListError(
                say("Several columns have the same heading: {listed}. Give each its own.", listed=listed)
            )
        if figures:
            self.notes.append(
                say(
                    "The heading “{figures}” looks like a value. Check that the list names its columns.",
                    figures=figures[0],
                )
            )
        return names

    def _fitted(self, line: int, cells: Sequence[str], width: int) -> tuple[str, ...]:
        """The row filled up or cut to the header's width."""
        if len(cells) < width:
            self._note_length(line, cells, say("the missing ones were left blank"))
        elif any(cell.strip() for cell in cells[width:]):
            self._note_length(line, cells, say("what is beyond was left out"))
        return (*cells[:width], *[""] * (width - len(cells)))

    def _note_length(self, line: int, cells: Sequence[str], done: str) -> None:
        self.odd_lengths += 1
        if self.odd_lengths <= _MOST_NOTES:
            self.notes.append(
                say(
                    "{called} {line} has {cells} cells instead of {header}; {done}.",
                    called=self.called,
                    line=line,
                    cells=len(cells),
                    header=len(self.header),
                    done=done,
                )
            )

    def _settle_unnamed(self) -> None:
        """Leave out columns that have neither a heading nor a cell; tell those that have cells only."""
        unnamed = [place for place, name in enumerate(self.header) if not name]
        used = [place for place in unnamed if any(row[place].strip() for row in self.rows)]
        if used:
            listed = ", ".join(map(self.name_column, used))
            self.notes.append(say("Columns without a heading cannot be used: {listed}.", listed=listed))
        if len(used) < len(unnamed):
            kept = [place for place, name in enumerate(self.header) if name or place in used]
            self.header = tuple(self.header[place] for place in kept)
            self.rows = [tuple(row[place] for place in kept) for row in self.rows]


def filled(cells: Sequence[str]) -> int:
    """How many of the cells are not blank."""
    return sum(bool(cell.strip()) for cell in cells)


def _is_group_row(cells: Sequence[str], below: Sequence[str]) -> bool:
    """Whether a row only groups the headings below it, as merged cells do.

    At least half of the headings below stand alone, they all differ, and none looks like a value.
    """
    names = [name.strip().casefold() for name in below if name.strip()]
    return (
        2 * filled(cells) <= len(names)
        and len(set(names)) == len(names)
        and not any(re.search(r"\d", name) for name in names)
    )


def _too_many(max_rows: int, width: int) -> str:
    if MOST_CELLS // width < max_rows:
        return say(
            "The list has {width} columns and so many rows that it holds more than "
            "{most_cells:,} cells. Leave columns out, or split it and take in the parts.",
            width=width,
            most_cells=MOST_CELLS,
        )
    return say("The list has more than {max_rows} rows. Split it and take in the parts.", max_rows=max_rows)
