"""How far the cost may be off: many campaigns drawn at random, with what all boxes share moving together."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from housing.core.budget.causes import BOX, BOX_SCATTER, Cause
from housing.core.budget.ranges import TABLE_SIZE, ThreePoint

type Array = NDArray[np.float64]
CHUNK = 500  # trials drawn at once: 500 × 5,000 boxes are 10 MB
BINS = 40
LOW_HIGH = (0.1, 0.9)
MINUTES_PER_HOUR = 60


@dataclass(frozen=True)
class CostLine:
    """A cost that is a stated amount times shared causes. causes: keys; each multiplies it."""

    amount: float
    causes: tuple[str, ...]


@dataclass(frozen=True)
class SimulationInput:
    """What is drawn from.

    minutes: boxes × elements. cost_per_minute: the same shape, or one value an element; money.
    box_scatter: how a box's minutes lie around their standard, a multiple, each box by itself.
    element_causes: for each element the cause that moves its standard time for all boxes.
    labour_causes: what else multiplies all labour ("pace" moves hours too, "wages" money only).
    hour_causes: which of those move hours. lines: all other costs. causes: every cause named.
    indirect_share: added on the whole, a share. group_causes: what moves several elements together, with
    their columns.
    """

    minutes: Array
    cost_per_minute: Array
    box_scatter: ThreePoint
    element_causes: tuple[str, ...]
    labour_causes: tuple[str, ...]
    hour_causes: tuple[str, ...]
    lines: Sequence[CostLine]
    causes: Mapping[str, Cause]
    indirect_share: float = 0.0
    group_causes: Mapping[str, tuple[int, ...]] = field(default_factory=dict)


@dataclass(frozen=True)
class Driver:
    """A cause and what it does: the cost where it is at its 10 % and its 90 % point, all else at its mean.

    share: of the variance of the cost, 0 to 1.
    """

    key: str
    name: str
    low: float
    high: float
    share: float

    @property
    def swing(self) -> float:
        return abs(self.high - self.low)


@dataclass(frozen=True)
class Simulation:
    """What came of it, in money. quantiles, hours: not exceeded in 1, 2, ... 99 of 100 cases.

    base: the sum of the stated figures, without any range. edges, counts: of the histogram.
    """

    trials: int
    seed: int
    base: float
    mean: float
    sd: float
    quantiles: tuple[float, ...]
    hours: tuple[float, ...]
    edges: tuple[float, ...]
    counts: tuple[int, ...]
    drivers: tuple[Driver, ...] = field(default=())

    def at(self, percent: int) -> float:
        """Cost not exceeded in so many of 100 cases, 1 to 99."""
        return self.quantiles[percent - 1]

    def hours_at(self, percent: int) -> float:
        """Hours not exceeded in so many of 100 cases, 1 to 99."""
        return self.hours[percent - 1]

    def cases_within(self, amount: float) -> int:
        """In how many of 100 cases the cost is not more than an amount, 0 to 99: never certain."""
        return int(np.searchsorted(self.quantiles, amount * (1 + 1e-6), side="right"))

    def to_json(self) -> dict[str, Any]:
        return asdict(self)

    @classmethod
    def from_json(cls, kept: Mapping[str, Any]) -> "Simulation":
        rows = {name: tuple(kept[name]) for name in ("quantiles", "hours", "edges", "counts")}
        drivers = tuple(Driver(**row) for row in kept["drivers"])
        return cls(**{**kept, **rows, "drivers": drivers})


def simulate(given: SimulationInput, *, trials: int = 10_000, seed: int = 1) -> Simulation:
    """Draw the cost of a campaign many times.

    given: boxes, costs and causes. trials: how many, 100 or more. seed: the same one gives the same result.
    Raises KeyError for a cause that is not given.
    Source: Monte Carlo simulation with beta-PERT inputs; mean and variance have the closed forms of products
        and sums of independent variables, to which tests compare it.
    """
    rng = np.random.default_rng(seed)
    named = sorted(_named(given))
    drawn = {key: given.causes[key].range.draw(rng, trials) for key in named}
    at_mean = {key: np.array([given.causes[key].range.mean]) for key in named}
    labour, minutes = _scattered(given, rng, trials)
    cost, hours = _cost(given, drawn, labour), _hours(given, drawn, minutes)
    percents = np.arange(1, 100) / 100
    counts, edges = np.histogram(cost, BINS) if cost.std() > 1e-9 * abs(cost.mean()) else _one_bar(cost)
    return Simulation(
        trials=trials,
        seed=seed,
        base=_base(given),
        mean=float(cost.mean()),
        sd=float(cost.std()),
        quantiles=tuple(map(float, np.quantile(cost, percents))),
        hours=tuple(map(float, np.quantile(hours, percents))),
        edges=tuple(map(float, edges)),
        counts=tuple(map(int, counts)),
        drivers=_drivers(given, drawn, at_mean, labour, cost),
    )


def _one_bar(cost: Array) -> tuple[NDArray[Any], Array]:
    return np.array([len(cost)]), np.array([cost[0], cost[0]])


def _named(given: SimulationInput) -> set[str]:
    of_lines = {key for line in given.lines for key in line.causes}
    return of_lines.union(given.element_causes, given.group_causes, given.labour_causes, given.hour_causes)


def _rates(given: SimulationInput) -> Array:
    return np.broadcast_to(given.cost_per_minute, given.minutes.shape)


def _base(given: SimulationInput) -> float:
    labour = float((given.minutes * _rates(given)).sum())
    return (labour + sum(line.amount for line in given.lines)) * (1 + given.indirect_share)


def _scattered(given: SimulationInput, rng: np.random.Generator, trials: int) -> tuple[Array, Array]:
    """Cost and minutes of each element over all boxes, trials × elements, each box scattered by itself.

    Where boxes are many, a table of equally likely factors stands for the distribution: an index of 12 random
    bits takes one out, far quicker than drawing from a beta distribution.
    """
    boxes, elements = given.minutes.shape
    money = np.ascontiguousarray(given.minutes * _rates(given), dtype=np.float32)
    both = np.hstack([money, given.minutes.astype(np.float32)])
    sums = np.empty((trials, 2 * elements))
    table = given.box_scatter.table().astype(np.float32)
    for start in range(0, trials, CHUNK):
        number = min(CHUNK, trials - start)
        index = rng.integers(0, TABLE_SIZE, (number, boxes), dtype=np.uint16)
        sums[start : start + number] = table[index] @ both
    return sums[:, :elements], sums[:, elements:]


def _cost(given: SimulationInput, causes: Mapping[str, Array], labour: Array) -> Array:
    cost = (labour * _of_elements(given, causes)).sum(axis=1) * _product(causes, given.labour_causes)
    for line in given.lines:
        cost = cost + line.amount * _product(causes, line.causes)
    return np.asarray(cost * (1 + given.indirect_share))


def _hours(given: SimulationInput, causes: Mapping[str, Array], minutes: Array) -> Array:
    worked = (minutes * _of_elements(given, causes)).sum(axis=1) * _product(causes, given.hour_causes)
    return np.asarray(worked / MINUTES_PER_HOUR)


def _of_elements(given: SimulationInput, causes: Mapping[str, Array]) -> Array:
    """What each element's minutes are multiplied by, trials × elements, or 1 × elements at given causes."""
    columns = [causes[key] for key in given.element_causes]
    for key, moved in given.group_causes.items():
        for column in moved:
            columns[column] = columns[column] * causes[key]
    return np.column_stack(np.broadcast_arrays(*columns))


