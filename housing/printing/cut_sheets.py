"""The cut sheet: one page with all that is needed to make one box at the bench."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.utils import timezone
from django.utils.safestring import SafeString, mark_safe

from housing.core import blank as core
from housing.core.drawing.blank_svg import Manner, blank_svg
from housing.core.errors import PaperTooSmall
from housing.core.label_codes import spaced
from housing.models import Blank, Housing, PlannedBlank
from housing.printing.cut_lines import (
    LineRow,
    cut_rows,
    marks,
    opening_rows,
    panel_sizes,
    score_rows,
    without_unit,
)
from housing.printing.papers import Paper, contents_of, hazards_of, listed, shortened
from housing.printing.photos import photo_data_uri
from housing.printing.qr import label_address, qr_data_uri
from housing.printing.scoring import scored_face, scored_with
from housing.printing.steps import cautions_of, steps_of
from housing.queries.designs import standards_lacking
from housing.queries.handling import BoxHandling, handling_of
from housing.services.housings import is_as_worked_out
from objects.readers import Reader

DRAWING_WIDTH_MM = 102.0  # the left column; the tables and steps need the rest of the width
HEAD_MM = 37.0  # heading above the columns and scale check below them, at most
CAPTION_MM = 10.5  # heading of a drawing and the line beneath it
TALLEST_MM = 150.0  # of the one drawing of a box without a lid
ROOMY_SIGNS = 1250  # in steps, cautions and notes; more is set smaller: measured on Letter
DRAWN = {"compensated": "compensated for the caliper", "nominal": "nominal, straight on the board"}
UNIT_NAMES = {"in": "inches", "mm": "mm"}


@dataclass(frozen=True)
class PartSheet:
    """One blank on the sheet: its drawing and what is read off it, lengths in the reader's unit."""

    name: str
    size: str
    drawing: SafeString
    scale: str
    marks_x: str
    marks_y: str
    cuts: list[LineRow]
    scores: list[LineRow]
    openings: list[str]
    panels: str
    flutes: str


@dataclass(frozen=True)
class CutSheet:
    """One page, everything on it already in words."""

    box: str
    numbers: str
    name: str
    location: str
    photo: str
    qr: str
    code: str
    facts: list[tuple[str, str]]
    parts: list[PartSheet]
    face: str
    unit_name: str
    steps: list[str]
    cautions: list[str]
    hazards: str
    notes: list[str]
    supplies: list[str]
    plan_date: date | None
    printed: date

    @property
    def is_dense(self) -> bool:
        """Whether there is so much to say that it is set in smaller type."""
        said = sum(map(len, (*self.steps, *self.cautions, *self.notes)))
        return said > ROOMY_SIGNS


def cut_sheet(housing: Housing, reader: Reader, paper: Paper, base_url: str) -> CutSheet:
    """The page of one box. base_url: the site's address, for the code that leads to the object's page."""
    things = contents_of(housing)
    parts = part_sheets(housing, reader, paper)
    handling = handling_of(housing)
    plan = getattr(housing.campaign, "plan", None) if housing.campaign else None
    return CutSheet(
        box=housing.box_number,
        numbers=shortened(listed(thing.number for thing in things), 60),
        name=shortened(listed((thing.name for thing in things), 2), 90),
        location=shortened(str(things[0].location or "no location"), 70),
        photo=next((photo for thing in things if (photo := photo_data_uri(thing))), ""),
        qr=qr_data_uri(label_address(housing, base_url)),
        code=spaced(housing.code or ""),
        facts=fact_rows(housing, reader, handling),
        parts=parts,
        face=scored_face(housing.design.board),
        unit_name=UNIT_NAMES[reader.unit],
        steps=steps_of(housing, places_of(housing, reader), reader),
        cautions=[reader.sentence(said) for said in cautions_of(things, handling)],
        hazards=", ".join(hazards_of(things)),
        notes=[
            *_outdated(housing),
            *standards_lacking(housing.design),
            *(shortened(reader.sentence(note), 160) for note in housing.notes[:3]),
        ],
        supplies=[reader.sentence(what if n == 1 else f"{n} of {what}") for what, n in housing.supplies],
        plan_date=plan.made_at if plan else None,
        printed=timezone.localdate(),
    )


def is_outdated(housing: Housing) -> bool:
    """Whether size, design or board were changed since the box was worked out."""
    return not is_as_worked_out(housing)


def _outdated(housing: Housing) -> list[str]:
    if not is_outdated(housing):
        return []
    return ["Do not cut: the size, the design or the board was changed since. Plan the campaign again first."]


def fact_rows(housing: Housing, reader: Reader, handling: BoxHandling) -> list[tuple[str, str]]:
    """What the box is: sizes, board, design and weight, each with its name."""
    design, board = housing.design, housing.design.board
    return [
        ("Clear inside, h × w × d", reader.size(housing.inner_mm)),
        ("Outside, closed", reader.size(housing.outside_mm)),
        ("Board", f"{board.code}, caliper {reader.length(board.to_core().caliper_mm)}"),
        ("Design", shortened(str(design), 60)),
        ("Drawn", DRAWN[design.drawn] + (f", positions to {design.rounding}" if design.rounding else "")),
        ("Gross weight", reader.weight(handling.gross_g)),
    ]


