"""An independent judge of cutting plans: it knows the rules and nothing of how a plan is made."""

from collections import Counter
from collections.abc import Iterator, Sequence

from boards.core.nesting.shapes import Cut, CutSheet, Layout, Offcut, Piece, Placement, Rules, Sheet

TOLERANCE_MM = 0.001

# Near corner and far corner, mm from the sheet's corner.
Rectangle = tuple[float, float, float, float]


def check(layout: Layout, pieces: Sequence[Piece], sheets: Sequence[Sheet], rules: Rules) -> tuple[str, ...]:
    """Everything that is wrong with a layout.

    layout: the plan, positions in mm. pieces, sheets, rules: what was asked, sides in mm.
    Returns one sentence a fault; none means that every blank lies once, in its size, its flutes as allowed,
    inside the trim, a kerf from its neighbours; that the cuts listed run from edge to edge and set every
    blank and every offcut free; that the stock suffices, and that no blank is left out for which a sheet is
    unused.
    """
    asked = {piece.key: piece for piece in pieces}
    sizes = {sheet.key: sheet for sheet in sheets}
    faults = [
        *count_faults(layout, asked),
        *stock_faults(layout, sizes),
        *idle_faults(layout, asked, sheets, rules),
    ]
    for number, cut_sheet in enumerate(layout.sheets, start=1):
        where = f"Sheet {number} ({cut_sheet.sheet_key})"
        if cut_sheet.sheet_key not in sizes:
            faults.append(f"{where}: there is no such sheet size.")
            continue
        faults += [
            f"{where}: {fault}" for fault in sheet_faults(cut_sheet, sizes[cut_sheet.sheet_key], asked, rules)
        ]
    return tuple(faults)


def count_faults(layout: Layout, asked: dict[str, Piece]) -> Iterator[str]:
    """Blanks missing, repeated or never asked for."""
    times = Counter(placed.key for cut_sheet in layout.sheets for placed in cut_sheet.placements)
    times.update(unplaced.key for unplaced in layout.unplaced)
    for key in asked:
        if times[key] != 1:
            yield f"Blank {key} is placed or left out {times[key]} times, not once."
    for key in sorted(times.keys() - asked.keys()):
        yield f"Blank {key} was never asked for."


def stock_faults(layout: Layout, sizes: dict[str, Sheet]) -> Iterator[str]:
    """More sheets cut than there are."""
    for key, count in Counter(cut_sheet.sheet_key for cut_sheet in layout.sheets).items():
        stock = sizes[key].stock if key in sizes else None
        if stock is not None and count > stock:
            yield f"{count} sheets {key} are cut, only {stock} are in stock."


def idle_faults(
    layout: Layout, asked: dict[str, Piece], sheets: Sequence[Sheet], rules: Rules
) -> Iterator[str]:
    """Blanks left out although a sheet that would hold them is not cut."""
    used = Counter(cut_sheet.sheet_key for cut_sheet in layout.sheets)
    unused = [sheet for sheet in sheets if sheet.stock is None or used[sheet.key] < sheet.stock]
    for unplaced in layout.unplaced:
        piece = asked.get(unplaced.key)
        for sheet in unused:
            if piece and holds(sheet, piece, rules):
                yield f"Blank {piece.key} is left out, yet a sheet {sheet.key} would hold it."
                break


def holds(sheet: Sheet, piece: Piece, rules: Rules) -> bool:
    """Whether a blank fits a sheet on its own."""
    along, across = sheet.along_mm - 2 * rules.trim_mm, sheet.across_mm - 2 * rules.trim_mm
    if piece.along_mm <= along and piece.across_mm <= across:
        return True
    return piece.may_turn and piece.across_mm <= along and piece.along_mm <= across


def sheet_faults(cut_sheet: CutSheet, sheet: Sheet, asked: dict[str, Piece], rules: Rules) -> Iterator[str]:
    """Everything wrong on one sheet."""
    if not cut_sheet.placements:
        yield "nothing is cut from it."
    for placed in cut_sheet.placements:
        yield from size_faults(placed, asked.get(placed.key))
    yield from position_faults(cut_sheet, sheet, rules)
    blanks = [rectangle_of(placed) for placed in cut_sheet.placements]
    if not is_separable(blanks, rules.kerf_mm):
        yield "no order of cuts from edge to edge sets its blanks free."
    yield from cut_faults(cut_sheet, sheet, rules)


def size_faults(placed: Placement, piece: Piece | None) -> Iterator[str]:
    """A blank placed in another size than asked, or turned though its flutes forbid it."""
    if piece is None:
        return
    along, across = piece.along_mm, piece.across_mm
    if placed.turned:
        along, across = across, along
        if not piece.may_turn:
            yield f"blank {piece.key} is turned against its flutes."
    if not (is_close(placed.along_mm, along) and is_close(placed.across_mm, across)):
        yield (
            f"blank {piece.key} is placed as {placed.along_mm:g} x {placed.across_mm:g} mm, "
            f"not {along:g} x {across:g} mm."
        )


