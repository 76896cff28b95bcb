"""The cover of a batch: who does it by when, its boxes to tick off, what to fetch, hours, cautions."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from django.urls import reverse

from housing.models import Campaign, Housing, Person, PlannedSheet
from housing.printing.labels import box_name, handling_marks
from housing.printing.papers import Paper, contents_of, hazards_of, listed, shortened
from housing.printing.pick_list import printed_on
from housing.printing.qr import STORE, qr_data_uri
from housing.queries.batches import Batch, batch_of
from housing.queries.prints import boxes_to_print
from objects.core.retelling import retold
from objects.core.words import decimal, say
from objects.readers import Reader

MOST_SUPPLIES = 14  # more do not fit beside the boards; each cut sheet has its own
URGENT = 3  # marks shown of a box; its label has them all
MINUTES_AN_HOUR = 60


@dataclass(frozen=True)
class BatchLine:
    """One box of the batch in words. sheets: the numbers of those it is cut from."""

    box: str
    numbers: str
    name: str
    design: str
    sheets: str
    hazards: str
    heed: tuple


def batch_cover_context(
    keys: Sequence[int],
    reader: Reader,
    paper: Paper,
    base_url: str,
    *,
    campaign: int | None = None,
    person: int | None = None,
    week: int | None = None,
    of: str = "",
    by: str = "",
) -> dict:
    """All that the cover shows; nothing where none of the boxes is there any more.

    keys: of the boxes. campaign, person: keys of what was chosen. of: the same in words. by: who prints it.
    """
    boxes = boxes_to_print(keys)
    if not boxes:
        return {}
    given = {
        "campaign": Campaign.objects.filter(pk=campaign).first() if campaign else boxes[0].campaign,
        "person": Person.objects.filter(pk=person).first() if person else None,
    }
    batch = batch_of(boxes, **given, week=week)
    lines = [batch_line(box, batch, reader) for box in boxes]
    return {
        **given,
        "week": week,
        "of": of,
        "by": by,
        "due": batch.due,
        "hours": decimal(float(batch.minutes) / MINUTES_AN_HOUR, 1) if batch.minutes else "",
        "lines": lines,
        "materials": list(materials(batch, reader)),
        "supplies": [reader.sentence(_supply(*one)) for one in batch.supplies[:MOST_SUPPLIES]],
        "more_supplies": max(len(batch.supplies) - MOST_SUPPLIES, 0),
        "has_hazards": any(line.hazards for line in lines),
        "qr": qr_data_uri(base_url.rstrip("/") + reverse("housing:bench"), STORE),
        "printed": printed_on(),
        "paper": paper.key,
    }


def batch_line(box: Housing, batch: Batch, reader: Reader) -> BatchLine:
    """What the cover says of one box."""
    things = contents_of(box)
    return BatchLine(
        box=box_name(box),
        numbers=listed((thing.number for thing in things), 2),
        name=shortened(things[0].name, 45) if things else "",
        design=shortened(str(box.design), 40) if box.design else "",
        sheets=", ".join(map(str, batch.of_box.get(box.pk, ()))) or "—",
        hazards=", ".join(str(hazard) for hazard in hazards_of(things)),
        heed=tuple(handling_marks(box, things)[:URGENT]),
    )


def materials(batch: Batch, reader: Reader):
    """(What, how many, which sheets of the plan) to fetch; sheets that are cut already are left out."""
    uncut = [sheet for sheet in batch.sheets if sheet.cut_at is None]
    number, where = Counter(), {}
    for sheet in uncut:
        key = _kind(sheet, reader)
        number[key] += 1
        where.setdefault(key, []).append(str(sheet.position))
    for key, count in number.items():
        yield key, count, shortened(", ".join(where[key]), 80)


def _kind(sheet: PlannedSheet, reader: Reader) -> str:
    size = reader.size((sheet.along_mm, sheet.across_mm))
    if sheet.offcut_id:
        return say(
            "Offcut {number} of {board}, {size}", number=sheet.offcut_id, board=sheet.board.code, size=size
        )
    return say("{board}, {size}", board=sheet.board.code, size=size)


def _supply(what: str, number: float) -> str:
    return f"{number:g} × {retold(what)}"
