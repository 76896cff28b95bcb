"""Signs that stand beside the words of handling marks: simple drawings of our own, as SVG and as a font.

Each sign is drawn in a square of 100 x 100, y downward, with one weight of line. Print pages show them as the
characters of a small font, since a page of labels with hundreds of drawings would take many times as long to
set; the command `sign_font` writes that font from these drawings.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from housing.core.drawing.svg import element, number

Point = tuple[float, float]
SIDE = 100.0
WEIGHT = 8.0  # of lines, so that a sign 3 mm high has lines of a quarter of a millimetre


@dataclass(frozen=True)
class Stroke:
    """A line through points, round at its ends and corners; closed: back to its beginning."""

    points: tuple[Point, ...]
    closed: bool = False


@dataclass(frozen=True)
class Area:
    """A filled shape."""

    points: tuple[Point, ...]


@dataclass(frozen=True)
class Sign:
    """A sign: the character that stands for it in the font, and what it is drawn of.

    character: one that means about the same in Unicode, so that text copied from a print can be read.
    """

    character: str
    parts: tuple[Stroke | Area, ...]


def _round(x: float, y: float, radius: float, first: float = 0.0, last: float = 360.0) -> tuple[Point, ...]:
    """Points on a circle from one angle to another, degrees, clockwise from the right."""
    steps = max(int(abs(last - first) / 15), 1)
    angles = [math.radians(first + (last - first) * i / steps) for i in range(steps + 1)]
    return tuple((x + radius * math.cos(a), y + radius * math.sin(a)) for a in angles)


def _dot(x: float, y: float, radius: float = 6.0) -> Area:
    return Area(_round(x, y, radius)[:-1])


def _ring(x: float, y: float, radius: float) -> Stroke:
    return Stroke(_round(x, y, radius)[:-1], closed=True)


def _lines(*lines: tuple[Point, ...]) -> tuple[Stroke, ...]:
    return tuple(Stroke(line) for line in lines)


def _box(left: float, top: float, right: float, bottom: float) -> Stroke:
    return Stroke(((left, top), (right, top), (right, bottom), (left, bottom)), closed=True)


def _up(x: float, top: float, bottom: float, head: float = 13.0) -> tuple[Stroke, ...]:
    """An arrow that points up."""
    return _lines(((x, bottom), (x, top)), ((x - head, top + head), (x, top), (x + head, top + head)))


def _person(x: float) -> tuple[Stroke | Area, ...]:
    return (_dot(x, 18, 11), Stroke(((x - 15, 58), (x - 15, 46), *_round(x, 46, 15, 180, 360), (x + 15, 58))))


_CROSS = _lines(((8, 8), (92, 92)), ((92, 8), (8, 92)))

HAZARD, WEIGHT_SIGN, STACKING = "hazard", "weight", "stack_limit"
# The keys are those of MARKS in housing/core/choosing/marks.py, and three for what the planner works out.
SIGNS: dict[str, Sign] = {
    HAZARD: Sign("⚠", (
        Stroke(((50, 9), (95, 90), (5, 90)), closed=True), *_lines(((50, 37), (50, 62))), _dot(50, 76),
    )),
    "ask_first": Sign("\U0001f4ac", (
        Stroke(((8, 12), (92, 12), (92, 66), (48, 66), (26, 90), (26, 66), (8, 66)), closed=True),
        _dot(30, 39), _dot(50, 39), _dot(70, 39),
    )),
    "fragile": Sign("\U0001f377", (
        Stroke(((24, 8), (76, 8), (74, 34), *_round(50, 34, 24, 0, 180), (26, 34)), closed=True),
        *_lines(((50, 58), (50, 91)), ((28, 92), (72, 92)), ((56, 8), (46, 22), (57, 32), (48, 44))),
    )),
    "this_way_up": Sign("⇈", (*_up(28, 8, 74, 17), *_up(72, 8, 74, 17), *_lines(((6, 92), (94, 92))))),
    "two_people": Sign("\U0001f465", (
        *_person(20), *_person(80), _box(30, 62, 70, 92), *_lines(((5, 58), (5, 72), (30, 77)),
        ((95, 58), (95, 72), (70, 77))),
    )),
    WEIGHT_SIGN: Sign("⚖", (
        Stroke(((24, 34), (76, 34), (92, 92), (8, 92)), closed=True), _ring(50, 20, 13),
    )),
    "lift_from_below": Sign("⇧", (_box(18, 8, 82, 46), *_up(32, 58, 94, 11), *_up(68, 58, 94, 11))),
    "gloves": Sign("\U0001f9e4", (
        Stroke((
            (34, 92), (34, 66), (12, 48), *_round(17, 40, 8, 120, 290), (36, 46), (36, 20),
            *_round(44, 18, 8, 180, 360), (52, 40), *_round(60, 16, 8, 180, 360), (68, 42),
            *_round(76, 24, 8, 180, 360), (84, 60), (74, 76), (74, 92),
        ), closed=True), *_lines(((34, 78), (74, 78))),
    )),
    "do_not_stack": Sign("☒", (_box(24, 54, 76, 92), _box(32, 12, 68, 42), *_CROSS)),
    STACKING: Sign("☰", (
        _box(18, 66, 82, 94), _box(18, 36, 82, 64),
        *_lines(((18, 8), (82, 8)), ((50, 8), (50, 32)), ((38, 20), (50, 32), (62, 20))),
    )),
    "do_not_roll": Sign("↻", (
        _ring(50, 60, 28), *_lines(((16, 12), (84, 12)), ((70, 2), (84, 12), (70, 22)), ((14, 92), (86, 28))),
    )),
    "do_not_seal": Sign("⊘", (
        _box(14, 46, 86, 92), *_lines(((14, 46), (34, 22)), ((86, 46), (66, 22)), ((50, 62), (50, 10)),
        ((38, 22), (50, 10), (62, 22))),
    )),
    "store_apart": Sign("↔", (
        _box(5, 30, 28, 70), _box(72, 30, 95, 70),
        *_lines(((36, 50), (64, 50)), ((44, 42), (36, 50), (44, 58)), ((56, 42), (64, 50), (56, 58))),
    )),
    "store_flat": Sign("▬", (
        _box(10, 56, 90, 76),
        *_lines(((4, 92), (96, 92)), ((50, 8), (50, 44)), ((38, 32), (50, 44), (62, 32))),
    )),
    "keep_from_light": Sign("☀", (
        _ring(64, 30, 15), _box(16, 66, 62, 94),
        *_lines(((64, 4), (64, 6)), ((90, 30), (94, 30)), ((84, 50), (88, 54)), ((40, 10), (42, 12)),
                ((86, 10), (84, 12)), ((8, 58), (50, 58)), ((34, 30), (36, 30))),
    )),
    "keep_dry": Sign("☂", (
        Stroke((*_round(50, 48, 42, 180, 360), (92, 48)), closed=True),
        Stroke(((50, 48), (50, 82), *_round(61, 82, 11, 180, 20))),
        *_lines(((22, 2), (20, 8)), ((50, 2), (50, 4)), ((80, 2), (82, 8))),
    )),
    "no_hooks": Sign("\U0001fa9d", (
        Stroke(((50, 8), (50, 52), *_round(34, 58, 22, -20, 190))), *_lines(((34, 8), (66, 8))), *_CROSS,
    )),
    "temperature_limits": Sign("\U0001f321", (
        Stroke((*_round(42, 78, 16, -50, 230), (32, 16), *_round(42, 16, 10, 180, 360)), closed=True),
        _dot(42, 78, 7), *_lines(((42, 78), (42, 40)), ((66, 22), (88, 22)), ((66, 54), (88, 54))),
    )),
}  # fmt: skip
BY_CHARACTER = {sign.character: key for key, sign in SIGNS.items()}


def sign_svg(key: str, side_mm: float) -> str:
    """A sign as a drawing of its own, for pages; words stand beside it, so screen readers pass it over."""
    content = "".join(_drawn(SIGNS[key]))
    return element(
        "svg",
        content,
        xmlns="http://www.w3.org/2000/svg",
        class_="handling-sign",
        width=f"{number(side_mm)}mm",
        height=f"{number(side_mm)}mm",
        viewBox=f"0 0 {number(SIDE)} {number(SIDE)}",
        aria_hidden="true",
        fill="none",
        stroke="currentColor",
        stroke_width=WEIGHT,
        stroke_linecap="round",
        stroke_linejoin="round",
    )


def _drawn(sign: Sign) -> Iterator[str]:
    for part in sign.parts:
        d = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in part.points)
        if isinstance(part, Area):
            yield element("path", d=d + "Z", fill="currentColor", stroke="none")
        else:
            yield element("path", d=d + ("Z" if part.closed else ""))
