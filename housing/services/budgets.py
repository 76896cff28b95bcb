"""Budgets: put together from boxes, sheets and hours; worked out and stored for a campaign; frozen; shared out.

What is kept of a budget beside what stored.to_json() writes:
percent: up to which of 100 cases the contingency reaches. range: the simulation, or null. by_design, by_board,
by_batch: label, boxes, hours, money by section, total. orders: what is ordered from whom. suppliers: name and
days by key. terms: label and value of each. inputs: fingerprints of all that it rests on. counts: objects,
boxes, boxes that wait, storage litres. plan_made_at, starts_on, ends_on, funder_note, in_kind_source.
"""

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from decimal import Decimal

from django.db import transaction
from django.utils import timezone

from housing.core.budget.facts import BoxFacts
from housing.core.budget.indirect import indirect_line
from housing.core.budget.lines import Budget as CoreBudget
from housing.core.budget.lines import Problem
from housing.core.budget.purchases import MaterialNeed, SupplierTerms, buy
from housing.core.labour.rates import HourRate, WorkedHours, labour_lines
from housing.models import Budget, BudgetTerms, Campaign
from objects.core.refusals import Refusal


class BudgetRefused(Refusal):
    """A budget cannot be worked out, frozen or changed as asked; the message is a sentence for the reader."""


def assemble(
    *,
    campaign: Campaign,
    terms: BudgetTerms,
    boxes: Sequence[BoxFacts],
    needs: Sequence[MaterialNeed],
    suppliers: Sequence[SupplierTerms],
    hours: Sequence[WorkedHours],
    rates: Sequence[HourRate],
    today: date,
    more: Sequence[Problem] = (),
) -> CoreBudget:
    """A budget of boxes that may be stored or only thought of; without contingency, nothing is read or stored.

    needs: what the boxes and their sheets take. hours: who works how long at which step. more: problems that
    are known already.
    """
    ...
