"""The tables of a cut sheet: every line of a blank with where it lies, from which edge, and what it is."""

from collections.abc import Iterable
from dataclasses import dataclass

from housing.core.blank import SAME_LINE_MM, Blank, CutOut, Line, Score
from objects.core.lengths import format_length
from objects.readers import Reader


@dataclass(frozen=True)
class LineRow:
    """Ruler lines: the edge they are measured from, how far, where along them they run, what they are."""

    edge: str
    at: str
    runs: str
    what: str


def cut_rows(blank: Blank, reader: Reader) -> list[LineRow]:
    """The cuts, ruler line by ruler line."""

    def what(line: Line) -> str:
        trims = blank.trim_marks_x if line.is_upright else blank.trim_marks_y
        return "flap end" if any(abs(_at(line) - trim) < SAME_LINE_MM for trim in trims) else "slit"

    return _rows(((what(line), line) for line in blank.cuts), reader)


def score_rows(blank: Blank, reader: Reader) -> list[LineRow]:
    """The scores, ruler line by ruler line, walls before flaps."""

    def what(score: Score) -> str:
        return "flap" if score.is_flap else "wall"

    ordered = sorted(blank.scores, key=lambda score: score.is_flap)
    return _rows(((what(score), score) for score in ordered), reader)


def opening_rows(blank: Blank, reader: Reader) -> list[str]:
    """Each opening, its size and where its left and near edges lie: hand hole: 115 × 38, from the left ..."""
    return [
        f"{opening.name}: {_sides(opening, reader)}, from the left edge "
        f"{without_unit(opening.x_mm, reader)}, from the near edge {without_unit(opening.y_mm, reader)}"
        for opening in blank.openings
    ]


def _sides(opening: CutOut, reader: Reader) -> str:
    if opening.shape == "slit":
        way = "left to right" if opening.width_mm else "near to far"
        return f"{without_unit(opening.cut_length_mm, reader)} long, {way}"
    size = f"{without_unit(opening.width_mm, reader)} × {without_unit(opening.height_mm, reader)}"
    return size if opening.shape in ("rectangle", "slot") else f"{opening.shape} within {size}"


def panel_sizes(blank: Blank, reader: Reader) -> str:
    """Each size of panel with the panels that have it: floor 10 3/4 × 9 1/8 in; 2 walls 11 × 9 1/8 in."""
    sizes: dict[tuple[str, str], int] = {}
    for panel in blank.panels:
        key = panel.name.rsplit(" ", 1)[-1], reader.size((panel.width_mm, panel.height_mm))
        sizes[key] = sizes.get(key, 0) + 1
    return "; ".join(
        f"{name} {size}" if number == 1 else f"{number} {name}s {size}"
        for (name, size), number in sizes.items()
    )


def marks(positions: Iterable[float], reader: Reader) -> str:
    """Running marks in the reader's unit, the unit once: 0, 11, 21 3/4, 32 3/4 in."""
    return f"{', '.join(without_unit(at, reader) for at in positions)} {reader.unit}"


def without_unit(mm: float, reader: Reader) -> str:
    """A length where the unit is written elsewhere: above a table, beneath a drawing."""
    return format_length(mm, reader.unit, with_unit=False)


def _at(line: Line) -> float:
    return line.x1 if line.is_upright else line.y1


def _rows(lines: Iterable[tuple[str, Line]], reader: Reader) -> list[LineRow]:
    """Lines of one kind at one position together, then the positions where the same is done."""
    spans: dict[tuple[bool, str, str], list[tuple[float, float]]] = {}
    for what, line in lines:
        along = (line.y1, line.y2) if line.is_upright else (line.x1, line.x2)
        key = line.is_upright, what, without_unit(_at(line), reader)
        spans.setdefault(key, []).append((min(along), max(along)))
    positions: dict[tuple[bool, str, str], list[str]] = {}
    for (upright, what, at), found in spans.items():
        positions.setdefault((upright, what, _runs(found, reader)), []).append(at)
    return [
        LineRow("left" if upright else "near", ", ".join(map(_unbroken, at)), runs, what)
        for (upright, what, runs), at in positions.items()
    ]


def _unbroken(length: str) -> str:
    """A length that a narrow column must not break between whole and fraction."""
    return length.replace(" ", "\u00a0")


def _runs(spans: list[tuple[float, float]], reader: Reader) -> str:
    return ", ".join(
        f"{_unbroken(without_unit(start, reader))} to {_unbroken(without_unit(end, reader))}"
        for start, end in sorted(spans)
    )
