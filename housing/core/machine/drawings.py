"""What a machine is to cut and score: of one blank, or of a whole sheet with everything that lies on it."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from boards.core.nesting.shapes import Offcut, Placement, Sheet
from housing.core.blank import Blank, Line
from housing.core.errors import SizeRefused
from housing.core.machine.layers import CUT, FLUTES, GRAIN, JOIN, OFFCUT, SHEET, TEXT
from housing.core.machine.outlines import cut_strokes
from housing.core.machine.shared import Drawn
from housing.core.machine.strokes import (
    SAME_MM,
    Drawing,
    Stroke,
    Words,
    moved,
    rectangle,
    run,
    turned,
)
from objects.core.words import say

ARROW_MM = 60.0  # longest arrow along the flutes
WORDS_MM = 6.0  # height of a name, less where there is little room
LEAST_WORDS_MM = 1.5
WIDTH_OF_HEIGHT = 0.9  # of a letter, roomy for any font


@dataclass(frozen=True)
class Laid:
    """A blank where it lies on a sheet, with what is written on it."""

    blank: Blank
    place: Placement
    name: str


def blank_drawing(
    blank: Blank,
    *,
    score_layer: str,
    name: str,
    is_fluted: bool | None = True,
    notes: Sequence[str] = (),
    laps: Iterable[Line] = (),
) -> Drawing:
    """One blank, its inside face up, its near left corner at 0, 0.

    blank: mm. score_layer: SCORE_INSIDE or SCORE_OUTSIDE. name: written on it. is_fluted: whether flutes run
    through its board, else grain; None for what has neither. notes: for beneath it. laps: up to where joined
    parts lie over it, mm.
    Returns its lines at their true size, with nothing added for the width of a cut.
    """
    strokes = [
        *_strokes(blank, score_layer),
        *(run(JOIN, ((lap.x1, lap.y1), (lap.x2, lap.y2))) for lap in laps),
    ]
    arrow = _arrow(blank.x_mm / 2, blank.y_mm / 2, blank.x_mm, blank.y_mm, blank.flute_along, is_fluted)
    words = _words(name, 0, 0, blank.x_mm, blank.y_mm)
    return Drawing(blank.x_mm, blank.y_mm, (*strokes, *arrow), words, tuple(notes), name)


def sheet_drawing(
    sheet: Sheet,
    laid: Sequence[Laid],
    offcuts: Iterable[Offcut] = (),
    *,
    score_layer: str,
    title: str,
    is_fluted: bool = True,
    notes: Sequence[str] = (),
) -> Drawing:
    """A whole sheet, its flutes along x, its near left corner at 0, 0, with all that is cut from it.

    sheet: sides in mm. laid: its blanks; those in waste corners of others like the rest. offcuts: left over.
    score_layer, is_fluted, notes: as of blank_drawing().
    Returns its lines; one that two neighbours share is there once, so that the second of them is no closed
    run any more.
    Raises SizeRefused where a blank is not as large as its place.
    """
    drawn = Drawn()
    scores: list[Stroke] = []
    cuts: list[Stroke] = []
    words: list[Words] = []
    for one in laid:
        for stroke in placed_strokes(one, score_layer):
            if stroke.layer == score_layer:
                scores.append(stroke)
                continue
            left = drawn.left_of(stroke)
            drawn.add(left)
            cuts += left
        place = one.place
        words += _words(one.name, place.x_mm, place.y_mm, place.along_mm, place.across_mm)
    edge = rectangle(SHEET, 0, 0, sheet.along_mm, sheet.across_mm)
    drawn.add([edge])
    for offcut in offcuts:
        around = rectangle(OFFCUT, offcut.x_mm, offcut.y_mm, offcut.along_mm, offcut.across_mm)
        left = drawn.left_of(around)
        drawn.add(left)
        cuts += left
    arrow = _arrow(sheet.along_mm / 2, -3 * WORDS_MM, sheet.along_mm, sheet.across_mm, "x", is_fluted)
    order = [*scores, *sorted(cuts, key=lambda stroke: stroke.layer in (CUT, OFFCUT)), edge, *arrow]
    return Drawing(sheet.along_mm, sheet.across_mm, tuple(order), tuple(words), tuple(notes), title)


def placed_strokes(one: Laid, score_layer: str) -> list[Stroke]:
    """A blank's lines where it lies: with its flutes along x, or across where it is turned.

    Raises SizeRefused where the blank is not as large as its place.
    Source: as waste_corners() has it, a blank with its flutes along y is turned to the left so that they run
        along x; one that lies turned is turned to the left once more.
    """
    blank, place = one.blank, one.place
    quarters = (blank.flute_along == "y") + place.turned
    sides = (blank.x_mm, blank.y_mm) if quarters % 2 == 0 else (blank.y_mm, blank.x_mm)
    if max(abs(sides[0] - place.along_mm), abs(sides[1] - place.across_mm)) > SAME_MM:
        raise SizeRefused(
            say(
                "{name} is {along:.1f} x {across:.1f} mm now, but its place on the sheet is "
                "{place_along:.1f} x {place_across:.1f} mm. Plan the campaign again.",
                name=one.name,
                along=sides[0],
                across=sides[1],
                place_along=place.along_mm,
                place_across=place.across_mm,
            )  # fmt: skip
        )
    strokes = turned(_strokes(blank, score_layer), blank.x_mm, blank.y_mm, quarters)
    return moved(strokes, place.x_mm, place.y_mm)


def _strokes(blank: Blank, score_layer: str) -> list[Stroke]:
    """Scores first, while the board is whole, then what is cut."""
    scores = [run(score_layer, ((s.x1, s.y1), (s.x2, s.y2))) for s in blank.scores]
    return [*scores, *cut_strokes(blank)]


def _arrow(x: float, y: float, wide: float, high: float, along: str, is_fluted: bool | None) -> list[Stroke]:
    """An arrow with two heads about a point, the way the flutes or the grain run."""
    if is_fluted is None:
        return []
    layer = FLUTES if is_fluted else GRAIN
    half = min(ARROW_MM, 0.4 * (wide if along == "x" else high)) / 2
    head = half / 4

    def at(forth: float, aside: float) -> tuple[float, float]:
        return (x + forth, y + aside) if along == "x" else (x + aside, y + forth)

    return [
        run(layer, (at(-half, 0), at(half, 0))),
        run(layer, (at(-half + head, head / 2), at(-half, 0), at(-half + head, -head / 2))),
        run(layer, (at(half - head, head / 2), at(half, 0), at(half - head, -head / 2))),
    ]


def _words(name: str, x: float, y: float, wide: float, high: float) -> tuple[Words, ...]:
    """A name in a rectangle, beside its middle, where the arrow is; none where there is no room for it."""
    turn = 90 if high > wide else 0
    long, deep = max(wide, high), min(wide, high)
    height = min(WORDS_MM, 0.9 * long / max(1.0, len(name) * WIDTH_OF_HEIGHT), deep / 6)
    if height < LEAST_WORDS_MM or not name:
        return ()
    aside = deep / 4
    middle = (x + wide / 2 - aside, y + high / 2) if turn else (x + wide / 2, y + high / 2 + aside)
    return (Words(TEXT, name, *middle, height, turn),)
