"""The lines of a budget: each a quantity times a price, rounded once, with what it was computed from."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum

from boards.core.money import to_cents
from objects.core.words import noted

ONE = Decimal(1)


class Section(StrEnum):
    """Groups of lines in the order of the page."""

    BOARD = "board"
    ADHESIVE = "adhesive"
    PADDING = "padding"
    SUPPLIES = "supplies"
    READY_MADE = "ready_made"
    FREIGHT = "freight"
    LABOUR = "labour"
    SUPERVISION = "supervision"
    INDIRECT = "indirect"
    IN_KIND = "in_kind"  # shown apart, never part of the money
    ON_HAND = "on_hand"  # likewise: what is used of stock that is owned already


SECTION_NAMES = {
    Section.BOARD: noted("Board"),
    Section.ADHESIVE: noted("Adhesive"),
    Section.PADDING: noted("Padding"),
    Section.SUPPLIES: noted("Tape, ties, labels and the like"),
    Section.READY_MADE: noted("Boxes bought ready-made"),
    Section.FREIGHT: noted("Freight"),
    Section.LABOUR: noted("Labour"),
    Section.SUPERVISION: noted("Supervision"),
    Section.INDIRECT: noted("Indirect costs"),
    Section.IN_KIND: noted("Given in kind"),
    Section.ON_HAND: noted("Taken from what is on hand"),
}
APART = frozenset({Section.IN_KIND, Section.ON_HAND})
GOODS = (
    Section.BOARD, Section.ADHESIVE, Section.PADDING, Section.SUPPLIES, Section.READY_MADE, Section.FREIGHT,
)  # fmt: skip


@dataclass(frozen=True)
class Target:
    """The page a line links to: a kind, such as plan, board, supply, standards or person, and a key."""

    kind: str
    key: str = ""


@dataclass(frozen=True)
class BudgetLine:
    """quantity × price × factor, rounded to hundredths, halves upward.

    key: the same for the same thing in every budget, such as "board:12". quantity: of units bought, or of
    hours. price: of a unit. factor: 1 plus on-costs, or 1. computed_from: words with figures, for the reader.
    supplier: the key of whoever sells it, blank for none. step: of labour, the step of the work.
    """

    key: str
    section: Section
    what: str
    quantity: Decimal
    unit: str
    price: Decimal
    computed_from: str
    target: Target
    factor: Decimal = ONE
    supplier: str = ""
    step: str = ""

    @property
    def amount(self) -> Decimal:
        return to_cents(self.quantity * self.price * self.factor)


@dataclass(frozen=True)
class Problem:
    """Something that makes a budget incomplete or doubtful: what is wrong, what it affects, what to do.

    makes_incomplete: whether money is missing from the total, so that it must not be read as the whole.
    """

    what: str
    affects: str
    do: str
    target: Target
    makes_incomplete: bool = True


@dataclass(frozen=True)
class Budget:
    """Lines in one currency, with what is wrong with them.

    contingency: added to the money, as chosen of the range; hundredths.
    """

    currency: str
    lines: tuple[BudgetLine, ...]
    problems: tuple[Problem, ...] = ()
    contingency: Decimal = Decimal()
    hours: dict[str, float] = field(default_factory=dict)  # by step, all people together

    @property
    def money(self) -> Decimal:
        """What has to be paid, without contingency."""
        return total(line for line in self.lines if line.section not in APART)

    @property
    def asked_for(self) -> Decimal:
        """What has to be paid, with contingency."""
        return self.money + self.contingency

    @property
    def is_complete(self) -> bool:
        return not any(problem.makes_incomplete for problem in self.problems)

    def of(self, section: Section) -> tuple[BudgetLine, ...]:
        """The lines of one section."""
        return tuple(line for line in self.lines if line.section is section)

    def section_totals(self) -> dict[Section, Decimal]:
        """Sums of the sections that have a line, in their order."""
        return {section: total(lines) for section in Section if (lines := self.of(section))}


def total(lines: Iterable[BudgetLine]) -> Decimal:
    """Sum of some lines; exact, since each is rounded already."""
    return sum((line.amount for line in lines), Decimal())
