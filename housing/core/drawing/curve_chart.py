"""A curve through few points, such as cost against the number of sizes."""

from collections.abc import Sequence
from html import escape

from housing.core.drawing.svg import FONT

WIDTH, HEIGHT = 360, 200
LEFT, RIGHT, TOP, BOTTOM = 14, 14, 26, 36


def curve_svg(title: str, points: Sequence[tuple[int, float]], unit: str) -> str:
    """A line through points, each with its number beneath and a dot; the highest and the lowest in words.

    points: (number, value), numbers rising. Returns SVG with title and description; no points, no drawing.
    """
    if not points:
        return ""
    values = [value for _, value in points]
    low, high = min(values), max(values)
    across = max(points[-1][0] - points[0][0], 1)

    def place(number: int, value: float) -> tuple[float, float]:
        x = LEFT + (number - points[0][0]) / across * (WIDTH - LEFT - RIGHT)
        y = HEIGHT - BOTTOM - (value - low) / ((high - low) or 1.0) * (HEIGHT - TOP - BOTTOM)
        return x, y

    line = " ".join(f"{x:.1f},{y:.1f}" for x, y in (place(*point) for point in points))
    dots = []
    for number, value in points:
        x, y = place(number, value)
        dots.append(
            f'<circle cx="{x:.1f}" cy="{y:.1f}" r="4"/>'
            f'<text x="{x:.1f}" y="{HEIGHT - 14}" text-anchor="middle" font-size="12">{number}</text>'
        )
    told = "; ".join(f"{number}: {value:,.0f} {unit}" for number, value in points)
    ends = f"From {high:,.0f} down to {low:,.0f} {unit}"
    return (
        '<svg class="curve-chart" xmlns="http://www.w3.org/2000/svg" role="img" '
        f'viewBox="0 0 {WIDTH} {HEIGHT}" font-family="{escape(FONT)}">'
        f"<title>{escape(title)}</title><desc>{escape(told)}</desc>"
        f'<text x="{LEFT}" y="14" font-size="12">{escape(ends)}</text>'
        f'<polyline points="{line}" fill="none" stroke="#555555" stroke-width="2"/>{"".join(dots)}</svg>'
    )
