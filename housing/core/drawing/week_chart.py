"""A picture of the work by week: people down, weeks across, hours to do against hours there are.

Too much is hatched and idle hours are an empty frame, each with its words, so that it reads without colour.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from html import escape

from housing.core.drawing.svg import FONT, element, text_width

NAME_WIDTH, COLUMN_WIDTH, COLUMN_GAP = 150.0, 100.0, 12.0  # px, as is every size below
HEAD_HEIGHT, ROW_HEIGHT, KEY_HEIGHT = 44.0, 54.0, 30.0
BAR_TOP, BAR_HEIGHT = 8.0, 16.0
FONT_SIZE, SMALL = 13.0, 11.0
LEAST_HOURS = 0.05  # what rounds to 0.0 is neither idle nor too much
INK, TO_DO_GREY = "#26202b", "#7a7a7a"
HATCHING = "week-too-much"
KEY = ("To do, hours", "Too much, hours", "Idle, hours")
KEY_SIGN, KEY_GAP = 36.0, 24.0  # a sign of the key with the room behind it, and what follows its words
KEY_WIDTH = sum(KEY_SIGN + text_width(words, SMALL) + KEY_GAP for words in KEY)


@dataclass(frozen=True)
class WeekBar:
    """One person's week.

    to_do, there: hours, none below zero; href: where the tasks behind are listed. is_over: the week is past,
    so that no hours are left in it and what is to do is late.
    """

    to_do: float
    there: float
    href: str = ""
    is_over: bool = False

    @property
    def too_much(self) -> float:
        """Hours to do beyond those there are."""
        over = 0.0 if self.is_over else self.to_do - self.there
        return over if over >= LEAST_HOURS else 0.0

    @property
    def idle(self) -> float:
        """Hours that nothing is planned for."""
        left = self.there - self.to_do
        return left if left >= LEAST_HOURS else 0.0

    @property
    def figures(self) -> str:
        """Hours to do and hours there are: "12.5 of 20.0"."""
        return f"{self.to_do:.1f} of {self.there:.1f}"

    @property
    def words(self) -> str:
        """What is out of balance in the week."""
        if self.is_over:
            return f"{self.to_do:.1f} late" if self.to_do >= LEAST_HOURS else "over"
        if self.too_much:
            return f"{self.too_much:.1f} too much"
        if self.idle:
            return f"{self.idle:.1f} idle"
        return "full" if self.there >= LEAST_HOURS else "away"


@dataclass(frozen=True)
class WeekRow:
    """A person's weeks, one bar for each column."""

    name: str
    bars: tuple[WeekBar, ...]


@dataclass(frozen=True)
class WeekHead:
    """A column: "Week 3", and its days beneath."""

    name: str
    days: str = ""


def weeks_svg(title: str, heads: Sequence[WeekHead], rows: Sequence[WeekRow]) -> str:
    """Bars of every person's weeks on one scale: the longest is as wide as its column.

    heads: the weeks from left to right. rows: people from top to bottom. Hours in all of them.
    Returns SVG of its own size in px; empty text where there is nothing to draw. Raises ValueError for hours
    below zero, or for another number of bars than of weeks.
    """
    if not heads or not rows:
        return ""
    if any(len(row.bars) != len(heads) for row in rows):
        raise ValueError("Every person has one bar for each week.")
    if any(min(bar.to_do, bar.there) < 0 for row in rows for bar in row.bars):
        raise ValueError("Hours cannot be below zero.")
    most = max(max(bar.to_do, bar.there) for row in rows for bar in row.bars) or 1.0
    scale = (COLUMN_WIDTH - COLUMN_GAP) / most
    width = NAME_WIDTH + max(COLUMN_WIDTH * len(heads), KEY_WIDTH)
    height = HEAD_HEIGHT + ROW_HEIGHT * len(rows) + KEY_HEIGHT
    drawn = [_hatching(), *_heads(heads)]
    for number, row in enumerate(rows):
        drawn += _row(row, heads, HEAD_HEIGHT + ROW_HEIGHT * number, width, scale)
    drawn += _key(HEAD_HEIGHT + ROW_HEIGHT * len(rows))
    content = element("title", escape(title)) + element("desc", escape(_told(heads, rows))) + "".join(drawn)
    has_links = any(bar.href for row in rows for bar in row.bars)
    return element(
        "svg", content, class_="week-chart", xmlns="http://www.w3.org/2000/svg",
        role="group" if has_links else "img", width=width, height=height,
        viewBox=f"0 0 {width:g} {height:g}", font_family=FONT,
    )  # fmt: skip


