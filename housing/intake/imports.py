"""Handing in a list, and keeping what was understood of it until a person has agreed."""

import hashlib
from collections import Counter
from collections.abc import Mapping
from contextlib import nullcontext
from pathlib import Path

from django.db import transaction
from django.utils import timezone

from housing.intake import KINDS
from housing.models import Campaign
from housing.services.nesting import Progress
from objects.core.lists import ListError, ReadList
from objects.core.retelling import retold
from objects.core.size_reader import SizeReader
from objects.core.words import say
from objects.intake import IntakeRefused, ListKind, Preview, RowReading, preview
from objects.intake.columns import column_guesses
from objects.intake.files import read_file
from objects.intake.rows import CHECK, REFUSED, as_stored
from objects.models import ImportedRow, ListImport
from objects.speaking import in_language

State = ListImport.State

# Rows from which a list is read and saved in the background; about a second of work, measured.
LONG_LIST = 2000
FIRST_ROWS = 200  # rows of each status that are kept to be shown, besides every problem row
NOTES_KEPT, SAMPLES, SAMPLE_LENGTH = 60, 3, 60


def silent(percent: int, stage: str, standing: dict | None = None) -> None:
    """Tells nobody how far the work is."""


def stage_list(
    *, kind: str, file_name: str, data: bytes, unit: str = "", sheet: str = "", by=None
) -> ListImport:
    """Keep a list that was handed in, with the columns that are suggested; a short one is read at once.

    Raises IntakeRefused when it is no list.
    """
    listed = list_from(kind=kind, file_name=file_name, data=data, unit=unit, sheet=sheet, by=by)
    with transaction.atomic():
        listed.save()
        if listed.reading["rows"] < LONG_LIST:
            read_rows(listed=listed)
    return listed


def list_from(
    *, kind: str, file_name: str, data: bytes, unit: str = "", sheet: str = "", by=None
) -> ListImport:
    """A list with the columns that are suggested, not kept yet. Raises IntakeRefused when it is none."""
    listed = ListImport(
        kind=kind,
        file_name=Path(file_name).name[:200],
        file_hash=hashlib.sha256(data).hexdigest(),
        data=data,
        unit=unit,
        by=by,
    )
    _take_for(listed, sheet)
    return listed


def _take_for(listed: ListImport, sheet: str) -> None:
    """Note how the file is read, and what its columns are probably for."""
    try:
        with in_language("en"):  # its notes are kept in English
            read = read_file(bytes(listed.data), listed.file_name, sheet=sheet)
    except ListError as refused:
        raise IntakeRefused(retold(str(refused))) from refused
    guesses = column_guesses(KINDS[listed.kind](), read)
    listed.format, listed.columns = read.format, {field: guess.column for field, guess in guesses.items()}
    listed.reading = {
        "headings": list(read.header),
        "encoding": read.encoding,
        "delimiter": read.delimiter,
        "sheet": read.sheet,
        "sheets": list(read.sheets),
        "notes": list(read.notes[:NOTES_KEPT]),
        "rows": len(read.rows),
        "why": {guess.column: guess.why for guess in guesses.values()},
        "samples": _samples(read),
    }


def take_anew(listed: ListImport) -> ListImport:
    """Look at a list again that waits since before it was noted how files are read."""
    _take_for(listed, "")
    listed.read_at, listed.sizes, listed.counts = None, None, {}
    listed.save()
    return listed


def _samples(read: ReadList) -> dict[str, list[str]]:
    """The first different values of each column, shortened."""
    found = {}
    for place, name in enumerate(read.header):
        values = dict.fromkeys(cells[place].strip()[:SAMPLE_LENGTH] for cells in read.rows[:FIRST_ROWS])
        found[name] = [value for value in values if value][:SAMPLES]
    return found


def understood_of(
    listed: ListImport, *, campaign: Campaign | None = None, photos: Path | None = None, by=None
) -> Preview:
    """What is understood of a staged list as things stand now; its rows are read when asked for."""
    kind = KINDS[listed.kind](
        campaign=campaign,
        photos=photos,
        file_name=listed.file_name,
        by=by,
        sizes=SizeReader(listed.sizes),
    )
    return preview(
        kind,
        bytes(listed.data),
        listed.columns,
        listed.unit,
        file_name=listed.file_name,
        sheet=listed.reading.get("sheet", ""),
    )


