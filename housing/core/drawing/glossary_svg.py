"""Small drawings that show what a word means: board in section, lines of a blank, boxes, a sheet laid out."""

import math
from collections.abc import Callable, Iterator

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.drawing.closed_svg import closed_svg
from housing.core.drawing.svg import SMALL_MM, document, element, line, path, text
from housing.core.enclosures import make_enclosure
from objects.core.words import noted, say

WIDE_MM, HIGH_MM = 64.0, 34.0
THICK, THIN, FOLD = 0.5, 0.25, "2.4 1.4"
B_FLUTE = BoardSpec(3.0)

# What each box of a picture holds: form, clear inside in mm, in proportions that show its kind.
BOXES = {
    "lidded_tray": InnerSize(220, 160, 110),
    "drop_front": InnerSize(200, 160, 150),
    "clamshell": InnerSize(240, 180, 60),
    "four_flap": InnerSize(200, 150, 12),
}
TITLES = {
    "corrugated": noted("Single and double wall board, cut through"),
    "flutes": noted("A tray whose long walls have upright flutes"),
    "caliper": noted("The caliper of a board"),
    "lines": noted("A cut, unbroken, and a score, dashed"),
    "blank": noted("The blank of a tray: floor, walls, flaps and slits"),
    "plan": noted("A sheet with three blanks, an offcut and waste"),
    "edge_to_edge": noted("Cuts that run from edge to edge, in their order"),
    "room": noted("An object in its box: allowance, padding and clear inside"),
    "lidded_tray": noted("Tray with telescoping lid"),
    "drop_front": noted("Drop-front box"),
    "clamshell": noted("Clamshell"),
    "four_flap": noted("Four-flap wrapper"),
}


def glossary_svg(name: str) -> str:
    """The drawing of a name in TITLES, as SVG text, about 64 mm wide."""
    title = say(TITLES[name])
    if name in BOXES:
        made = make_enclosure(name, BOXES[name], B_FLUTE)
        return closed_svg(
            made.parts,
            made.outside,
            title=title,
            format_length=lambda mm: "",
            paper_width_mm=WIDE_MM,
            paper_height_mm=48.0,
            is_open=name == "lidded_tray",
        )
    return document(WIDE_MM, HIGH_MM, title, "", _DRAWN[name](), "drawing term-drawing")


def _words(x: float, y: float, words: str, anchor: str = "middle") -> str:
    return text(x, y, words, "key", SMALL_MM, anchor)


def _wave(left: float, right: float, middle: float, high: float, pitch: float) -> str:
    steps = int((right - left) / pitch * 8)
    points = [(left + i * pitch / 8, middle + high / 2 * math.sin(i * math.pi / 4)) for i in range(steps + 1)]
    return path(points, "score", THIN)


def _corrugated() -> Iterator[str]:
    for left, right, layers, words in (
        (2, 30, 1, say("single wall")),
        (34, 62, 2, say("double wall")),
    ):
        top = 8.0
        yield line(left, top, right, top, "cut", THICK)
        for layer in range(layers):
            yield _wave(left, right, top + 3 + 6 * layer, 5.6, 6 if layer == 0 else 4)
            yield line(left, top + 6 * (layer + 1), right, top + 6 * (layer + 1), "cut", THICK)
        yield _words((left + right) / 2, 28, words)
    yield _words(2, 5.5, say("liner"), "start")


def _flutes() -> Iterator[str]:
    yield element("path", class_="piece", d="M4 18 L34 24 L34 10 L4 4 Z M34 24 L60 16 L60 2 L34 10 Z",
                  fill="#fff", stroke="#000", stroke_width=THICK)  # fmt: skip
    for step in range(1, 10):
        x, drop = 4 + 3 * step, 0.6 * step
        yield line(x, 4 + drop, x, 18 + drop, "score", 0.15)
    yield _words(19, 30, say("flutes upright: carries"))


def _caliper() -> Iterator[str]:
    yield line(4, 10, 44, 10, "cut", THICK)
    yield _wave(4, 44, 14, 7.2, 7)
    yield line(4, 18, 44, 18, "cut", THICK)
    for y in (10, 18):
        yield line(45, y, 53, y, "leader", 0.15)
    yield path([(50, 4), (50, 10)], "leader", THIN)
    yield path([(50, 24), (50, 18)], "leader", THIN)
    yield path([(49, 8.2), (50, 10), (51, 8.2)], "leader", THIN)
    yield path([(49, 19.8), (50, 18), (51, 19.8)], "leader", THIN)
    yield _words(50, 29, say("caliper"))


