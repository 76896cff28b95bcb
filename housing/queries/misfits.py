"""Fit checks of boxes: what went wrong, how often, where it repeats, and what it cost."""

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from django.db.models import Count, F, OuterRef, Q, QuerySet, Subquery, Sum, Value
from django.db.models.functions import Coalesce

from housing.core.misfits import Misfit, SideRow, by_side
from housing.models import Campaign, FitCheck, HousedObject, Person, Task
from objects.core.words import noted, say

Cause, Side, Remedy = FitCheck.Cause, FitCheck.Side, FitCheck.Remedy
GOOD = Q(fits=True, lid_closes=True, nothing_touches=True)
NO_KIND = noted("Without classification")
# What a fault that repeats calls for, by its most frequent cause; common practice, no source.
CALLS_FOR = {
    Cause.MEASUREMENT: noted(
        "Measure such objects anew before their boxes are made, or allow {more} on this side."
    ),
    Cause.BLANK: noted("Look at the design and what it allows on this side."),
    Cause.CUTTING: noted("Look at how blanks are marked out, cut and scored."),
    Cause.BOARD: noted("Measure how thick the board is, and correct what is recorded of it."),
    Cause.PADDING: noted("Look at how much padding the design reckons with."),
    Cause.OTHER: noted("Look at the boxes for what they have in common."),
}


@dataclass
class CauseRow:
    """One cause. money: what its misfits cost, board and work, by currency; minutes: of adjusting."""

    cause: str
    misfits: int = 0
    adjusted: int = 0
    remade: int = 0
    minutes: Decimal = Decimal()
    money: defaultdict[str, Decimal] = field(default_factory=lambda: defaultdict(Decimal))

    @property
    def words(self) -> str:
        return str(Cause(self.cause).label)

    @property
    def amounts(self) -> list[tuple[Decimal, str]]:
        return [(amount, currency) for currency, amount in sorted(self.money.items()) if amount]


@dataclass(frozen=True)
class Misfits:
    """What fit checks say. tried: boxes; wrong: of these, boxes in which anything was wrong."""

    tried: int
    wrong: int
    causes: list[CauseRow]
    sides: list[SideRow]

    @property
    def statements(self) -> list[str]:
        """A sentence for each fault that repeats."""
        return [statement(row) for row in self.sides if row.is_systematic]


@dataclass(frozen=True)
class RemakeCosts:
    """What misfits cost a campaign, in its currency; given_minutes: work of volunteers that is lost with the
    boxes made again, which costs no money."""

    remade: int
    board: Decimal
    work: Decimal
    given_minutes: Decimal
    adjusted: int
    adjusting: Decimal

    @property
    def total(self) -> Decimal:
        return self.board + self.work + self.adjusting


def checks_of(
    campaign: Campaign | None = None, since: date | None = None, until: date | None = None
) -> QuerySet[FitCheck]:
    """Fit checks that were not taken back, of a campaign and a period, both days included; `kind` of each is
    the classification of the first object in its box."""
    checks = FitCheck.objects.filter(is_void=False)
    if campaign:
        checks = checks.filter(housing__campaign=campaign)
    if since:
        checks = checks.filter(at__date__gte=since)
    if until:
        checks = checks.filter(at__date__lte=until)
    first = HousedObject.objects.filter(housing=OuterRef("housing")).order_by("position", "pk")
    return checks.annotate(kind=Coalesce(Subquery(first.values("object__classification")[:1]), Value("")))


def misfits_of(checks: QuerySet[FitCheck]) -> Misfits:
    """Fit checks counted by cause, and by kind of object and side."""
    tried = set(checks.order_by().values_list("housing", "kind"))
    wrong = checks.exclude(GOOD).order_by("at", "pk")
    found = [
        Misfit(box, kind, cause, side, None if short is None else float(short))
        for box, kind, cause, side, short in wrong.values_list("housing", "kind", "cause", "side", "short_mm")
    ]
    return Misfits(
        tried=len(tried),
        wrong=len({one.box for one in found}),
        causes=_by_cause(wrong),
        sides=by_side(tried, found),
    )


