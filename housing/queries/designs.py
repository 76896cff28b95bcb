"""Designs with how much they are used, and which standards asked of their boards nobody states."""

from django.db.models import Count, Q, QuerySet

from boards.core.standards import lacking, lacking_sentence
from boards.queries import standards_stated
from housing.models import Campaign, Design, DesignRule, Housing


def designs_with_counts() -> QuerySet[Design]:
    """Designs with `boxes`, the housings that have them, dropped ones left out."""
    return (
        Design.objects.select_related("board")
        .prefetch_related("board__statements")
        .annotate(boxes=Count("housings", filter=~Q(housings__status=Housing.Status.DROPPED)))
    )


def standards_lacking(design: Design) -> list[str]:
    """A sentence for each standard that a design asks for and nobody states of its board; stops nothing."""
    if not design.asks_for:
        return []
    lacks = lacking(design.asks_for, standards_stated(design.board))
    return [lacking_sentence(lack, design.board.code) for lack in lacks]


def designs_lacking(campaign: Campaign) -> list[tuple[Design, list[str]]]:
    """Designs that rules or boxes of a campaign use and whose board lacks a statement, and what it lacks."""
    boxes = Housing.objects.filter(campaign=campaign).exclude(status=Housing.Status.DROPPED)
    rules = DesignRule.objects.filter(campaign=campaign)
    designs = (
        Design.objects.filter(
            Q(pk__in=rules.exclude(design=None).values("design"))
            | Q(pk__in=boxes.exclude(design=None).values("design"))
        )
        .exclude(asks_for=[])
        .select_related("board")
        .prefetch_related("board__statements")
    )
    return [(design, told) for design in designs if (told := standards_lacking(design))]
