"""Reads the pages of a cut sheet back from their SVG: every word with the room it takes, in mm on paper."""

from dataclasses import dataclass
from itertools import combinations
from xml.etree import ElementTree

from housing.printing.typefaces import width_of

SVG = "{http://www.w3.org/2000/svg}"


@dataclass(frozen=True)
class Word:
    """A piece of text, its type size, and the rectangle it takes up: left, top, right, bottom."""

    text: str
    size: float
    class_: str
    box: tuple[float, float, float, float]


def words_of(page: str) -> list[Word]:
    """Every piece of text on a page."""
    return list(_words(ElementTree.fromstring(page), 0.0, 0.0))


def text_of(page: str) -> str:
    """The page as it reads, gaps made single."""
    return " ".join("".join(ElementTree.fromstring(page).itertext()).split())


def sides_of(page: str) -> tuple[float, float]:
    wide, high = ElementTree.fromstring(page).get("viewBox", "").split()[2:]
    return float(wide), float(high)


def overlapping(words: list[Word]) -> list[tuple[str, str]]:
    return [(a.text, b.text) for a, b in combinations(words, 2) if _overlap(a.box, b.box)]


def outside(words: list[Word], left: float, top: float, right: float, bottom: float) -> list[str]:
    return [
        word.text
        for word in words
        if word.box[0] < left - 0.05
        or word.box[1] < top - 0.05
        or word.box[2] > right + 0.05
        or word.box[3] > bottom + 0.05
    ]


def _words(node, dx, dy):
    if (moved := node.get("transform", "")).startswith("translate"):
        x, y = moved[10:-1].split()
        dx, dy = dx + float(x), dy + float(y)
    for child in node:
        if child.tag == f"{SVG}text":
            yield from _text(child, dx, dy)
        else:
            yield from _words(child, dx, dy)


def _text(node, dx, dy):
    size, class_ = float(node.get("font-size")), node.get("class", "")
    if node.text:
        yield _word(node, node.text, size, node.get("font-weight") == "bold", class_, dx, dy)
    x = y = 0.0
    for part in node:
        x, y = float(part.get("x", x)), float(part.get("y", y))
        bold = part.get("font-weight") == "bold"
        yield Word(part.text, size, class_, _box(x + dx, y + dy, part.text.rstrip(), size, bold))
        x += width_of(part.text, bold) * size


def _word(node, text, size, bold, class_, dx, dy):
    x, y = float(node.get("x")) + dx, float(node.get("y")) + dy
    long = width_of(text, bold) * size
    before = {"middle": long / 2, "end": long}.get(node.get("text-anchor", ""), 0.0)
    if node.get("transform", "").startswith("rotate(-90"):
        box = x - 0.73 * size, y + before - long, x + 0.05 * size, y + before
    else:
        box = _box(x - before, y, text, size, bold)
    return Word(text, size, class_, box)


def _box(x, y, text, size, bold):
    return x, y - 0.73 * size, x + width_of(text, bold) * size, y + 0.05 * size


def _overlap(a, b):
    return a[0] < b[2] - 0.02 and b[0] < a[2] - 0.02 and a[1] < b[3] - 0.02 and b[1] < a[3] - 0.02
