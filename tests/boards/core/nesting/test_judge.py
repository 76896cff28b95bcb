"""The second judge is not blind: it passes a good plan and names what is wrong with each spoilt one."""

import copy

import pytest

from tests.boards.core.nesting.judge import faults

# Worked by hand: a sheet of 100 x 60, 5 trimmed, a knife that takes 2. A (50 x 50) fills the near end; the
# cut at 55 leaves 57 to 95, in which B (38 x 20) lies below C (28 x 20, turned) at 5 + 20 + 2 = 27. The
# corners of A are 12 x 12, less 2 for the knife 10 x 10: D (10 x 10) fills the far right one, from 45, 45.
INSTANCE = {
    "name": "worked",
    "unit": "mm",
    "kerf": 2,
    "trim": 5,
    "guillotine": True,
    "sheets": [{"id": "S", "w": 100, "h": 60, "cost": 7, "stock": 1}],
    "parts": [
        {"id": "A", "w": 50, "h": 50, "rot": 0, "corner": [12, 12]},
        {"id": "B", "w": 38, "h": 20, "rot": 0},
        {"id": "C", "w": 28, "h": 20, "rot": 1},
        {"id": "D", "w": 10, "h": 10, "rot": 0},
    ],
}
A = {"id": "A", "x": 5, "y": 5, "w": 50, "h": 50, "rotated": False}
B = {"id": "B", "x": 57, "y": 5, "w": 38, "h": 20, "rotated": False}
C = {"id": "C", "x": 57, "y": 27, "w": 20, "h": 28, "rotated": True}
D = {"id": "D", "x": 45, "y": 45, "w": 10, "h": 10, "rotated": False, "host": 0}
REST = {"x": 79, "y": 27, "w": 16, "h": 28}


def plan_of(*parts: dict, offcuts: tuple = (REST,), cost: float = 7) -> dict:
    sheet = {"type": "S", "parts": list(parts), "offcuts": list(offcuts)}
    return {"instance": "worked", "cost": cost, "sheets": [sheet]}


def test_good_plan_has_no_fault():
    assert faults(INSTANCE, plan_of(A, B, C, D)) == []


@pytest.mark.parametrize(
    ("plan", "expected"),
    [
        (plan_of(A, {**B, "x": 56}, C, D), [
            "sheet 0: parts of the sheet closer than a kerf",
            "sheet 0: parts of the sheet not free by cuts from edge to edge",
        ]),
        (plan_of(A, {**B, "x": 58}, C, D), ["sheet 0: B outside the trim"]),
        (plan_of(A, B, {**C, "rotated": False}, D), ["sheet 0: C in another size"]),
        (plan_of(A, B, C, {**D, "x": 44}), ["sheet 0: D in no corner of A"]),
        (plan_of(A, B, C, {**D, "host": 1}), ["sheet 0: D in no corner of B"]),
        (plan_of(A, B, C), ["placed {} too many, {'D': 1} too few"]),
        (plan_of(A, B, C, D, {**D, "x": 5}), ["placed {'D': 1} too many, {} too few"]),
        (plan_of(A, B, C, D, cost=8), ["the cost is not the sum of the prices"]),
        (plan_of(A, B, C, D, offcuts=({**REST, "x": 78},)), ["sheet 0: an offcut where there is none"]),
        ({**plan_of(A, B, C, D), "instance": "another"}, ["the plan names another instance"]),
    ],
    ids=["kerf", "trim", "size", "corner", "host", "missing", "twice", "cost", "offcut", "name"],
)  # fmt: skip
def test_each_spoilt_plan_is_found_out(plan, expected):
    assert faults(INSTANCE, plan) == expected


def test_part_turned_against_its_grain_is_found_out():
    parts = [{**part, "rot": 0} for part in INSTANCE["parts"]]

    assert faults({**INSTANCE, "parts": parts}, plan_of(A, B, C, D)) == ["sheet 0: C against its grain"]


def test_batches_that_may_not_mix_are_found_out():
    parts = [{**part, "batch": number // 2} for number, part in enumerate(INSTANCE["parts"])]

    assert faults({**INSTANCE, "parts": parts}, plan_of(A, B, C, D)) == []
    assert faults({**INSTANCE, "parts": parts, "mix_batches": False}, plan_of(A, B, C, D)) == [
        "sheet 0: batches mixed"
    ]


def test_more_sheets_than_in_stock_are_found_out():
    plan = plan_of(A, C, D, cost=14)
    plan["sheets"].append({"type": "S", "parts": [{**B, "x": 5}]})

    assert faults(INSTANCE, plan) == ["2 sheets S, 1 in stock"]


def test_pinwheel_cannot_be_cut_from_edge_to_edge():
    # The classic counterexample: four of 2 x 1 around one of 1 x 1, on a square of 3.
    places = [(0, 0, 2, 1), (2, 0, 1, 2), (1, 2, 2, 1), (0, 1, 1, 2), (1, 1, 1, 1)]
    instance = {
        **copy.deepcopy(INSTANCE), "kerf": 0, "trim": 0,
        "sheets": [{"id": "S", "w": 3, "h": 3, "cost": 7, "stock": None}],
        "parts": [{"id": str(n), "w": w, "h": h, "rot": 0} for n, (_, _, w, h) in enumerate(places)],
    }  # fmt: skip
    laid = [
        {"id": str(n), "x": x, "y": y, "w": w, "h": h, "rotated": False}
        for n, (x, y, w, h) in enumerate(places)
    ]
    plan = plan_of(*laid, offcuts=())

    assert faults(instance, plan) == ["sheet 0: parts of the sheet not free by cuts from edge to edge"]
    assert faults({**instance, "guillotine": False}, plan) == []
