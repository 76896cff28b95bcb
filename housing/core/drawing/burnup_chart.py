"""Boxes done by week: what was done, what the plan says, and what is to be expected, as a picture."""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from html import escape

from housing.core.day_words import day_in_words
from housing.core.drawing.svg import FONT
from objects.core.words import say

WIDTH, HEIGHT = 720, 320
LEFT, RIGHT, TOP, BOTTOM = 52, 90, 34, 44
MOST_TICKS, NEXT_LINE, DAYS_A_WEEK = 8, 14, 7

type Point = tuple[float, float]


@dataclass(frozen=True)
class BurnUp:
    """Boxes by the end of each week, the first week first; None where there is nothing to tell.

    weeks: their Mondays. total: boxes there are. done: up to this week, of which as much is told as there is.
    planned: by the tasks' weeks. low, middle, high: to be expected from this week on; low is what nine of ten
    trials reach. unplanned: boxes of the total that are neither done nor to come back by the work that is
    planned.
    """

    weeks: Sequence[date]
    total: int
    done: Sequence[float | None]
    planned: Sequence[float | None]
    low: Sequence[float | None]
    middle: Sequence[float | None]
    high: Sequence[float | None]
    today: date
    unplanned: int = 0

    @property
    def now(self) -> float:
        """Boxes that are done."""
        return next((value for value in reversed(self.done) if value is not None), 0.0)


def burnup_svg(title: str, chart: BurnUp) -> str:
    """The picture; each line has its own dash and its name at its end. Returns SVG; nothing for no weeks."""
    if not chart.weeks:
        return ""
    top, count = max(chart.total, 1), len(chart.weeks)
    now = min(max((chart.today - chart.weeks[0]).days / DAYS_A_WEEK, 0.0), float(count))

    def place(week: float, boxes: float) -> Point:
        x = LEFT + week / count * (WIDTH - LEFT - RIGHT)
        return x, HEIGHT - BOTTOM - boxes / top * (HEIGHT - TOP - BOTTOM)

    def ahead(values: Sequence[float | None]) -> list[Point]:
        """From what is done today to the ends of the weeks to come."""
        ends = [place(week + 1, value) for week, value in enumerate(values) if value is not None]
        return [place(now, chart.now), *ends] if ends else []

    ends = [place(min(week + 1, now), value) for week, value in enumerate(chart.done) if value is not None]
    done = [place(0, 0), *ends]
    parts = [*_frame(chart, top, now, place)]
    band = ahead(chart.high) + ahead(chart.low)[:0:-1]
    if len(band) > 2:
        parts.append(f'<polygon class="burn-band" fill="#ddd" stroke="none" points="{_written(band)}"/>')
    taken: list[float] = []
    for name, line, dash in (
        (say("Planned"), ahead(chart.planned), "2 3"), (say("Expected"), ahead(chart.middle), "7 4")
    ):  # fmt: skip
        if line:
            parts.append(_line(name, line, 2, f' stroke-dasharray="{dash}"'))
            x, y = line[-1]
            while any(abs(y - other) < NEXT_LINE for other in taken):
                y += NEXT_LINE
            taken.append(y)
            parts.append(
                f'<text stroke="none" x="{x + 6:.1f}" y="{y + 4:.1f}" font-size="13">{escape(name)}</text>'
            )
    parts.append(_line("Done", done, 3))
    x, y = done[-1]
    side = "end" if x > LEFT + 60 else "start"
    parts.append(
        f'<text stroke="none" x="{x + (-8 if side == "end" else 8):.1f}" y="{y - 8:.1f}" font-size="13"'
        f' text-anchor="{side}">{escape(say("Done: {number:,.0f}", number=chart.now))}</text>'
    )
    told = describe(chart)
    return (
        '<svg class="chart burn-chart" xmlns="http://www.w3.org/2000/svg" role="img" '
        f'viewBox="0 0 {WIDTH} {HEIGHT}" font-family="{escape(FONT)}" stroke="#333">'
        f"<title>{escape(title)}</title><desc>{escape(told)}</desc>{''.join(parts)}</svg>"
    )


def describe(chart: BurnUp) -> str:
    """The picture in a sentence."""
    return say(
        "{now:,} of {total:,} boxes are done by the week of {day}.",
        now=round(chart.now),
        total=chart.total,
        day=day_in_words(chart.today),
    )


def _frame(chart: BurnUp, top: int, now: float, place: Callable[[float, float], Point]) -> Iterator[str]:
    """Axes with their figures, the line of all boxes and the one of today."""
    for count in range(0, top + 1, _round_step(top / 4)):
        x, y = place(0, count)
        yield _rule("grid", x, y, WIDTH - RIGHT, y, ' stroke="#ccc"')
        yield _words(f"{count:,}", x - 6, y + 4, "end")
    x, y = place(0, top)
    yield _rule("all", x, y, WIDTH - RIGHT, y)
    yield _words(say("All {total:,} boxes", total=top), x + 4, y - 5, "start")
    every = max(math.ceil(len(chart.weeks) / MOST_TICKS), 1)
    for week in range(0, len(chart.weeks), every):
        monday = chart.weeks[week]
        yield _words(day_in_words(monday, with_year=False), place(week, 0)[0], HEIGHT - 24, "middle")
    yield _words(say("Weeks, by their Mondays"), LEFT, HEIGHT - 6, "start")
    x, _ = place(now, 0)
    yield _rule("today", x, TOP - 16, x, HEIGHT - BOTTOM, ' stroke-dasharray="1 3"')
    yield _words(say("Today"), x, TOP - 20, "middle")


def _line(name: str, points: Sequence[Point], width: int, dashed: str = "") -> str:
    return (
        f'<polyline class="burn-{name.lower()}" points="{_written(points)}" fill="none" '
        f'stroke-width="{width}"{dashed}/>'
    )


def _rule(name: str, x1: float, y1: float, x2: float, y2: float, look: str = "") -> str:
    return f'<line class="burn-{name}"{look} x1="{x1:.1f}" y1="{y1:.1f}" x2="{x2:.1f}" y2="{y2:.1f}"/>'


def _words(words: str, x: float, y: float, anchor: str) -> str:
    return f'<text stroke="none" x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" font-size="12">{words}</text>'


def _round_step(about: float) -> int:
    """1, 2, 5, 10 and so on: the smallest that is not below what is asked."""
    size = 1
    while True:
        for first in (1, 2, 5):
            if first * size >= about:
                return first * size
        size *= 10


def _written(points: Sequence[Point]) -> str:
    return " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
