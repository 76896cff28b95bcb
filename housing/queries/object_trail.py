"""What happened to an object and its boxes: moves, fit checks, photos, questions, entries at the bench."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from housing.core.choosing import PIECES, Piece
from housing.models import BenchEntry, FitCheck, Hold, HousedPhoto, Housing
from objects.core.words import say
from objects.models import CatalogueObject, ObjectMove

MOST = 50  # of each, the last ones; assumed
LONGEST_QUESTION = 400


@dataclass(frozen=True)
class ObjectTrail:
    """All of it, of every box that the object ever had, the last first; open questions first."""

    moves: Sequence[ObjectMove]
    checks: Sequence[FitCheck]
    photos: Sequence[HousedPhoto]
    holds: Sequence[Hold]
    entries: Sequence[BenchEntry]


def trail_of(thing: CatalogueObject) -> ObjectTrail:
    """What the page of an object tells of its work. Checks that were taken back are told, but marked void."""
    boxes = Housing.objects.filter(contents__object=thing)
    holds = Hold.objects.filter(housing__in=boxes).select_related("housing", "asked_by", "answered_by")
    entries = BenchEntry.objects.filter(housing__in=boxes)
    return ObjectTrail(
        moves=list(thing.moves.select_related("by")[:MOST]),
        checks=list(
            FitCheck.objects.filter(housing__in=boxes).select_related("housing__campaign", "by")[:MOST]
        ),
        photos=list(HousedPhoto.objects.filter(housing__in=boxes).select_related("housing", "by")[:MOST]),
        holds=sorted(holds, key=lambda hold: (hold.answered_at is not None, hold.asked_at)),
        entries=list(entries.select_related("housing", "person", "by", "task", "sheet", "undone_by")[:MOST]),
    )


def question_for_conservator(thing: CatalogueObject, housing: Housing) -> str:
    """What is to be confirmed with a conservator before a box is made, as a question; "" for nothing.

    That is the object's hazards, and advice of rules that say so of themselves.
    """
    told = [f"hazards ({', '.join(thing.hazard_list)})"] if thing.hazards else []
    told += [f"{say(PIECES[Piece(key)]).lower()}: {one['words']}" for key, one in _to_confirm(housing.advice)]
    if not told:
        return ""
    return f"Please confirm for {thing.number}: {'; '.join(told)}."[:LONGEST_QUESTION]


def _to_confirm(advice: dict[str, Any]) -> list[tuple[str, dict[str, Any]]]:
    """Pieces of advice that are to be confirmed, in the order of the pieces."""
    found = []
    for piece in PIECES:
        told = advice.get(piece.value, ())
        found += [(piece.value, one) for one in ([told] if isinstance(told, dict) else told)]
    return [(key, one) for key, one in found if one.get("is_advice")]
