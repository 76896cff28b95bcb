"""The tables of a cut sheet: every line of a blank with where it lies, from which edge, and what it is."""

from collections.abc import Iterable
from dataclasses import dataclass

from housing.core.blank import Blank, CutOut, Line
from housing.core.drawing.numbering import CutLine, cutting_order
from housing.core.part_names import kind_of, named
from objects.core.lengths import format_length
from objects.core.words import decimal, noted, say
from objects.readers import Reader

WAYS = {True: noted("{cut}, across"), False: noted("{cut}, along")}
KINDS = {"trim": noted("flap end"), "slit": noted("slit"), "flap": noted("flap"), "wall": noted("wall")}
EDGES = {"left": noted("left"), "right": noted("right"), "near": noted("near")}


@dataclass(frozen=True)
class LineRow:
    """Ruler lines: the edge they are measured from, how far, where along them they run, what they are.

    numbers: of cuts, in the order of cutting. Of cuts what they are says too whether they cross the flutes.
    """

    edge: str
    at: str
    runs: str
    what: str
    numbers: str = ""


def cut_rows(blank: Blank, reader: Reader) -> list[LineRow]:
    """The cuts in their order, ruler line by ruler line; those done alike one after another in one row."""
    rows: list[tuple[tuple[bool, str, bool, str], list[CutLine]]] = []
    for cut in cutting_order(blank)[0]:
        key = cut.is_upright, cut.kind, cut.is_across, _runs(cut.spans, cut.is_upright, blank, reader)
        if rows and rows[-1][0] == key:
            rows[-1][1].append(cut)
        else:
            rows.append((key, [cut]))
    return [
        LineRow(
            _edge(upright, reader),
            between().join(_at(cut.at_mm, upright, blank, reader) for cut in cuts),
            runs,
            say(WAYS[across], cut=say(KINDS[kind])),
            ", ".join(str(cut.number) for cut in cuts),
        )
        for (upright, kind, across, runs), cuts in rows
    ]


def score_rows(blank: Blank, reader: Reader) -> list[LineRow]:
    """The scores, ruler line by ruler line, walls before flaps; positions where the same is done together."""
    spans: dict[tuple[bool, str, str], list[tuple[float, float]]] = {}
    for score in sorted(blank.scores, key=lambda score: score.is_flap):
        upright, what = score.is_upright, "flap" if score.is_flap else "wall"
        at = _at(score.x1 if upright else score.y1, upright, blank, reader)
        spans.setdefault((upright, what, at), []).append(_span(score))
    positions: dict[tuple[bool, str, str], list[str]] = {}
    for (upright, what, at), found in spans.items():
        runs = _runs(found, upright, blank, reader)
        positions.setdefault((upright, what, runs), []).append(at)
    return [
        LineRow(_edge(upright, reader), between().join(at), runs, say(KINDS[what]))
        for (upright, what, runs), at in positions.items()
    ]


def opening_rows(blank: Blank, reader: Reader) -> list[str]:
    """Each opening with its number, its size and where its edges lie: 5 hand hole: 115 × 38, from ..."""
    found = []
    for cut in cutting_order(blank)[1]:
        for opening in cut.openings:
            start = opening.x_mm
            values = {
                "number": cut.number,
                "name": named(opening.name),
                "size": _sides(opening, reader),
                "near": without_unit(opening.y_mm, reader),
            }
            if is_left(reader):
                start = blank.x_mm - opening.x_mm - opening.width_mm
                message = noted(
                    "№ {number} {name}: {size}, from the right edge {side}, from the near edge {near}"
                )
            else:
                message = noted(
                    "№ {number} {name}: {size}, from the left edge {side}, from the near edge {near}"
                )
            found.append(say(message, side=without_unit(start, reader), **values))
    return found


def panel_sizes(blank: Blank, reader: Reader) -> str:
    """Each kind of panel with its sizes, without the unit: floor 10 3/4 × 9 1/8; wall 11 × 9 1/8, 11 × 11."""
    sizes: dict[str, list[str]] = {}
    for panel in blank.panels:
        size = " × ".join(without_unit(side, reader) for side in (panel.width_mm, panel.height_mm))
        known = sizes.setdefault(kind_of(panel.name), [])
        if _unbroken(size) not in known:
            known.append(_unbroken(size))
    return "; ".join(f"{say(name)} {between().join(found)}" for name, found in sizes.items())


def marks_x(blank: Blank, reader: Reader) -> str:
    """Running marks along the near and the far edge, from the corner the reader measures from."""
    positions = blank.marks_x
    if is_left(reader):
        positions = tuple(blank.x_mm - at for at in reversed(positions))
    return marks(positions, reader)


def marks(positions: Iterable[float], reader: Reader) -> str:
    """Running marks in the reader's unit, the unit once: 0, 11, 21 3/4, 32 3/4 in."""
    return f"{between().join(_unbroken(without_unit(at, reader)) for at in positions)} {reader.unit}"


def without_unit(mm: float, reader: Reader) -> str:
    """A length where the unit is written elsewhere: above a table, beneath a drawing."""
    return format_length(mm, reader.unit, with_unit=False)


def between() -> str:
    """What stands between lengths in a row: no comma where lengths have commas of their own."""
    return "; " if decimal(0.5, 1) == "0,5" else ", "


def is_left(reader: Reader) -> bool:
    """Whether the reader measures from the right edge, as a left-handed maker does."""
    return reader.hand == "left"


def _edge(upright: bool, reader: Reader) -> str:
    return say(EDGES["near" if not upright else "right" if is_left(reader) else "left"])


def _at(mm: float, upright: bool, blank: Blank, reader: Reader) -> str:
    """Where a line lies, from the edge the reader measures from."""
    at = blank.x_mm - mm if upright and is_left(reader) else mm
    return _unbroken(without_unit(at, reader))


def _span(line: Line) -> tuple[float, float]:
    along = (line.y1, line.y2) if line.is_upright else (line.x1, line.x2)
    return min(along), max(along)


def _runs(spans: Iterable[tuple[float, float]], upright: bool, blank: Blank, reader: Reader) -> str:
    """Where a line is cut or scored along itself."""
    if not upright and is_left(reader):
        spans = [(blank.x_mm - end, blank.x_mm - start) for start, end in spans]
    return between().join(
        _unbroken(say("{a} to {b}", a=without_unit(start, reader), b=without_unit(end, reader)))
        for start, end in sorted(spans)
    )


def _unbroken(length: str) -> str:
    """A length that a narrow column must not break between whole and fraction."""
    return length.replace(" ", "\u00a0")


def _sides(opening: CutOut, reader: Reader) -> str:
    if opening.shape == "slit":
        long = without_unit(opening.cut_length_mm, reader)
        if opening.width_mm:
            return say("{length} long, left to right", length=long)
        return say("{length} long, near to far", length=long)
    size = f"{without_unit(opening.width_mm, reader)} × {without_unit(opening.height_mm, reader)}"
    if opening.shape == "round":
        return say("round within {size}", size=size)
    return say("notch within {size}", size=size) if opening.shape == "notch" else size
