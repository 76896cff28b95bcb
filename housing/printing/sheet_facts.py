"""The facts of a planned sheet for its printed page: what it is, who cuts it when, what becomes of it."""

from django.utils import timezone
from django.utils.formats import date_format

from boards.core.nesting.shapes import Sheet
from housing.models import PlannedBlank, PlannedSheet
from housing.printing.planned_sheets import unbroken
from housing.queries.sheet_prints import week_of
from objects.core.words import say, say_count
from objects.readers import Reader


def facts_of(sheet: PlannedSheet, shape: Sheet, reader: Reader, by: str) -> list[tuple[str, str]]:
    """Name and value of each, in words. by: who prints the page."""
    is_fluted = sheet.board.to_core().is_fluted
    size = {"along": reader.length(shape.along_mm), "across": reader.length(shape.across_mm)}
    boxes = list(boxes_on(sheet).values())
    rows = [
        (say("Board"), str(sheet.board)),
        (
            say("Size"),
            say("{along} along the flutes × {across} across", **size)
            if is_fluted
            else say("{along} along the grain × {across} across", **size),
        ),
    ]
    if sheet.offcut_id:
        rows.append((say("Cut from"), say("offcut {number} on the rack", number=sheet.offcut_id)))
    if sheet.person:
        rows.append((say("Given to"), str(sheet.person)))
    if week := week_of(sheet):
        rows.append((say("Week from"), date_format(week, "j M Y")))
    if sheet.cut_at:
        rows.append((say("Cut on"), date_format(timezone.localtime(sheet.cut_at), "j M Y")))
    made_at = date_format(timezone.localtime(sheet.plan.made_at), "j M Y H:i")
    rows += [
        (
            say_count("{count} box", "{count} boxes", len(boxes)),
            ", ".join(unbroken(number) for number in boxes),
        ),
        (say("Of the sheet"), _shares(sheet, shape)),
        (say("Trim, gap"), f"{reader.length(sheet.plan.trim_mm)}, {reader.length(sheet.plan.kerf_mm)}"),
        (say("Cutting plan of"), _who(made_at, sheet.plan.by)),
        (say("Printed"), _who(date_format(timezone.localdate(), "j M Y"), by)),
    ]  # fmt: skip
    return rows


def _who(when: str, by: object) -> str:
    name = by.get_full_name() or by.get_username() if hasattr(by, "get_username") else by
    return f"{when}, {name}" if name else when


def _shares(sheet: PlannedSheet, shape: Sheet) -> str:
    """What becomes of a sheet, in whole per cent; what falls off the blanks' own corners is waste too.

    Source: area balance, as waste_share() of a plan has it for plain rectangles.
    """
    whole = shape.along_mm * shape.across_mm
    used = sum(_board_area(placed) for placed in sheet.placements.all())
    kept = sum(offcut["along_mm"] * offcut["across_mm"] for offcut in sheet.offcuts)
    in_boxes, on_rack = round(100 * used / whole), round(100 * kept / whole)
    return say(
        "in the boxes {boxes} %, kept {kept} %, waste {waste} %",
        boxes=in_boxes,
        kept=on_rack,
        waste=max(0, 100 - in_boxes - on_rack),
    )


def _board_area(placed: PlannedBlank) -> float:
    panels = placed.blank.geometry.get("panels", ())
    if not panels:
        return float(placed.along_mm * placed.across_mm)
    return sum(panel["width_mm"] * panel["height_mm"] for panel in panels)


def boxes_on(sheet: PlannedSheet) -> dict[int, str]:
    """The boxes that blanks of a sheet are for, by key, with their numbers."""
    return {
        placed.blank.housing_id: placed.blank.housing.box_number
        for placed in sorted(sheet.placements.all(), key=lambda placed: placed.blank.housing_id)
    }
