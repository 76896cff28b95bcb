"""What the log and the stock say of standard times and of spoilage, beside what was stated."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import Sum

from boards.models import StockMovement
from housing.core.enclosures import ENCLOSURES
from housing.core.labour.posterior import Posterior, by_form, by_person, by_step
from housing.core.labour.spoiling import Spoiling, spoiling
from housing.models import BudgetTerms, Person, PlannedSheet, Task
from housing.queries.logged import logged_tasks
from objects.core.words import say


@dataclass(frozen=True)
class LearnedRow:
    """One thing that was learned about, in words, and what."""

    label: str
    step: str
    found: Posterior

    @property
    def percents(self) -> tuple[int, int | None, int, int, int]:
        """Prior, data, posterior and its low and high end in per cent of the standard time."""
        one = self.found
        data = None if one.data is None else round(one.data * 100)
        prior, factor, low, high = (round(n * 100) for n in (one.prior, one.factor, one.low, one.high))
        return prior, data, factor, low, high


@dataclass(frozen=True)
class Spoilage:
    """Sheets cut and written off, and those spoiled on top of each good one: as stated, and what follows."""

    cut: int
    spoiled: int
    stated: Decimal
    found: Spoiling

    @property
    def share(self) -> Decimal:
        return Decimal(f"{self.found.share:.3f}")

    @property
    def happened_percent(self) -> str:
        """Of the sheets cut; blank before any was."""
        return f"{100 * self.spoiled / self.cut:.1f}" if self.cut else ""

    @property
    def stated_percent(self) -> str:
        return f"{self.stated * 100:.1f}"

    @property
    def percent(self) -> str:
        return f"{self.share * 100:.1f}"

    @property
    def between(self) -> tuple[str, str]:
        return f"{self.found.low * 100:.1f}", f"{self.found.high * 100:.1f}"


@dataclass(frozen=True)
class Learned:
    """All of it. jobs: how many logged steps there are."""

    jobs: int
    steps: list[LearnedRow]
    forms: list[LearnedRow]
    people: list[LearnedRow]
    spoilage: Spoilage


def learned(terms: BudgetTerms) -> Learned:
    """What was learned from every campaign, for the page."""
    logged, steps = logged_tasks(terms), dict(Task.Step.choices)
    names = {str(pk): name for pk, name in Person.objects.values_list("pk", "name")}
    return Learned(
        jobs=len(logged),
        steps=_rows({("", step): one for step, one in by_step(logged).items()}, steps),
        forms=_rows(by_form(logged), steps),
        people=[
            LearnedRow(names[person], "", one)
            for person, one in sorted(by_person(logged).items(), key=lambda item: names.get(item[0], ""))
            if person in names
        ],
        spoilage=spoilage_of(terms),
    )


def _rows(found: Mapping[tuple[str, str], Posterior], steps: Mapping[str, str]) -> list[LearnedRow]:
    order = list(steps)
    return [
        LearnedRow(say(ENCLOSURES[form].name) if form in ENCLOSURES else say("All forms"), steps[step], one)
        for (form, step), one in sorted(found.items(), key=lambda item: (item[0][0], order.index(item[0][1])))
    ]


def spoilage_of(terms: BudgetTerms) -> Spoilage:
    """Sheets spoiled beside those cut so far, in every campaign; reversed write-offs do not count."""
    cut = PlannedSheet.objects.filter(cut_at__isnull=False, sheet_size__isnull=False).count()
    written_off = StockMovement.objects.filter(kind=StockMovement.Kind.WRITE_OFF, reversed_by=None)
    spoiled = -(written_off.aggregate(n=Sum("quantity"))["n"] or 0)
    stated = terms.board_spoilage_share
    return Spoilage(cut, spoiled, stated, spoiling(float(stated), cut, spoiled))


def spoilage_share(terms: BudgetTerms) -> Decimal:
    """The share that a budget reckons with: as learned, where the campaign lets the log correct it."""
    return spoilage_of(terms).share if terms.uses_logged_times else terms.board_spoilage_share
