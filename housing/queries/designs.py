"""Designs with how much they are used, and which standards asked of their boards nobody states."""

from collections.abc import Mapping
from decimal import Decimal, InvalidOperation

from django.db.models import Count, Q, QuerySet

from boards.core.standards import lacking, lacking_sentence
from boards.models import Board
from boards.queries import standards_stated
from housing.core.enclosures import ENCLOSURES
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


def design_as_asked(asked: Mapping[str, str]) -> Design:
    """A new design, not stored, as rules asked for it; what cannot be understood is left as it usually is.

    asked: by piece of advice, lengths in mm. Its board is the thinnest that is as asked, if there is one.
    """
    design = Design()
    if asked.get("form") in ENCLOSURES:
        design.form = asked["form"]
    design.padding = asked.get("padding", "")[: Design._meta.get_field("padding").max_length]
    for name in ("height_allowance_mm", "side_allowance_mm"):
        if (length := _length(asked.get(name, ""))) is not None:
            setattr(design, name, length)
    if "board_kind" in asked or "least_caliper_mm" in asked:
        design.board_id = _board_as_asked(asked)
    return design


def _board_as_asked(asked: Mapping[str, str]) -> int | None:
    boards = Board.objects.order_by("caliper_mm", "code")
    if (kind := asked.get("board_kind", "")) in DesignRule.BoardKind.values:
        boards = boards.filter(is_buffered=kind == DesignRule.BoardKind.BUFFERED)
    if (least := _length(asked.get("least_caliper_mm", ""))) is not None:
        boards = boards.filter(caliper_mm__gte=least)
    return boards.values_list("pk", flat=True).first()


def _length(text: str) -> Decimal | None:
    try:
        length = Decimal(text)
    except InvalidOperation:
        return None
    return round(length, 4) if length.is_finite() and 0 <= length < 10_000 else None
