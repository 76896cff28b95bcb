"""A plan made better by taking a few sheets off and laying their blanks anew, again and again."""

import heapq
from random import Random

from boards.core.nesting.first_plans import ORDERS
from boards.core.nesting.guillotine import ChoiceRule, LaidSheet, lay, shorter_rest
from boards.core.nesting.job import Job, Kind
from boards.core.nesting.plan import Plan, value
from boards.core.nesting.supply import OpeningRule, Supply, cheapest_area, largest

# Measured on the instances of fixtures/nesting: on campaigns 3 to 6 sheets and a noise of 0.3 to 2 do much
# the same; with a handful of blanks more noise finds the best plan more often.
MOST_SHEETS = 4
EMPTIEST = 3
ORDER_NOISE = 1.2
CHOICE_NOISE = 30
NOISY_CHOICES = 0.5
# Blanks waiting for a sheet that are tried at a time, so that a try stays short.
MOST_WAITING = 20


class Relaying:
    """A plan that only gets better; `random` decides everything that is left to chance."""

    def __init__(self, job: Job, plan: Plan, random: Random) -> None:
        self.job = job
        self.sheets = list(plan.sheets)
        self.left_out = list(plan.left_out)
        self.random = random
        self.stock = [kind.stock for kind in job.kinds]
        for sheet in self.sheets:
            self.stock[sheet.kind.index] -= 1
        self.rank()

    @property
    def plan(self) -> Plan:
        """The plan as it now is."""
        return Plan(self.sheets, self.left_out)

    def rank(self) -> None:
        """Find the sheets whose free room is worth most: the ones to be got rid of."""
        self.emptiest = heapq.nlargest(
            EMPTIEST,
            range(len(self.sheets)),
            key=lambda number: self.sheets[number].kind.worth * self.sheets[number].free_share,
        )

    def try_once(self) -> bool:
        """Lay some sheets anew and keep the outcome if it is no worse; returns whether it was kept."""
        numbers = self.some_sheets()
        waiting = self.random.sample(self.left_out, min(MOST_WAITING, len(self.left_out)))
        old = [self.sheets[number] for number in numbers]
        worst = value(self.job, old, waiting)
        supply = Supply(list(self.stock), self.opening_rule(), None if waiting else worst[1])
        for sheet in old:
            supply.left[sheet.kind.index] += 1

        blanks = [laid.blank for sheet in old for laid in sheet.laid] + waiting
        order, rule = self.shuffled(blanks), self.choice_rule()
        new, left_out = lay(self.job, order, supply, rule, stop_short=not waiting)
        if value(self.job, new, left_out) > worst:
            return False
        self.replace(numbers, new, supply)
        self.left_out = [index for index in self.left_out if index not in waiting] + left_out
        return True

    def some_sheets(self) -> list[int]:
        """Numbers of one of the emptiest sheets and a few others, emptier ones more often."""
        least = 2 if len(self.job.kinds) == 1 else 1
        wanted = min(self.random.randint(least, MOST_SHEETS), len(self.sheets))
        chosen = {self.random.choice(self.emptiest)}
        while len(chosen) < wanted:
            one, other = (self.random.randrange(len(self.sheets)) for _ in range(2))
            is_emptier = self.sheets[one].free_share > self.sheets[other].free_share
            chosen.add(one if is_emptier or other in chosen else other)
        return sorted(chosen)

    def opening_rule(self) -> OpeningRule:
        """A rule for this try; the last one mixes kinds of sheets."""
        return self.random.choice((cheapest_area, largest, self.any_kind))

    def any_kind(self, fitting: list[Kind]) -> Kind:
        """Any sheet that holds the blank."""
        return self.random.choice(fitting)

    def choice_rule(self) -> ChoiceRule:
        """Best fit, or now and then what looks like it to an eye that judges badly."""
        if self.random.random() > NOISY_CHOICES:
            return shorter_rest
        random, noise = self.random.random, CHOICE_NOISE * self.random.random()
        return lambda rest_a, rest_b, a, b: shorter_rest(rest_a, rest_b, a, b) * (1 + noise * random())

    def shuffled(self, blanks: list[int]) -> list[int]:
        """The blanks roughly from hard to easy."""
        hardness, random = self.random.choice(ORDERS), self.random.random
        noise = ORDER_NOISE * random()
        return sorted(blanks, key=lambda index: -hardness(self.job.blanks[index]) * (1 + noise * random()))

    def use_what_is_left(self) -> None:
        """Lay the blanks left out on sheets that have come free."""
        supply = Supply(list(self.stock), cheapest_area)
        new, self.left_out = lay(self.job, self.shuffled(self.left_out), supply, shorter_rest)
        self.replace([], new, supply)

    def replace(self, numbers: list[int], new: list[LaidSheet], supply: Supply) -> None:
        """Put new sheets where the old ones were."""
        for number in reversed(numbers):
            del self.sheets[number]
        self.sheets += new
        self.stock = supply.left
        self.rank()
