"""What hours cost: who works how long at which rate, what is given in kind, and who supervises."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from boards.core.money import to_cents
from housing.core.budget.lines import BudgetLine, Problem, Section, Target
from objects.core.words import noted

VOLUNTEER, INTERN = "volunteer", "intern"
SUPERVISED = frozenset({VOLUNTEER, INTERN})
NOBODY = ""
STEP_NAMES = {
    "measure": noted("measuring"),
    "fetch": noted("fetching board and object"),
    "cut": noted("cutting"),
    "score": noted("marking out and scoring"),
    "glue": noted("folding and gluing"),
    "lid": noted("making the lid"),
    "fit": noted("padding, fitting and photographing"),
    "label": noted("labelling"),
    "return": noted("returning to the shelf"),
}
NOT_FOUND = noted("Whoever is still to be found")
IN_KIND_RULE = noted(
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
    who = rate.name if worked.person else NOT_FOUND
    told = noted("{hours:,} hours of {step}, by the standard times and the planned boxes")
    if is_given:
        told = noted(
            "{hours:,} hours of {step}, by the standard times and the planned boxes, "
            "valued at {price} an hour"
        )
    told = told.format(hours=hours, step=step, price=rate.in_kind_rate)
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
        what=noted("{person}: supervising volunteers and interns").format(person=rate.name or NOT_FOUND),
        quantity=_hours(supervised * float(supervision.share)),
        unit="h",
        price=rate.rate,
        computed_from=noted("{share:.0%} of {hours:,} hours of volunteers and interns").format(
            share=supervision.share, hours=_hours(supervised)
        ),
        target=Target("terms"),
        factor=1 + rate.on_cost_share,
    )


def _problems(by_person: Mapping[str, float], of: Mapping[str, HourRate]) -> Iterator[Problem]:
    for key, hours in by_person.items():
        rate, told = of[key], noted("{hours:,} hours").format(hours=_hours(hours))
        if not key:
            if hours > 0:
                yield Problem(
                    noted("Nobody has {told} of the work").format(told=told),
                    noted("They are reckoned at the campaign's rate of {price} an hour").format(
                        price=rate.rate
                    ),
                    noted("Add people with the skills, or more hours, to the campaign and plan it again"),
                    Target("tasks"),
                    makes_incomplete=not rate.rate,
                )
            continue
        person = Target("person", key)
        if rate.hours_per_week is not None and rate.hours_per_week <= 0:
            yield Problem(
                noted("{name} has no hours a week").format(name=rate.name),
                noted("Nothing can be given to them, or what they have begun cannot be dated"),
                noted("Enter hours a week on their page, or take them out of the campaign"),
                person,
                makes_incomplete=False,
            )
        if rate.kind == VOLUNTEER:
            if not rate.in_kind_rate and hours > 0:
                yield Problem(
                    noted("No worth of an hour is entered for {name}, a volunteer").format(name=rate.name),
                    noted("{told} given in kind show as nothing").format(told=told),
                    noted("Enter the worth of an hour for the person or the grade. {rule}").format(
                        rule=IN_KIND_RULE
                    ),
                    person,
                    makes_incomplete=False,
                )
        elif not rate.rate:
            yield Problem(
                noted("No rate is entered for {name}, who is paid").format(name=rate.name),
                noted("{told} are missing from the cost of labour").format(told=told),
                noted("Enter what an hour costs for the person or the grade"),
                person,
            )


def _hours(hours: float) -> Decimal:
    return Decimal(f"{hours:.2f}")
