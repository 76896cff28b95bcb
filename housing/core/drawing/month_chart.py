"""A picture of spending by month: a column a month, its parts on top of each other, one scale for all."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from html import escape

from housing.core.drawing.range_charts import BOTTOM, HEIGHT, LEFT, RIGHT, WIDTH
from housing.core.drawing.svg import FONT, element, text_width

TOP, KEY_SIZE, KEY_GAP = 52, 11, 24
WIDEST_COLUMN, GAP_SHARE = 64.0, 0.25
FONT_SIZE = 12
LABEL_ROOM = 56.0  # width of "Nov 2026" in 12 px with room beside it
FLOOR = HEIGHT - BOTTOM


@dataclass(frozen=True)
class Part:
    """One part of every column. grey: its fill where no style sheet says otherwise."""

    class_: str
    words: str
    grey: str


@dataclass(frozen=True)
class Column:
    """A month. amounts: one for each part, none below zero."""

    label: str
    amounts: tuple[float, ...]

    @property
    def total(self) -> float:
        return sum(self.amounts)


def columns_svg(title: str, parts: Sequence[Part], columns: Sequence[Column], unit: str) -> str:
    """Columns from left to right with a key above them and their sums on top where there is room.

    unit: of the amounts, such as a currency. Returns SVG as wide as its page; empty text for no column.
    Raises ValueError for an amount below zero, or for another number of amounts than of parts.
    """
    if not columns:
        return ""
    if any(len(column.amounts) != len(parts) or min(column.amounts) < 0 for column in columns):
        raise ValueError("A column has as many amounts as there are parts, none of them below zero.")
    most = max(column.total for column in columns) or 1.0
    each = (WIDTH - LEFT - RIGHT) / len(columns)
    every = max(1, -int(-LABEL_ROOM // each))  # only every so many columns has a label
    drawn = list(_key(parts))
    for number, column in enumerate(columns):
        middle = LEFT + each * (number + 0.5)
        drawn.append(_column(column, parts, middle, min(each * (1 - GAP_SHARE), WIDEST_COLUMN), most))
        if number % every == 0:
            drawn.append(_text(middle, HEIGHT - 8, column.label))
        if every == 1 and column.total:
            drawn.append(_text(middle, FLOOR - _high(column.total, most) - 5, f"{column.total:,.0f}"))
    drawn.append(
        element("line", x1=LEFT, x2=WIDTH - RIGHT, y1=FLOOR, y2=FLOOR, stroke="#000", stroke_width=1)
    )
    told = "; ".join(f"{column.label} {column.total:,.0f} {unit}" for column in columns)
    content = element("title", escape(title)) + element("desc", escape(f"{told}.")) + "".join(drawn)
    return element(
        "svg", content, class_="range-chart", xmlns="http://www.w3.org/2000/svg", role="img",
        viewBox=f"0 0 {WIDTH} {HEIGHT}", font_family=FONT,
    )  # fmt: skip


def _column(column: Column, parts: Sequence[Part], middle: float, width: float, most: float) -> str:
    floor, drawn = float(FLOOR), []
    for part, amount in zip(parts, column.amounts, strict=True):
        if amount:
            high = _high(amount, most)
            floor -= high
            name = element("title", escape(f"{column.label}, {part.words.lower()}: {amount:,.0f}"))
            drawn.append(
                element("rect", name, class_=part.class_, x=middle - width / 2, y=floor, width=width,
                        height=high, fill=part.grey, stroke="#333", stroke_width=0.5)
            )  # fmt: skip
    return element("g", "".join(drawn))


def _high(amount: float, most: float) -> float:
    return amount / most * (FLOOR - TOP)


def _key(parts: Sequence[Part]) -> Iterator[str]:
    left = float(LEFT)
    for part in parts:
        yield element("rect", class_=part.class_, x=left, y=8, width=KEY_SIZE, height=KEY_SIZE,
                      fill=part.grey, stroke="#333", stroke_width=0.5)  # fmt: skip
        yield _text(left + KEY_SIZE + 6, 8 + KEY_SIZE - 1, part.words, None)
        left += KEY_SIZE + 6 + text_width(part.words, FONT_SIZE) + KEY_GAP


def _text(x: float, y: float, words: str, anchor: str | None = "middle") -> str:
    return element("text", escape(words), x=x, y=y, text_anchor=anchor, font_size=FONT_SIZE)
