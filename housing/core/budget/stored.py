"""A budget as JSON and back, to the cent: figures as text, so that a frozen one reads as it was written."""

from decimal import Decimal
from typing import Any

from housing.core.budget.lines import Budget, BudgetLine, Problem, Section, Target


def to_json(budget: Budget) -> dict[str, Any]:
    """What JSON can hold of a budget; amounts and sums too, for whoever reads it by other means."""
    return {
        "currency": budget.currency,
        "lines": [_line(line) for line in budget.lines],
        "problems": [
            {
                "what": problem.what,
                "affects": problem.affects,
                "do": problem.do,
                "target": _target(problem.target),
                "makes_incomplete": problem.makes_incomplete,
            }
            for problem in budget.problems
        ],
        "hours": dict(budget.hours),
        "contingency": str(budget.contingency),
        "money": str(budget.money),
        "asked_for": str(budget.asked_for),
        "sections": {section.value: str(money) for section, money in budget.section_totals().items()},
    }


def from_json(kept: dict[str, Any]) -> Budget:
    """The budget that to_json() wrote; keys that others have added beside it are overlooked."""
    return Budget(
        currency=kept["currency"],
        lines=tuple(
            BudgetLine(
                key=line["key"],
                section=Section(line["section"]),
                what=line["what"],
                quantity=Decimal(line["quantity"]),
                unit=line["unit"],
                price=Decimal(line["price"]),
                computed_from=line["computed_from"],
                target=Target(**line["target"]),
                factor=Decimal(line["factor"]),
                supplier=line["supplier"],
                step=line["step"],
            )
            for line in kept["lines"]
        ),
        problems=tuple(
            Problem(
                problem["what"],
                problem["affects"],
                problem["do"],
                Target(**problem["target"]),
                problem["makes_incomplete"],
            )
            for problem in kept["problems"]
        ),
        contingency=Decimal(kept["contingency"]),
        hours=dict(kept["hours"]),
    )


def _line(line: BudgetLine) -> dict[str, Any]:
    return {
        "key": line.key,
        "section": line.section.value,
        "what": line.what,
        "quantity": _figure(line.quantity),
        "unit": line.unit,
        "price": _figure(line.price),
        "factor": _figure(line.factor),
        "amount": str(line.amount),
        "computed_from": line.computed_from,
        "target": _target(line.target),
        "supplier": line.supplier,
        "step": line.step,
    }


def _target(target: Target) -> dict[str, str]:
    return {"kind": target.kind, "key": target.key}


def _figure(value: Decimal) -> str:
    """A figure that reads the same however many zeros it was entered with."""
    return f"{value.normalize():f}"
