"""Which column of a list means which of our fields: remembered, by name, by a like name, by its content."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher

from objects.core.lists import ReadList, match_columns, plain_heading
from objects.core.words import noted
from objects.intake.column_contents import field_by_content, says_nothing
from objects.intake.kinds import ListKind
from objects.models import ColumnMemory

REMEMBERED, NAME = noted("remembered"), noted("by name")
LIKE_NAME, CONTENT = noted("like the name"), noted("by its content")

_LIKE = 0.88  # of 1; a letter or two amiss in a word of eight. Height and weight reach 0.83; assumed
_LIKELIER = 0.05  # by how much the next field must be less like; assumed
_SHORTEST = 5  # letters; shorter headings are like too much; assumed
_HEADING_LIMIT = 200


@dataclass(frozen=True)
class ColumnGuess:
    """The column a field is read from, and why: one of the four reasons above."""

    column: str
    why: str


def suggested_columns(kind: ListKind, read: ReadList) -> dict[str, str]:
    """Our field to the list's column, before a person has looked."""
    return {field: guess.column for field, guess in column_guesses(kind, read).items()}


def column_guesses(kind: ListKind, read: ReadList) -> dict[str, ColumnGuess]:
    """Our field to the column it is probably in, with the reason.

    What a person chose before comes first, then the field's names, then headings a letter or two from them;
    what the cells look like counts only where the heading says nothing. No column is taken twice, and one
    that a person left out before is left out again.
    """
    names = {field.key: (field.label, *field.synonyms) for field in kind.fields}
    known = remembered_fields(kind, read.header)
    guesses: dict[str, ColumnGuess] = {}
    for column, field in known.items():
        if field in names:
            guesses.setdefault(field, ColumnGuess(column, REMEMBERED))
    free = [name for name in read.header if name and name not in known]

    def take(found: Iterable[tuple[str, str]], why: str) -> None:
        for field, column in found:
            guesses[field] = ColumnGuess(column, why)
            free.remove(column)
            del names[field]

    for field in guesses:
        del names[field]
    take(match_columns(free, names).items(), NAME)
    take(_like_names(free, names), LIKE_NAME)
    take(_by_content(read, free, names), CONTENT)
    return guesses


def remembered_fields(kind: ListKind, header: Sequence[str]) -> dict[str, str]:
    """Column to the field a person took its heading for, blank if for none; the last used first."""
    plain = {_key(name): name for name in reversed(header) if _key(name)}
    found = ColumnMemory.objects.filter(kind=kind.key, heading__in=plain).order_by("-last_used_at", "pk")
    return {plain[memory.heading]: memory.field for memory in found}


def remember_columns(kind: ListKind, header: Sequence[str], columns: Mapping[str, str]) -> None:
    """Keep what a person took each heading for; headings left over were not to be used.

    columns: our field to the list's column.
    """
    fields = {column: field for field, column in columns.items()}
    kept: dict[str, str] = {}
    for name in header:
        if heading := _key(name):
            kept[heading] = fields.get(name) or kept.get(heading, "")
    ColumnMemory.objects.bulk_create(
        [ColumnMemory(kind=kind.key, heading=heading, field=field) for heading, field in kept.items()],
        update_conflicts=True,
        unique_fields=["kind", "heading"],
        update_fields=["field", "last_used_at"],
    )


def _key(heading: str) -> str:
    return plain_heading(heading)[:_HEADING_LIMIT]


def _like_names(columns: Sequence[str], names: Mapping[str, Sequence[str]]) -> list[tuple[str, str]]:
    """Field and column where the heading is spelt almost like one of the field's names, and no other's."""
    pairs = []
    for column in columns:
        likeness = sorted(((_likeness(column, known), field) for field, known in names.items()), reverse=True)
        best = likeness[:1]
        runner_up = likeness[1][0] if len(likeness) > 1 else 0
        if best and best[0][0] >= max(_LIKE, runner_up + _LIKELIER):
            pairs.append((*best[0], column))
    taken: dict[str, str] = {}
    for _, field, column in sorted(pairs, key=lambda pair: -pair[0]):
        taken.setdefault(field, column)
    return list(taken.items())


def _likeness(column: str, names: Sequence[str]) -> float:
    heading = plain_heading(column)
    if len(heading) < _SHORTEST:
        return 0
    near = [name for name in map(plain_heading, names) if _is_near(heading, name)]
    return max((SequenceMatcher(None, heading, name, autojunk=False).ratio() for name in near), default=0)


def _is_near(heading: str, name: str) -> bool:
    """Whether they may be alike at all; comparing letter by letter takes long."""
    return len(name) >= _SHORTEST and abs(len(heading) - len(name)) <= 3


def _by_content(
    read: ReadList, columns: Sequence[str], names: Mapping[str, Sequence[str]]
) -> list[tuple[str, str]]:
    """Field and column where only one column without a telling heading looks like it."""
    found: dict[str, list[str]] = {}
    for column in filter(says_nothing, columns):
        place = read.header.index(column)
        field = field_by_content([row[place] for row in read.rows], names)
        if field:
            found.setdefault(field, []).append(column)
    return [(field, several[0]) for field, several in found.items() if len(several) == 1]
