"""The order in which a blank is cut and its joints are glued: the numbers on the drawing and in the steps."""

from collections.abc import Sequence
from dataclasses import dataclass

from housing.core.blank import SAME_LINE_MM, Blank, CutOut, Line
from housing.core.panels import GlueJoint

SLIT, TRIM = "slit", "trim"
Span = tuple[float, float]  # start and end along a line, mm


@dataclass(frozen=True, slots=True)
class CutLine:
    """All cuts on one ruler line, made with the rule laid once.

    number: in the order of cutting. at_mm: from the near left corner. spans: where the knife goes, mm.
    kind: "trim" at the end of a flap, "slit" elsewhere. is_across: whether it crosses flutes or grain.
    """

    number: int
    is_upright: bool
    at_mm: float
    spans: tuple[Span, ...]
    kind: str
    is_across: bool


@dataclass(frozen=True, slots=True)
class OpeningCut:
    """Openings of one name and size, cut one after the other under one number."""

    number: int
    openings: tuple[CutOut, ...]

    @property
    def name(self) -> str:
        return self.openings[0].name


def cutting_order(blank: Blank) -> tuple[list[CutLine], list[OpeningCut]]:
    """Every cut of a blank with its number.

    blank: lines in mm from its near left corner. Returns ruler lines, then openings, numbered on from 1.
    Slits come first, then the ends of the flaps, with which the waste falls away; of both those across the
    flutes first, while the board is still whole and stiff; openings last, once no cut can run into them.
    Source: common practice, no source.
    """
    spans: dict[tuple[bool, float], list[Span]] = {}
    for cut in blank.cuts:
        at = cut.x1 if cut.is_upright else cut.y1
        key = next(
            (known for known in spans if known[0] == cut.is_upright and abs(known[1] - at) < SAME_LINE_MM),
            (cut.is_upright, at),
        )
        ends = (cut.y1, cut.y2) if cut.is_upright else (cut.x1, cut.x2)
        spans.setdefault(key, []).append((min(ends), max(ends)))
    lines = [
        (_kind(blank, upright, at), upright != (blank.flute_along == "y"), upright, at, tuple(sorted(found)))
        for (upright, at), found in spans.items()
    ]
    lines.sort(key=lambda line: (line[0] == TRIM, not line[1], line[2], line[3]))
    cuts = [
        CutLine(number, upright, at, found, kind, across)
        for number, (kind, across, upright, at, found) in enumerate(lines, start=1)
    ]
    alike: dict[tuple[str, float, float, str], list[CutOut]] = {}
    for opening in blank.openings:
        key_ = opening.name, round(opening.width_mm, 3), round(opening.height_mm, 3), opening.shape
        alike.setdefault(key_, []).append(opening)
    openings = [
        OpeningCut(number, tuple(found)) for number, found in enumerate(alike.values(), start=len(cuts) + 1)
    ]
    return cuts, openings


def gluing_order(joints: Sequence[GlueJoint]) -> list[tuple[int, GlueJoint]]:
    """The glue joints of a part with their numbers.

    joints: in any order. Returns flaps before edges, and all that go to one wall together, so that it is held
    once, as the form names its walls. Source: common practice, no source.
    """
    ordered: list[GlueJoint] = []
    for is_edge in (False, True):
        alike = [joint for joint in joints if joint.is_edge == is_edge]
        for wall in dict.fromkeys(joint.to for joint in alike):
            ordered += [joint for joint in alike if joint.to == wall]
    return list(enumerate(ordered, start=1))


def is_trim(cut: Line, blank: Blank) -> bool:
    """Whether a cut is the end of a flap."""
    return _kind(blank, cut.is_upright, cut.x1 if cut.is_upright else cut.y1) == TRIM


def _kind(blank: Blank, upright: bool, at: float) -> str:
    trims = blank.trim_marks_x if upright else blank.trim_marks_y
    return TRIM if any(abs(at - trim) < SAME_LINE_MM for trim in trims) else SLIT
