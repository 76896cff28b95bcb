"""Pictures of how uncertain a cost is: how often each cost comes, and which inputs move it most.

As wide as their page, words at one size: places across are in percent, heights in px.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

from housing.core.drawing.svg import FONT, element

WIDTH, HEIGHT = 640, 220  # own units of pictures that scale with their page, such as that of months
LEFT, RIGHT, BOTTOM = 12, 12, 28

TEXT_SIZE = 14  # px, as is every height below
LINE_HEIGHT = 18
BARS_HEIGHT = 150
BAR_HEIGHT = 14
ROW_HEIGHT = 2 * LINE_HEIGHT + BAR_HEIGHT + 10  # two lines of words above a bar
GREY, INK = "#8a8a8a", "#000000"  # where no styles are
TURN_AT = 40  # percent across; words of marks beyond it stand before their mark, where there is room


@dataclass(frozen=True)
class Mark:
    """An upright line at a value with words beside its upper end."""

    value: float
    words: str


@dataclass(frozen=True)
class Swing:
    """An input with the cost where it is low and where it is high, and these in words."""

    label: str
    low: float
    high: float
    words: str


@dataclass(frozen=True)
class Scale:
    """From a lowest to a highest value, as percent of the width; what lies beyond stands at the edge."""

    low: float
    high: float

    def at(self, value: float) -> float:
        if self.high <= self.low:
            return 50.0
        return min(max(100 * (value - self.low) / (self.high - self.low), 0.0), 100.0)


def histogram_svg(
    title: str, edges: Sequence[float], counts: Sequence[int], marks: Sequence[Mark], ends: tuple[str, str]
) -> str:
    """How often a cost falls between each two edges, with marks.

    edges: one more than counts, rising; equal ones are one bar. ends: words for the lowest and the highest
    edge. Returns SVG with title and description.
    """
    scale, most = Scale(edges[0], edges[-1]), max(counts)
    top = len(marks) * LINE_HEIGHT + 4
    floor = top + BARS_HEIGHT
    drawn = []
    for count, left, right in zip(counts, edges, edges[1:], strict=False):
        high = count / most * BARS_HEIGHT
        wide = max(scale.at(right) - scale.at(left), 1.0)
        drawn.append(_bar(scale.at(left), floor - high, wide, high))
    drawn.append(_line(0, 100, floor, floor))
    # The rightmost mark is the highest, so that no words stand on the line of another.
    for number, mark in enumerate(sorted(marks, key=lambda mark: -mark.value)):
        at, y = scale.at(mark.value), (number + 1) * LINE_HEIGHT
        is_before = at > TURN_AT
        drawn.append(_line(at, at, y - TEXT_SIZE + 2, floor, class_="range-mark", stroke_dasharray="4 3"))
        drawn.append(_text(at, y, mark.words, "end" if is_before else "start", -5 if is_before else 5))
    below = floor + LINE_HEIGHT
    drawn += [_text(0, below, ends[0]), _text(100, below, ends[1], "end")]
    told = "; ".join(mark.words for mark in marks)
    return _svg(title, f"From {ends[0]} to {ends[1]}; {told}.", below + 6, drawn)


def tornado_svg(title: str, swings: Sequence[Swing], middle: float) -> str:
    """Bars from the cost where an input is low to where it is high, around the mean, in the order given.

    middle: the mean cost. Returns SVG with title and description; an empty text where nothing swings.
    """
    if not swings:
        return ""
    values = [value for swing in swings for value in (swing.low, swing.high)] + [middle]
    scale = Scale(min(values), max(values))
    drawn = []
    for number, swing in enumerate(swings):
        top = number * ROW_HEIGHT
        left, right = sorted((scale.at(swing.low), scale.at(swing.high)))
        bar = top + 2 * LINE_HEIGHT + 2
        drawn += [
            _text(0, top + LINE_HEIGHT - 3, swing.label),
            _text(0, top + 2 * LINE_HEIGHT - 3, swing.words, class_="soft"),
            _bar(left, bar, max(right - left, 0.5), BAR_HEIGHT),
            _line(scale.at(middle), scale.at(middle), bar - 2, bar + BAR_HEIGHT + 2),
        ]
    told = "; ".join(f"{swing.label} {swing.words}" for swing in swings)
    return _svg(title, told, len(swings) * ROW_HEIGHT, drawn)


def _svg(title: str, told: str, height: float, parts: Sequence[str]) -> str:
    content = element("title", escape(title)) + element("desc", escape(told)) + "".join(parts)
    return element(
        "svg", content, xmlns="http://www.w3.org/2000/svg", class_="range-chart", width="100%",
        height=height, role="img", font_family=FONT,
    )  # fmt: skip


def _bar(left: float, top: float, width: float, height: float) -> str:
    """left, width: percent of the whole width; top, height: px."""
    return element(
        "rect", class_="range-bar", x=f"{left:.2f}%", y=top, width=f"{width:.2f}%", height=height, fill=GREY
    )


def _line(left: float, right: float, top: float, bottom: float, **more: str) -> str:
    return element(
        "line", x1=f"{left:.2f}%", x2=f"{right:.2f}%", y1=top, y2=bottom, stroke=INK, **more
    )  # fmt: skip


def _text(at: float, y: float, words: str, anchor: str = "start", shift: float = 0, class_: str = "") -> str:
    return element(
        "text", escape(words), class_=class_ or None, x=f"{at:.2f}%", y=y, dx=shift, text_anchor=anchor,
        font_size=TEXT_SIZE, fill=INK,
    )  # fmt: skip
