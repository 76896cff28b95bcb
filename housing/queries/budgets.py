"""Budgets of a campaign: the live one, its baselines, the terms, and what has changed since one was made."""

from collections.abc import Iterable
from datetime import datetime
from decimal import Decimal
from hashlib import blake2b
from typing import Any

from django.db.models import Count, Q, QuerySet, Sum
from django.db.models.functions import Coalesce

from boards.models import Board, PriceBreak, SheetSize, Supplier, Supply
from housing.core.budget import telling
from housing.core.budget.lines import Budget as CoreBudget
from housing.core.budget.stored import from_json
from housing.models import (
    Budget,
    BudgetTerms,
    Campaign,
    CuttingPlan,
    Grade,
    Housing,
    PlannedSheet,
    StandardTime,
    Task,
)
from housing.queries.learned import spoilage_share
from housing.queries.logged import corrections_of
from housing.queries.progress import is_plan_current
from objects.core.words import noted, say

# Terms that are words or a choice made of a finished budget: it need not be worked out again for them.
NO_FIGURES = {"id", "campaign", "contingency_percent", "funder_note", "in_kind_source"}
STOCK = ("on_hand", "reorder_level")  # of a supply: what is on hand stands apart, the other is no figure
CAMPAIGN_FIGURES = ("currency", "rate_per_hour", "glue_price_kg", "starts_on")
PERSON_FIGURES = (
    "pk", "name", "kind", "hours_per_week", "grade", "rate_per_hour", "on_cost_share", "in_kind_rate",
    "skills", "is_active",
)  # fmt: skip
WORDS = {
    "plan": noted("the cutting plan"),
    "prices": noted("a price of board, or a supplier"),
    "supplies": noted("a supply or its price"),
    "times": noted("a standard time"),
    "logged": noted("minutes that were logged, which correct the standard times"),
    "people": noted("a person or a grade"),
    "work": noted("who does what"),
    "terms": noted("the terms or the campaign's own figures"),
    "on_hand": noted("what is on hand"),
}
PLAN_IS_OLD = noted("an object, a design or a board that the plan rests on")


def terms_of(campaign: Campaign) -> BudgetTerms:
    """The figures that the campaign's budget rests on; unsaved, usual ones if none were entered."""
    return BudgetTerms.objects.filter(campaign=campaign).select_related("supervisor").first() or BudgetTerms(
        campaign=campaign
    )


def live_budget(campaign: Campaign) -> Budget | None:
    """The budget that is worked out again as things change, if it was worked out at all."""
    return Budget.objects.filter(campaign=campaign, frozen_at=None).select_related("by").first()


def baselines(campaign: Campaign) -> QuerySet[Budget]:
    """The campaign's frozen budgets, the newest first."""
    frozen = Budget.objects.filter(campaign=campaign).exclude(frozen_at=None)
    return frozen.select_related("by", "campaign").order_by("-frozen_at", "-pk")


def read_budget(stored: Budget) -> CoreBudget:
    """A stored budget as the core knows it: its lines, problems, contingency and hours."""
    return from_json(stored.content)


def told_budget(stored: Budget) -> CoreBudget:
    """A stored budget to be shown: what it says is in the language spoken."""
    return telling.told_budget(read_budget(stored))


def is_budget_current(budget: Budget) -> bool:
    """Whether everything that a budget rests on is still as it was when it was made."""
    return not changes_since(budget)


def changes_since(budget: Budget) -> list[str]:
    """What has changed since a budget was made, in words that complete "Changed since: ..."."""
    was, now = budget.content.get("inputs", {}), inputs_of(budget.campaign)
    changed = [say(words) for key, words in WORDS.items() if was.get(key) != now[key]]
    return changed + ([] if is_plan_current(budget.campaign) else [say(PLAN_IS_OLD)])


