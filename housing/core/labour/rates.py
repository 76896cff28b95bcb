"""What hours cost: who works how long at which rate, what is given in kind, and who supervises."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from boards.core.money import to_cents
from housing.core.budget.lines import BudgetLine, Problem, Section, Target

VOLUNTEER, INTERN = "volunteer", "intern"
SUPERVISED = frozenset({VOLUNTEER, INTERN})
NOBODY = ""
STEP_NAMES = {
    "measure": "measuring",
    "fetch": "fetching board and object",
    "cut": "cutting",
    "score": "marking out and scoring",
    "glue": "folding and gluing",
    "lid": "making the lid",
    "fit": "padding, fitting and photographing",
    "label": "labelling",
    "return": "returning to the shelf",
}
IN_KIND_RULE = (
    "US federal awards: volunteer hours count at the rate paid for similar work, with reasonable fringe "
    "benefits (2 CFR 200.306(e)); ask your own funder what it accepts"
)


@dataclass(frozen=True)
class HourRate:
    """What an hour of a person costs, or is worth where it is given.

    key: of the person, "" for whoever is still to be found. rate: paid for an hour. on_cost_share: of the
    pay, such as 0.28. in_kind_rate: worth of an hour that is given. source: where the figures come from.
    hours_per_week: None where it does not matter.
    """

    key: str
    name: str
    kind: str
    rate: Decimal
    on_cost_share: Decimal = Decimal()
    in_kind_rate: Decimal = Decimal()
    source: str = ""
    hours_per_week: Decimal | None = None

    @property
    def cost(self) -> Decimal:
        """What a paid hour costs with on-costs, in hundredths."""
        return to_cents(self.rate * (1 + self.on_cost_share))


@dataclass(frozen=True)
class WorkedHours:
    """Hours of one person at one step of the work; person "" for those that nobody has."""

    person: str
    step: str
    hours: float


@dataclass(frozen=True)
class Supervision:
    """Who supervises volunteers and interns, and for what share of their hours."""

    share: Decimal = Decimal()
    person: str = ""


def labour_lines(
    hours: Sequence[WorkedHours], rates: Sequence[HourRate], supervision: Supervision | None = None
) -> tuple[list[BudgetLine], list[Problem]]:
    """Lines of labour, of supervision and of what is given in kind, and what is wrong with them.

    hours: who works how long at what. rates: of everybody named in hours, "" for whoever is to be found.
    Returns one line a person and step; hours in hundredths, each line rounded once.
    Raises KeyError for a person without an entry in rates.
    Source: hours × rate × (1 + on-costs), worked by hand in tests/housing/core/labour/test_rates.py.
    """
    of = {rate.key: rate for rate in rates}
    lines: list[BudgetLine] = []
    problems: list[Problem] = []
    for worked in hours:
        if worked.hours > 0:
            lines.append(_line(worked, of[worked.person]))
    by_person: defaultdict[str, float] = defaultdict(float)
    for worked in hours:
        by_person[worked.person] += worked.hours
    if line := _supervision_line(by_person, of, supervision):
        lines.append(line)
        by_person.setdefault(supervision.person if supervision else NOBODY, 0.0)
    problems += _problems(by_person, of)
    return lines, problems


def _line(worked: WorkedHours, rate: HourRate) -> BudgetLine:
    is_given = rate.kind == VOLUNTEER
    step = STEP_NAMES.get(worked.step, worked.step)
    hours = _hours(worked.hours)
    who = rate.name if worked.person else "Whoever is still to be found"
    told = f"{hours:,} hours of {step}, by the standard times and the planned boxes"
    if is_given:
        told += f", valued at {rate.in_kind_rate} an hour"
    return BudgetLine(
        key=f"labour:{worked.person or 'nobody'}:{worked.step}",
        section=Section.IN_KIND if is_given else Section.LABOUR,
        what=f"{who}: {step}",
        quantity=hours,
        unit="h",
        price=rate.in_kind_rate if is_given else rate.rate,
        computed_from=told + (f". {rate.source}" if rate.source else ""),
        target=Target("person", worked.person) if worked.person else Target("campaign"),
        factor=1 + (Decimal() if is_given else rate.on_cost_share),
        step=worked.step,
    )


def _supervision_line(
    by_person: Mapping[str, float], of: Mapping[str, HourRate], supervision: Supervision | None
) -> BudgetLine | None:
    if supervision is None or not supervision.share:
        return None
    supervised = sum(hours for key, hours in by_person.items() if of[key].kind in SUPERVISED)
    if not supervised:
        return None
    rate = of[supervision.person]
    return BudgetLine(
        key="supervision",
        section=Section.SUPERVISION,
        what=f"{rate.name or 'Whoever is still to be found'}: supervising volunteers and interns",
        quantity=_hours(supervised * float(supervision.share)),
        unit="h",
        price=rate.rate,
        computed_from=f"{supervision.share:.0%} of {_hours(supervised):,} hours of volunteers and interns",
        target=Target("terms"),
        factor=1 + rate.on_cost_share,
    )


def _problems(by_person: Mapping[str, float], of: Mapping[str, HourRate]) -> Iterator[Problem]:
    for key, hours in by_person.items():
        rate, told = of[key], f"{_hours(hours):,} hours"
        if not key:
            if hours > 0:
                yield Problem(
                    f"Nobody has {told} of the work",
                    f"They are reckoned at the campaign's rate of {rate.rate} an hour",
                    "Add people with the skills, or more hours, to the campaign and plan it again",
                    Target("tasks"),
                    makes_incomplete=not rate.rate,
                )
            continue
        person = Target("person", key)
        if rate.hours_per_week is not None and rate.hours_per_week <= 0:
            yield Problem(
                f"{rate.name} has no hours a week",
                "Nothing can be given to them, or what they have begun cannot be dated",
                "Enter hours a week on their page, or take them out of the campaign",
                person,
                makes_incomplete=False,
            )
        if rate.kind == VOLUNTEER:
            if not rate.in_kind_rate and hours > 0:
                yield Problem(
                    f"No worth of an hour is entered for {rate.name}, a volunteer",
                    f"{told} given in kind show as nothing",
                    f"Enter the worth of an hour for the person or the grade. {IN_KIND_RULE}",
                    person,
                    makes_incomplete=False,
                )
        elif not rate.rate:
            yield Problem(
                f"No rate is entered for {rate.name}, who is paid",
                f"{told} are missing from the cost of labour",
                "Enter what an hour costs for the person or the grade",
                person,
            )


def _hours(hours: float) -> Decimal:
    return Decimal(f"{hours:.2f}")
