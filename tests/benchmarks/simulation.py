"""How long a budget's range takes to draw, beside plain numpy: python -m tests.benchmarks.simulation

The peer draws every box of every trial from the beta generator of numpy and uses its matrix product; both
get the same question in one process. The peer draws fewer trials, since its time grows as they do.
"""

from statistics import median
from time import perf_counter

import numpy as np

from housing.core.budget.causes import (
    BOX_SCATTER,
    OF_LABOUR,
    element_cause,
    element_causes,
    with_ranges,
)
from housing.core.budget.simulation import CostLine, SimulationInput, simulate
from housing.core.labour.elements import ELEMENTS, SHIPPED

BOXES, TRIALS, ROUNDS = 5_000, 10_000, 3
PEER_TRIALS, CHUNK = 1_000, 500


def main() -> None:
    asked = question()
    simulate(asked, trials=100)  # so that nothing is loaded while the clock runs
    ours, theirs = [], []
    for _ in range(ROUNDS):
        start = perf_counter()
        found = simulate(asked, trials=TRIALS, seed=1)
        ours.append(perf_counter() - start)
        start = perf_counter()
        peer = drawn_plainly(asked, PEER_TRIALS)
        theirs.append((perf_counter() - start) * TRIALS / PEER_TRIALS)
    print(f"{BOXES:,} boxes, {TRIALS:,} trials: {median(ours):.2f} s; plain numpy {median(theirs):.1f} s")
    print(f"(from {PEER_TRIALS:,} trials), {median(theirs) / median(ours):.1f} times as long")
    print(f"Mean {found.mean:,.0f} and {peer.mean():,.0f}; deviation {found.sd:,.0f} and {peer.std():,.0f}")


def question() -> SimulationInput:
    """Boxes of between half and twice the usual minutes, with every cause that is shipped."""
    points = [SHIPPED[element].minutes for element in ELEMENTS]
    causes = [element_cause(column, one.low, one.likely, one.high) for column, one in enumerate(points)]
    likely = np.array([one.likely for one in points])
    return SimulationInput(
        minutes=np.random.default_rng(7).uniform(0.5, 2, (BOXES, len(ELEMENTS))) * likely,
        cost_per_minute=np.full(len(ELEMENTS), 0.5),
        box_scatter=BOX_SCATTER.range,
        element_causes=element_causes(),
        labour_causes=OF_LABOUR,
        hour_causes=("pace",),
        lines=[CostLine(40_000, ("board_prices", "spoilage")), CostLine(5_000, ("goods_prices", "glue_use"))],
        causes=with_ranges({}) | {cause.key: cause for cause in causes},
        indirect_share=0.1,
    )


def drawn_plainly(given: SimulationInput, trials: int) -> np.ndarray:
    """Costs of so many trials, every box from the beta generator."""
    rng = np.random.default_rng(2)
    drawn = {key: cause.range.draw(rng, trials) for key, cause in given.causes.items()}
    money = given.minutes * given.cost_per_minute
    labour = np.empty((trials, len(ELEMENTS)))
    for start in range(0, trials, CHUNK):
        number = min(CHUNK, trials - start)
        boxes = given.box_scatter.draw(rng, number * BOXES).reshape(number, BOXES)
        labour[start : start + number] = boxes @ money
    cost = (labour * np.column_stack([drawn[key] for key in given.element_causes])).sum(axis=1)
    for key in given.labour_causes:
        cost *= drawn[key]
    for line in given.lines:
        amount = np.full(trials, float(line.amount))
        for key in line.causes:
            amount *= drawn[key]
        cost += amount
    return cost * (1 + given.indirect_share)


if __name__ == "__main__":
    main()
