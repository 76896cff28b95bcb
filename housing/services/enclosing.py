"""The enclosure a design gives for one object or a set: every allowed way tried, the least board taken."""

from collections.abc import Callable, Sequence
from dataclasses import replace

from housing.core.arranging import Cells, Row, by_height, in_a_row, in_cells
from housing.core.clearances import MM2_PER_M2, Allowances, InnerSize, ObjectSize, inner_size, lined
from housing.core.enclosures import Enclosure, divided_tray, make_enclosure
from housing.core.enclosures.form import BOARD, Supply
from housing.core.enclosures.options import read_choices
from housing.core.errors import EnclosureError
from housing.core.orientation import (
    Measured,
    Orientation,
    best_orientation,
    is_slender,
    orientations,
)
from housing.models import Design
from objects.core.lying import MayLie, MeasuredWith
from objects.core.words import say, say_count
from objects.models import CatalogueObject

type Ways = Sequence[Orientation]


def measured(thing: CatalogueObject) -> Measured:
    """An object's known size and how it may lie, as the core wants it."""
    size = ObjectSize(float(thing.height_mm), float(thing.width_mm), float(thing.depth_mm))
    return Measured(size, MayLie(thing.may_lie), MeasuredWith(thing.measured_with))


def design_enclosure(*, design: Design, contents: Sequence[CatalogueObject]) -> Enclosure:
    """The enclosure a design gives for one object, or for a set in a row or in cells.

    Its notes tell how the objects lie in it and why. Raises EnclosureError when it cannot be made.
    """
    if len(contents) == 1:
        made = _for_one(design, measured(contents[0]))
    elif design.form == divided_tray.FORM.key:
        made = _for_a_set(design, contents, _cells_for)
    else:
        made = _for_a_set(design, contents, _row_for)
    return replace(made, notes=(*_too_heavy(design, contents), *made.notes))


def _too_heavy(design: Design, contents: Sequence[CatalogueObject]) -> tuple[str, ...]:
    """What it means when the objects, as far as they were weighed, are heavier than the form is meant for."""
    form, grams = design.to_form(), sum(float(thing.weight_g or 0) for thing in contents)
    if form.heaviest_g is None or grams <= form.heaviest_g:
        return ()
    most = form.heaviest_g / 1000
    return (
        say(
            "The contents weigh {grams:.1f} kg; this form is meant for up to {most:g} kg.",
            grams=grams / 1000,
            most=most,
        ),
    )


# ---- One object ------------------------------------------------------------------------------------------


def _for_one(design: Design, thing: Measured) -> Enclosure:
    form = design.to_form()
    if not form.is_padded:  # a roll, for instance: the form itself says how the object lies
        return _made(design, _around(design, thing.size, Allowances(0.0, 0.0)))
    made: dict[ObjectSize, Enclosure] = {}
    refusals: list[EnclosureError] = []

    def board_for(size: ObjectSize) -> float | None:
        try:
            made[size] = _made(design, _around(design, size, design.to_allowances()))
        except EnclosureError as refused:
            refusals.append(refused)
            return None
        return _board_mm2(made[size])

    choice = best_orientation(thing, board_for, looks_further=is_slender(thing.size))
    if choice.chosen is None:
        raise refusals[0]
    enclosure = made[choice.chosen.size]
    reason = (choice.reason,) if _is_worth_telling(thing) else ()
    too_large = _too_large_for_a_cell(thing.size, enclosure, design)
    return replace(enclosure, notes=(*reason, *too_large, *enclosure.notes, *choice.warnings))


def _is_worth_telling(thing: Measured) -> bool:
    """Whether a person may ask why an object lies as it does; of most only that they were measured so."""
    return bool(thing.may_lie) or thing.measured_with.keeps_upright or is_slender(thing.size)


def _too_large_for_a_cell(size: ObjectSize, tray: Enclosure, design: Design) -> tuple[str, ...]:
    """What it means when one record is larger than the cells of the tray made around it."""
    if tray.form.key != divided_tray.FORM.key:
        return ()
    choices, t = design.to_choices(), tray.board.caliper_mm
    wide, deep = (
        (side - (cells - 1) * t) / cells
        for side, cells in (
            (tray.inside.x_mm, choices.count("cells_x")),
            (tray.inside.y_mm, choices.count("cells_y")),
        )
    )
    if size.width_mm <= wide and size.depth_mm <= deep:
        return ()
    return (
        say(
            "{width_mm:.1f} x {depth_mm:.1f} mm is taken for the size of a whole set, since it does "
            "not go into one cell. To give single objects a cell each, house them together as a set.",
            width_mm=size.width_mm,
            depth_mm=size.depth_mm,
        ),
    )


# ---- Sets ------------------------------------------------------------------------------------------------