def part_sheets(housing: Housing, reader: Reader, paper: Paper) -> list[PartSheet]:
    """The blanks of a box, those drawn alike once, no larger than a sheet of the paper has room for."""
    kinds = _kinds(housing)
    height = min(TALLEST_MM, (paper.room_height_mm - HEAD_MM) / max(len(kinds), 1) - CAPTION_MM)
    return [_part(housing, blank, count, reader, height) for blank, count in kinds]


def _kinds(housing: Housing) -> list[tuple[Blank, int]]:
    """Blanks drawn alike once, with how many there are."""
    found: list[tuple[Blank, int]] = []
    for blank in housing.blanks.all():
        for number, (known, count) in enumerate(found):
            if (known.geometry, known.material) == (blank.geometry, blank.material):
                found[number] = known, count + 1
                break
        else:
            found.append((blank, 1))
    return found


def _part(housing: Housing, blank: Blank, count: int, reader: Reader, height_mm: float) -> PartSheet:
    flat = blank.to_core()
    name = blank.part.replace("_", " ")
    direction = "flutes" if housing.design.board.to_core().is_fluted else "grain"
    size = reader.size((flat.x_mm, flat.y_mm))
    drawing, scale = _drawing(
        flat, f"{name.capitalize()} of {housing.box_number}", reader, height_mm, direction,
        scored_with(housing.design.board),
    )  # fmt: skip
    return PartSheet(
        name=name.capitalize() + (f" and {count - 1} more alike" if count > 1 else ""),
        size=size,
        drawing=drawing,
        scale=scale,
        marks_x=marks(flat.marks_x, reader),
        marks_y=marks(flat.marks_y, reader),
        cuts=cut_rows(flat, reader),
        scores=score_rows(flat, reader),
        openings=opening_rows(flat, reader),
        panels=panel_sizes(flat, reader),
        flutes=_lie(blank, housing),
    )


def _drawing(
    flat: core.Blank, title: str, reader: Reader, height_mm: float, direction: str, scored: str
) -> tuple[SafeString, str]:
    """The drawing and its scale; of a blank too intricate for the page nothing, its tables say it all."""
    try:
        drawing = blank_svg(
            flat,
            title=title,
            format_length=lambda mm: without_unit(mm, reader),
            paper_width_mm=DRAWING_WIDTH_MM,
            paper_height_mm=height_mm,
            manner=Manner(direction, scored),
        )
    except PaperTooSmall:
        return mark_safe(""), ""
    return mark_safe(drawing.svg), drawing.scale


def _lie(blank: Blank, housing: Housing) -> str:
    """How flutes or grain run in a blank."""
    direction = "flutes" if housing.design.board.to_core().is_fluted else "grain"
    return f"{direction} {'from left to right' if blank.flute_along == 'x' else 'from near to far'}"


def places_of(housing: Housing, reader: Reader) -> list[str]:
    """The steps that say where each blank is cut from."""
    return [_place(blank, housing, reader) for blank in housing.blanks.all()]


def _place(blank: Blank, housing: Housing, reader: Reader) -> str:
    """The step that says where a blank is cut from."""
    name, lie = blank.part.replace("_", " "), _lie(blank, housing)
    size = reader.size((blank.x_mm, blank.y_mm))
    places = list(blank.placements.all())
    if not blank.is_board:
        thick = reader.length(blank.assembly["thick_mm"])
        return f"Cut the {name} out of {blank.material}: {size}, {thick} thick."
    if not places:
        return f"Cut the {name} out of board {housing.design.board.code}: {size}, {lie}."
    place = places[0]
    offcut = f" (offcut {place.sheet.offcut})" if place.sheet.offcut else ""
    sheet = f"sheet {place.sheet.position}{offcut} of the cutting plan"
    turned = " It lies turned on the sheet." if place.turned else ""
    if place.host:
        return (
            f"Cut the {name} ({size}, {lie}) out of the {_corner(place)} of {_host(place.host)} on {sheet}: "
            f"cut that blank out and trim its corners first.{turned}"
        )
    return (
        f"Cut the {name} ({size}, {lie}) out of {sheet}, "
        f"{reader.length(place.x_mm)} along and {reader.length(place.y_mm)} across from the sheet's "
        f"corner.{turned}"
    )


def _corner(place: PlannedBlank) -> str:
    """The corner of its host that a blank is cut from, as both lie in the drawing of the sheet."""
    host = place.host
    is_far = place.y_mm + place.across_mm / 2 > host.y_mm + host.across_mm / 2
    is_right = place.x_mm + place.along_mm / 2 > host.x_mm + host.along_mm / 2
    return f"{'far' if is_far else 'near'} {'right' if is_right else 'left'} waste corner"


def _host(host: PlannedBlank) -> str:
    """The blank from whose corner another is cut: the objects it is for and the part it is."""
    numbers = listed(thing.number for thing in contents_of(host.blank.housing))
    return f"{shortened(numbers, 60)} {host.blank.part.replace('_', ' ')}".strip()


def cut_sheets_context(housings: Sequence[Housing], reader: Reader, paper: Paper, base_url: str) -> dict:
    """All that the page of cut sheets shows."""
    return {
        "sheets": [cut_sheet(housing, reader, paper, base_url) for housing in housings],
        "paper": paper.key,
        "unit": reader.unit,
    }
