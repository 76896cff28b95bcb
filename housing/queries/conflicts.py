"""Where rules of a campaign contradict each other, or a design what they advise: counted, and box by box."""

from dataclasses import dataclass
from typing import Any

from django.db.models import QuerySet

from housing.core.choosing import PIECES, Piece
from housing.models import Campaign, Housing
from objects.core.words import say

CONFLICTS = "conflicts"
ABOUT_THE_ENCLOSURE = (Piece.FORM, Piece.DESIGN)
ORDER = [*(piece for piece in PIECES if piece not in ABOUT_THE_ENCLOSURE), *ABOUT_THE_ENCLOSURE]


@dataclass
class ConflictGroup:
    """Boxes with the same contradiction. kept: the rule followed, None where a design is not as asked."""

    piece: str
    kept: int | None
    other: int
    kept_words: str
    other_words: str
    kept_reason: str
    other_reason: str
    number: int = 0

    @property
    def label(self) -> str:
        return say(PIECES[Piece(self.piece)])

    @property
    def key(self) -> str:
        """What names the group in an address."""
        return f"{self.piece}.{self.kept or 0}.{self.other}"


def housings_in_conflict(campaign: Campaign) -> QuerySet[Housing]:
    """The boxes of a campaign, dropped ones left out, for which some advice contradicts other advice."""
    return Housing.objects.filter(campaign=campaign, advice__has_key=CONFLICTS).exclude(
        status=Housing.Status.DROPPED
    )


def conflict_groups(campaign: Campaign) -> list[ConflictGroup]:
    """The contradictions counted by piece and rules, in one query: those about the board first, as they may
    do harm, those about form and design last; of each piece the most frequent first."""
    groups: dict[str, ConflictGroup] = {}
    for advice in housings_in_conflict(campaign).order_by().values_list("advice", flat=True):
        seen = set()
        for told in advice[CONFLICTS]:
            group = _group(told)
            if group.key in seen:
                continue
            seen.add(group.key)
            groups.setdefault(group.key, group).number += 1
    return sorted(groups.values(), key=_urgency)


def _urgency(group: ConflictGroup) -> tuple[int, int, str]:
    return ORDER.index(Piece(group.piece)), -group.number, group.key


def _group(told: dict[str, Any]) -> ConflictGroup:
    kept = told.get("kept")
    return ConflictGroup(
        piece=told["piece"],
        kept=kept["position"] if kept else None,
        other=told["position"],
        kept_words=kept["words"] if kept else "",
        other_words=told["words"],
        kept_reason=kept["reason"] if kept else "",
        other_reason=told["reason"],
    )


def housings_of_group(campaign: Campaign, key: str) -> QuerySet[Housing]:
    """The boxes that one group counts, all boxes in conflict for a key that names none; by box number."""
    housings = housings_in_conflict(campaign)
    if key:
        rows = housings.order_by().values_list("pk", "advice")
        keys = [pk for pk, advice in rows if any(_group(told).key == key for told in advice[CONFLICTS])]
        housings = housings.filter(pk__in=keys)
    return housings.select_related("design__board").prefetch_related("contents__object").order_by("pk")