def _for_a_set(
    design: Design,
    contents: Sequence[CatalogueObject],
    arrange: Callable[[Design, Sequence[Ways]], tuple[Row | Cells, Enclosure]],
) -> Enclosure:
    """The enclosure of least board among those for every height that the objects may lie within."""
    tried: list[tuple[float, tuple[Orientation, ...], Enclosure]] = []
    refusals: list[EnclosureError] = []
    for members in by_height([_ways(design, measured(thing)) for thing in contents]):
        try:
            arranged, enclosure = arrange(design, members)
        except EnclosureError as refused:
            refusals.append(refused)
        else:
            tried.append((_board_mm2(enclosure), arranged.ways, enclosure))
    if not tried:
        raise refusals[0]
    area, ways, enclosure = min(tried, key=lambda each: each[0])
    how, *notes = enclosure.notes
    lie, tip = _how_they_lie(contents, ways)
    return replace(enclosure, notes=(how, *lie, *notes, *_why(area, max(each[0] for each in tried)), *tip))


def _ways(design: Design, thing: Measured) -> Ways:
    """The ways an object may lie beside others; a form without padding says itself how it lies."""
    return orientations(thing, with_turns=True) if design.to_form().is_padded else [Orientation(thing.size)]


def _row_for(design: Design, members: Sequence[Ways]) -> tuple[Row, Enclosure]:
    form = design.to_form()
    row = in_a_row(members, float(design.side_allowance_mm))
    allowances = design.to_allowances() if form.is_padded else Allowances(0.0, 0.0)
    made = _made(design, _around(design, row.size, allowances))
    apart = say(", with {spacers}", spacers=row.spacers.told) if row.spacers else ""
    note = say(
        "{count} objects side by side, in their order from left to right{apart}.",
        count=len(row.ways),
        apart=apart,
    )
    spacers = (Supply(row.spacers.what, row.spacers.count),) if row.spacers else ()
    return row, replace(made, notes=(note, *made.notes), supplies=(*made.supplies, *spacers))


def _cells_for(design: Design, members: Sequence[Ways]) -> tuple[Cells, Enclosure]:
    form, board = design.to_form(), design.board.to_core()
    # Every cell is lined, not the tray alone; else the lining would come out of the outer cells.
    cells = in_cells(
        members,
        float(design.side_allowance_mm + design.lining_mm),
        board.caliper_mm,
        most_a_side=int(divided_tray.CELLS_X.most),
        longest_mm=form.longest_mm,
    )
    high = cells.cell.height_mm + float(design.height_allowance_mm + design.lining_mm)
    given = {divided_tray.CELLS_X.key: cells.columns, divided_tray.CELLS_Y.key: cells.rows}
    made = _made(design, InnerSize(cells.x_mm, cells.y_mm, high), given)
    free = (
        " " + say_count("{count} cell stays free.", "{count} cells stay free.", cells.empty)
        if cells.empty
        else ""
    )
    note = say(
        "{count} objects, one in a cell, row by row from the front left.{free}",
        count=len(cells.ways),
        free=free,
    )
    return cells, replace(made, notes=(note, *made.notes))


def _why(area_mm2: float, most_mm2: float) -> tuple[str, ...]:
    """Why the objects lie as they do, where it makes a difference."""
    mine, other = (f"{area / MM2_PER_M2:.2f} m²" for area in (area_mm2, most_mm2))
    if mine == other:
        return ()
    return (
        say(
            "The objects lie so that the box takes {mine} of board; otherwise it would take up to {other}.",
            mine=mine,
            other=other,
        ),
    )


def _how_they_lie(contents: Sequence[CatalogueObject], ways: Ways) -> tuple[list[str], list[str]]:
    """Which objects do not lie as they were measured, and which tip easily; nothing where there are none."""
    lying: dict[str, list[str]] = {}
    for thing, way in zip(contents, ways, strict=True):
        lying.setdefault(way.words, []).append(thing.number)
    turned = [f"{words}: {', '.join(numbers)}" for words, numbers in lying.items() if words]
    lie = [say("To go in {turned}.", turned="; ".join(turned))] if turned else []
    slender = [thing.number for thing, way in zip(contents, ways, strict=True) if is_slender(way.size)]
    tip = say(
        "Tall on a narrow base and easily tipped: {slender}. Hold them on all sides, or ask a "
        "conservator whether they may be laid down.",
        slender=", ".join(slender),
    )
    return lie, [tip] if slender else []


# ---- Making ----------------------------------------------------------------------------------------------


def _around(design: Design, size: ObjectSize, allowances: Allowances) -> InnerSize:
    return lined(inner_size(size, allowances), float(design.lining_mm))


def _made(design: Design, inner: InnerSize, given: dict[str, int] | None = None) -> Enclosure:
    choices = design.to_choices()
    if given:
        choices = read_choices(design.to_form().options, {**choices.as_dict(), **given})
    return make_enclosure(design.form, inner, design.board.to_core(), choices, design.to_marking_out())


def _board_mm2(enclosure: Enclosure) -> float:
    """What is cut from sheets for it: the gross area of its blanks of board."""
    return sum(part.blank.gross_area_mm2 for part in enclosure.parts if part.material == BOARD)
