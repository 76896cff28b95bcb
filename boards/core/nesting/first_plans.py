"""First plans from fixed orders and rules, of which the best is kept."""

from collections.abc import Callable, Iterator, Sequence
from itertools import product

from boards.core.nesting.guillotine import lay, scattered_rest, shorter_rest
from boards.core.nesting.job import Blank, Job
from boards.core.nesting.plan import Plan
from boards.core.nesting.supply import OPENING_RULES, Supply

CHOICE_RULES = (shorter_rest, scattered_rest)
# Greatest first; each says how hard a blank is to place.
ORDERS: tuple[Callable[[Blank], float], ...] = (
    lambda blank: blank.area,
    lambda blank: max(blank.a, blank.b),
    lambda blank: min(blank.a, blank.b),
    lambda blank: blank.a + blank.b,
)


def first_plans(job: Job, todo: Sequence[int]) -> Iterator[Plan]:
    """One plan for each order, choice rule and opening rule.

    todo: indexes of the blanks to be laid. With a single kind of sheet the opening rules are all the same.
    """
    openings = OPENING_RULES if len(job.kinds) > 1 else OPENING_RULES[:1]
    for hardness, rule, choose in product(ORDERS, CHOICE_RULES, openings):
        order = sorted(todo, key=lambda index: -hardness(job.blanks[index]))
        yield Plan(*lay(job, order, Supply([kind.stock for kind in job.kinds], choose), rule))
