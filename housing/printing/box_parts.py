"""The parts of a box on its prints: drawings, tables, the cutting list, and where each blank is cut from."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from django.utils.safestring import SafeString, mark_safe

from housing.core import blank as core
from housing.core.drawing.blank_svg import BlankDrawing, Manner, blank_svg
from housing.core.drawing.closed_svg import closed_svg
from housing.core.enclosures.form import Part
from housing.core.errors import PaperTooSmall
from housing.core.folding import Box3
from housing.core.part_names import cap, named
from housing.models import Blank, Housing, PlannedBlank
from housing.printing.cut_lines import (
    LineRow,
    cut_rows,
    is_left,
    marks,
    marks_x,
    opening_rows,
    panel_sizes,
    score_rows,
    without_unit,
)
from housing.printing.papers import contents_of, listed, shortened
from housing.printing.scoring import scored_with
from objects.core.lengths import format_length
from objects.core.words import noted, say, spoken
from objects.readers import Reader

SCREEN_MM = 150.0, 150.0  # room for a drawing on screen
CLOSED_MM = 36.0, 22.0  # room for the picture of the closed box
RUNS = {
    ("flutes", "x"): noted("flutes from left to right"),
    ("flutes", "y"): noted("flutes from near to far"),
    ("grain", "x"): noted("grain from left to right"),
    ("grain", "y"): noted("grain from near to far"),
}
CORNERS = {
    (True, True): noted("far right waste corner"),
    (True, False): noted("far left waste corner"),
    (False, True): noted("near right waste corner"),
    (False, False): noted("near left waste corner"),
}


@dataclass(frozen=True)
class PartSheet:
    """One blank: what is read off it, lengths in the reader's unit; drawn once its room is known."""

    name: str
    size: str
    title: str
    blank: core.Blank
    manner: Manner
    unit: str
    marks_x: str
    marks_y: str
    cuts: list[LineRow]
    scores: list[LineRow]
    openings: list[str]
    panels: str
    flutes: str

    @property
    def drawing(self) -> SafeString:
        """The drawing as a page on screen shows it; nothing of a blank too intricate for that."""
        drawing = self.draw(*SCREEN_MM)
        return mark_safe(drawing.svg if drawing else "")

    def draw(
        self, width_mm: float, height_mm: float, most_reduced: float = float("inf")
    ) -> BlankDrawing | None:
        """The drawing in its room; None of a blank too intricate for it, whose tables say it all."""
        return _drawn(
            self.blank, self.title, self.manner, self.unit, width_mm, height_mm, spoken(), most_reduced
        )


@lru_cache(maxsize=256)
def _drawn(
    blank: core.Blank,
    title: str,
    manner: Manner,
    unit: str,
    width_mm: float,
    height_mm: float,
    language: str,
    most_reduced: float,
) -> BlankDrawing | None:
    """Blanks alike are drawn once. language: the one spoken, by which drawings differ."""
    try:
        return blank_svg(
            blank,
            title=title,
            format_length=lambda mm: format_length(mm, unit, with_unit=False),
            paper_width_mm=width_mm,
            paper_height_mm=height_mm,
            manner=manner,
            most_reduced=most_reduced,
        )
    except PaperTooSmall:
        return None


def direction_of(housing: Housing) -> str:
    """What runs through the board, in English."""
    return noted("flutes") if housing.design.board.to_core().is_fluted else noted("grain")


def manner_of(housing: Housing, reader: Reader, joints: Sequence = (), *, has_key: bool = False) -> Manner:
    """How the blanks of a box are drawn for a reader."""
    return Manner(
        direction=direction_of(housing),
        scored=scored_with(housing.design.board),
        from_right=is_left(reader),
        joints=tuple(joints),
        numbers=True,
        has_key=has_key,
        unit=reader.unit,
    )


def part_sheets(
    housing: Housing, parts: Sequence[Part], reader: Reader, *, has_key: bool = False
) -> list[PartSheet]:
    """The blanks of a box, those drawn alike once. has_key: each drawing explains its lines itself."""
    found: list[tuple[Part, Blank, int]] = []
    for part, blank in zip(parts, housing.blanks.all(), strict=True):
        for number, (known, first, count) in enumerate(found):
            if (known.blank, known.material) == (part.blank, part.material):
                found[number] = known, first, count + 1
                break
        else:
            found.append((part, blank, 1))
    return [_part(housing, part, blank, count, reader, has_key) for part, blank, count in found]


