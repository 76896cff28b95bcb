"""Reads a drawing back from its SVG text: lines, texts and the room they take, in mm on paper."""

from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations, pairwise
from xml.etree import ElementTree

SVG = "{http://www.w3.org/2000/svg}"


def in_inches(mm: float) -> str:
    """A length in inches to the nearest sixteenth, as makers write it."""
    sixteenths = round(mm / 25.4 * 16)
    whole, rest = divmod(sixteenths, 16)
    parts = [str(whole)] if whole or not rest else []
    return " ".join([*parts, *([str(Fraction(rest, 16))] if rest else []), "in"])


def in_mm(mm: float) -> str:
    """A length in millimetres to a tenth."""
    return f"{round(mm, 1):g} mm"


@dataclass(frozen=True)
class Written:
    """A text and the rectangle it takes up on paper: left, top, right, bottom."""

    content: str
    class_: str
    box: tuple[float, float, float, float]


def parse(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg)


def size_mm(root: ElementTree.Element) -> tuple[float, float]:
    width, height = root.get("width", ""), root.get("height", "")
    assert width.endswith("mm") and height.endswith("mm")
    assert root.get("viewBox") == f"0 0 {width[:-2]} {height[:-2]}"
    return float(width[:-2]), float(height[:-2])


def lines(root: ElementTree.Element, class_: str) -> list[tuple[float, float, float, float]]:
    """Ends of all straight lines of exactly this class, the key apart."""
    found = [line for line in root.iter(f"{SVG}line") if line.get("class") == class_]
    return [tuple(float(line.get(name, "nan")) for name in ("x1", "y1", "x2", "y2")) for line in found]


def long(line: tuple[float, float, float, float]) -> float:
    x1, y1, x2, y2 = line
    return ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5


def texts(root: ElementTree.Element) -> list[Written]:
    return [_written(text) for text in root.iter(f"{SVG}text")]


def edge_labels(root: ElementTree.Element, edge: str, kind: str) -> list[str]:
    """Labels on one edge of a blank, in the order of measuring."""
    [group] = [g for g in root.iter(f"{SVG}g") if g.get("data-edge") == edge]
    found = [_written(text) for text in group.iter(f"{SVG}text") if text.get("class") == f"dim {kind}"]
    if edge in ("near", "far"):
        return [text.content for text in sorted(found, key=lambda text: text.box[0])]
    return [text.content for text in sorted(found, key=lambda text: -text.box[3])]


def points_of(path: ElementTree.Element) -> list[tuple[float, ...]]:
    """Points of a path of straight strokes."""
    return [tuple(map(float, point.split())) for point in path.get("d", "")[1:].split(" L")]


def leaders(root: ElementTree.Element, edge: str, kind: str) -> list[list[tuple[float, ...]]]:
    """Points of the lines that lead from an edge to its labels, in the order of their marks."""
    [group] = [g for g in root.iter(f"{SVG}g") if g.get("data-edge") == edge]
    return [points_of(path) for path in group.iter(f"{SVG}path") if path.get("class") == f"dim {kind}"]


def crossed(root: ElementTree.Element) -> list[str]:
    """Texts that a leader runs through, or would if it bent the other way within its own rectangle."""
    paths = [node for node in root.iter(f"{SVG}path") if (node.get("class") or "").startswith("dim ")]
    strokes = [pair for node in paths for pair in pairwise(points_of(node))]
    boxes = [(min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1])) for a, b in strokes]
    # A tenth of a millimetre, about the width of the stroke, so that even upright strokes take up room.
    boxes = [(x1 - 0.05, y1 - 0.05, x2 + 0.05, y2 + 0.05) for x1, y1, x2, y2 in boxes]
    return [text.content for text in texts(root) if any(_overlap(text.box, box) for box in boxes)]


def overlapping(found: list[Written]) -> list[tuple[str, str]]:
    return [(a.content, b.content) for a, b in combinations(found, 2) if _overlap(a.box, b.box)]


def outside(found: list[Written], width: float, height: float) -> list[str]:
    def sticks_out(box: tuple[float, float, float, float]) -> bool:
        left, top, right, bottom = box
        return left < -0.01 or top < -0.01 or right > width + 0.01 or bottom > height + 0.01

    return [text.content for text in found if sticks_out(text.box)]


def has_styles(root: ElementTree.Element) -> bool:
    """Whether anything in it needs a style that a strict content security policy refuses."""
    return any(node.get("style") is not None or node.tag == f"{SVG}style" for node in root.iter())


def _overlap(a: tuple[float, ...], b: tuple[float, ...]) -> bool:
    return a[0] < b[2] - 0.01 and b[0] < a[2] - 0.01 and a[1] < b[3] - 0.01 and b[1] < a[3] - 0.01


# In parts of the font size, as in DejaVu Sans, a wide font; every sign not named is at most a digit wide.
WIDTHS = {**dict.fromkeys("ijl", 0.28), **dict.fromkeys(" ./:,f-", 0.36), "t": 0.4, "r": 0.42, "m": 0.98}


def _width(content: str) -> float:
    return sum(WIDTHS.get(sign, 0.82 if sign == "w" else 0.64) for sign in content)


def _written(text: ElementTree.Element) -> Written:
    content, size = text.text or "", float(text.get("font-size", "nan"))
    x, y, width = float(text.get("x", "nan")), float(text.get("y", "nan")), _width(content) * size
    before = {"start": 0.0, "middle": width / 2, "end": width}[text.get("text-anchor", "start")]
    up, down = 0.73 * size, 0.05 * size  # capitals and digits; tails of letters may touch the gap below
    turn = text.get("transform")
    if turn is None:
        box = (x - before, y - up, x - before + width, y + down)
    else:
        assert turn.startswith("rotate(-90 ")
        box = (x - up, y + before - width, x + down, y + before)
    return Written(content, text.get("class", ""), box)