def _product(causes: Mapping[str, Array], keys: Sequence[str]) -> Array | float:
    product: Array | float = 1.0
    for key in keys:
        product = product * causes[key]
    return product


def _drivers(
    given: SimulationInput,
    drawn: Mapping[str, Array],
    at_mean: Mapping[str, Array],
    labour: Array,
    cost: Array,
) -> tuple[Driver, ...]:
    """Every cause with what it does to the cost, the largest swing first; those that do nothing left out."""
    mean_labour = labour.mean(axis=0, keepdims=True)
    variance = float(cost.var())
    found = []
    for key, values in drawn.items():
        if given.causes[key].range.is_certain:
            continue
        low, high = (
            float(_cost(given, {**at_mean, key: np.quantile(values, [share])}, mean_labour)[0])
            for share in LOW_HIGH
        )
        share = float(np.corrcoef(values, cost)[0, 1] ** 2) if variance and values.std() else 0.0
        if high != low:
            found.append(Driver(key, given.causes[key].name, low, high, share))
    scatter = labour.sum(axis=1)
    if scatter.std() > 1e-6 * max(scatter.mean(), 1e-12):
        low, high = (
            float(_cost(given, at_mean, labour[[np.argsort(scatter)[int(share * (len(scatter) - 1))]]])[0])
            for share in LOW_HIGH
        )
        share = float(np.corrcoef(scatter, cost)[0, 1] ** 2) if variance else 0.0
        found.append(Driver(BOX, BOX_SCATTER.name, low, high, share))
    return tuple(sorted(found, key=lambda driver: -driver.swing))