def several_cores(understood: Preview):
    """Has sizes read on every core where the list is so long that starting the processes is worth it."""
    return understood.kind.sizes.with_helpers() if len(understood.read.rows) >= LONG_LIST else nullcontext()


def match_list(*, listed: ListImport, columns: Mapping[str, str], unit: str, sheet: str = "") -> ListImport:
    """Keep which column a person says means which field; a short list is read again at once.

    On another sheet of a spreadsheet the columns are suggested anew.
    """
    require_staged(listed)
    if sheet and sheet != listed.reading.get("sheet"):
        _take_for(listed, sheet)
    else:
        listed.columns = dict(columns)
    listed.unit, listed.read_at, listed.sizes, listed.counts = unit, None, None, {}
    with transaction.atomic():
        listed.save()
        listed.rows.all().delete()
        if listed.reading["rows"] < LONG_LIST:
            read_rows(listed=listed)
    return listed


def read_rows(*, listed: ListImport, progress: Progress = silent) -> ListImport:
    """Read every row for the preview, and keep the first of each status and every one with a problem.

    Nothing is stored but what the page of the list shows. Reading once more does no harm.
    """
    require_staged(listed)
    understood = understood_of(listed, by=listed.by)
    if understood.missing:
        return listed
    progress(0, say("Reading {file_name}", file_name=listed.file_name))
    listed.rows.all().delete()
    counts, total = Counter(), len(understood.read.rows)
    with several_cores(understood):
        for rows in understood.chunks():
            kept = []
            for row in rows:
                counts[row.status] += 1
                if row.status in (REFUSED, CHECK) or counts[row.status] <= FIRST_ROWS:
                    kept.append(shown_row(listed, row))
            ImportedRow.objects.bulk_create(kept)
            done = counts.total()
            progress(99 * done // total, say("Read row {done:,} of {total:,}", done=done, total=total))
    return _keep_reading(listed, understood, counts)


@transaction.atomic
def _keep_reading(listed: ListImport, understood: Preview, counts: Counter) -> ListImport:
    now = ListImport.objects.select_for_update().defer("data", "sizes").get(pk=listed.pk)
    if (now.state, now.columns, now.unit) != (State.STAGED, listed.columns, listed.unit):
        raise IntakeRefused(say("Other columns were chosen while the list was read. Read it again."))
    listed.counts = {status: counts[status] for status in ImportedRow.Status.values}
    listed.sizes, listed.read_at = understood.kind.sizes.packed(), timezone.now()
    listed.save(update_fields=["counts", "sizes", "read_at"])
    return listed


def shown_row(listed: ListImport, row: RowReading) -> ImportedRow:
    """A row of a list that waits, as its page shows it."""
    return ImportedRow(
        listed=listed,
        line=row.line,
        key=row.key[:200],
        status=row.status,
        record=row.instance.pk if row.instance else None,
        is_added=row.is_stored and row.instance is None,
        changes=stored_changes(row),
        messages=list(row.messages),
        shown={field: as_stored(value) for field, value in row.stated.items()},
    )


def stored_changes(row: RowReading) -> dict[str, list]:
    """By field the value before and the one after."""
    return {field: [as_stored(before), as_stored(after)] for field, (before, after) in row.changes.items()}


def drop_list(*, listed: ListImport) -> ListImport:
    """Put a staged list aside without saving any of it."""
    with transaction.atomic():
        listed = ListImport.objects.select_for_update().get(pk=listed.pk)
        require_staged(listed)
        listed.state, listed.sizes = State.DROPPED, None
        listed.save(update_fields=["state", "sizes"])
        listed.rows.all().delete()
    return listed


def handed_in_before(listed: ListImport) -> ListImport | None:
    """The latest other list from the very same file, saved ones before others."""
    same = ListImport.objects.defer("data", "sizes").filter(kind=listed.kind, file_hash=listed.file_hash)
    others = same.exclude(pk=listed.pk).exclude(state=State.DROPPED)
    return others.filter(state=State.SAVED).first() or others.first()


def missing_columns(listed: ListImport) -> list[str]:
    """Labels of the fields that the list must tell but has no column for."""
    kind: type[ListKind] = KINDS[listed.kind]
    return [say(field.label) for field in kind.fields if field.required and field.key not in listed.columns]


def require_staged(listed: ListImport) -> None:
    if listed.state != State.STAGED:
        raise IntakeRefused(
            say(
                "“{file_name}” is already {state}. Hand it in again.",
                file_name=listed.file_name,
                state=listed.get_state_display().lower(),
            )
        )