def _part(housing: Housing, part: Part, blank: Blank, count: int, reader: Reader, has_key: bool) -> PartSheet:
    flat, name = part.blank, cap(named(blank.part))
    return PartSheet(
        name=name if count == 1 else f"{count} × {named(blank.part.rstrip('0123456789 '))}",
        size=reader.size((flat.x_mm, flat.y_mm)),
        title=name,
        blank=flat,
        manner=manner_of(housing, reader, part.joints, has_key=has_key),
        unit=reader.unit,
        marks_x=marks_x(flat, reader),
        marks_y=marks(flat.marks_y, reader),
        cuts=cut_rows(flat, reader),
        scores=score_rows(flat, reader),
        openings=opening_rows(flat, reader),
        panels=panel_sizes(flat, reader),
        flutes=_lie(blank, housing),
    )


def closed_drawing(
    housing: Housing, parts: Sequence[Part], reader: Reader
) -> tuple[str, float, float] | None:
    """The closed box in isometric with its outside sizes, and its own sides in mm."""
    if not housing.outside_x_mm or not parts:
        return None
    outside = Box3(
        *(float(side) for side in (housing.outside_x_mm, housing.outside_y_mm, housing.outside_z_mm))
    )
    try:
        svg = closed_svg(
            parts,
            outside,
            title=say("Closed, not to scale"),
            format_length=lambda mm: without_unit(mm, reader),
            paper_width_mm=CLOSED_MM[0],
            paper_height_mm=CLOSED_MM[1],
            is_sized=False,
        )
    except PaperTooSmall:
        return None
    wide, high = svg.partition('viewBox="0 0 ')[2].partition('"')[0].split()
    return svg, float(wide), float(high)


def _lie(blank: Blank, housing: Housing) -> str:
    """How flutes or grain run in a blank."""
    return say(RUNS[direction_of(housing), blank.flute_along])


def cutting_list(housing: Housing, reader: Reader) -> list[tuple[str, ...]]:
    """Part, how many, size, and from what and where each is cut; parts alike from one place together."""
    rows: dict[tuple[str, str, str], list[str]] = {}
    for blank in housing.blanks.all():
        size = reader.size((blank.x_mm, blank.y_mm))
        if blank.is_board:
            size = f"{size}, {_lie(blank, housing)}"
        key = blank.part.rstrip("0123456789 "), size, place_words(blank, housing, reader)
        rows.setdefault(key, []).append(blank.part)
    return [
        (cap(named(names[0] if len(names) == 1 else part)), str(len(names)), size, place)
        for (part, size, place), names in rows.items()
    ]


def place_words(blank: Blank, housing: Housing, reader: Reader) -> str:
    """From what and from which place a blank is cut: sheet 6 of the cutting plan, 3/16 in along ..."""
    places = list(blank.placements.all())
    if not blank.is_board:
        thick = reader.length(blank.assembly["thick_mm"])
        return say("{material}, {length} thick", material=named(blank.material), length=thick)
    if not places:
        return say("board {code}", code=housing.design.board.code)
    place = places[0]
    sheet = say("sheet {number}", number=place.sheet.position)
    if place.sheet.offcut:
        sheet = say(
            "sheet {number}, offcut {offcut},",
            number=place.sheet.position, offcut=place.sheet.offcut,
        )  # fmt: skip
    if place.host:
        told = say(
            "{corner} of {host} on {sheet}: cut that blank out and trim its corners first",
            corner=_corner(place), host=_host(place.host), sheet=sheet,
        )  # fmt: skip
    else:
        told = say(
            "{sheet}, {along} along and {across} across from its corner",
            sheet=sheet, along=reader.length(place.x_mm), across=reader.length(place.y_mm),
        )  # fmt: skip
    return say("{place}; it lies turned on the sheet", place=told) if place.turned else told


def places_of(housing: Housing, reader: Reader) -> list[str]:
    """The steps that say where each blank is cut from, one sentence a blank."""
    return [
        say(
            "{part}: cut {size} out of {place}.",
            part=cap(named(blank.part)),
            size=f"{reader.size((blank.x_mm, blank.y_mm))}, {_lie(blank, housing)}"
            if blank.is_board
            else reader.size((blank.x_mm, blank.y_mm)),
            place=place_words(blank, housing, reader),
        )
        for blank in housing.blanks.all()
    ]


def _corner(place: PlannedBlank) -> str:
    """The corner of its host that a blank is cut from, as both lie in the drawing of the sheet."""
    host = place.host
    is_far = place.y_mm + place.across_mm / 2 > host.y_mm + host.across_mm / 2
    is_right = place.x_mm + place.along_mm / 2 > host.x_mm + host.along_mm / 2
    return say(CORNERS[is_far, is_right])


def _host(host: PlannedBlank) -> str:
    """The blank from whose corner another is cut: the objects it is for and the part it is."""
    numbers = listed(thing.number for thing in contents_of(host.blank.housing))
    return f"{shortened(numbers, 60)} {named(host.blank.part)}".strip()
