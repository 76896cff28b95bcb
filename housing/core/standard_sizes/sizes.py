"""The choice of at most k sizes for least cost, and the curve of cost against k: a location problem."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from housing.core.linear import Program
from housing.core.standard_sizes.needs import (
    Group,
    Need,
    Size,
    SizesRefused,
    candidate_sizes,
    group_needs,
    serving,
)

MOST_GROUPS, MOST_CANDIDATES = 1000, 800
SECONDS = 8.0

type Cost = Callable[[Size], float]
type Watch = Callable[[int, int], object]


@dataclass(frozen=True)
class Chosen:
    """A size with the keys of the objects whose boxes have it; money for all of these."""

    size: Size
    keys: tuple[str, ...]
    money: float


@dataclass(frozen=True)
class Point:
    """One point of the curve: at most `number` sizes. money: of all boxes; bound: no such choice costs less.

    custom: objects that no size chosen holds, which have boxes of their own.
    """

    number: int
    money: float
    bound: float
    custom: int
    litres: float

    @property
    def gap(self) -> float:
        """How much less a better choice could cost at most, as a share of this one's cost."""
        return max(self.money - self.bound, 0.0) / self.money if self.money else 0.0


@dataclass(frozen=True)
class SizeChoice:
    """Sizes, who gets which, who keeps a box of their own, and the curve.

    all_custom: money if every object had a box of its own. step_mm: up to which sizes were rounded to look
    for the best. candidates: how many sizes were looked at. The bounds hold among these.
    """

    sizes: tuple[Chosen, ...]
    custom: tuple[str, ...]
    point: Point
    curve: tuple[Point, ...]
    all_custom: float
    step_mm: float
    candidates: int
    is_every_candidate: bool = field(default=True)


def choose_sizes(
    needs: Sequence[Need],
    cost: Cost,
    *,
    most_sizes: int,
    slack_mm: float,
    curve_to: int | None = None,
    seconds: float = SECONDS,
    watch: Watch = lambda done, of: None,
) -> SizeChoice:
    """At most so many sizes of least cost; as many objects as possible get one of them.

    needs: of every object, keys all different. cost: of one box of a size: board, work and room, in money.
    slack_mm: a box may be at most so much larger than the need on each side. curve_to: the curve goes up to
    so many sizes (most_sizes where None). seconds: for each point of the curve. watch: told how many points
    are done, of how many.
    Raises SizesRefused for no objects, or fewer than one size.
    Source: the p-median form of the uncapacitated facility location problem (Hakimi, Operations Research 12,
        1964), as an integer program; objects served come before money, by a penalty above all costs.
    """
    if not needs:
        raise SizesRefused(
            "There is no measured object to find sizes for. Measure some, and plan the campaign."
        )
    if most_sizes < 1:
        raise SizesRefused("At least one size has to be looked for.")
    groups, step = group_needs(needs, MOST_GROUPS)
    sizes = candidate_sizes(groups, slack_mm, MOST_CANDIDATES)
    question = _Question(groups, sizes, slack_mm, cost)
    upto = max(curve_to or most_sizes, most_sizes)
    curve, best = [], None
    for number in range(1, upto + 1):
        watch(number - 1, upto)
        answer = question.solve(number, seconds)
        curve.append(answer.point)
        if number == most_sizes:
            best = answer
        if number >= most_sizes and not answer.point.custom and len(answer.sizes) < number:
            break  # more sizes than that do not help any more
    watch(upto, upto)
    assert best is not None
    return SizeChoice(
        sizes=best.sizes,
        custom=best.custom,
        point=best.point,
        curve=tuple(curve),
        all_custom=sum(question.own[n] * len(group.keys) for n, group in enumerate(groups)),
        step_mm=step,
        candidates=len(sizes),
        is_every_candidate=len(sizes) < MOST_CANDIDATES,
    )


@dataclass(frozen=True)
class _Answer:
    sizes: tuple[Chosen, ...]
    custom: tuple[str, ...]
    point: Point


class _Question:
    """Groups, candidate sizes, which serves which at what cost; asked for one number after another."""

    def __init__(self, groups: Sequence[Group], sizes: Sequence[Size], slack_mm: float, cost: Cost) -> None:
        self.groups, self.sizes = groups, sizes
        self.money = [cost(size) for size in sizes]
        self.own = [cost(group.size) for group in groups]
        self.serves = [list(map(int, column.nonzero()[0])) for column in serving(sizes, groups, slack_mm).T]
        # Above whatever serving one more object can cost, so that it always comes first.
        self.penalty = 1 + sum(len(group.keys) for group in groups) * max((*self.money, *self.own))

    def solve(self, number: int, seconds: float) -> _Answer:
        program = Program()
        opened = [program.variable(0.0, 0.0, 1.0, whole=True) for _ in self.sizes]
        program.row(dict.fromkeys(opened, 1.0), high=float(number))
        served: list[dict[int, int]] = []
        own: list[int] = []
        for n, group in enumerate(self.groups):
            count = len(group.keys)
            x = {j: program.variable(count * self.money[j], 0.0, 1.0) for j in self.serves[n]}
            z = program.variable(count * (self.own[n] + self.penalty), 0.0, 1.0)
            program.row(dict.fromkeys((*x.values(), z), 1.0), 1.0, 1.0)
            for j, variable in x.items():
                program.row({variable: 1.0, opened[j]: -1.0}, high=0.0)
            served.append(x)
            own.append(z)
        solved = program.solve(seconds=seconds, gap=1e-9)
        open_sizes = [j for j, variable in enumerate(opened) if solved.values[variable] > 0.5]
        return self._answer(number, open_sizes, solved.bound)

    def _answer(self, number: int, open_sizes: Sequence[int], bound: float) -> _Answer:
        """Each group in its cheapest open size; the bound without the penalties of those that none holds."""
        of: dict[int, list[int]] = {j: [] for j in open_sizes}
        custom: list[int] = []
        for n, can in enumerate(self.serves):
            there = [j for j in can if j in of]
            if there:
                of[min(there, key=lambda j: self.money[j])].append(n)
            else:
                custom.append(n)
        chosen = [
            Chosen(
                self.sizes[j],
                tuple(key for n in members for key in self.groups[n].keys),
                self.money[j] * sum(len(self.groups[n].keys) for n in members),
            )
            for j, members in of.items()
            if members
        ]
        alone = sum(len(self.groups[n].keys) for n in custom)
        money = sum(one.money for one in chosen) + sum(self.own[n] * len(self.groups[n].keys) for n in custom)
        litres = sum(one.size.litres * len(one.keys) for one in chosen)
        litres += sum(self.groups[n].size.litres * len(self.groups[n].keys) for n in custom)
        point = Point(number, money, min(max(bound - alone * self.penalty, 0.0), money), alone, litres)
        return _Answer(
            tuple(sorted(chosen, key=lambda one: one.size.litres)),
            tuple(key for n in custom for key in self.groups[n].keys),
            point,
        )
