"""Why a blank lies on no sheet, said so that the reader knows what to change."""

from collections import Counter
from collections.abc import Sequence

from boards.core.nesting.job import SLACK_MM
from boards.core.nesting.shapes import Piece, Rules, Sheet, size_text
from objects.core.words import noted, say


def too_large(piece: Piece, sheets: Sequence[Sheet], rules: Rules) -> str:
    """The reason for a blank that fits no sheet, even alone; names a sheet it would fit if turned."""
    largest = max(sheets, key=lambda sheet: sheet.along_mm * sheet.across_mm)
    size, limit = size_text(piece.along_mm, piece.across_mm), size_text(largest.along_mm, largest.across_mm)
    inside = size_text(*(max(0, side) for side in usable_sides(largest, rules))) if rules.trim_mm else ""
    turned = next((sheet for sheet in sheets if holds_turned(sheet, piece, rules)), None)
    message = _TOO_LARGE[bool(inside), turned is not None]
    return say(
        message,
        size=size,
        largest=limit,
        inside=inside,
        sheet=size_text(turned.along_mm, turned.across_mm) if turned else "",
    )


# By whether sheets have a trim, and whether the blank would fit if it were turned.
_TOO_LARGE = {
    (False, False): noted("Blank {size} fits no sheet; the largest is {largest}."),
    (True, False): noted("Blank {size} fits no sheet; the largest is {largest}, {inside} inside its trim."),
    (False, True): noted(
        "Blank {size} fits no sheet; the largest is {largest}; turned 90 degrees it would fit the {sheet} "
        "sheet."
    ),
    (True, True): noted(
        "Blank {size} fits no sheet; the largest is {largest}, {inside} inside its trim; turned 90 degrees "
        "it would fit the {sheet} sheet."
    ),
}


def out_of_stock(piece: Piece, sheets: Sequence[Sheet], used: Counter[str], rules: Rules) -> str:
    """The reason for a blank whose sheets are all used up. used: how many sheets are cut, by key."""
    stocks = [
        say(
            "{size}: {used} of {stock}",
            size=size_text(sheet.along_mm, sheet.across_mm),
            used=used[sheet.key],
            stock=sheet.stock,
        )
        for sheet in sheets
        if holds(sheet, piece, rules) or (piece.may_turn and holds_turned(sheet, piece, rules))
    ]
    return say(
        "Blank {size} finds no room; the sheets it fits are used up ({stocks}).",
        size=size_text(piece.along_mm, piece.across_mm),
        stocks=", ".join(stocks),
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
