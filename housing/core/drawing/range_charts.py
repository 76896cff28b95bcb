"""Pictures of how uncertain a cost is: how often each cost comes, and which inputs move it most."""

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

from housing.core.drawing.svg import FONT

WIDTH, HEIGHT = 640, 220  # of the drawing's own units; pages scale it to their width
LEFT, RIGHT, TOP, BOTTOM = 12, 12, 40, 28
ROW, LABEL_ROOM = 34, 16


@dataclass(frozen=True)
class Mark:
    """An upright line at a value with words above it."""

    value: float
    words: str


def histogram_svg(
    title: str, edges: Sequence[float], counts: Sequence[int], marks: Sequence[Mark], ends: tuple[str, str]
) -> str:
    """How often a cost falls between each two edges, with marks.

    edges: one more than counts, rising. ends: words for the lowest and highest edge. Returns SVG with title
    and description; a single value is one bar.
    """
    low, high = edges[0], edges[-1]
    most, width = max(counts), (high - low) or 1.0

    def x(value: float) -> float:
        return LEFT + (value - low) / width * (WIDTH - LEFT - RIGHT)

    floor = HEIGHT - BOTTOM
    bars = []
    for count, left, right in zip(counts, edges, edges[1:], strict=False):
        high_px = count / most * (floor - TOP)
        wide = max((right - left) / width * (WIDTH - LEFT - RIGHT) - 1, 1)
        bars.append(
            f'<rect class="range-bar" x="{x(left):.1f}" y="{floor - high_px:.1f}" width="{wide:.1f}" '
            f'height="{high_px:.1f}" fill="#8a8a8a"/>'
        )
    drawn = []
    for number, mark in enumerate(marks):
        at = min(max(x(mark.value), LEFT), WIDTH - RIGHT)
        anchor = "end" if at > WIDTH * 0.75 else "start"
        shift = -4 if anchor == "end" else 4
        y = TOP - 24 + 13 * (number % 3)
        drawn.append(
            f'<line class="range-mark" x1="{at:.1f}" x2="{at:.1f}" y1="{y - 9}" y2="{floor}" stroke="#000" '
            f'stroke-dasharray="{4 if number % 2 else 0} 3"/>' + _text(at + shift, y, mark.words, anchor)
        )
    told = "; ".join(mark.words for mark in marks)
    return _svg(
        title,
        f"From {ends[0]} to {ends[1]}; {told}.",
        HEIGHT,
        [
            *bars,
            f'<line x1="{LEFT}" x2="{WIDTH - RIGHT}" y1="{floor}" y2="{floor}" stroke="#000"/>',
            *drawn,
            _text(LEFT, HEIGHT - 8, ends[0]),
            _text(WIDTH - RIGHT, HEIGHT - 8, ends[1], "end"),
        ],
    )


@dataclass(frozen=True)
class Swing:
    """An input with the cost where it is low and where it is high, and these in words."""

    label: str
    low: float
    high: float
    words: str


def tornado_svg(title: str, swings: Sequence[Swing], middle: float) -> str:
    """Bars from the cost where an input is low to where it is high, around the mean, the widest on top.

    middle: the mean cost. Returns SVG with title and description. Nothing to show gives an empty text.
    """
    if not swings:
        return ""
    values = [value for swing in swings for value in (swing.low, swing.high)] + [middle]
    low, high = min(values), max(values)
    width = (high - low) or 1.0

    def x(value: float) -> float:
        return LEFT + (value - low) / width * (WIDTH - LEFT - RIGHT)

    height = len(swings) * ROW + 12
    parts = [
        f'<line x1="{x(middle):.1f}" x2="{x(middle):.1f}" y1="0" y2="{height}" stroke="#000" '
        'stroke-dasharray="3 3"/>'
    ]
    for number, swing in enumerate(swings):
        top = number * ROW + LABEL_ROOM
        left, right = sorted((x(swing.low), x(swing.high)))
        parts.append(
            _text(LEFT, top - 3, f"{swing.label}: {swing.words}")
            + f'<rect class="range-bar" x="{left:.1f}" y="{top}" width="{max(right - left, 1):.1f}" height="12" '
            'fill="#8a8a8a"/>'
        )
    told = "; ".join(f"{swing.label} {swing.words}" for swing in swings)
    return _svg(title, told, height, parts)


def _svg(title: str, told: str, height: int, parts: Sequence[str]) -> str:
    return (
        '<svg class="range-chart" xmlns="http://www.w3.org/2000/svg" role="img" '
        f'viewBox="0 0 {WIDTH} {height}" font-family="{escape(FONT)}"><title>{escape(title)}</title><desc>{escape(told)}</desc>'
        + "".join(parts)
        + "</svg>"
    )


def _text(x: float, y: float, words: str, anchor: str = "start") -> str:
    return f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" font-size="12">{escape(words)}</text>'