def _lines() -> Iterator[str]:
    yield line(4, 10, 40, 10, "cut", THICK)
    yield line(4, 20, 40, 20, "score", THICK, stroke_dasharray=FOLD)
    yield _words(43, 11, say("cut"), "start")
    yield _words(43, 21, say("score"), "start")


def _blank() -> Iterator[str]:
    left, right, top, low, wall, flap = 15.0, 49.0, 3.0, 31.0, 7.0, 5.0
    x1, x2, y1, y2 = left + wall, right - wall, top + wall, low - wall
    outline = [
        (left, y1), (x1 - flap + flap, y1), (x1, top), (x2, top), (x2, y1), (right, y1),
        (right, y2), (x2, y2), (x2, low), (x1, low), (x1, y2), (left, y2), (left, y1),
    ]  # fmt: skip
    yield path(outline, "cut", THICK)
    for x, side in ((x1, -1), (x2, 1)):
        for y, out in ((y1, -1), (y2, 1)):
            far = y + out * (wall - 0.6)
            yield path(
                [(x, y), (x + side * flap, y + out * 0.6), (x + side * flap, far), (x, far)], "cut", THICK
            )
            yield line(x, y, x, far, "score", THIN, stroke_dasharray=FOLD)
    for a, b in (((x1, y1), (x2, y1)), ((x1, y2), (x2, y2)), ((x1, y1), (x1, y2)), ((x2, y1), (x2, y2))):
        yield line(*a, *b, "score", THIN, stroke_dasharray=FOLD)
    yield _words((x1 + x2) / 2, (y1 + y2) / 2 + 1, say("floor"))
    yield _words((x1 + x2) / 2, top + 4.4, say("wall"))
    yield _words(x2 + flap + 1, top + 3, say("flap"), "start")


def _plan() -> Iterator[str]:
    def place(x: float, y: float, wide: float, high: float, class_: str, words: str) -> str:
        rectangle = element(
            "rect", class_=class_, x=x, y=y, width=wide, height=high, fill="#fff", stroke="#000",
            stroke_width=THIN,
        )  # fmt: skip
        return rectangle + (_words(x + wide / 2, y + high / 2 + 1, words) if words else "")

    yield place(2, 2, 60, 30, "waste", "")
    yield place(3, 3, 26, 18, "piece", say("blank"))
    yield place(29.5, 3, 18, 18, "piece", say("blank"))
    yield place(3, 21.5, 26, 9.5, "piece", say("blank"))
    yield place(48, 3, 13, 28, "offcut", say("offcut"))
    yield _words(38, 27, say("waste"))


def _edge_to_edge() -> Iterator[str]:
    yield element(
        "rect", class_="piece", x=4, y=3, width=56, height=28, fill="#fff", stroke="#000", stroke_width=THICK
    )
    for x1, y1, x2, y2, words in ((40, 3, 40, 31, "1"), (4, 20, 40, 20, "2"), (22, 3, 22, 20, "3")):
        yield line(x1, y1, x2, y2, "cut", THICK)
        yield _words((x1 + x2) / 2 + 2.5, (y1 + y2) / 2 - 1, words)


def _room() -> Iterator[str]:
    yield path([(6, 4), (6, 30), (46, 30), (46, 4)], "cut", 1.4)
    yield element(
        "rect", class_="piece", x=16, y=11, width=20, height=15, fill="#fff", stroke="#000", stroke_width=THIN
    )
    for x, y, wide, high in ((7, 26, 38, 3.3), (7, 11, 9, 15), (36, 11, 9, 15)):
        yield element(
            "rect",
            class_="offcut",
            x=x,
            y=y,
            width=wide,
            height=high,
            fill="#fff",
            stroke="#888",
            stroke_width=0.15,
        )
    yield _words(26, 20, say("object"))
    yield line(7, 8, 45, 8, "leader", THIN)
    yield _words(26, 6.6, say("clear inside"))
    yield _words(48, 20, say("padding"), "start")
    yield line(47.5, 19, 41, 18, "leader", THIN)


_DRAWN: dict[str, Callable[[], Iterator[str]]] = {
    "corrugated": _corrugated,
    "flutes": _flutes,
    "caliper": _caliper,
    "lines": _lines,
    "blank": _blank,
    "plan": _plan,
    "edge_to_edge": _edge_to_edge,
    "room": _room,
}
