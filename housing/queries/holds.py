"""Questions that boxes wait for: open ones first, the longest waiting at the top."""

from django.db.models import F, QuerySet

from housing.models import Campaign, Hold, Housing, Person

OPEN, ANSWERED = "open", "answered"


def holds_to_show(reason: str = "", campaign: Campaign | None = None, state: str = "") -> QuerySet[Hold]:
    """Questions, open ones first by how long they wait, then those answered, the last first."""
    holds = Hold.objects.select_related("housing__campaign", "asked_by", "answered_by")
    if reason:
        holds = holds.filter(reason=reason)
    if campaign:
        holds = holds.filter(housing__campaign=campaign)
    if state:
        holds = holds.filter(answered_at__isnull=state == OPEN)
    first = F("answered_at").desc(nulls_first=True)
    return holds.prefetch_related("housing__contents__object").order_by(first, "asked_at", "pk")


def boxes_of(person: Person | None) -> set[int]:
    """Keys of the boxes with an open question of which a step is a person's."""
    if person is None:
        return set()
    mine = Housing.objects.filter(holds__answered_at=None, tasks__person=person)
    return set(mine.values_list("pk", flat=True))
