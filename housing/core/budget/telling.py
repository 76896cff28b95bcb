"""A budget in the reader's language: what it says is kept in English, names of goods as they are sold."""

from dataclasses import replace

from housing.core.budget.lines import Budget, BudgetLine, Problem
from housing.core.budget.purchases import PACK, PACKS
from objects.core.retelling import retold
from objects.core.words import say

OF_GOODS = frozenset({"board", "sheet", "supply", "ready_made", "designs"})  # targets whose names are entered


def told_budget(budget: Budget) -> Budget:
    """The budget with all that is said in it in the language spoken; its keys and figures stay."""
    return replace(
        budget,
        lines=tuple(
            replace(
                line,
                what=_what(line),
                unit=_unit(line.unit),
                computed_from=retold(line.computed_from),
            )
            for line in budget.lines
        ),
        problems=tuple(map(told_problem, budget.problems)),
    )


def told_problem(problem: Problem) -> Problem:
    """A problem in the language spoken."""
    return replace(problem, what=retold(problem.what), affects=retold(problem.affects), do=retold(problem.do))


def _what(line: BudgetLine) -> str:
    if line.target.kind in OF_GOODS:
        return line.what
    who, colon, step = line.what.rpartition(": ")
    if line.step and colon:
        return f"{retold(who)}: {say(step)}"
    return _word(line.what)


def _unit(unit: str) -> str:
    for message in (PACK, PACKS):
        before = message.removesuffix("{amount}")
        if unit.startswith(before):
            number, _, one = unit.removeprefix(before).partition(" ")
            return say(message, amount=f"{number} {say(one)}")
    return say(unit)


def _word(text: str) -> str:
    return retold(text) if " " in text else say(text)
