"""Sides that stand in columns of their own, put together as one labelled text."""

import re
from collections.abc import Mapping

from objects.core.dimensions.labels import LABEL_OF
from objects.core.lengths import FIGURE_PATTERN, UNIT_MARKS, UNIT_WORDS, plain_text, unit_of
from objects.core.weights import WEIGHT_UNITS

# In the order in which they are written; D and W spelled out where the letter could mean something else.
_LABELS = {
    "height": "H",
    "width": "W",
    "depth": "D",
    "length": "L",
    "diameter": "Diam.",
    "thickness": "Thickness",
    "circumference": "Circumference",
}
_NOT_STATED = re.compile(r"[^\w<>±~]*|n[./]?a\.?|none|nil|null|unknown|not (?:known|recorded|stated|given)")
_ZERO = re.compile(rf"0*(?:[.,]0*)?\s*(?:(?:{UNIT_WORDS})\.?|{UNIT_MARKS})?", re.IGNORECASE)
_UNIT = re.compile(rf"(?<![^\W\d_])(?:{UNIT_WORDS})(?![^\W\d_])|{UNIT_MARKS}", re.IGNORECASE)
_WEIGHT = re.compile(rf"\d\s*(?:{WEIGHT_UNITS})\b", re.IGNORECASE)
_LABEL_WORDS = "|".join(sorted(LABEL_OF, key=len, reverse=True))
_LABEL = re.compile(rf"^({_LABEL_WORDS})\b[.:\s]*|\s*\b({_LABEL_WORDS})\.?$", re.IGNORECASE)
# A figure with nothing behind it that the unit could belong to as well: not the 12 of 12-14 or of 12 x 8.
_BARE = re.compile(
    rf"(?<![\w.,/])({FIGURE_PATTERN}|\.\d+)(?![\w/]|[.,]\d|\s*(?:-+|to|x|by)\s*[.\d]"
    rf"|\s*(?:{WEIGHT_UNITS})\b)",
    re.IGNORECASE,
)


def text_of_sides(parts: Mapping[str, str], unit: str = "") -> str:
    """One labelled text out of sides that a list gives in separate columns.

    parts: what stands in the columns "height", "width", "depth", "length", "diameter", "thickness" and
    "circumference", such as 25, 25.4 cm, 10 3/4", 12-14 or ca. 30. unit: the cell of a unit column, which
    counts for figures without a unit of their own; "" where there is none.
    Returns text such as “H 25 cm; W 10 3/4 in; Diam. 12 cm” for read_dimensions; "" if no side is stated.
    Blank cells, dashes, n/a and the like are left out, and a 0 too beside other sides, since many databases
    write 0 for a side that is not known; where nothing but 0 is given it stays, to be refused as a size.
    Raises KeyError for a column that is no side. Source: common practice, no source.
    """
    if unknown := parts.keys() - _LABELS:
        raise KeyError(*unknown)
    cells = {side: plain_text(parts[side]) for side in _LABELS if side in parts}
    stated = {side: cell for side, cell in cells.items() if _is_stated(cell)}
    sides = {side: cell for side, cell in stated.items() if not _ZERO.fullmatch(cell)} or stated
    named = unit_of(plain_text(unit).strip(" ()[]:"))
    written = [
        f"{_label(side, cell, sides)} {_with_unit(_without_label(side, cell), named)}"
        for side, cell in sides.items()
    ]
    # A unit in one column says nothing of another: behind the figures without one it would cover them too.
    written.sort(key=lambda part: not _UNIT.search(part.partition(" ")[2]))
    if written and plain_text(unit) and not named:
        written.append(f"unit {plain_text(unit)}")  # no unit that is known: the grammar will ask
    return "; ".join(written)


def _is_stated(cell: str) -> bool:
    return not _NOT_STATED.fullmatch(cell.lower())


def _label(side: str, cell: str, sides: Mapping[str, str]) -> str:
    """The label of a side. A lone D could be a diameter to the reader, and W before kilograms a weight."""
    is_doubtful = (side == "depth" and "width" not in sides) or bool(_WEIGHT.search(cell))
    return side.capitalize() if is_doubtful else _LABELS[side]


def _without_label(side: str, cell: str) -> str:
    """The cell without a label that says what the column says, as in “25 cm high” below Height."""
    said = _LABEL.search(cell)
    if said and LABEL_OF[(said[1] or said[2]).lower()] == side:
        return cell[: said.start()] + cell[said.end() :]
    return cell


def _with_unit(cell: str, unit: str | None) -> str:
    plain = cell.replace('"', " in").replace("''", " in").replace("'", " ft ").strip()
    return _BARE.sub(rf"\1 {unit}", plain) if unit and not _UNIT.search(plain) else plain
