"""Why a blank lies on no sheet, said so that the reader knows what to change."""

from collections import Counter
from collections.abc import Sequence

from boards.core.nesting.job import SLACK_MM
from boards.core.nesting.shapes import Piece, Rules, Sheet, size_text


def too_large(piece: Piece, sheets: Sequence[Sheet], rules: Rules) -> str:
    """The reason for a blank that fits no sheet, even alone; names a sheet it would fit if turned."""
    largest = max(sheets, key=lambda sheet: sheet.along_mm * sheet.across_mm)
    text = (
        f"Blank {size_text(piece.along_mm, piece.across_mm)} fits no sheet; "
        f"the largest is {size_text(largest.along_mm, largest.across_mm)}"
    )
    if rules.trim_mm:
        along, across = usable_sides(largest, rules)
        text += f", {size_text(max(0, along), max(0, across))} inside its trim"
    for sheet in sheets:
        if holds_turned(sheet, piece, rules):
            size = size_text(sheet.along_mm, sheet.across_mm)
            return f"{text}; turned 90 degrees it would fit the {size} sheet."
    return f"{text}."


def out_of_stock(piece: Piece, sheets: Sequence[Sheet], used: Counter[str], rules: Rules) -> str:
    """The reason for a blank whose sheets are all used up. used: how many sheets are cut, by key."""
    stocks = [
        f"{size_text(sheet.along_mm, sheet.across_mm)}: {used[sheet.key]} of {sheet.stock}"
        for sheet in sheets
        if holds(sheet, piece, rules) or (piece.may_turn and holds_turned(sheet, piece, rules))
    ]
    return (
        f"Blank {size_text(piece.along_mm, piece.across_mm)} finds no room; "
        f"the sheets it fits are used up ({', '.join(stocks)})."
    )


def holds(sheet: Sheet, piece: Piece, rules: Rules) -> bool:
    """Whether the sheet less its trim holds the blank unturned."""
    along, across = usable_sides(sheet, rules)
    return piece.along_mm <= along + SLACK_MM and piece.across_mm <= across + SLACK_MM


def holds_turned(sheet: Sheet, piece: Piece, rules: Rules) -> bool:
    """Whether the sheet less its trim holds the blank turned by 90 degrees."""
    along, across = usable_sides(sheet, rules)
    return piece.across_mm <= along + SLACK_MM and piece.along_mm <= across + SLACK_MM


def usable_sides(sheet: Sheet, rules: Rules) -> tuple[float, float]:
    """Sides of a sheet inside its trim, mm."""
    return sheet.along_mm - 2 * rules.trim_mm, sheet.across_mm - 2 * rules.trim_mm
