"""The key beneath a drawing: samples of its lines, a scale bar and notes, flowing into rows."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from housing.core.drawing.svg import line, text, text_width
from housing.core.drawing.symbols import READ_MM, arrow
from objects.core.lengths import MM_PER_INCH
from objects.core.words import say

ROW_MM = 4.5
ITEM_GAP_MM = 5.0
SAMPLE_MM = 9.0
BASELINE_MM = 3.4
MIDDLE_MM = 2.5

# Lengths a scale bar may stand for, mm: round in millimetres, and round in inches.
BAR_LENGTHS_MM = (
    *(10, 20, 50, 100, 200, 500, 1000, 2000, 5000),
    *(inches * float(MM_PER_INCH) for inches in (1, 2, 4, 6, 12, 24, 48, 96, 240)),
)


@dataclass(frozen=True)
class Item:
    """One entry: its width in mm, and what draws it from its upper left corner."""

    width_mm: float
    draw: Callable[[float, float], str]


@dataclass(frozen=True)
class Legend:
    """Entries in rows, height in mm, drawn from an upper left corner."""

    rows: tuple[tuple[Item, ...], ...]

    @property
    def width_mm(self) -> float:
        return max(
            (sum(item.width_mm for item in row) + ITEM_GAP_MM * (len(row) - 1) for row in self.rows),
            default=0.0,
        )

    @property
    def height_mm(self) -> float:
        return len(self.rows) * ROW_MM

    def draw(self, x: float, y: float) -> str:
        parts = []
        for i, row in enumerate(self.rows):
            at = x
            for item in row:
                parts.append(item.draw(at, y + i * ROW_MM))
                at += item.width_mm + ITEM_GAP_MM
        return "".join(parts)


def flow(items: Sequence[Item], width_mm: float) -> Legend:
    """Put entries into rows no wider than asked, unless a single entry is."""
    rows: list[list[Item]] = []
    used = 0.0
    for item in items:
        if not rows or used + ITEM_GAP_MM + item.width_mm > width_mm:
            rows.append([])
            used = -ITEM_GAP_MM
        rows[-1].append(item)
        used += ITEM_GAP_MM + item.width_mm
    return Legend(tuple(tuple(row) for row in rows))


def words(content: str) -> Item:
    """An entry of words alone."""
    return Item(text_width(content, READ_MM), lambda x, y: text(x, y + BASELINE_MM, content, "key", READ_MM))


def wrapped(content: str, width_mm: float) -> list[str]:
    """A text broken between words into rows no wider than asked, unless a single word is."""
    rows: list[str] = []
    for word in content.split():
        if rows and text_width(f"{rows[-1]} {word}", READ_MM) <= width_mm:
            rows[-1] += f" {word}"
        else:
            rows.append(word)
    return rows


def sample(content: str, drawn: Callable[[float, float], str], width_mm: float = SAMPLE_MM) -> Item:
    """An entry of a sample, `width_mm` wide and drawn from the middle of its left side, and words."""
    return Item(
        width_mm + 1.5 + text_width(content, READ_MM),
        lambda x, y: (
            drawn(x, y + MIDDLE_MM) + text(x + width_mm + 1.5, y + BASELINE_MM, content, "key", READ_MM)
        ),
    )


def scale_bar(scale: float, named: str, format_length: Callable[[float], str], unit: str = "") -> Item:
    """A bar as long on paper as a round length is at this scale, between 25 and 65 mm.

    scale: mm on paper to a mm of board. named: the scale in words. format_length: writes mm as the
    reader wants them; of the lengths that fit, the one it writes shortest is taken, which is round in its
    unit. unit: to be written behind it.
    """
    fitting = [mm for mm in BAR_LENGTHS_MM if 25 <= mm * scale <= 65]
    length_mm = min(fitting, key=lambda mm: (len(format_length(mm)), -mm))
    long = length_mm * scale

    def bar(x: float, y: float) -> str:
        ends = "".join(line(at, y - 1, at, y + 1, "dim", 0.2) for at in (x, x + long / 2, x + long))
        return line(x, y, x + long, y, "dim", 0.3) + ends

    return sample(
        say("{length} at {scale}", length=f"{format_length(length_mm)} {unit}".strip(), scale=named),
        bar,
        long,
    )


def direction(word: str, along: str) -> Item:
    """An arrow along x or y with what runs so through the board."""
    long = 6.0 if along == "x" else 4.4
    return sample(word, lambda x, y: arrow(x + 3, y, long, along), 6)
