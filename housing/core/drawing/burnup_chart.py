"""Boxes done by week: what was done, what the plan says, and what is to be expected, as a picture."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from html import escape

from housing.core.drawing.svg import FONT

WIDTH, HEIGHT = 720, 320
LEFT, RIGHT, TOP, BOTTOM = 52, 120, 28, 44
MOST_TICKS = 8


@dataclass(frozen=True)
class BurnUp:
    """Boxes by the end of each week, the first week first; None where there is nothing to tell.

    weeks: their Mondays. total: boxes there are. done: up to this week. planned: by the tasks' weeks.
    low, middle, high: to be expected from this week on; low is what nine of ten trials reach.
    """

    weeks: Sequence[date]
    total: int
    done: Sequence[float | None]
    planned: Sequence[float | None]
    low: Sequence[float | None]
    middle: Sequence[float | None]
    high: Sequence[float | None]
    today: date


def burnup_svg(title: str, chart: BurnUp) -> str:
    """The picture; each line has its own dash and its name at its end. Returns SVG; nothing for no weeks."""
    if not chart.weeks:
        return ""
    top = max(chart.total, 1)
    last = max(len(chart.weeks) - 1, 1)

    def place(week: float, boxes: float) -> tuple[float, float]:
        x = LEFT + week / last * (WIDTH - LEFT - RIGHT)
        return x, HEIGHT - BOTTOM - boxes / top * (HEIGHT - TOP - BOTTOM)

    def points(values: Sequence[float | None]) -> list[tuple[float, float]]:
        return [place(week, value) for week, value in enumerate(values) if value is not None]

    parts = [*_frame(chart, top, last, place)]
    band = points(chart.high) + points(chart.low)[::-1]
    if len(band) > 2:
        parts.append(f'<polygon class="burn-band" fill="#ddd" stroke="none" points="{_written(band)}"/>')
    taken: list[float] = []
    for name, values, dash in (
        ("Planned", chart.planned, "2 3"),
        ("Expected", chart.middle, "7 4"),
        ("Done", chart.done, ""),
    ):
        line = points(values)
        if not line:
            continue
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        parts.append(
            f'<polyline class="burn-{name.lower()}" points="{_written(line)}" fill="none" '
            f'stroke-width="{3 if name == "Done" else 2}"{dashed}/>'
        )
        x, y = line[-1]
        while any(abs(y - other) < 14 for other in taken):
            y += 14
        taken.append(y)
        parts.append(f'<text stroke="none" x="{x + 6:.1f}" y="{y + 4:.1f}" font-size="13">{name}</text>')
    told = describe(chart)
    return (
        '<svg class="chart burn-chart" xmlns="http://www.w3.org/2000/svg" role="img" '
        f'viewBox="0 0 {WIDTH} {HEIGHT}" font-family="{escape(FONT)}" stroke="#333">'
        f"<title>{escape(title)}</title><desc>{escape(told)}</desc>{''.join(parts)}</svg>"
    )


def describe(chart: BurnUp) -> str:
    """The picture in a sentence."""
    done = next((value for value in reversed(chart.done) if value is not None), 0.0)
    return f"{round(done):,} of {chart.total:,} boxes are done by the week of {chart.today:%d %B %Y}."


def _frame(chart: BurnUp, top: int, last: int, place):  # type: ignore[no-untyped-def]
    """Axes with their figures, the line of all boxes and the one of today."""
    step = _round_step(top / 4)
    for count in range(0, top + 1, step):
        x, y = place(0, count)
        yield (
            f'<line class="burn-grid" stroke="#ccc" x1="{x}" y1="{y:.1f}" x2="{WIDTH - RIGHT}" y2="{y:.1f}"/>'
        )
        yield (
            f'<text stroke="none" x="{x - 6}" y="{y + 4:.1f}" text-anchor="end" font-size="12"'
            f">{count:,}</text>"
        )
    x, y = place(0, top)
    yield f'<line class="burn-all" x1="{x}" y1="{y:.1f}" x2="{WIDTH - RIGHT}" y2="{y:.1f}"/>'
    yield f'<text stroke="none" x="{x + 4}" y="{y - 6:.1f}" font-size="12">All {top:,} boxes</text>'
    every = max(math.ceil((last + 1) / MOST_TICKS), 1)
    for week in range(0, len(chart.weeks), every):
        x, y = place(week, 0)
        words = f"{chart.weeks[week].day} {chart.weeks[week]:%b}"
        yield (
            f'<text stroke="none" x="{x:.1f}" y="{HEIGHT - 24}" text-anchor="middle" font-size="12"'
            f">{words}</text>"
        )
    yield f'<text stroke="none" x="{LEFT}" y="{HEIGHT - 6}" font-size="12">Weeks, by their Mondays</text>'
    now = (chart.today - chart.weeks[0]).days / 7
    if 0 <= now <= last:
        x, _ = place(now, 0)
        yield (
            f'<line class="burn-today" stroke-dasharray="1 3" x1="{x:.1f}" y1="{TOP - 8}"'
            f' x2="{x:.1f}" y2="{HEIGHT - BOTTOM}"/>'
        )
        yield (
            f'<text stroke="none" x="{x:.1f}" y="{TOP - 12}" text-anchor="middle" font-size="12">Today</text>'
        )


def _round_step(about: float) -> int:
    """1, 2, 5, 10 and so on: the smallest that is not below what is asked."""
    size = 1
    while True:
        for first in (1, 2, 5):
            if first * size >= about:
                return first * size
        size *= 10


def _written(points: Sequence[tuple[float, float]]) -> str:
    return " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
