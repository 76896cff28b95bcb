"""Reading one row of a list: every cell becomes a clean value, or a sentence about what is wrong with it."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal, InvalidOperation
from functools import lru_cache
from typing import Any

from objects.core.lengths import LengthError, parse_length
from objects.core.weights import WeightError, parse_weight
from objects.core.words import LANGUAGES, noted, say
from objects.speaking import in_language

NEW, CHANGED, UNCHANGED, CHECK, REFUSED = "new", "changed", "unchanged", "check", "refused"
STATUS_NAMES = {
    REFUSED: noted("Refused"),
    CHECK: noted("To be checked"),
    CHANGED: noted("Changed"),
    NEW: noted("New"),
    UNCHANGED: noted("Unchanged"),
}
YES = {"yes", "y", "true", "1", "x", "sí", "si", "oui"}
NO = {"no", "n", "false", "0", "non"}


@dataclass(slots=True)
class RowReading:
    """What was understood of one row. line: in the file, headings being line 1.

    values: what the row tells, by field, without what the record is better left with; stated: all that it
    tells. changes: by field the value its record has and the one the row
    gives. instance: its record as it was found, None for a new one.
    """

    line: int
    key: str
    values: dict[str, Any]
    status: str
    messages: tuple[str, ...] = ()
    changes: dict[str, tuple] = field(default_factory=dict)
    stated: dict[str, Any] = field(default_factory=dict)
    instance: Any = field(default=None, compare=False, repr=False)

    @property
    def status_name(self) -> str:
        return STATUS_NAMES[self.status]

    @property
    def is_stored(self) -> bool:
        """Whether saving the list writes this row."""
        return self.status in (NEW, CHANGED, CHECK)


def as_stored(value: Any) -> Any:
    """A value as JSON holds it; of a record the words it goes by."""
    if value is None or isinstance(value, str | int | float):
        return value
    if isinstance(value, Decimal):
        return f"{value.normalize():f}"
    if isinstance(value, datetime):
        return value.isoformat()
    if isinstance(value, dict):
        return {key: as_stored(each) for key, each in value.items()}
    if isinstance(value, list | tuple | set):
        return [as_stored(each) for each in value]
    return str(value)


class Row:
    """The cells of one row by field. Reading one puts its clean value into `values`; blank ones are left."""

    def __init__(self, line: int, cells: dict[str, str], headings: dict[str, str], unit: str = "") -> None:
        self.line, self.headings, self.unit = line, headings, unit
        self.cells = {key: " ".join(text.replace("\x00", "").split()) for key, text in cells.items()}
        self.values: dict = {}
        self.problems: list[str] = []
        self.notes: list[str] = []
        self.needs_check = False

    def cell(self, key: str) -> str:
        return self.cells.get(key, "")

    def refuse(self, sentence: str) -> None:
        self.problems.append(sentence)

    def refuse_cell(self, key: str, sentence: str) -> None:
        self.problems.append(f"{self.headings.get(key, key)}: {sentence}")

    def text(self, key: str, limit: int) -> None:
        """Plain text of at most `limit` characters."""
        if not (cell := self.cell(key)):
            return
        if len(cell) > limit:
            self.refuse_cell(
                key,
                say(
                    "{cell} characters; at most {limit} can be kept. Shorten it.", cell=len(cell), limit=limit
                ),
            )
            return
        self.values[key] = cell

    def choice(self, key: str, choices: Sequence[tuple[str, str]]) -> None:
        """One of a model's choices, by its key or its label."""
        if cell := self.cell(key):
            found = self._find(key, cell, choices)
            if found is not None:
                self.values[key] = found

    def several(self, key: str, choices: Sequence[tuple[str, str]], separator: str) -> None:
        """Several of a model's choices, separated by semicolons or commas; kept in their own order."""
        if not (cell := self.cell(key)):
            return
        found = {self._find(key, word, choices) for word in re.split(r"\s*[;,]\s*", cell) if word}
        if None not in found:
            self.values[key] = separator.join(choice for choice, _ in choices if choice in found)

    def _find(self, key: str, word: str, choices: Sequence[tuple[str, str]]) -> str | None:
        if (found := _by_any_name(tuple(choices)).get(word.casefold())) is not None:
            return found
        known = ", ".join(choice.replace("_", " ") for choice, _ in choices)
        self.refuse_cell(
            key, say("“{word}” is not known here. Write one of: {known}.", word=word, known=known)
        )
        return None

    def number(self, key: str, lowest: str, highest: str, places: int = 2) -> None:
        """A figure between two limits, kept to some decimal places; comma or point."""
        if not (cell := self.cell(key)):
            return
        try:
            value = round(Decimal(cell.replace(",", ".")), places)
        except InvalidOperation:
            self.refuse_cell(
                key, say("“{cell}” is not a number. Write figures only, such as 12.5.", cell=cell)
            )
            return
        if not value.is_finite() or not Decimal(lowest) <= value <= Decimal(highest):
            self.refuse_cell(
                key,
                say(
                    "“{cell}” is not between {lowest} and {highest}. Check the figure.",
                    cell=cell,
                    lowest=lowest,
                    highest=highest,
                ),
            )
            return
        self.values[key] = int(value) if places == 0 else value

    def whole(self, key: str, lowest: int, highest: int) -> None:
        """A whole number between two limits."""
        cell = self.cell(key)
        if cell and not re.fullmatch(r"[+-]?\d+", cell):
            self.refuse_cell(key, say("“{cell}” is not a whole number.", cell=cell))
            return
        self.number(key, str(lowest), str(highest), places=0)

    def length(self, key: str, may_be_zero: bool = False) -> None:
        """A length in mm."""
        if not (cell := self.cell(key)):
            return
        try:
            self.values[key] = parse_length(
                cell, self.heading_unit(key, "in|cm|mm") or self.unit or None, may_be_zero=may_be_zero
            )
        except LengthError as refused:
            self.refuse_cell(key, str(refused))

    def weight(self, key: str) -> None:
        """A weight in grams; the heading may name the unit of bare figures, as in Weight (kg)."""
        if not (cell := self.cell(key)):
            return
        try:
            self.values[key] = parse_weight(cell, self.heading_unit(key, "kg|g|lb|oz"))
        except WeightError as refused:
            self.refuse_cell(key, str(refused))

    def yes_no(self, key: str) -> None:
        """Yes or no."""
        if not (cell := self.cell(key).casefold()):
            return
        if cell not in YES | NO:
            self.refuse_cell(key, say("“{cell}” is neither yes nor no.", cell=cell))
            return
        self.values[key] = cell in YES

    def heading_unit(self, key: str, units: str) -> str | None:
        """The unit that the column's heading names in brackets or behind a comma."""
        return _unit_in(self.headings.get(key, ""), units)


@lru_cache(maxsize=1024)
def _unit_in(heading: str, units: str) -> str | None:
    found = re.search(rf"[(\[,]\s*({units})\b", heading, re.IGNORECASE)
    return found[1].lower() if found else None


@lru_cache(maxsize=256)
def _by_any_name(choices: tuple[tuple[str, str], ...]) -> dict[str, str]:
    """Choices by every name they go by: key, label in each language, and the label up to its colon.

    The first one wins, English first.
    """
    found: dict[str, str] = {}
    for language in LANGUAGES:
        with in_language(language):
            for choice, label in choices:
                for name in (choice, choice.replace("_", " "), str(label), str(label).split(":")[0]):
                    found.setdefault(name.casefold(), choice)
    return found
