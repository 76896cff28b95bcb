"""Takes in a list of objects from the command line: read, shown in words or as JSON, and saved."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from housing.intake.imports import list_from, several_cores, understood_of
from housing.intake.saving import require_usable, save_list
from objects.core.refusals import Refusal
from objects.intake import IntakeRefused, Preview, RowReading
from objects.intake.catalogue import ObjectList
from objects.intake.object_sizes import SIDES
from objects.intake.preview import counted
from objects.intake.rows import CHECK, REFUSED, STATUS_NAMES
from objects.models import ListImport

PROBLEMS_TOLD = 30
TELL_EVERY = 5  # per cent


class Command(BaseCommand):
    help = "Takes in a list of objects: CSV or other text, a spreadsheet (XLSX), or LIDO records (XML)."

    def add_arguments(self, parser) -> None:
        parser.add_argument("file", type=Path, metavar="FILE")
        parser.add_argument("--unit", choices=("in", "cm", "mm"), default="", help="Of sizes without a unit.")
        parser.add_argument(
            "--map",
            type=Path,
            metavar="MAP.json",
            help='Our field to the list\'s heading, such as {"number": "Inv."}; null leaves a field out. '
            "It goes before the columns that are found; fields it does not name are found as ever.",
        )
        parser.add_argument("--sheet", default="", metavar="NAME", help="The sheet of a spreadsheet.")
        parser.add_argument("--dry-run", action="store_true", help="Read it and tell; save nothing.")
        parser.add_argument("--json", action="store_true", help="Every row as JSON, sizes in mm.")

    def handle(self, *args, file: Path, **given) -> None:
        try:
            listed = list_from(
                kind=ObjectList.key,
                file_name=file.name,
                data=_content(file),
                unit=given["unit"],
                sheet=given["sheet"],
            )
            if given["map"]:
                listed.columns = _mapped(listed, given["map"])
            self._take_in(listed, given)
        except Refusal as refused:
            raise CommandError(str(refused)) from refused

    def _take_in(self, listed: ListImport, given: dict[str, Any]) -> None:
        understood = understood_of(listed)
        if understood.missing:
            names = ", ".join(field.label for field in understood.missing)
            raise IntakeRefused(
                f"No column was found for: {names}. Name it with --map. "
                f"The list has: {', '.join(understood.read.header)}."
            )
        progress = self._teller()
        rows = [_entry(row) for row in self._read(understood, progress)]
        counts = counted(row["status"] for row in rows)
        refusal = _why_unusable(counts)
        if not given["dry_run"] and not refusal:
            listed.sizes = understood.kind.sizes.packed()
            listed.save()
            counts = save_list(listed=listed, progress=progress)
        told = {
            "file": listed.file_name,
            "sha256": listed.file_hash,
            "format": listed.format,
            "sheet": listed.reading["sheet"],
            "list": listed.pk,
            "is_saved": listed.pk is not None,
            "counts": counts,
            "columns": understood.columns,
            "notes": listed.reading["notes"],
            "rows": rows,
        }
        self.stdout.write(json.dumps(told, ensure_ascii=False) if given["json"] else "\n".join(_words(told)))
        if refusal:
            raise refusal

    def _read(self, understood: Preview, progress) -> Iterator[RowReading]:
        total, done = len(understood.read.rows), 0
        with several_cores(understood):
            for rows in understood.chunks():
                yield from rows
                done += len(rows)
                progress(100 * done // total, f"Read row {done:,} of {total:,}")

    def _teller(self):
        """Tells on the error channel how far the work is, now and then."""
        told = -TELL_EVERY

        def tell(percent: int, stage: str, standing: dict | None = None) -> None:
            nonlocal told
            if percent >= told + TELL_EVERY or percent < told:
                told = percent
                self.stderr.write(f"{percent:3d} % {stage}")

        return tell


def _content(file: Path) -> bytes:
    try:
        return file.read_bytes()
    except OSError as error:
        raise IntakeRefused(f"{file} cannot be read: {error.strerror}. Check the name.") from error


def _mapped(listed: ListImport, file: Path) -> dict[str, str]:
    """The columns found, with those of the map in their place."""
    try:
        told = json.loads(_content(file).decode("utf-8-sig"))
    except ValueError as error:
        raise IntakeRefused(f"{file.name} is not JSON in UTF-8: {error}.") from error
    if not isinstance(told, dict) or not all(isinstance(name, str | None) for name in told.values()):
        raise IntakeRefused(f'{file.name} must give a heading for each field, such as {{"number": "Inv."}}.')
    known = [field.key for field in ObjectList.fields]
    headings = listed.reading["headings"]
    if unknown := [field for field in told if field not in known]:
        raise IntakeRefused(
            f"{file.name} names no field of ours: {unknown[0]}. There are: {', '.join(known)}."
        )
    if missing := [name for name in told.values() if name and name not in headings]:
        raise IntakeRefused(
            f"{file.name} names a heading that the list has not: {missing[0]}. It has: {', '.join(headings)}."
        )
    used = [name for name in told.values() if name]
    if twice := [name for name in used if used.count(name) > 1]:
        raise IntakeRefused(f"{file.name} takes one heading for several fields: {twice[0]}. Name it once.")
    found = {field: name for field, name in listed.columns.items() if field not in told and name not in used}
    return {field: name for field, name in (found | told).items() if name}


def _entry(row: RowReading) -> dict[str, Any]:
    """A row as JSON tells it; sides in mm, null where not stated."""
    sides = {side: row.stated.get(side) for side in SIDES}
    return {
        "line": row.line,
        "number": row.key,
        "status": row.status,
        **{side: None if mm is None else float(mm) for side, mm in sides.items()},
        "changes": list(row.changes),
        "reason": " ".join(row.messages),
    }


def _why_unusable(counts: dict[str, int]) -> Refusal | None:
    try:
        require_usable(counts)
    except IntakeRefused as refused:
        return refused
    return None


def _words(told: dict[str, Any]) -> Iterator[str]:
    counts = ", ".join(f"{told['counts'][status]:,} {name.lower()}" for status, name in STATUS_NAMES.items())
    yield f"{told['file']}: {counts}."
    yield "Columns: " + "; ".join(f"{field} from “{name}”" for field, name in told["columns"].items()) + "."
    yield from told["notes"]
    problems = [row for row in told["rows"] if row["status"] in (REFUSED, CHECK)]
    for row in problems[:PROBLEMS_TOLD]:
        status = STATUS_NAMES[row["status"]].lower()
        yield f"Line {row['line']}, {row['number'] or 'no number'}, {status}: {row['reason']}"
    if len(problems) > PROBLEMS_TOLD:
        yield f"And {len(problems) - PROBLEMS_TOLD:,} more rows like these; --json tells all."
    yield f"Saved as list {told['list']}." if told["is_saved"] else "Nothing was saved."
