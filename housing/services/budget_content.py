"""What is kept of a budget: everything that its page and its prints show, so that they agree with each other.

Beside what stored.to_json() writes: percent: of 100 cases, in how many the contingency is to be enough.
range: the simulation, or None. by_design, by_board, by_batch: rows of label, boxes, hours, money by section,
rest, total, average. orders: what is ordered from whom. terms: the figures of the terms. inputs: fingerprints
of all that it rests on. counts: objects, boxes, waiting (by problem), litres of storage. campaign,
plan_made_at, starts_on, ends_on, funder_note, in_kind_source. changed_when_frozen: of a baseline, what had
changed since it was made. Money is text, dates are text as ISO 8601 has them.
"""

from collections.abc import Sequence
from dataclasses import asdict
from decimal import Decimal
from typing import Any

from boards.core.money import to_cents
from boards.models import Board
from housing.core.budget.lines import Budget
from housing.core.budget.purchases import Order
from housing.core.budget.sharing import SHOWN_APART, BoxShares, GroupCost
from housing.core.budget.simulation import Simulation
from housing.core.budget.stored import to_json
from housing.models import BudgetTerms, Campaign, CuttingPlan, Design
from housing.services.budget_figures import BudgetFigures

NO_BOX, NOT_PLANNED = "No box", "Still to be measured"


def content_of(
    campaign: Campaign,
    plan: CuttingPlan,
    figures: BudgetFigures,
    budget: Budget,
    shares: BoxShares,
    orders: Sequence[Order],
    simulation: Simulation | None,
) -> dict[str, Any]:
    """A budget with all that is shown beside it."""
    designs = {str(pk): name for pk, name in Design.objects.values_list("pk", "name")}
    boards = {str(board.pk): str(board) for board in Board.objects.all()}
    boxes, terms = figures.boxes, figures.terms
    by_batch = _groups(shares, [f"{box.batch:06d}" for box in boxes])
    return to_json(budget) | {
        "percent": terms.contingency_percent,
        "range": simulation.to_json() if simulation else None,
        "by_design": _groups(shares, [designs.get(box.design, NOT_PLANNED) for box in boxes]),
        "by_board": _groups(shares, [boards.get(box.board, NOT_PLANNED) for box in boxes]),
        "by_batch": [row | {"label": row["label"].lstrip("0")} for row in by_batch],
        "orders": [_order(order) for order in orders],
        "terms": _terms(terms),
        "inputs": figures.inputs,
        "counts": {
            "objects": campaign.memberships.count(),
            "boxes": len(boxes),
            "planned": figures.planned,
            "waiting": figures.waiting,
            "litres": sum(box.outside_litres for box in boxes),
        },
        "campaign": campaign.name,
        "plan_made_at": plan.made_at.isoformat(),
        "starts_on": campaign.starts_on.isoformat() if campaign.starts_on else "",
        "ends_on": terms.ends_on.isoformat() if terms.ends_on else "",
        "funder_note": terms.funder_note,
        "in_kind_source": terms.in_kind_source,
    }


def _groups(shares: BoxShares, labels: Sequence[str]) -> list[dict[str, Any]]:
    return [_group(group) for group in shares.by(labels, NO_BOX)]


def _group(group: GroupCost) -> dict[str, Any]:
    rest = group.total - sum((group.money.get(s, Decimal()) for s in SHOWN_APART), Decimal())
    return {
        "label": group.label,
        "boxes": group.boxes,
        "hours": group.hours,
        "money": {section.value: str(money) for section, money in group.money.items()},
        "rest": str(rest),
        "total": str(group.total),
        "average": str(to_cents(group.average)) if group.average is not None else "",
    }


def _order(order: Order) -> dict[str, Any]:
    return asdict(order) | {"goods": str(order.goods), "freight": str(order.freight)}


def _terms(terms: BudgetTerms) -> dict[str, Any]:
    kept = {}
    for field in terms._meta.concrete_fields:
        if field.name not in ("id", "campaign"):
            value = getattr(terms, field.attname)
            kept[field.name] = value if isinstance(value, (bool, int, dict, type(None))) else str(value)
    return kept
