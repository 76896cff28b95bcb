"""Reads the words of a page that is one drawing, with the room each of them takes."""

from xml.etree import ElementTree

from housing.printing.typefaces import width_of

SVG = "{http://www.w3.org/2000/svg}"


def words_on(page: str, with_boxes: bool = False) -> list:
    """Each run of words of a page; with_boxes: with its left, top, right and bottom, mm on paper."""
    found: list[tuple[str, tuple[float, float, float, float]]] = []
    _gather(ElementTree.fromstring(page), 0.0, 0.0, found)
    return found if with_boxes else [words for words, _ in found]


def _gather(node: ElementTree.Element, dx: float, dy: float, found: list) -> None:
    for child in node:
        x, y = dx, dy
        moved = child.get("transform", "")
        if child.tag == f"{SVG}g" and moved.startswith("translate("):
            shift = [float(number) for number in moved[10:-1].split()]
            x, y = dx + shift[0], dy + shift[1]
        if child.tag == f"{SVG}text":
            _text(child, dx, dy, found)
        else:
            _gather(child, x, y, found)


def _text(node: ElementTree.Element, dx: float, dy: float, found: list) -> None:
    size = float(node.get("font-size"))
    runs = [node] if node.text else list(node)
    at = 0.0, 0.0
    for run in runs:
        words = run.text or ""
        bold = (run.get("font-weight") or node.get("font-weight")) == "bold"
        if run.get("x"):
            at = float(run.get("x")), float(run.get("y"))
        long = width_of(words, bold) * size
        before = {"middle": long / 2, "end": long}.get(run.get("text-anchor", ""), 0.0)
        # capitals and figures; tails of letters may touch the gap below
        up, down = 0.73 * size, 0.05 * size
        if node.get("transform", "").startswith("rotate(-90"):
            box = at[0] - up, at[1] + before - long, at[0] + down, at[1] + before
        else:
            box = at[0] - before, at[1] - up, at[0] - before + long, at[1] + down
        if words.strip():
            found.append((words, (box[0] + dx, box[1] + dy, box[2] + dx, box[3] + dy)))
        at = at[0] + long, at[1]
