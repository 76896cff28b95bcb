"""Cutting plans as JSON text, blanks named by the ids of their parts."""

import json
from decimal import Decimal
from typing import Any

from boards.core.nesting.bound import bound
from boards.core.nesting.instance_file import Question
from boards.core.nesting.shapes import Cut, CutSheet, Layout, layout_cost

DIGITS = 4  # of a millimetre, as in the database


def plan_text(question: Question, layout: Layout, seed: int) -> str:
    """A plan as JSON, one sheet a line, lengths in mm from the sheet's corner; the same plan, the same text.

    question: what was asked. layout: its plan, in which every blank lies on a sheet. seed: what it came of.
    """
    least = bound(question.pieces, question.sheets, question.rules)
    head = {
        "instance": question.name,
        "seed": seed,
        "cost": number(layout_cost(layout, question.sheets)),
        "least_cost": number(least.cost),
        "least_sheets": least.sheets,
    }
    if question.name is None:
        del head["instance"]
    sheets = ",\n".join(json.dumps(sheet_values(sheet, question)) for sheet in layout.sheets)
    return f'{json.dumps(head)[:-1]}, "sheets": [\n{sheets}\n]}}\n'


def sheet_values(sheet: CutSheet, question: Question) -> dict[str, Any]:
    """One sheet; hosts are told by their place in its list of parts."""
    index_of = {placed.key: index for index, placed in enumerate(sheet.placements)}
    parts = [
        {
            "id": question.part_ids[placed.key],
            "x": number(placed.x_mm),
            "y": number(placed.y_mm),
            "w": number(placed.along_mm),
            "h": number(placed.across_mm),
            "rotated": placed.turned,
            **({} if placed.host is None else {"host": index_of[placed.host]}),
        }
        for placed in sheet.placements
    ]
    offcuts = [
        {
            "x": number(offcut.x_mm),
            "y": number(offcut.y_mm),
            "w": number(offcut.along_mm),
            "h": number(offcut.across_mm),
        }
        for offcut in sheet.offcuts
    ]
    cuts = [cut_values(cut, index_of) for cut in sheet.cuts]
    return {"type": sheet.sheet_key, "parts": parts, "cuts": cuts, "offcuts": offcuts}


def cut_values(cut: Cut, index_of: dict[str, int]) -> dict[str, Any]:
    """One cut, in the words of shapes.Cut."""
    return {
        "from": [number(cut.x0_mm), number(cut.y0_mm)],
        "to": [number(cut.x1_mm), number(cut.y1_mm)],
        "trim": cut.is_trim,
        "part": cut.part,
        "mark": number(cut.mark_mm),
        "stage": cut.stage,
        **({} if cut.host is None else {"host": index_of[cut.host]}),
    }


def number(value: float | Decimal) -> int | float:
    """A number as it is written: 57 rather than 57.0, others to a ten-thousandth."""
    rounded = round(float(value), DIGITS)
    return int(rounded) if rounded.is_integer() else rounded
