"""The catalogue taken out of the planner: what is asked for, and the file that it becomes."""

import tempfile
from collections.abc import Callable, Iterator, Sequence
from dataclasses import asdict, dataclass
from typing import IO

from django.db.models import QuerySet
from django.http import QueryDict

from housing.forms.objects import ObjectFilter
from housing.printing.lido_records import write_lido
from housing.printing.list_cells import Cell, Cells
from housing.printing.list_columns import Column, columns_of
from housing.printing.list_files import ListRefused, delimited, spreadsheet
from housing.queries.exports import lists_with_headings, objects_to_export
from objects.core.words import say
from objects.models import CatalogueObject, ListImport

_ROWS_AT_ONCE = 2000  # fetched from the database
_SAMPLE = 200  # rows that column widths are taken from; assumed
_TOLD_EVERY = 500  # rows between two words about the progress
LATEST, OWN = "latest", "own"


@dataclass(frozen=True)
class Format:
    """A kind of file. key: as addresses and file names have it."""

    key: str
    name: str
    content_type: str


FORMATS = {
    form.key: form
    for form in (
        Format("csv", "CSV: text, columns set apart by commas", "text/csv; charset=utf-8"),
        Format("tsv", "TSV: text, columns set apart by tabs", "text/tab-separated-values; charset=utf-8"),
        Format(
            "xlsx",
            "XLSX: spreadsheet",
            "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
        ),
        Format("xml", "LIDO 1.1: records as XML, with sizes in mm", "application/xml"),
    )
}


@dataclass(frozen=True)
class Wanted:
    """What is to be taken out. filter: as the address of the object list has it; headings: the key of a list
    whose headings are used, "latest" for the one saved last, "own" for ours; mark: begin text with the
    byte order mark; unit: in which boxes are told besides mm."""

    format: str
    filter: str = ""
    headings: str = LATEST
    mark: bool = True
    unit: str = "in"

    def as_parameters(self) -> dict:
        """What a job keeps of it."""
        return asdict(self)


def objects_of(wanted: Wanted) -> QuerySet[CatalogueObject]:
    """The objects that a filter lets through, by number. Raises ListRefused where it cannot be read."""
    chosen = ObjectFilter(QueryDict(wanted.filter), objects_to_export())
    if not chosen.is_valid():
        said = "; ".join(
            f"{chosen.form[name].label if name in chosen.form.fields else name}: {' '.join(errors)}"
            for name, errors in chosen.errors.items()
        )
        raise ListRefused(
            say(
                "The filter of the list cannot be read ({said}). Choose it in the object list again.",
                said=said,
            )
        )
    return chosen.qs.order_by("number_key", "pk")


def list_of_headings(wanted: Wanted) -> ListImport | None:
    """The list whose headings are wanted, None for ours. Raises ListRefused where it is not there."""
    if wanted.headings == OWN:
        return None
    lists = lists_with_headings()
    if wanted.headings == LATEST:
        return lists.first()
    found = lists.filter(pk=wanted.headings).first() if wanted.headings.isdecimal() else None
    if found is None:
        raise ListRefused(say("The list whose headings were chosen is not there any more. Choose another."))
    return found


def write_export(
    wanted: Wanted, file: IO[bytes], progress: Callable[[int, str], object] = lambda percent, stage: None
) -> int:
    """Write what is wanted to a file. Returns how many objects it tells of. Raises ListRefused."""
    objects = objects_of(wanted)
    counted = _Counted(objects, progress)
    if wanted.format == "xml":
        _refuse_none(counted.total)
        write_lido(counted, file)
    elif wanted.format == "xlsx":
        columns = _columns(wanted)
        spreadsheet(rows_of(counted, columns, wanted.unit), file, _widths(objects, columns, wanted.unit))
    else:
        for chunk in _text(counted, wanted):
            file.write(chunk)
    return counted.done


def stream(wanted: Wanted) -> Iterator[bytes]:
    """The same in chunks; text is never held as a whole. Raises ListRefused before the first chunk."""
    if wanted.format in ("csv", "tsv"):
        return _text(objects_of(wanted).iterator(chunk_size=_ROWS_AT_ONCE), wanted)
    held = tempfile.TemporaryFile()  # noqa: SIM115  it is closed behind its last chunk
    try:
        write_export(wanted, held)
    except BaseException:
        held.close()
        raise
    held.seek(0)
    return _chunks(held)


def rows_of(
    objects: "Iterator[CatalogueObject] | _Counted", columns: Sequence[Column], unit: str
) -> Iterator[list[Cell]]:
    """The headings, then a row an object."""
    yield [column.heading for column in columns]
    cells = Cells(columns, unit)
    for thing in objects:
        yield cells.row(thing)


def _text(objects: "Iterator[CatalogueObject] | _Counted", wanted: Wanted) -> Iterator[bytes]:
    delimiter = "\t" if wanted.format == "tsv" else ","
    return delimited(rows_of(objects, _columns(wanted), wanted.unit), delimiter, mark=wanted.mark)


def _columns(wanted: Wanted) -> list[Column]:
    return columns_of(list_of_headings(wanted), wanted.unit)


def _widths(objects: QuerySet[CatalogueObject], columns: Sequence[Column], unit: str) -> list[int]:
    """How many characters each column needs, judged by its heading and the first rows."""
    rows = list(rows_of(iter(objects[:_SAMPLE]), columns, unit))
    return [max(len(str(cell)) for cell in cells) for cells in zip(*rows, strict=True)]


def _chunks(file: IO[bytes]) -> Iterator[bytes]:
    with file:
        while chunk := file.read(64 * 1024):
            yield chunk


def _refuse_none(total: int) -> None:
    if not total:
        raise ListRefused(
            say("No object matches, and a LIDO file holds one record at least. Change the filter.")
        )


class _Counted:
    """Objects one after the other, with word of how many are done."""

    def __init__(self, objects: QuerySet[CatalogueObject], progress: Callable[[int, str], object]) -> None:
        self.objects, self.progress = objects, progress
        self.total, self.done = objects.count(), 0

    def __iter__(self) -> Iterator[CatalogueObject]:
        for thing in self.objects.iterator(chunk_size=_ROWS_AT_ONCE):
            if self.done % _TOLD_EVERY == 0:
                percent = min(99, 100 * self.done // max(self.total, 1))
                self.progress(
                    percent, say("Writing object {done:,} of {total:,}", done=self.done + 1, total=self.total)
                )
            self.done += 1
            yield thing