def position_faults(cut_sheet: CutSheet, sheet: Sheet, rules: Rules) -> Iterator[str]:
    """Blanks in the trim or off the sheet, and neighbours closer than a kerf."""
    low, kerf = rules.trim_mm - TOLERANCE_MM, rules.kerf_mm - TOLERANCE_MM
    far_x = sheet.along_mm - rules.trim_mm + TOLERANCE_MM
    far_y = sheet.across_mm - rules.trim_mm + TOLERANCE_MM
    by_x = sorted(cut_sheet.placements, key=lambda placed: placed.x_mm)
    for number, placed in enumerate(by_x):
        x0, y0, x1, y1 = rectangle_of(placed)
        if not (low <= x0 and low <= y0 and x1 <= far_x and y1 <= far_y):
            yield f"blank {placed.key} reaches into the trim or off the sheet."
        for other in by_x[number + 1 :]:
            if other.x_mm >= x1 + kerf:
                break
            if other.y_mm < y1 + kerf and y0 < other.y_mm + other.across_mm + kerf:
                yield f"blanks {placed.key} and {other.key} overlap or lie closer than a kerf."
    for offcut in cut_sheet.offcuts:
        x0, y0, x1, y1 = rectangle_of(offcut)
        if not (low <= x0 and low <= y0 and x1 <= far_x and y1 <= far_y):
            yield f"the offcut at {x0:g}, {y0:g} mm reaches into the trim or off the sheet."


def is_separable(blanks: list[Rectangle], kerf_mm: float) -> bool:
    """Whether cuts from edge to edge set all rectangles free.

    A cut that harms no blank may always be made first, so the first one found will do.
    """
    waiting = [blanks]
    while waiting:
        group = waiting.pop()
        if len(group) < 2:
            continue
        parts = split_across(group, 0, kerf_mm) or split_across(group, 1, kerf_mm)
        if not parts:
            return False
        waiting += parts
    return True


def split_across(group: list[Rectangle], axis: int, kerf_mm: float) -> list[list[Rectangle]]:
    """The group in two, parted by the first gap of a kerf along an axis; empty if there is none."""
    ordered = sorted(group, key=lambda rectangle: rectangle[axis])
    end = ordered[0][axis + 2]
    for number, rectangle in enumerate(ordered[1:], start=1):
        if rectangle[axis] >= end + kerf_mm - TOLERANCE_MM:
            return [ordered[:number], ordered[number:]]
        end = max(end, rectangle[axis + 2])
    return []


def cut_faults(cut_sheet: CutSheet, sheet: Sheet, rules: Rules) -> Iterator[str]:
    """Cuts that do not run from edge to edge, and blanks or offcuts they do not set free."""
    parts: list[Rectangle] = [(0.0, 0.0, sheet.along_mm, sheet.across_mm)]
    for number, cut in enumerate(cut_sheet.cuts, start=1):
        whole = next((part for part in parts if runs_edge_to_edge(cut, part)), None)
        if whole is None:
            yield f"cut {number} does not run from edge to edge of any part."
            return
        parts.remove(whole)
        parts += halves(cut, whole, rules)
    for placed in cut_sheet.placements:
        if not take_out(parts, rectangle_of(placed)):
            yield f"the cuts do not set blank {placed.key} free in its size."
    for offcut in cut_sheet.offcuts:
        if not take_out(parts, rectangle_of(offcut)):
            yield f"the offcut at {offcut.x_mm:g}, {offcut.y_mm:g} mm is not a part that the cuts leave over."


def runs_edge_to_edge(cut: Cut, part: Rectangle) -> bool:
    """Whether a cut runs from one edge of a part to the opposite one, inside it."""
    x0, y0, x1, y1 = part
    if is_close(cut.x0_mm, cut.x1_mm):
        return x0 < cut.x0_mm < x1 and is_close(cut.y0_mm, y0) and is_close(cut.y1_mm, y1)
    if is_close(cut.y0_mm, cut.y1_mm):
        return y0 < cut.y0_mm < y1 and is_close(cut.x0_mm, x0) and is_close(cut.x1_mm, x1)
    return False


def halves(cut: Cut, part: Rectangle, rules: Rules) -> list[Rectangle]:
    """What a cut leaves of a part: both sides, less the kerf beyond the line; of a trim cut the kept side."""
    x0, y0, x1, y1 = part
    lost = 0.0 if cut.is_trim else rules.kerf_mm
    if is_close(cut.x0_mm, cut.x1_mm):
        position, near, far = cut.x0_mm, (x0, y0, cut.x0_mm, y1), (cut.x0_mm + lost, y0, x1, y1)
    else:
        position, near, far = cut.y0_mm, (x0, y0, x1, cut.y0_mm), (x0, cut.y0_mm + lost, x1, y1)
    if cut.is_trim:
        return [far] if is_close(position, rules.trim_mm) else [near]
    return [near, far] if far[0] < x1 and far[1] < y1 else [near]


def take_out(parts: list[Rectangle], wanted: Rectangle) -> bool:
    """Take the part that is just the wanted rectangle out of the list; False if there is none."""
    for part in parts:
        if all(is_close(have, want) for have, want in zip(part, wanted, strict=True)):
            parts.remove(part)
            return True
    return False


def rectangle_of(placed: Placement | Offcut) -> Rectangle:
    """Near and far corner of a blank or an offcut."""
    return placed.x_mm, placed.y_mm, placed.x_mm + placed.along_mm, placed.y_mm + placed.across_mm


def is_close(length_mm: float, other_mm: float) -> bool:
    """Whether two lengths are the same to within the tolerance."""
    return abs(length_mm - other_mm) <= TOLERANCE_MM
