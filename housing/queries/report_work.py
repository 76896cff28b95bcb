"""Of a period: who worked how long at what, what that cost, and what was given in kind."""

from collections import defaultdict
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import Count, Q, QuerySet, Sum

from boards.core.money import to_cents
from housing.core.labour.rates import VOLUNTEER, HourRate
from housing.core.steps import STEPS
from housing.models import Campaign, Person, Task
from housing.queries.periods import Period
from housing.queries.standards import rate_of

HOUR = Decimal(60)
NOBODY, PAID, GIVEN = "Nobody named", "Paid", "Given in kind"
STAFF = "staff"


@dataclass(frozen=True)
class WorkRow:
    """Logged work of a person for campaigns of one currency.

    steps: finished; unlogged: of these, without minutes, which are in no sum. money: cost of paid hours or
    worth of given ones, in hundredths; None where it is not to be shown.
    """

    person: str
    is_given: bool
    steps: int
    unlogged: int
    minutes: Decimal
    money: Decimal | None
    currency: str

    @property
    def hours(self) -> Decimal:
        return self.minutes / HOUR

    @property
    def kind(self) -> str:
        return GIVEN if self.is_given else PAID


@dataclass(frozen=True)
class StepRow:
    """One step of the work. planned: minutes planned for those steps that have logged ones."""

    label: str
    done: int
    minutes: Decimal
    planned: Decimal

    @property
    def hours(self) -> Decimal:
        return self.minutes / HOUR

    @property
    def planned_hours(self) -> Decimal:
        return self.planned / HOUR


@dataclass(frozen=True)
class Work:
    """The work of a period, by person and by step."""

    people: tuple[WorkRow, ...]
    steps: tuple[StepRow, ...]

    @property
    def done(self) -> int:
        return sum(row.steps for row in self.people)

    @property
    def unlogged(self) -> int:
        return sum(row.unlogged for row in self.people)

    @property
    def paid_hours(self) -> Decimal:
        return sum((row.hours for row in self.people if not row.is_given), Decimal())

    @property
    def given_hours(self) -> Decimal:
        return sum((row.hours for row in self.people if row.is_given), Decimal())

    @property
    def hours(self) -> Decimal:
        return self.paid_hours + self.given_hours

    @property
    def cost(self) -> list[tuple[Decimal, str]]:
        """Cost of the paid hours by currency."""
        return self._money(False)

    @property
    def worth(self) -> list[tuple[Decimal, str]]:
        """Worth of the given hours by currency."""
        return self._money(True)

    def _money(self, is_given: bool) -> list[tuple[Decimal, str]]:
        found: defaultdict[str, Decimal] = defaultdict(Decimal)
        for row in self.people:
            if row.is_given == is_given and row.money is not None:
                found[row.currency] += row.money
        return [(money, currency) for currency, money in sorted(found.items())]


def work_of(period: Period, campaign: Campaign | None = None, *, shows_costs: bool = False) -> Work:
    """Steps finished in a period, in three queries. shows_costs: tell what people cost, or are worth."""
    done = Task.objects.filter(period.of("done_at"), state=Task.State.DONE).order_by()
    if campaign:
        done = done.filter(housing__campaign=campaign)
    return Work(_by_person(done, shows_costs), _by_step(done))


def _by_person(done: QuerySet[Task], shows_costs: bool) -> tuple[WorkRow, ...]:
    """Work by person and currency, the paid first; hours of nobody cost as their campaign has it."""
    people = {person.pk: person for person in Person.objects.select_related("grade")}
    rates = {pk: rate_of(person) for pk, person in people.items()}
    logged = Q(spent_minutes__isnull=False)
    told = done.values_list("person", "housing__campaign__currency", "housing__campaign__rate_per_hour")
    kept: dict[tuple[str, bool, str], list[tuple[int, int, Decimal, Decimal]]] = defaultdict(list)
    for pk, currency, rate_per_hour, steps, with_minutes, minutes in told.annotate(
        steps=Count("pk"),
        with_minutes=Count("pk", filter=logged),
        minutes=Sum("spent_minutes", default=Decimal()),
    ):
        rate = rates.get(pk) or HourRate("", NOBODY, STAFF, rate_per_hour or Decimal())
        key = (rate.name, rate.kind == VOLUNTEER, currency or "")
        kept[key].append((steps, steps - with_minutes, minutes, minutes / HOUR * _of_an_hour(rate)))
    rows = [
        WorkRow(
            person=name,
            is_given=is_given,
            steps=sum(one[0] for one in some),
            unlogged=sum(one[1] for one in some),
            minutes=sum((one[2] for one in some), Decimal()),
            money=to_cents(sum((one[3] for one in some), Decimal())) if shows_costs else None,
            currency=currency,
        )
        for (name, is_given, currency), some in kept.items()
    ]
    return tuple(sorted(rows, key=lambda row: (row.is_given, row.person == NOBODY, row.person, row.currency)))


def _of_an_hour(rate: HourRate) -> Decimal:
    return rate.in_kind_rate if rate.kind == VOLUNTEER else rate.rate * (1 + rate.on_cost_share)


def _by_step(done: QuerySet[Task]) -> tuple[StepRow, ...]:
    logged = Q(spent_minutes__isnull=False)
    told = done.values_list("step").annotate(
        done=Count("pk"),
        minutes=Sum("spent_minutes", default=Decimal()),
        planned=Sum("planned_minutes", filter=logged, default=Decimal()),
    )
    rows = {step: StepRow(str(Task.Step(step).label), *figures) for step, *figures in told}
    return tuple(rows[step] for step in STEPS if step in rows)
