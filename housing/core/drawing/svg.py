"""The few SVG elements the drawings are made of, in mm on paper, y downward."""

from collections.abc import Iterable, Sequence
from functools import lru_cache
from html import escape

FONT = "DejaVu Sans, sans-serif"
TEXT_MM = 3.0
SMALL_MM = 2.6

# Widths of DejaVu Sans in parts of the text height, rounded up; it is wider than most screen fonts, so text
# that is placed by them has room in others too. Source: measured on the font's own tables.
_WIDTHS = (
    (0.30, "ijlIJ|'"),
    (0.36, " .,/:-f"),
    (0.42, "t()r"),
    (0.54, "szc“”"),
    (0.65, "Lkvxy" + "PaoTebdghnpquESF" + "0123456789"),
    (0.79, "KAVBRXZCUHNDGOQ"),
)
_WIDTH = {character: width for width, characters in _WIDTHS for character in characters}
_WIDEST = 1.0


@lru_cache(maxsize=10_000)
def text_width(text: str, size_mm: float) -> float:
    """About how wide a text is, never less than in DejaVu Sans. size_mm: font size. Returns mm."""
    return sum(_WIDTH.get(character, _WIDEST) for character in text) * size_mm


def number(value: float) -> str:
    """A coordinate to a thousandth of a millimetre, without idle zeros."""
    written = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if written == "-0" else written


def element(tag: str, content: str = "", /, **attributes: str | float | None) -> str:
    """One element. Attribute names: `class_` for class, an underscore for a hyphen; None leaves one out."""
    pairs = "".join(
        f' {name.rstrip("_").replace("_", "-")}="{_value(value)}"'
        for name, value in attributes.items()
        if value is not None
    )
    return f"<{tag}{pairs}>{content}</{tag}>" if content else f"<{tag}{pairs}/>"


def _value(value: str | float) -> str:
    return escape(value) if isinstance(value, str) else number(value)


def line(x1: float, y1: float, x2: float, y2: float, class_: str, width: float, **more: str | None) -> str:
    """A straight line. width: of the stroke, mm."""
    return element(
        "line", class_=class_, x1=x1, y1=y1, x2=x2, y2=y2, stroke="#000", stroke_width=width, **more
    )


def path(points: Sequence[tuple[float, float]], class_: str, width: float, **more: str | None) -> str:
    """A line through points, not filled."""
    d = "M" + " L".join(f"{number(x)} {number(y)}" for x, y in points)
    return element("path", class_=class_, d=d, fill="none", stroke="#000", stroke_width=width, **more)


def text(
    x: float,
    y: float,
    content: str,
    class_: str,
    size_mm: float = TEXT_MM,
    anchor: str = "start",
    turn: int = 0,
) -> str:
    """A line of text on its baseline. anchor: start, middle or end. turn: degrees about its anchor point."""
    return element(
        "text",
        escape(content),
        class_=class_,
        x=x,
        y=y,
        font_size=size_mm,
        text_anchor=None if anchor == "start" else anchor,
        transform=f"rotate({turn} {number(x)} {number(y)})" if turn else None,
    )


def hatching(x: float, y: float, width: float, height: float, spacing: float, class_: str) -> str:
    """Thin parallel lines rising at 45 degrees across a rectangle; x, y is its upper left corner."""
    strokes = []
    for step in range(1, int((width + height) / spacing) + 1):
        along = step * spacing
        if along >= width + height:
            break
        x1, y1 = (x, y + along) if along <= height else (x + along - height, y + height)
        x2, y2 = (x + along, y) if along <= width else (x + width, y + along - width)
        strokes.append(f"M{number(x1)} {number(y1)} L{number(x2)} {number(y2)}")
    return element("path", class_=class_, d=" ".join(strokes), stroke="#888", stroke_width=0.1)


def document(
    width_mm: float, height_mm: float, title: str, description: str, parts: Iterable[str], class_: str
) -> str:
    """The whole drawing, as large on paper as it says, with a title and a description for screen readers.

    A drawing with links is a group to them, because an image would hide its links.
    """
    content = "".join([element("title", escape(title)), element("desc", escape(description)), *parts])
    return element(
        "svg",
        content,
        xmlns="http://www.w3.org/2000/svg",
        class_=class_,
        width=f"{number(width_mm)}mm",
        height=f"{number(height_mm)}mm",
        viewBox=f"0 0 {number(width_mm)} {number(height_mm)}",
        role="group" if "<a " in content else "img",
        font_family=FONT,
    )