def inputs_of(campaign: Campaign) -> dict[str, str]:
    """A fingerprint of each kind of figure that a budget rests on; equal ones mean equal figures."""
    boards = Board.objects.filter(
        Q(pk__in=PlannedSheet.objects.filter(plan__campaign=campaign).values("board"))
        | Q(pk__in=Housing.objects.filter(campaign=campaign).values("design__board"))
    )
    sizes = SheetSize.objects.filter(board__in=boards).order_by("pk")
    supplies = Supply.objects.order_by("pk")
    terms = terms_of(campaign)
    return {
        "plan": _print([CuttingPlan.objects.filter(campaign=campaign).values_list("made_at").first()]),
        "prices": _print(
            boards.order_by("pk").values_list("pk", "withdrawn_on"),
            sizes.values_list("pk", "price", "pack", "supplier", "priced_on"),
            PriceBreak.objects.filter(sheet_size__in=sizes).order_by("pk").values_list(),
            Supplier.objects.order_by("pk").values_list(),
        ),
        "supplies": _print(
            supplies.values_list(*(f.attname for f in Supply._meta.concrete_fields if f.name not in STOCK)),
            PriceBreak.objects.exclude(supply=None).order_by("pk").values_list(),
        ),
        "times": _print(
            StandardTime.objects.order_by("pk").values_list("element", "design", "low", "likely", "high")
        ),
        "logged": _print(_corrections(campaign, terms), [spoilage_share(terms)]),
        "people": _print(
            campaign.people.order_by("pk").values_list(*PERSON_FIGURES),
            Grade.objects.filter(people__campaigns=campaign).distinct().order_by("pk").values_list(),
        ),
        "work": _print(_hours_of_people(campaign)),
        "terms": _print(
            [getattr(terms, f.attname) for f in terms._meta.concrete_fields if f.name not in NO_FIGURES],
            Campaign.objects.filter(pk=campaign.pk).values_list(*CAMPAIGN_FIGURES),
        ),
        "on_hand": _print(_sheets_on_hand(campaign, sizes), supplies.values_list("pk", "on_hand")),
    }


def _corrections(campaign: Campaign, terms: BudgetTerms) -> Iterable[tuple[Any, ...]]:
    """What the log makes of the standard times of the campaign's forms, to a hundredth."""
    forms = {"", *Housing.objects.filter(campaign=campaign).values_list("design__form", flat=True)}
    found = corrections_of(terms).items()
    return sorted((form, step, f"{factor:.2f}") for (form, step), factor in found if form in forms)


def _hours_of_people(campaign: Campaign) -> Iterable[tuple[Any, ...]]:
    """Tasks and minutes of each person and step; whose work a box is decides what it costs."""
    tasks = Task.objects.filter(housing__campaign=campaign).exclude(housing__status=Housing.Status.DROPPED)
    given = tasks.exclude(person=None).order_by("person", "step").values_list("person", "step")
    found = given.annotate(Count("pk"), Sum("planned_minutes"))
    return [(person, step, number, f"{minutes:.1f}") for person, step, number, minutes in found]


def _sheets_on_hand(campaign: Campaign, sizes: QuerySet[SheetSize]) -> Iterable[tuple[Any, ...]]:
    """Sheets of each size in stock and cut for this campaign together: cutting one changes nothing."""
    cut = dict(
        PlannedSheet.objects.filter(plan__campaign=campaign, cut_at__isnull=False)
        .order_by()
        .values_list("sheet_size")
        .annotate(Count("pk"))
    )
    stock = sizes.annotate(in_stock=Coalesce(Sum("movements__quantity"), 0)).values_list("pk", "in_stock")
    return [(size, in_stock + cut.get(size, 0)) for size, in_stock in stock]


def _print(*rows: Iterable[Any]) -> str:
    shown = repr([[_plain(value) for value in some] for some in rows])
    return blake2b(shown.encode(), digest_size=8).hexdigest()


def _plain(value: Any) -> Any:
    """A value that reads the same each time, whether it was fetched or is still as it was entered."""
    if isinstance(value, (tuple, list)):
        return [_plain(one) for one in value]
    if isinstance(value, Decimal):
        return f"{value.normalize():f}"
    return value.isoformat() if isinstance(value, datetime) else str(value)


def boxes_without_a_plan(campaign: Campaign) -> int:
    """Objects of the campaign for which no box was even thought of, since they came after the last plan."""
    live = Q(object__housing_ties__is_live=True)
    return (
        campaign.memberships.annotate(boxes=Count("object__housing_ties", filter=live))
        .filter(boxes=0)
        .order_by()
        .count()
    )


def waiting_counts(campaign: Campaign) -> dict[str, int]:
    """Waiting boxes of a campaign by what they wait for."""
    waiting = Housing.objects.filter(campaign=campaign, status=Housing.Status.WAITING)
    return dict(waiting.order_by("problem").values_list("problem").annotate(Count("pk")))
