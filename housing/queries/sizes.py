"""Families of standard sizes, and what a square metre of a board comes to in a campaign."""

from decimal import Decimal

from django.db.models import QuerySet

from boards.models import Board
from housing.models import BoardPlan, Campaign, Design, Housing, SizeFamily

MM2_PER_M2 = Decimal(1_000_000)


def families_of(campaign: Campaign) -> QuerySet[SizeFamily]:
    """The families of a campaign with their designs."""
    return SizeFamily.objects.filter(campaign=campaign).select_related("design__board", "campaign")


def designs_with_boxes(campaign: Campaign) -> QuerySet[Design]:
    """Designs of which the campaign has planned boxes."""
    planned = Housing.objects.filter(campaign=campaign, status=Housing.Status.PLANNED).order_by()
    return Design.objects.filter(pk__in=planned.values("design")).select_related("board")


def board_price_m2(campaign: Campaign, board: Board) -> Decimal:
    """Price of a square metre that ends up in a blank: the cheapest sheet on offer, over the share that the
    campaign's cutting plan uses; 0 where no sheet has a price."""
    sizes = board.sheet_sizes.filter(is_offered=True, price__gt=0)
    prices = [size.price / (size.along_mm * size.across_mm) * MM2_PER_M2 for size in sizes]
    plan = BoardPlan.objects.filter(plan__campaign=campaign, board=board).first()
    share = Decimal(str(plan.used_share)) if plan and plan.used_share else Decimal(1)
    return min(prices, default=Decimal()) / share