def _told(heads: Sequence[WeekHead], rows: Sequence[WeekRow]) -> str:
    """The picture in words: what is too much or idle, person by person."""
    told = []
    for row in rows:
        weeks = (
            f"{head.name.lower()} {bar.figures} hours, {bar.words}"
            for head, bar in zip(heads, row.bars, strict=True)
        )
        told.append(f"{row.name}: {'; '.join(weeks)}.")
    return " ".join(told)


def _hatching() -> str:
    lines = element("path", class_="week-lines", d="M0 0V6", stroke=INK, stroke_width=3.0)
    pattern = element(
        "pattern", lines, id=HATCHING, width=6.0, height=6.0, patternUnits="userSpaceOnUse",
        patternTransform="rotate(45)",
    )  # fmt: skip
    return element("defs", pattern)


def _heads(heads: Sequence[WeekHead]) -> Iterator[str]:
    for number, head in enumerate(heads):
        left = NAME_WIDTH + COLUMN_WIDTH * number
        yield _text(left, 16, head.name, FONT_SIZE, font_weight="bold")
        yield _text(left, 33, head.days, SMALL)


def _row(row: WeekRow, heads: Sequence[WeekHead], top: float, width: float, scale: float) -> Iterator[str]:
    yield element(
        "line", class_="week-rule", x1=0, x2=width, y1=top, y2=top, stroke="#999", stroke_width=0.75
    )
    yield _text(0, top + BAR_TOP + BAR_HEIGHT - 3, _cut_off(row.name), FONT_SIZE)
    for number, (head, bar) in enumerate(zip(heads, row.bars, strict=True)):
        left = NAME_WIDTH + COLUMN_WIDTH * number
        said = f"{row.name}, {head.name.lower()}: {bar.figures} hours, {bar.words}"
        drawn = [element("title", escape(said)), *_bar(bar, left, top + BAR_TOP, scale)]
        drawn.append(_text(left, top + 38, bar.figures, SMALL))
        drawn.append(_text(left, top + 50, bar.words, SMALL, font_weight="bold" if bar.too_much else None))
        yield element("a" if bar.href else "g", "".join(drawn), class_="week-cell", href=bar.href or None)


def _bar(bar: WeekBar, left: float, top: float, scale: float) -> Iterator[str]:
    """The hours there are as a frame, what fits of the work filled, what does not hatched behind it."""
    fits = min(bar.to_do, bar.there) * scale
    frame = bar.there * scale
    if frame:
        yield _rect("week-there", left, top, frame, "#ffffff")
    if fits:
        yield _rect("week-to-do", left, top, fits, TO_DO_GREY)
    if bar.too_much:
        yield _rect("week-over", left + fits, top, bar.to_do * scale - fits, f"url(#{HATCHING})")


def _rect(class_: str, x: float, y: float, width: float, fill: str) -> str:
    return element(
        "rect",
        class_=class_,
        x=x,
        y=y,
        width=width,
        height=BAR_HEIGHT,
        fill=fill,
        stroke=INK,
        stroke_width=1.0,
    )


def _key(top: float) -> Iterator[str]:
    left = NAME_WIDTH
    for words, class_, fill in zip(
        KEY,
        ("week-to-do", "week-over", "week-there"),
        (TO_DO_GREY, f"url(#{HATCHING})", "#ffffff"),
        strict=True,
    ):
        yield _rect(f"{class_} week-key", left, top + 10, 28.0, fill)
        yield _text(left + KEY_SIGN, top + 22, words, SMALL)
        left += KEY_SIGN + text_width(words, SMALL) + KEY_GAP


def _cut_off(name: str) -> str:
    """A name as far as it fits before the first bar; the bars' titles tell it whole."""
    if text_width(name, FONT_SIZE) <= NAME_WIDTH - COLUMN_GAP:
        return name
    while name and text_width(f"{name}…", FONT_SIZE) > NAME_WIDTH - COLUMN_GAP:
        name = name[:-1]
    return f"{name.rstrip()}…"


def _text(x: float, y: float, words: str, size: float, **more: str | None) -> str:
    return element("text", escape(words), x=x, y=y, font_size=size, **more)
