"""A drawing as a DXF file in millimetres: a layer for each thing a machine does, lines at their true size."""

import io
from typing import Any

from housing.core.machine.layers import LAYERS, TEXT
from housing.core.machine.strokes import Drawing, Stroke, Words

MILLIMETRES = 4  # the value of $INSUNITS for them, as the published DXF reference has it, from memory
NOTE_MM = 4.0
NOTE_ROW_MM = 8.0
FIRST_NOTE_MM = 36.0  # beneath the drawing, below the arrow of a sheet
LONGEST_TEXT = 250  # signs of a text; longer ones older programs refuse


def dxf_text(drawing: Drawing) -> str:
    """The text of the file, to be written as UTF-8.

    drawing: mm. Lines that close are closed polylines, circles circles, lone straight lines lines; all layers
    have a continuous line type, because some machines would cut or crease a dashed one in pieces.
    """
    # late: takes half a second, and most starts of the planner write no such file
    from ezdxf import units
    from ezdxf.filemanagement import new

    doc = new("R2010", units=units.MM)
    doc.header["$MEASUREMENT"] = 1  # metric
    doc.header["$EXTMIN"] = (0.0, 0.0, 0.0)
    doc.header["$EXTMAX"] = (drawing.along_mm, drawing.across_mm, 0.0)
    used = {stroke.layer for stroke in drawing.strokes} | {TEXT}
    for layer in LAYERS.values():
        if layer.name in used:
            made = doc.layers.add(layer.name, color=layer.number)
            made.dxf.plot = int(layer.is_plotted)
            made.description = layer.says
    space = doc.modelspace()
    for stroke in drawing.strokes:
        _add(space, stroke)
    for words in drawing.words:
        _write(space, words)
    for row, note in enumerate(drawing.notes):
        _write(space, Words(TEXT, note, 0.0, -FIRST_NOTE_MM - row * NOTE_ROW_MM, NOTE_MM, is_centred=False))
    doc.set_modelspace_vport(
        max(drawing.across_mm, drawing.along_mm) * 1.1, (drawing.along_mm / 2, drawing.across_mm / 2)
    )
    written = io.StringIO()
    doc.write(written)
    return written.getvalue()


def _add(space: Any, stroke: Stroke) -> None:
    on = {"layer": stroke.layer}
    if stroke.is_circle:
        (x1, y), (x2, _) = stroke.points
        space.add_circle(((x1 + x2) / 2, y), (x2 - x1) / 2, dxfattribs=on)
    elif len(stroke.points) == 2 and stroke.is_straight:
        space.add_line(*stroke.points, dxfattribs=on)
    else:
        bulges = stroke.bulges or (0.0,) * len(stroke.points)
        rows = [(x, y, bulge) for (x, y), bulge in zip(stroke.points, bulges, strict=True)]
        space.add_lwpolyline(rows, format="xyb", close=stroke.is_closed, dxfattribs=on)


def _write(space: Any, words: Words) -> None:
    from ezdxf.enums import TextEntityAlignment

    align = TextEntityAlignment.MIDDLE_CENTER if words.is_centred else TextEntityAlignment.LEFT
    on = {"layer": words.layer}
    text = space.add_text(
        plain(words.content), height=words.height_mm, rotation=float(words.turn), dxfattribs=on
    )
    text.set_placement((words.x_mm, words.y_mm), align=align)


def plain(content: str) -> str:
    """A text in which nothing is a command: control signs become blanks, %% and ^ stand for themselves.

    Source: %% begins a code in texts of DXF and ^ a sign below the blank, itself written as ^ and a blank;
        from memory.
    """
    kept = "".join(sign if sign.isprintable() else " " for sign in content)[:LONGEST_TEXT]
    return kept.replace("^", "^ ").replace("%%", "% %")
