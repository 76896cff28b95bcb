"""When the money and the hours of a budget fall due: by day, and from that by month and between two dates."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from boards.core.money import share_out
from housing.core.budget.lines import APART, GOODS, BudgetLine, Section

type Span = tuple[date, date]  # first and last day
type Day = date | None  # None: nothing says when

DAYS_A_WEEK, FRIDAY = 7, 4
WORK = (Section.LABOUR, Section.SUPERVISION)
ZERO = Decimal()


@dataclass(frozen=True)
class Month:
    """What falls into one month. first: its first day, None for what cannot be dated; hours: of all work."""

    first: Day
    money: Mapping[Section, Decimal] = field(default_factory=dict)
    hours: Decimal = ZERO

    def of(self, *sections: Section) -> Decimal:
        return sum((self.money.get(section, ZERO) for section in sections), ZERO)

    @property
    def goods(self) -> Decimal:
        return self.of(*GOODS)

    @property
    def work(self) -> Decimal:
        return self.of(*WORK)

    @property
    def indirect(self) -> Decimal:
        return self.of(Section.INDIRECT)

    @property
    def in_kind(self) -> Decimal:
        return self.of(Section.IN_KIND)

    @property
    def total(self) -> Decimal:
        """What has to be paid in it, without contingency."""
        return sum((money for section, money in self.money.items() if section not in APART), ZERO)


@dataclass(frozen=True)
class BatchWork:
    """Hours of work on the boxes of one batch between two days; None where nothing says when."""

    batch: int
    span: Span | None
    hours: float


@dataclass(frozen=True)
class Calendar:
    """The money and hours of a budget by the time they fall due.

    months: without a gap from the first to the last, then what cannot be dated; their sums are those of the
    budget exactly. days: what has to be paid on each day. work: hours by batch.
    """

    months: tuple[Month, ...] = ()
    days: Mapping[Day, Decimal] = field(default_factory=dict)
    work: tuple[BatchWork, ...] = ()

    def spent(self, first: date, last: date) -> Decimal:
        """What has to be paid from one day to another, both counted."""
        return sum((money for day, money in self.days.items() if day and first <= day <= last), ZERO)

    def to_json(self) -> dict[str, Any]:
        """What JSON can hold of it."""
        return {
            "rows": [
                {
                    "month": _iso(month.first),
                    "money": {section.value: str(money) for section, money in month.money.items()},
                    "total": str(month.total),
                    "hours": str(month.hours),
                }
                for month in self.months
            ],
            "days": [[_iso(day), str(money)] for day, money in self.days.items()],
            "work": [
                [one.batch, *(map(_iso, one.span) if one.span else ("", "")), round(one.hours, 4)]
                for one in self.work
            ],
        }

    @classmethod
    def from_json(cls, kept: Mapping[str, Any]) -> "Calendar":
        """The calendar that to_json() wrote."""
        return cls(
            months=tuple(
                Month(
                    _day(row["month"]),
                    {Section(section): Decimal(money) for section, money in row["money"].items()},
                    Decimal(row["hours"]),
                )
                for row in kept["rows"]
            ),
            days={_day(day): Decimal(money) for day, money in kept["days"]},
            work=tuple(
                BatchWork(batch, _span(first, last), hours) for batch, first, last, hours in kept["work"]
            ),
        )


def week_of(starts_on: date, week: int) -> Span:
    """First and last day of a week of a campaign, counted from 1: seven days from the day it starts."""
    first = starts_on + timedelta(days=DAYS_A_WEEK * (week - 1))
    return first, first + timedelta(days=DAYS_A_WEEK - 1)


def days_of(span: Span) -> list[date]:
    """The days of a span on which its work is done: Monday to Friday, or all of them if it has none of these.

    Source: assumed, a working week from Monday to Friday, every day alike.
    """
    first, last = span
    days = [first + timedelta(days=n) for n in range((last - first).days + 1)]
    return [day for day in days if day.weekday() <= FRIDAY] or days


def by_day(weights: Mapping[Span, float]) -> dict[date, float]:
    """Weights of spans shared out evenly over their working days."""
    of_days: defaultdict[date, float] = defaultdict(float)
    for span, weight in weights.items():
        days = days_of(span)
        for day in days:
            of_days[day] += weight / len(days)
    return dict(of_days)


def calendar_of(
    lines: Sequence[BudgetLine],
    when: Mapping[str, Mapping[Span, float]],
    work: Sequence[BatchWork],
    hours: Decimal,
) -> Calendar:
    """When each line of a budget falls due, to the cent; what is on hand already is left out.

    when: by key of a line how much of it falls into which span, in any unit; a line that is not in it, or of
    which nothing falls anywhere, cannot be dated. Indirect costs follow all others. work: hours by batch.
    hours: of the budget, in hundredths, to which those of the months add up.
    """
    due: defaultdict[Day, defaultdict[Section, Decimal]] = defaultdict(lambda: defaultdict(Decimal))
    for line in sorted(lines, key=lambda line: line.section is Section.INDIRECT):
        if line.section is Section.ON_HAND or not line.amount:
            continue
        days: dict[Day, float] = dict(by_day(when.get(line.key, {})).items())
        if line.section is Section.INDIRECT:
            days = {day: float(_paid(money)) for day, money in due.items()}
        for day, share in _shares(line.amount, days):
            due[day][line.section] += share
    in_order = sorted(due, key=lambda day: day or date.max)
    return Calendar(
        months=tuple(_months(due, work, hours)),
        days={day: money for day in in_order if (money := _paid(due[day]))},
        work=tuple(work),
    )


def _shares(amount: Decimal, days: Mapping[Day, float]) -> Iterator[tuple[Day, Decimal]]:
    weighty = {day: weight for day, weight in days.items() if weight > 0}
    if not weighty:
        return iter([(None, amount)])
    return zip(weighty, share_out(amount, list(weighty.values())), strict=True)


def _paid(money: Mapping[Section, Decimal]) -> Decimal:
    return sum((amount for section, amount in money.items() if section not in APART), ZERO)


def _months(
    due: Mapping[Day, Mapping[Section, Decimal]], work: Sequence[BatchWork], hours: Decimal
) -> Iterator[Month]:
    money: defaultdict[Day, defaultdict[Section, Decimal]] = defaultdict(lambda: defaultdict(Decimal))
    for day, sections in due.items():
        for section, amount in sections.items():
            money[_first(day)][section] += amount
    worked: defaultdict[Day, float] = defaultdict(float)
    for one in work:
        for of_day, share in by_day({one.span: one.hours}).items() if one.span else [(None, one.hours)]:
            worked[_first(of_day)] += share
    of_month = dict(_shares(hours, worked)) if hours else {}
    found = {*money, *of_month}
    dated = sorted(first for first in found if first)
    months: list[Day] = list(_from_to(dated[0], dated[-1])) if dated else []
    for first in [*months, *([None] if None in found else [])]:
        yield Month(first, _in_order(money[first]), of_month.get(first, ZERO))


def _in_order(money: Mapping[Section, Decimal]) -> dict[Section, Decimal]:
    return {section: money[section] for section in Section if section in money}


def _from_to(first: date, last: date) -> Iterator[date]:
    while first <= last:
        yield first
        first = (first + timedelta(days=31)).replace(day=1)


def _first(day: Day) -> Day:
    return day and day.replace(day=1)


def _iso(day: Day) -> str:
    return day.isoformat() if day else ""


def _day(text: str) -> Day:
    return date.fromisoformat(text) if text else None


def _span(first: str, last: str) -> Span | None:
    return (date.fromisoformat(first), date.fromisoformat(last)) if first else None
