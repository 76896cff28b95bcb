"""Budgets of odd prices for tests of prints: stored ones that no database holds."""

from datetime import UTC, date, datetime
from decimal import Decimal

from housing.core.budget.lines import Budget, BudgetLine, Problem, Section, Target
from housing.core.budget.months import BatchWork, calendar_of, week_of
from housing.core.budget.stored import to_json
from housing.models import Budget as StoredBudget

MONDAY = date(2030, 1, 28)


def line(key: str, section: Section, quantity: str, price: str, factor: str = "1", **given) -> BudgetLine:
    fields = {"what": key, "unit": "piece", "computed_from": "worked out", "target": Target("plan")}
    return BudgetLine(
        key=key,
        section=section,
        quantity=Decimal(quantity),
        price=Decimal(price),
        factor=Decimal(factor),
        **fields | given,
    )


def hours(person: str, step: str, quantity: str, price: str, factor: str = "1", **given) -> BudgetLine:
    fields = {"section": Section.LABOUR, "what": f"Person {person}: {step}", "unit": "h", "step": step}
    return line(f"labour:{person}:{step}", quantity=quantity, price=price, factor=factor, **fields | given)


# Freight of 38.50 and 4 % of 17 × 17.35 + 3 × 0.335: 38.50 + 0.04 × 295.96 (1.005 rounds up) = 50.3384.
LINES = (
    line("sheet:1", Section.BOARD, "17", "17.35", supplier="1", what="=Board & <co>"),
    line("supply:1", Section.ADHESIVE, "3", "0.335", supplier="1"),  # 1.005: a half, which rounds up
    line("lining:foam", Section.PADDING, "2.675", "11.2345"),
    line("freight:1", Section.FREIGHT, "1", "50.34", supplier="1"),
    hours("1", "cut", "12.35", "23.17", "1.2850"),
    hours("1", "glue", "7.05", "23.17", "1.2850"),
    hours("nobody", "fit", "0.50", "0.05"),  # 0.025: another half
    hours("2", "return", "8.33", "19.99", section=Section.IN_KIND),
    line("supervision", Section.SUPERVISION, "1.11", "31.13", "1.2", unit="h", what="Lead: supervising"),
    line("on_hand:sheet:1", Section.ON_HAND, "4", "17.35"),
)
# By hand: 294.95 + 1.01 + 30.05 + 50.34 + 367.70 + 209.90 + 0.03 + 41.47 = 995.45; a tenth of it is 99.545
INDIRECT = line("indirect", Section.INDIRECT, "995.45", "0.1", unit="USD", what="Indirect costs, 10 %")
MONEY = Decimal("1095.00")


TERMS = {
    "allowance_share": "0.11", "allowance_of": "work", "learning": "unit", "learning_rate": "0.9",
    "learning_rates": {"lidded_tray": 0.85}, "learning_reference": 20, "alike_share": "0.5",
    "supervision_share": "0.1", "supervisor": None, "indirect_share": "0.1", "board_spoilage_share": "0.03",
    "glue_bead_mm": "3", "beads_per_joint": 2, "labels_each": 1, "gap_filled_share": "0.5",
    "uses_logged_times": True,
}  # fmt: skip


def stored_budget(
    lines=(*LINES, INDIRECT), problems: tuple[Problem, ...] = (), contingency: str = "123.45", **given
) -> StoredBudget:
    """A live budget of LINES; given: fields of it, and keys of its content."""
    budget = Budget("USD", tuple(lines), problems, Decimal(contingency), {"cut": 28.23})
    when = {one.key: {week_of(MONDAY, 1): 1.0, week_of(MONDAY, 7): 2.0} for one in lines[:9]}
    work = [BatchWork(1, week_of(MONDAY, 1), 20.0), BatchWork(1, week_of(MONDAY, 7), 8.23)]
    content = to_json(budget) | {
        "percent": 80,
        "range": None,
        "by_batch": [{"label": "1", "boxes": 3, "total": str(budget.money)}],
        "orders": [{"supplier": "1", "name": "@Works"}],
        "suppliers": {"1": {"each": "38.50", "share": "0.0400", "free_from": "900.00"}},
        "terms": TERMS,
        "counts": {"objects": 4, "boxes": 3, "planned": 3, "waiting": {}, "litres": 1.0},
        "campaign": "=Move",
        "starts_on": MONDAY.isoformat(),
        "ends_on": "",
        "funder_note": "",
        "in_kind_source": "",
        "sources": [{"group": "Rates", "what": "Person", "figure": "+1", "source": "-Payroll"}],
        "months": calendar_of(lines, when, work, Decimal("28.23")).to_json()
        | {"orders": [], "hours_a_week": 20.0},
    }
    return StoredBudget(
        **{
            "made_at": datetime(2030, 1, 2, 12, tzinfo=UTC),
            "currency": "USD",
            "money": budget.money,
            "contingency": budget.contingency,
            "is_complete": budget.is_complete,
            "boxes": 3,
            "hours": Decimal("28.23"),
            "content": content,
            **given,
        }
    )
