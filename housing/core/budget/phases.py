"""Phases of a campaign, such as grant periods: what their batches cost, whether hours and money suffice."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from housing.core.budget.lines import Problem, Target
from housing.core.budget.months import Calendar, by_day, days_of
from objects.core.words import noted, say

WORKING_DAYS = 5


@dataclass(frozen=True)
class PhaseTerms:
    """A phase as it was entered. money: its limit, None for none; batches: from first to last, both too."""

    name: str
    starts_on: date
    ends_on: date
    first_batch: int
    last_batch: int
    money: Decimal | None = None
    key: str = ""

    def holds(self, batch: int) -> bool:
        return self.first_batch <= batch <= self.last_batch

    @property
    def batches(self) -> str:
        """In words: batch 2, or batches 1 to 3."""
        if self.first_batch == self.last_batch:
            return say("batch {number}", number=self.first_batch)
        return say("batches {first} to {last}", first=self.first_batch, last=self.last_batch)


@dataclass(frozen=True)
class BatchCost:
    """What the boxes of a batch cost; batch None for money that no box causes."""

    batch: int | None
    boxes: int
    money: Decimal


@dataclass(frozen=True)
class PhaseFigures:
    """A phase with its figures.

    cost: of the boxes of its batches, whenever it is paid. spent: what of the whole budget is paid between
    its dates. hours: of its batches; outside: those of them that are planned before or after its dates, or
    at no known time. given: hours that people have between its dates.
    """

    terms: PhaseTerms
    boxes: int
    cost: Decimal
    spent: Decimal
    hours: float
    outside: float
    given: float

    @property
    def left(self) -> Decimal | None:
        """Of its money, below 0 where that is not enough; None where it has no limit."""
        return None if self.terms.money is None else self.terms.money - self.cost

    @property
    def is_over(self) -> bool:
        return self.left is not None and self.left < 0


def phase_figures(
    phases: Sequence[PhaseTerms], batches: Sequence[BatchCost], calendar: Calendar, hours_a_week: float
) -> list[PhaseFigures]:
    """The figures of each phase. hours_a_week: of all people together, from Monday to Friday."""
    return [
        PhaseFigures(
            terms=phase,
            boxes=sum(one.boxes for one in _held(phase, batches)),
            cost=sum((one.money for one in _held(phase, batches)), Decimal()),
            spent=calendar.spent(phase.starts_on, phase.ends_on),
            hours=sum(one.hours for one in calendar.work if phase.holds(one.batch)),
            outside=_outside(phase, calendar),
            given=hours_a_week * working_days(phase) / WORKING_DAYS,
        )
        for phase in phases
    ]


def working_days(phase: PhaseTerms) -> int:
    """Days of a phase from Monday to Friday."""
    days = days_of((phase.starts_on, phase.ends_on))
    return sum(day.weekday() < WORKING_DAYS for day in days)


def _held(phase: PhaseTerms, batches: Sequence[BatchCost]) -> list[BatchCost]:
    return [one for one in batches if one.batch is not None and phase.holds(one.batch)]


def _outside(phase: PhaseTerms, calendar: Calendar) -> float:
    outside = 0.0
    for one in calendar.work:
        if phase.holds(one.batch):
            within = by_day({one.span: one.hours}) if one.span else {}
            inside = (hours for day, hours in within.items() if phase.starts_on <= day <= phase.ends_on)
            outside += one.hours - sum(inside)
    return outside


def phase_problems(
    phases: Sequence[PhaseFigures],
    batches: Sequence[BatchCost],
    currency: str,
    campaign_dates: tuple[date | None, date | None],
) -> Iterator[Problem]:
    """What is wrong with the phases of a campaign: money, hours, batches and dates, in words.

    campaign_dates: when the campaign starts and is to be done, None where not entered.
    """
    starts_on, ends_on = campaign_dates
    if phases and starts_on is None:
        yield _problem(
            noted("The campaign has no start date"),
            noted("Hours and spending cannot be dated, so they are in no phase's dates"),
            noted("Enter the day it starts"),
            Target("campaign"),
        )
    for one in phases:
        yield from _of_phase(one, currency, starts_on, ends_on)
    if phases:
        yield from _of_batches([one.terms for one in phases], batches, currency)


def _of_phase(
    one: PhaseFigures, currency: str, starts_on: date | None, ends_on: date | None
) -> Iterator[Problem]:
    phase, target = one.terms, Target("phase", one.terms.key)
    if one.left is not None and one.is_over:
        yield _problem(
            noted("“{name}” costs {cost:,.2f} {currency} and has {money:,.2f}").format(
                name=phase.name, cost=one.cost, currency=currency, money=phase.money
            ),
            noted("{money:,.2f} {currency} are missing").format(money=-one.left, currency=currency),
            noted("Give it more money or fewer batches"),
            target,
        )
    if one.hours > one.given:
        yield _problem(
            noted("“{name}” takes {hours:,.1f} hours and people have {given:,.1f} between its dates").format(
                name=phase.name, hours=one.hours, given=one.given
            ),
            noted("{hours:,.1f} hours cannot be done in it").format(hours=one.hours - one.given),
            noted("Add people or hours, give it a later end, or fewer batches"),
            target,
        )
    elif starts_on is not None and one.outside >= 0.05:
        yield _problem(
            noted("{outside:,.1f} of {hours:,.1f} hours of “{name}” are planned outside its dates").format(
                outside=one.outside, hours=one.hours, name=phase.name
            ),
            noted("It lasts from {first_day} to {last_day}").format(
                first_day=_told(phase.starts_on), last_day=_told(phase.ends_on)
            ),
            noted("Change its dates or batches, or plan the campaign again"),
            target,
        )
    if starts_on and phase.starts_on < starts_on:
        yield _problem(
            noted("“{name}” starts on {first_day}, before the campaign does").format(
                name=phase.name, first_day=_told(phase.starts_on)
            ),
            noted("The campaign starts on {day}").format(day=_told(starts_on)),
            noted("Change one of the dates"),
            target,
        )
    if ends_on and phase.ends_on > ends_on:
        yield _problem(
            noted("“{name}” ends on {last_day}, after the campaign is to be done").format(
                name=phase.name, last_day=_told(phase.ends_on)
            ),
            noted("The campaign is to be done by {day}").format(day=_told(ends_on)),
            noted("Change one of the dates"),
            target,
        )


def _of_batches(
    phases: Sequence[PhaseTerms], batches: Sequence[BatchCost], currency: str
) -> Iterator[Problem]:
    in_phases = {one.batch: [p.name for p in phases if p.holds(one.batch)] for one in batches if one.batch}
    money: Mapping[int | None, Decimal] = {one.batch: one.money for one in batches}
    for batch, names in sorted(in_phases.items()):
        if not names:
            yield _problem(
                noted("Batch {batch} is in no phase").format(batch=batch),
                noted("{money:,.2f} {currency} are in no phase's money").format(
                    money=money[batch], currency=currency
                ),
                noted("Give it to a phase"),
                Target("phases"),
            )
        elif len(names) > 1:
            yield _problem(
                noted("Batch {batch} is in {text}").format(
                    batch=batch, text=" and ".join(f"“{name}”" for name in names)
                ),
                noted("Its {money:,.2f} {currency} count in each of them").format(
                    money=money[batch], currency=currency
                ),
                noted("Leave it in one of them"),
                Target("phases"),
            )
    for phase in phases:
        if not any(phase.holds(batch) for batch in in_phases):
            yield _problem(
                noted("No box is in {batches}, which “{name}” is for").format(
                    batches=phase.batches, name=phase.name
                ),
                noted("It costs nothing and has no hours"),
                noted("Give it other batches, or give objects to its batches"),
                Target("phase", phase.key),
            )


def _problem(what: str, affects: str, do: str, target: Target) -> Problem:
    return Problem(what, affects, do, target, makes_incomplete=False)


def _told(day: date) -> str:
    return f"{day:%-d %B %Y}"
