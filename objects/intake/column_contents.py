"""What a column holds, told from its cells; asked only where the heading says nothing."""

import re
from collections.abc import Collection, Sequence

from objects.core.dimensions import read_dimensions
from objects.core.lists import plain_heading

_SAMPLE = 200  # cells that are looked at; assumed
_FEWEST = 3  # cells below which nothing is told; assumed
_MOST = 0.8  # of the cells; assumed

_EMPTY_WORDS = (
    "column|col|field|unnamed|data|value|text|info|item|spalte|feld|wert|colonne|champ|valeur|kolom|veld|waarde|"
    "columna|campo|valor|x"
)
_SAYS_NOTHING = re.compile(rf"(?:{_EMPTY_WORDS})?\s*\d*|[a-z]{{1,2}}\d*")
_TIMES = re.compile(r"\d\s*(?:cm|mm|m|in)?\s*[x×*]\s*\d", re.IGNORECASE)
_WEIGHT = re.compile(r"\d[\d.,]*\s*(?:g|kg|lbs?|oz)\.?", re.IGNORECASE)
_PATH = re.compile(r"\S\s+[/>]\s+\S")
_PICTURE = re.compile(r".+\.(?:jpe?g|png|webp|tiff?)", re.IGNORECASE)
_NUMBER = re.compile(r"[^\W\d_]{0,6}[\s.:-]?\d[\w.,/:-]{0,30}")


def says_nothing(heading: str) -> bool:
    """Whether a heading is a mere place holder, such as Column 3, Field7 or F2."""
    return _SAYS_NOTHING.fullmatch(plain_heading(heading)) is not None


def field_by_content(cells: Sequence[str], fields: Collection[str]) -> str:
    """The one of our fields that most cells look like; blank where it cannot be told."""
    filled = [text for cell in cells if (text := " ".join(cell.split()))]
    if len(filled) < _FEWEST:
        return ""
    sample = filled[:: max(1, len(filled) // _SAMPLE)][:_SAMPLE]
    tests = {
        "photo": _PICTURE.fullmatch,
        "weight_g": _WEIGHT.fullmatch,
        "dimensions": _is_size,
        "location": _PATH.search,
    }
    for field, looks_like in tests.items():
        if sum(bool(looks_like(cell)) for cell in sample) >= _MOST * len(sample):
            return field if field in fields else ""
    return "number" if "number" in fields and _are_numbers(cells, filled) else ""


def _is_size(cell: str) -> bool:
    """Two sides at least, so that a mere figure with a unit does not count."""
    sides = read_dimensions(cell).dimensions.sides
    return sum(side is not None for side in sides) > 1 or _TIMES.search(cell) is not None


def _are_numbers(cells: Sequence[str], filled: list[str]) -> bool:
    """Whether every row has its own short number, and they are no mere count of the rows."""
    return (
        len(filled) == len(cells)
        and len(set(filled)) == len(filled)
        and all(map(_NUMBER.fullmatch, filled))
        and not _is_run(filled)
    )


def _is_run(cells: list[str]) -> bool:
    """Whether they are whole numbers that go up by one."""
    if not all(map(str.isdecimal, cells)):
        return False
    numbers = list(map(int, cells))
    return all(after == before + 1 for before, after in zip(numbers, numbers[1:], strict=False))
