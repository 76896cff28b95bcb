"""A drawing as an SVG file at its true size: sides in mm, a group for each layer, its colours told in it."""

from collections.abc import Iterator
from html import escape

from housing.core.machine.layers import LAYERS, TEXT
from housing.core.machine.strokes import Drawing, Stroke, Words
from objects.core.words import say

STROKE_MM = 0.1
NOTE_MM, NOTE_ROW_MM = 4.0, 7.0


def svg_text(drawing: Drawing) -> str:
    """The text of the file, y towards us as SVG has it, 1 unit a mm.

    drawing: mm. The rectangle it fills comes first, notes lie beneath it.
    """
    high = max(drawing.across_mm - min((y for s in drawing.strokes for _, y in s.points), default=0.0), 0.0)
    notes = high + NOTE_ROW_MM
    whole = notes + NOTE_ROW_MM * len(drawing.notes)
    size = (
        f'width="{_number(drawing.along_mm)}mm" height="{_number(whole)}mm" '
        f'viewBox="0 0 {_number(drawing.along_mm)} {_number(whole)}"'
    )
    parts = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" {size}>',
        f"<title>{_text(drawing.title)}</title>",
        f"<desc>{_text(_explained(drawing))}</desc>",
    ]
    for layer in LAYERS.values():
        strokes = drawing.on(layer.name)
        words = [words for words in drawing.words if words.layer == layer.name]
        if layer.name == TEXT:
            words += [
                Words(TEXT, note, 0, drawing.across_mm - notes - row * NOTE_ROW_MM, NOTE_MM, is_centred=False)
                for row, note in enumerate(drawing.notes)
            ]
        if strokes or words:
            lines = "".join(_stroke(stroke, drawing.across_mm) for stroke in strokes)
            written = "".join(_words(some, drawing) for some in words)
            style = f'fill="none" stroke="{layer.colour}" stroke-width="{STROKE_MM}"'
            parts.append(f'<g id="{layer.name}" {style}>{lines}{written}</g>')
    return "\n".join([*parts, "</svg>", ""])


def _explained(drawing: Drawing) -> str:
    """What each layer is for and in which colour it is."""
    used = {stroke.layer for stroke in drawing.strokes} | {TEXT}
    said = [
        f"{layer.name} ({layer.colour}): {say(layer.says)}."
        for layer in LAYERS.values()
        if layer.name in used
    ]
    return " ".join(
        [say("1 unit is 1 mm; lines lie where the knife runs, no width of a cut is added."), *said]
    )


def _stroke(stroke: Stroke, across_mm: float) -> str:
    if stroke.is_circle:
        (x1, y), (x2, _) = stroke.points
        middle, radius = _number((x1 + x2) / 2), _number((x2 - x1) / 2)
        return f'<circle cx="{middle}" cy="{_number(across_mm - y)}" r="{radius}"/>'
    return f'<path d="{"".join(_path(stroke, across_mm))}"/>'


def _path(stroke: Stroke, across_mm: float) -> Iterator[str]:
    x, y = stroke.points[0]
    yield f"M{_number(x)} {_number(across_mm - y)}"
    lines = stroke.lines
    for place, (start, end, bulge) in enumerate(lines):
        to = f"{_number(end[0])} {_number(across_mm - end[1])}"
        if bulge:
            # chord and bulge give the radius; y points the other way, so that a turn to the left is sweep 0
            chord = ((end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2) ** 0.5
            radius = _number(chord * (1 + bulge * bulge) / (4 * abs(bulge)))
            yield f"A{radius} {radius} 0 {int(abs(bulge) > 1)} {int(bulge < 0)} {to}"
        elif not (stroke.is_closed and place == len(lines) - 1):
            yield f"L{to}"
    if stroke.is_closed:
        yield "Z"


def _words(words: Words, drawing: Drawing) -> str:
    x, y = _number(words.x_mm), _number(drawing.across_mm - words.y_mm)
    anchor = ' text-anchor="middle"' if words.is_centred else ""
    turn = f' transform="rotate({-words.turn} {x} {y})"' if words.turn else ""
    look = (
        f'font-family="sans-serif" font-size="{_number(words.height_mm)}" fill="{LAYERS[words.layer].colour}"'
    )
    return f'<text x="{x}" y="{y}" {look} stroke="none"{anchor}{turn}>{_text(words.content)}</text>'


def _text(content: str) -> str:
    """A text without the signs that XML refuses."""
    return escape("".join(sign if sign.isprintable() else " " for sign in content))


def _number(value: float) -> str:
    written = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if written == "-0" else written