def _by_cause(wrong: QuerySet[FitCheck]) -> list[CauseRow]:
    """Each cause that occurred, the most frequent first."""
    rows: dict[str, CauseRow] = {}
    told = wrong.order_by().values("cause", "remedy", currency=F("housing__campaign__currency"))
    for row in told.annotate(
        number=Count("pk"), board=Sum("board_cost"), work=Sum("work_cost"), spent=Sum("minutes")
    ):
        one = rows.setdefault(row["cause"], CauseRow(row["cause"]))
        one.misfits += row["number"]
        one.adjusted += row["number"] if row["remedy"] == Remedy.ADJUST else 0
        one.remade += row["number"] if row["remedy"] == Remedy.REMAKE else 0
        one.minutes += row["spent"] or 0 if row["remedy"] == Remedy.ADJUST else 0
        one.money[row["currency"] or ""] += row["board"] + row["work"]
    return sorted(rows.values(), key=lambda one: (-one.misfits, one.cause))


def statement(row: SideRow) -> str:
    """What is said of a kind of object and a side on which a fault repeats; lengths in mm."""
    assert row.spread is not None
    mean = row.spread.mean_mm
    calls_for = say(CALLS_FOR[Cause(row.cause)], more=say("more") if mean > 0 else say("less"))
    kind = f"“{row.group}”" if row.group else say("objects without classification")
    said = {
        "side": Side(row.side).label,
        "kind": kind,
        "wrong": row.misfits,
        "tried": row.tried,
        "mean": f"{abs(mean):.3g}",
        "advice": calls_for,
    }
    if mean > 0:
        return say(
            "{side} of {kind}: {wrong} of {tried} boxes were wrong, on average {mean} mm short. {advice}",
            **said,
        )
    return say(
        "{side} of {kind}: {wrong} of {tried} boxes were wrong, on average {mean} mm too large. {advice}",
        **said,
    )


def misfits_to_show(
    checks: QuerySet[FitCheck], cause: str = "", side: str = "", kind: str = ""
) -> QuerySet[FitCheck]:
    """Checks in which something was wrong, the last first, narrowed to a cause, a side, a kind of object."""
    wrong = checks.exclude(GOOD).select_related("housing__campaign", "by")
    if cause:
        wrong = wrong.filter(cause=cause)
    if side:
        wrong = wrong.filter(side=side)
    if kind:
        wrong = wrong.filter(kind="" if kind in (NO_KIND, say(NO_KIND)) else kind)
    return wrong.prefetch_related("housing__contents__object").order_by("-at", "-pk")


def remake_costs(campaign: Campaign) -> RemakeCosts:
    """What boxes that did not fit have cost a campaign so far."""
    wrong = checks_of(campaign).exclude(GOOD).order_by()
    counts = Counter(wrong.values_list("remedy", flat=True))
    costs = {
        row["remedy"]: row
        for row in wrong.values("remedy").annotate(board=Sum("board_cost"), work=Sum("work_cost"))
    }
    remade, adjusted = costs.get(Remedy.REMAKE, {}), costs.get(Remedy.ADJUST, {})
    return RemakeCosts(
        remade=counts[Remedy.REMAKE],
        board=remade.get("board", Decimal()),
        work=remade.get("work", Decimal()),
        given_minutes=_given_minutes(wrong.filter(remedy=Remedy.REMAKE).values("housing")),
        adjusted=counts[Remedy.ADJUST],
        adjusting=adjusted.get("work", Decimal()),
    )


def _given_minutes(boxes: QuerySet | Iterable[int]) -> Decimal:
    """Minutes of volunteers in finished steps of some boxes; measuring stays of use."""
    done = Task.objects.filter(housing__in=boxes, state=Task.State.DONE).exclude(step=Task.Step.MEASURE)
    given = done.filter(person__kind=Person.Kind.VOLUNTEER).order_by()
    return given.aggregate(n=Sum(Coalesce("spent_minutes", "planned_minutes")))["n"] or Decimal()
