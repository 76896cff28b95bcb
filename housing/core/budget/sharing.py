"""Who causes which cost: each line of a budget shared out over its boxes, so that it all adds up again."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal

import numpy as np
from numpy.typing import NDArray

from boards.core.money import CENT, share_out
from housing.core.budget.facts import BoxFacts
from housing.core.budget.lines import APART, GOODS, BudgetLine, Section, total

type Weights = NDArray[np.float64]
type Cents = NDArray[np.int64]

# What follows others, in this order: freight the goods it brings, indirect costs all the rest.
LAST = (Section.FREIGHT, Section.INDIRECT)
# Sections with a column of their own where boxes are shown in groups.
SHOWN_APART = (Section.BOARD, Section.ADHESIVE, Section.PADDING, Section.LABOUR)


@dataclass(frozen=True)
class GroupCost:
    """What some boxes cost. money: by section, hundredths; boxes: how many; hours: of work."""

    label: str
    boxes: int
    hours: float
    money: Mapping[Section, Decimal]

    @property
    def total(self) -> Decimal:
        return sum(self.money.values(), Decimal())

    @property
    def average(self) -> Decimal | None:
        """Of one box; exact, so not in hundredths."""
        return self.total / self.boxes if self.boxes else None


@dataclass(frozen=True)
class BoxShares:
    """The money of a budget by box and section, in whole hundredths, and the minutes of each box.

    left: by section, what no box causes since there is none.
    """

    keys: tuple[str, ...]
    cents: Mapping[Section, Cents]
    minutes: Weights
    left: Mapping[Section, Decimal] = field(default_factory=dict)

    def of(self, *sections: Section) -> list[Decimal]:
        """Money of each box in some sections together."""
        sums = sum((self.cents[s] for s in sections if s in self.cents), np.zeros(len(self.keys), np.int64))
        return [int(cents) * CENT for cents in sums]

    def by(self, labels: Sequence[str], nobody: str) -> list[GroupCost]:
        """Sums of the boxes with the same label, by label; their money is the money of the whole budget.

        labels: one a box, in their order. nobody: what to call money that no box causes.
        """
        names, group = np.unique(np.array(labels, dtype=object), return_inverse=True)
        boxes, minutes = np.bincount(group, minlength=len(names)), np.zeros(len(names))
        np.add.at(minutes, group, self.minutes)
        money: list[dict[Section, Decimal]] = [{} for _ in names]
        for section, cents in self.cents.items():
            sums = np.zeros(len(names), np.int64)
            np.add.at(sums, group, cents)
            for of_group, cent in zip(money, sums, strict=True):
                of_group[section] = int(cent) * CENT
        groups = [
            GroupCost(str(name), int(boxes[row]), float(minutes[row]) / 60, money[row])
            for row, name in enumerate(names)
        ]
        return groups + ([GroupCost(nobody, 0, 0.0, self.left)] if any(self.left.values()) else [])


def share_lines(
    lines: Sequence[BudgetLine],
    boxes: Sequence[BoxFacts],
    minutes: Mapping[str, Weights],
    causes: Mapping[str, Weights] | None = None,
) -> BoxShares:
    """Share the money of a budget out over its boxes; what is given in kind or on hand is left out.

    minutes: of each box by step. causes: for a line's key what each box causes of it, where that is known
    better than from the boxes alone, such as the area of its blanks on the sheets that a line is for. Without
    it board goes by the area of the blanks, glue by the length of the joints, padding by the lining, labour
    by the minutes of its step, supervision by all minutes, freight by the goods of its supplier, indirect
    costs by everything else, and the rest goes to all boxes alike, or all that do not wait to be measured.
    So does what no box seems to cause.
    The shares of a line add up to its amount exactly.
    Source: sharing by cause is assumed, as is the order in which it is looked for.
    """
    drivers = _Drivers(boxes, minutes, causes or {})
    shared: dict[Section, Cents] = {}
    of_supplier: dict[str, Cents] = {}
    left: dict[Section, Decimal] = {}
    money = [line for line in lines if line.section not in APART]
    for line in sorted(money, key=lambda line: LAST.index(line.section) if line.section in LAST else -1):
        if not boxes:
            left[line.section] = left.get(line.section, Decimal()) + line.amount
            continue
        if line.section is Section.FREIGHT:
            weights = _goods(line, of_supplier, shared, len(boxes))
        elif line.section is Section.INDIRECT:
            weights = sum(shared.values(), np.zeros(len(boxes), np.int64)).astype(float)
        else:
            weights = drivers.of(line)
        cents = _cents(line.amount, weights)
        shared[line.section] = shared.get(line.section, 0) + cents
        if line.section in GOODS:
            of_supplier[line.supplier] = of_supplier.get(line.supplier, 0) + cents
    return BoxShares(tuple(box.key for box in boxes), shared, drivers.all_minutes, left)


def is_whole(shares: BoxShares, lines: Sequence[BudgetLine]) -> bool:
    """Whether shares add up to the money of some lines, to the cent; counted apart from their making."""
    cents = sum(int(of_section.sum()) for of_section in shares.cents.values())
    whole = cents * CENT + sum(shares.left.values(), Decimal())
    return whole == total(line for line in lines if line.section not in APART)


class _Drivers:
    """What each box causes of each kind of line."""

    def __init__(
        self, boxes: Sequence[BoxFacts], minutes: Mapping[str, Weights], causes: Mapping[str, Weights]
    ) -> None:
        self.causes, self.minutes = causes, minutes
        self.all_minutes = sum(minutes.values(), np.zeros(len(boxes)))
        planned = np.array([not box.to_measure for box in boxes], dtype=float)
        self.alike = planned if planned.any() else np.ones(len(boxes))
        self.by_section = {
            Section.BOARD: np.array([box.blank_m2 for box in boxes], dtype=float),
            Section.ADHESIVE: np.array([box.joint_m for box in boxes], dtype=float),
            Section.PADDING: np.array([box.lining_m2 for box in boxes], dtype=float),
            Section.READY_MADE: np.array([bool(box.ready_made) for box in boxes], dtype=float),
            Section.SUPERVISION: self.all_minutes,
        }

    def of(self, line: BudgetLine) -> Weights:
        by_section = self.by_section.get(line.section, self.alike)
        usual = (
            self.minutes.get(line.step, self.all_minutes) if line.section is Section.LABOUR else by_section
        )
        return next(
            weights
            for weights in (self.causes.get(line.key), usual, by_section, self.alike)
            if weights is not None and weights.any()
        )


def _goods(
    line: BudgetLine, of_supplier: Mapping[str, Cents], shared: Mapping[Section, Cents], boxes: int
) -> Weights:
    """What freight brings each box: money of its supplier's goods, of all goods if that one has none."""
    goods = of_supplier.get(line.supplier)
    if goods is None or not goods.any():
        goods = sum(
            (cents for section, cents in shared.items() if section in GOODS), np.zeros(boxes, np.int64)
        )
    return goods.astype(float)


def _cents(amount: Decimal, weights: Weights) -> Cents:
    """Shares of an amount by weight in hundredths, 0 where the weight is 0."""
    bearing = np.flatnonzero(weights)
    if not len(bearing):
        bearing, weights = np.arange(len(weights)), np.ones(len(weights))
    shares = share_out(amount, weights[bearing].tolist())
    cents = np.zeros(len(weights), np.int64)
    cents[bearing] = [int(share / CENT) for share in shares]
    return cents
