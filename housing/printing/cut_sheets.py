"""The cut sheet: all that is needed to make one box at the bench, on one page where it fits, else on more."""

from collections.abc import Sequence

from django.utils import timezone

from housing.core.enclosures.form import Part
from housing.core.label_codes import spaced
from housing.core.shifts import shift_of
from housing.models import Housing
from housing.printing.box_parts import (
    closed_drawing,
    cutting_list,
    manner_of,
    part_sheets,
)
from housing.printing.cut_sheet_content import CutSheet
from housing.printing.cut_sheet_pages import pages_of
from housing.printing.papers import Paper, contents_of, hazards_of, listed, shortened
from housing.printing.photos import photo_data_uri
from housing.printing.qr import label_address, qr_data_uri
from housing.printing.scoring import scored_face
from housing.printing.steps import cautions_of, steps_of
from housing.printing.versions import sheet_version
from housing.queries.designs import standards_lacking
from housing.queries.handling import BoxHandling, handling_of
from housing.queries.parts import stored_parts
from housing.services.housings import is_as_worked_out
from objects.core.retelling import retold
from objects.core.words import noted, say
from objects.models import CatalogueObject
from objects.readers import Reader

DRAWN = {
    "compensated": noted("compensated for the caliper"),
    "nominal": noted("nominal, straight on the board"),
}
OUTSIDE = noted("Outside, closed")
UNIT_NAMES = {"in": noted("inches"), "mm": noted("mm")}
NOTES_TOLD = 3  # of those of planning; the page of the box has them all


def cut_sheet(
    housing: Housing, reader: Reader, paper: Paper, base_url: str, printed_by: str = ""
) -> CutSheet:
    """The sheet of one box. base_url: the site's address, for the code that leads to the box's page."""
    things, parts = contents_of(housing), stored_parts(housing)
    handling, version = handling_of(housing), sheet_version(housing)
    plan = getattr(housing.campaign, "plan", None) if housing.campaign else None
    sheet = CutSheet(
        box=say("Box {number}", number=f"{housing.pk:04d}"),
        numbers=shortened(listed(thing.number for thing in things), 60),
        name=shortened(listed((thing.name for thing in things), 2), 90),
        location=shortened(str(things[0].location or say("no location")), 70),
        photo=next((photo for thing in things if (photo := photo_data_uri(thing))), ""),
        qr=qr_data_uri(sheet_address(housing, base_url, version)),
        code=spaced(housing.code or ""),
        version=version,
        facts=[row for row in fact_rows(housing, reader, handling) if row[0] != say(OUTSIDE)],
        outside=reader.size(housing.outside_mm),
        things=thing_facts(things, reader),
        parts=part_sheets(housing, parts, reader),
        listed=cutting_list(housing, reader),
        closed=closed_drawing(housing, parts, reader),
        manner=manner_of(housing, reader),
        face=say(scored_face(housing.design.board)),
        unit_name=say(UNIT_NAMES[reader.unit]),
        steps=steps_of(housing, parts, [], reader),
        cautions=[reader.sentence(said) for said in cautions_of(things, handling)],
        hazards=", ".join(map(str, hazards_of(things))),
        notes=[
            *_outdated(housing),
            *standards_lacking(housing.design),
            *(shortened(reader.sentence(note), 200) for note in housing.notes[:NOTES_TOLD]),
        ],
        shifts=shift_sentences(housing, parts, reader),
        supplies=supply_words(housing, reader),
        plan_date=plan.made_at if plan else None,
        printed=timezone.localdate(),
        printed_by=printed_by,
        hand=reader.hand,
    )
    sheet.pages.extend(pages_of(sheet, paper))
    return sheet


def cut_sheets_context(
    housings: Sequence[Housing], reader: Reader, paper: Paper, base_url: str, printed_by: str = ""
) -> dict:
    """All that the pages of cut sheets show."""
    return {
        "sheets": [cut_sheet(housing, reader, paper, base_url, printed_by) for housing in housings],
        "paper": paper.key,
        "unit": reader.unit,
    }


def sheet_address(housing: Housing, base_url: str, version: str) -> str:
    """Where the code of a cut sheet leads: where that of the label does, with the sheet's version behind it.

    In digits and capitals like the label's, so that the code stays coarse.
    """
    address = label_address(housing, base_url)
    return f"{address.rstrip('/')}/{version}" if housing.code and version else address


def is_outdated(housing: Housing) -> bool:
    """Whether size, design or board were changed since the box was worked out."""
    return not is_as_worked_out(housing)


def _outdated(housing: Housing) -> list[str]:
    if not is_outdated(housing):
        return []
    return [
        say("Do not cut: the size, the design or the board was changed since. Plan the campaign again first.")
    ]


def fact_rows(housing: Housing, reader: Reader, handling: BoxHandling) -> list[tuple[str, str]]:
    """What the box is: sizes, board, design and weight, each with its name."""
    design, board = housing.design, housing.design.board
    drawn = say(DRAWN[design.drawn])
    if design.rounding:
        drawn = say("{drawn}, positions to {step}", drawn=drawn, step=design.rounding)
    return [
        (say("Clear inside, h × w × d"), reader.size(housing.inner_mm)),
        (say(OUTSIDE), reader.size(housing.outside_mm)),
        (
            say("Board"),
            say(
                "{code}, caliper {length}", code=board.code, length=reader.length(board.to_core().caliper_mm)
            ),
        ),
        (say("Design"), shortened(str(design), 60)),
        (say("Drawn"), drawn),
        (say("Gross weight"), reader.weight(handling.gross_g)),
    ]


def thing_facts(things: Sequence[CatalogueObject], reader: Reader) -> list[tuple[str, str]]:
    """Size and weight of what goes in, as far as they are known; of several things their weight alone."""
    found = []
    if len(things) == 1:
        found.append((say("Object, h × w × d"), reader.size(things[0].sides_mm)))
    if all(thing.weight_g is not None for thing in things):
        found.append((say("Weight"), reader.weight(sum(thing.weight_g for thing in things))))
    return found


def shift_sentences(housing: Housing, parts: Sequence[Part], reader: Reader) -> list[str]:
    """How far lines are moved for the board's thickness, in the reader's unit."""
    folded = [part.blank for part in parts if part.blank.scores]
    if not folded:
        return []
    shift = shift_of(folded, housing.design.board.to_core(), housing.design.to_marking_out())
    return [reader.sentence(said) for said in shift.sentences()]


def supply_words(housing: Housing, reader: Reader) -> list[str]:
    """What is needed besides board, in the reader's language and unit."""
    return [
        reader.sentence(retold(what) if n == 1 else say("{count} of {what}", count=n, what=retold(what)))
        for what, n in housing.supplies
    ]
