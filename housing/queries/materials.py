"""What a campaign takes of boards and supplies, at the prices and with what is on hand.

Sheets that are cut already came out of the stock and count as on hand, so that cutting one changes no budget.
Receiving a pack moves it from what is to be bought to what is on hand; a frozen budget keeps what was to be
bought, and what has been received since is told beside it.
"""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from decimal import Decimal

from django.db.models import Count
from django.utils import timezone

from boards.models import PriceBreak, Supplier, Supply
from boards.queries import sheet_sizes_in_stock
from housing.core.budget.facts import BoxFacts
from housing.core.budget.glue import GlueFigures
from housing.core.budget.lines import Problem, Section, Target
from housing.core.budget.purchases import MaterialNeed, SupplierTerms
from housing.core.budget.supplies import SupplyFacts, SupplyTerms, supply_needs
from housing.models import BudgetTerms, Campaign, Design, PlannedSheet
from housing.queries.learned import spoilage_share
from objects.core.words import say

type Breaks = Mapping[int, tuple[tuple[int, Decimal], ...]]


def material_needs(
    campaign: Campaign,
    terms: BudgetTerms,
    boxes: Sequence[BoxFacts],
    sheets: Mapping[int, int] | None = None,
    prices: Mapping[str, Decimal] | None = None,
    today: date | None = None,
) -> tuple[list[MaterialNeed], list[Problem]]:
    """Sheets and supplies of a campaign.

    sheets: how many of each sheet size a plan in memory takes besides those cut already; the stored plan's
    where None. prices: other prices of a sheet ("sheet:12") or of a pack ("supply:3") than those stored.
    """
    today = today or timezone.localdate()
    prices = prices or {}
    found, problems = supply_needs(boxes, supplies_as_sold(prices, today), supply_terms(campaign, terms))
    return [*_sheets(campaign, terms, sheets, prices, today), *found], problems


def supplier_terms() -> list[SupplierTerms]:
    """What each supplier takes for sending goods."""
    return [
        SupplierTerms(
            str(one.pk), one.name, one.freight_each, one.freight_share, one.freight_free_from, one.lead_days
        )
        for one in Supplier.objects.all()
    ]


def supplies_as_sold(prices: Mapping[str, Decimal], today: date) -> list[SupplyFacts]:
    """All supplies with their prices."""
    breaks = _breaks("supply")
    return [
        SupplyFacts(
            key=str(one.pk),
            name=one.name,
            kind=one.kind,
            unit=one.get_unit_display(),
            pack=one.pack,
            price=prices.get(f"supply:{one.pk}", one.price),
            spoilage_share=one.spoilage_share,
            on_hand=one.on_hand,
            breaks=() if f"supply:{one.pk}" in prices else breaks.get(one.pk, ()),
            supplier=str(one.supplier_id) if one.supplier_id else "",
            priced_on=one.priced_on,
            is_withdrawn=_is_past(one.withdrawn_on, today),
            is_usual=one.is_usual,
            grams_each=float(one.grams_each) if one.grams_each else None,
            fills_litres=float(one.fills_litres) if one.fills_litres else None,
        )
        for one in Supply.objects.all()
    ]


def supply_terms(campaign: Campaign, terms: BudgetTerms) -> SupplyTerms:
    """How a campaign uses supplies, with the prices that hold where no supply is listed."""
    designs = Design.objects.exclude(padding="").order_by("pk")
    return SupplyTerms(
        glue=GlueFigures(bead_mm=float(terms.glue_bead_mm), beads_per_joint=terms.beads_per_joint),
        labels_each=terms.labels_each,
        gap_filled_share=float(terms.gap_filled_share),
        glue_price_kg=campaign.glue_price_kg,
        lining_prices={
            name.casefold(): price
            for name, price in designs.values_list("padding", "padding_price_m2")
            if price
        },
    )


def sheets_cut(campaign: Campaign) -> Counter[int]:
    """Whole sheets of each size that are cut for a campaign."""
    return _counted(PlannedSheet.objects.filter(plan__campaign=campaign, cut_at__isnull=False))


def _sheets(
    campaign: Campaign,
    terms: BudgetTerms,
    sheets: Mapping[int, int] | None,
    prices: Mapping[str, Decimal],
    today: date,
) -> Iterable[MaterialNeed]:
    cut = sheets_cut(campaign)
    if sheets is None:
        sheets = _counted(PlannedSheet.objects.filter(plan__campaign=campaign, cut_at=None))
    breaks, spoiled = _breaks("sheet_size"), spoilage_share(terms)
    for size in sheet_sizes_in_stock().filter(pk__in={*cut, *sheets}).order_by("board__code", "pk"):
        key, to_cut = f"sheet:{size.pk}", sheets.get(size.pk, 0)
        price = prices.get(key, size.price)
        told = say("{to_cut:,} sheets in the cutting plan", to_cut=to_cut + cut[size.pk])
        yield MaterialNeed(
            key=key,
            section=Section.BOARD,
            what=str(size),
            unit="sheet",
            needed=Decimal(to_cut + cut[size.pk]),
            computed_from=told,
            target=Target("board", str(size.board_id)),
            price=price * size.pack,
            spoilage_share=spoiled,
            on_hand=Decimal(size.in_stock + cut[size.pk]),
            pack=Decimal(size.pack),
            breaks=() if key in prices else _of_packs(breaks.get(size.pk, ()), size.pack),
            whole_units=True,
            supplier=str(size.supplier_id) if size.supplier_id else "",
            priced_on=size.priced_on,
            is_withdrawn=_is_past(size.board.withdrawn_on, today) or not size.is_offered,
        )


def _of_packs(breaks: Iterable[tuple[int, Decimal]], pack: int) -> tuple[tuple[int, Decimal], ...]:
    """Breaks by the sheet as breaks by the pack: reached with the first pack that makes so many sheets.

    Of several that the same number of packs reaches, the last holds.
    """
    return tuple({-(-least // pack): price * pack for least, price in sorted(breaks)}.items())


def _breaks(of: str) -> dict[int, tuple[tuple[int, Decimal], ...]]:
    found: dict[int, tuple[tuple[int, Decimal], ...]] = {}
    rows = (
        PriceBreak.objects.exclude(**{of: None}).order_by("least").values_list(f"{of}_id", "least", "price")
    )
    for pk, least, price in rows:
        found[pk] = (*found.get(pk, ()), (least, price))
    return found


def _counted(sheets) -> Counter[int]:
    rows = sheets.exclude(sheet_size=None).order_by().values_list("sheet_size").annotate(Count("pk"))
    return Counter(dict(rows))


def _is_past(day: date | None, today: date) -> bool:
    return day is not None and day <= today
