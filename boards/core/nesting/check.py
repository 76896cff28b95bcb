"""The judge of every cutting plan: it knows the rules and nothing of how plans are made."""

from collections import Counter
from collections.abc import Iterator, Sequence

from boards.core.nesting.shapes import CutSheet, Layout, Piece, Placement, Rules, Sheet

NEAR_MM = 1e-3
Box = tuple[float, float, float, float]


def check(layout: Layout, pieces: Sequence[Piece], sheets: Sequence[Sheet], rules: Rules) -> tuple[str, ...]:
    """Every fault of a plan, as sentences; none when the plan is valid.

    layout: the plan. pieces, sheets, rules: what was asked, mm.
    Returns faults: a piece missing, doubled, of wrong size or against its flutes; off the trimmed sheet; closer
    than the kerf; a sheet unknown or beyond its stock; not separable by cuts from edge to edge; the listed
    cuts not leaving each piece alone; an offcut that is not free.
    Source: the rules of the trade for cutting with a straight edge; common practice, no source.
    """
    by_key = {piece.key: piece for piece in pieces}
    by_sheet = {sheet.key: sheet for sheet in sheets}
    faults = list(_count_faults(layout, by_key, by_sheet))
    for index, cut_sheet in enumerate(layout.sheets, start=1):
        sheet = by_sheet.get(cut_sheet.sheet_key)
        if sheet is not None:
            faults += [f"sheet {index}: {fault}" for fault in _sheet_faults(cut_sheet, sheet, by_key, rules)]
    return tuple(faults)


def _count_faults(layout: Layout, by_key: dict[str, Piece], by_sheet: dict[str, Sheet]) -> Iterator[str]:
    seen = Counter(p.key for cut_sheet in layout.sheets for p in cut_sheet.placements)
    seen.update(unplaced.key for unplaced in layout.unplaced)
    for key in sorted(seen.keys() | by_key.keys()):
        if key not in by_key:
            yield f"piece {key} was not asked for"
        elif seen[key] != 1:
            yield f"piece {key} appears {seen[key]} times instead of once"
    for key, used in sorted(Counter(cut_sheet.sheet_key for cut_sheet in layout.sheets).items()):
        sheet = by_sheet.get(key)
        if sheet is None:
            yield f"sheet size {key} is unknown"
        elif sheet.stock is not None and used > sheet.stock:
            yield f"{used} sheets {key} are used but only {sheet.stock} are there"


def _sheet_faults(cut_sheet: CutSheet, sheet: Sheet, by_key: dict[str, Piece], rules: Rules) -> Iterator[str]:
    trim = rules.trim_mm
    area: Box = (trim, trim, sheet.along_mm - trim, sheet.across_mm - trim)
    for p in cut_sheet.placements:
        piece = by_key.get(p.key)
        if piece is None:
            continue
        asked = (piece.across_mm, piece.along_mm) if p.turned else (piece.along_mm, piece.across_mm)
        if p.turned and not piece.may_turn:
            yield f"piece {p.key} is turned against its flutes"
        if abs(p.along_mm - asked[0]) > NEAR_MM or abs(p.across_mm - asked[1]) > NEAR_MM:
            yield f"piece {p.key} is {p.along_mm:g} x {p.across_mm:g} mm, not {asked[0]:g} x {asked[1]:g} mm"
        if not _inside(_box(p), area):
            yield f"piece {p.key} lies off the trimmed sheet"
    boxes = [(p.key, _box(p)) for p in cut_sheet.placements]
    for i, (key, box) in enumerate(boxes):
        for other, other_box in boxes[i + 1 :]:
            if not _apart(box, other_box, rules.kerf_mm):
                yield f"pieces {key} and {other} are closer than the kerf of {rules.kerf_mm:g} mm"
    if not _separable([box for _, box in boxes], rules.kerf_mm):
        yield "the pieces cannot be separated by cuts from edge to edge"
    yield from _cut_faults(cut_sheet, area, boxes, rules.kerf_mm)
    yield from _offcut_faults(cut_sheet, area, boxes)


def _box(p: Placement) -> Box:
    return p.x_mm, p.y_mm, p.x_mm + p.along_mm, p.y_mm + p.across_mm


def _inside(box: Box, area: Box) -> bool:
    return (
        box[0] >= area[0] - NEAR_MM
        and box[1] >= area[1] - NEAR_MM
        and box[2] <= area[2] + NEAR_MM
        and box[3] <= area[3] + NEAR_MM
    )


def _apart(a: Box, b: Box, gap: float) -> bool:
    gap -= NEAR_MM
    return a[2] + gap <= b[0] or b[2] + gap <= a[0] or a[3] + gap <= b[1] or b[3] + gap <= a[1]


def _separable(boxes: list[Box], kerf: float) -> bool:
    """Whether cuts right across the part in hand, one kerf wide, can separate all boxes."""
    if len(boxes) <= 1:
        return True
    for low, high in ((0, 2), (1, 3)):
        ordered = sorted(boxes, key=lambda box: box[low])
        reach = ordered[0][high]
        for i in range(1, len(ordered)):
            if ordered[i][low] >= reach + kerf - NEAR_MM:
                return _separable(ordered[:i], kerf) and _separable(ordered[i:], kerf)
            reach = max(reach, ordered[i][high])
    return False


def _cut_faults(cut_sheet: CutSheet, area: Box, boxes: list[tuple[str, Box]], kerf: float) -> Iterator[str]:
    """Replay the cuts, each one kerf wide beyond its line: every piece must come out alone, at its size."""
    parts: list[Box] = [area]
    for number, cut in enumerate(cut_sheet.cuts, start=1):
        upright = abs(cut.x1_mm - cut.x2_mm) < NEAR_MM
        low, high = (1, 3) if upright else (0, 2)
        start, end = (cut.y1_mm, cut.y2_mm) if upright else (cut.x1_mm, cut.x2_mm)
        at, side = (cut.x1_mm, 0) if upright else (cut.y1_mm, 1)
        crossed = [
            p
            for p in parts
            if abs(p[low] - start) < NEAR_MM
            and abs(p[high] - end) < NEAR_MM
            and p[side] + NEAR_MM < at < p[side + 2] - NEAR_MM
        ]
        if len(crossed) != 1:
            yield f"cut {number} does not run from edge to edge of one part"
            return
        part = crossed[0]
        parts.remove(part)
        first, second = list(part), list(part)
        first[side + 2], second[side] = at, min(at + kerf, part[side + 2])
        parts += [tuple(first), tuple(second)]
    for key, box in boxes:
        home = [part for part in parts if _inside(box, part)]
        if len(home) != 1:
            yield f"the cuts run through piece {key}"
        elif any(other != key and _inside(other_box, home[0]) for other, other_box in boxes):
            yield f"the cuts leave piece {key} joined to another"
        elif not (abs(home[0][2] - box[2]) < NEAR_MM and abs(home[0][3] - box[3]) < NEAR_MM):
            yield f"the cuts leave piece {key} larger than asked"


def _offcut_faults(cut_sheet: CutSheet, area: Box, boxes: list[tuple[str, Box]]) -> Iterator[str]:
    rests = [(o.x_mm, o.y_mm, o.x_mm + o.along_mm, o.y_mm + o.across_mm) for o in cut_sheet.offcuts]
    for i, rest in enumerate(rests):
        taken = [box for _, box in boxes] + rests[i + 1 :]
        if not _inside(rest, area) or not all(_apart(rest, box, 0.0) for box in taken):
            yield f"offcut {i + 1} is not free"
