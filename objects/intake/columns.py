"""Which column of a list means which of our fields: remembered, by name, by a like name, by its content."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from objects.core.lists import ReadList, match_columns, plain_heading
from objects.intake.kinds import ListKind
from objects.models import ColumnMemory

REMEMBERED, NAME, LIKE_NAME, CONTENT = "remembered", "by name", "like the name", "by its content"


@dataclass(frozen=True)
class ColumnGuess:
    """The column a field is read from, and why: one of the four reasons above."""

    column: str
    why: str


def suggested_columns(kind: ListKind, read: ReadList) -> dict[str, str]:
    """Our field to the list's column, before a person has looked."""
    return {field: guess.column for field, guess in column_guesses(kind, read).items()}


def column_guesses(kind: ListKind, read: ReadList) -> dict[str, ColumnGuess]:
    """Our field to the column it is probably in, with the reason."""
    names = {field.key: (field.label, *field.synonyms) for field in kind.fields}
    return {field: ColumnGuess(column, NAME) for field, column in match_columns(read.header, names).items()}


def remember_columns(kind: ListKind, header: Sequence[str], columns: Mapping[str, str]) -> None:
    """Keep what a person took each heading for; headings left over were not to be used."""
    fields = {column: field for field, column in columns.items()}
    ColumnMemory.objects.bulk_create(
        [
            ColumnMemory(kind=kind.key, heading=plain_heading(name)[:200], field=fields.get(name, ""))
            for name in header
            if plain_heading(name)
        ],
        update_conflicts=True,
        unique_fields=["kind", "heading"],
        update_fields=["field", "last_used_at"],
    )
