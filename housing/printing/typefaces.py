"""The typeface of printed pages as the setter sees it: how wide its letters are, and which it has."""

from functools import cache, lru_cache
from io import BytesIO
from pathlib import Path

from fontTools.ttLib import TTFont

FONTS = Path(__file__).resolve().parents[1] / "static" / "vendor" / "dejavu-sans-2.37"
FILES = {False: "dejavu-sans-regular.woff", True: "dejavu-sans-bold.woff"}


@cache
def advances(bold: bool) -> dict[int, float]:
    """The width of every letter the typeface has, by its number in Unicode, in parts of the type size."""
    with TTFont(FONTS / FILES[bold], lazy=True) as font:
        em, widths = font["head"].unitsPerEm, font["hmtx"].metrics
        return {code: widths[glyph][0] / em for code, glyph in font.getBestCmap().items()}


@lru_cache(maxsize=20_000)
def width_of(text: str, bold: bool = False) -> float:
    """How wide a text is set, in parts of the type size; a letter it lacks counts as wide as it is high."""
    widths = advances(bold)
    return sum(widths.get(ord(letter), 1.0) for letter in text)


def truetype(bold: bool) -> BytesIO:
    """The typeface as a plain TrueType file, as a PDF holds it."""
    plain = BytesIO()
    with TTFont(FONTS / FILES[bold]) as font:
        font.flavor = None
        font.save(plain, reorderTables=None)
    plain.seek(0)
    return plain


def can_set(text: str) -> bool:
    """Whether a text is set right letter by letter, from left to right, in this typeface.

    Not so with letters it lacks, with those that join or change by their neighbours, with marks that stand on
    a letter, and with scripts that run from the right.
    """
    return text.isascii() or all(map(_stands_alone, set(text)))


@cache
def _stands_alone(letter: str) -> bool:
    code = ord(letter)
    # Latin, Greek, Cyrillic and Armenian without the combining marks, then punctuation, signs and arrows.
    plain = code < 0x300 or 0x370 <= code < 0x590 or 0x1E00 <= code < 0x2C00
    direction = 0x200B <= code <= 0x200F or 0x202A <= code <= 0x202E or 0x20D0 <= code <= 0x20FF
    return plain and not direction and code in advances(False) and code in advances(True)
