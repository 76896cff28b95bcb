"""An independent judge of cutting plans: it knows the rules and nothing of how a plan is made."""

from collections import Counter
from collections.abc import Iterator, Sequence

from boards.core.nesting.shapes import Cut, CutSheet, Layout, Offcut, Piece, Placement, Rules, Sheet
from objects.core.words import say

TOLERANCE_MM = 0.001

# Near corner and far corner, mm from the sheet's corner.
Rectangle = tuple[float, float, float, float]


def check(layout: Layout, pieces: Sequence[Piece], sheets: Sequence[Sheet], rules: Rules) -> tuple[str, ...]:
    """Everything that is wrong with a layout.

    layout: the plan, positions in mm. pieces, sheets, rules: what was asked, sides in mm.
    Returns one sentence a fault; none means that every blank lies once, in its size, its flutes as allowed,
    inside the trim, a kerf from its neighbours or in a waste corner of its host; that the cuts listed run
    from edge to edge and set every blank and every offcut free; that the stock suffices, that batches are
    kept apart if they must be, and that no blank is left out for which a sheet is unused.
    """
    asked = {piece.key: piece for piece in pieces}
    sizes = {sheet.key: sheet for sheet in sheets}
    faults = [
        *count_faults(layout, asked),
        *stock_faults(layout, sizes),
        *idle_faults(layout, asked, sheets, rules),
    ]
    for number, cut_sheet in enumerate(layout.sheets, start=1):
        where = say("Sheet {number} ({sheet_key})", number=number, sheet_key=cut_sheet.sheet_key)
        if cut_sheet.sheet_key not in sizes:
            faults.append(say("{where}: there is no such sheet size.", where=where))
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
            yield say("Blank {key} is placed or left out {times} times, not once.", key=key, times=times[key])
    for key in sorted(times.keys() - asked.keys()):
        yield say("Blank {key} was never asked for.", key=key)


def stock_faults(layout: Layout, sizes: dict[str, Sheet]) -> Iterator[str]:
    """More sheets cut than there are."""
    for key, count in Counter(cut_sheet.sheet_key for cut_sheet in layout.sheets).items():
        stock = sizes[key].stock if key in sizes else None
        if stock is not None and count > stock:
            yield say(
                "{count} sheets {key} are cut, only {stock} are in stock.", count=count, key=key, stock=stock
            )


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
                yield say(
                    "Blank {key} is left out, yet a sheet {key2} would hold it.",
                    key=piece.key,
                    key2=sheet.key,
                )
                break


def holds(sheet: Sheet, piece: Piece, rules: Rules) -> bool:
    """Whether a blank fits a sheet on its own."""
    along, across = sheet.along_mm - 2 * rules.trim_mm, sheet.across_mm - 2 * rules.trim_mm
    if piece.along_mm <= along and piece.across_mm <= across:
        return True
    return piece.may_turn and piece.across_mm <= along and piece.along_mm <= across


def sheet_faults(cut_sheet: CutSheet, sheet: Sheet, asked: dict[str, Piece], rules: Rules) -> Iterator[str]:
    """Everything wrong on one sheet."""
    direct = [placed for placed in cut_sheet.placements if placed.host is None]
    if not direct:
        yield "nothing is cut from it."
    for placed in cut_sheet.placements:
        yield from size_faults(placed, asked.get(placed.key))
    yield from batch_faults(cut_sheet, asked, rules)
    yield from position_faults(direct, cut_sheet.offcuts, sheet, rules)
    if rules.edge_to_edge:
        if not is_separable([rectangle_of(placed) for placed in direct], rules.kerf_mm):
            yield "no order of cuts from edge to edge sets its blanks free."
        cuts = [cut for cut in cut_sheet.cuts if cut.host is None]
        whole = (0.0, 0.0, sheet.along_mm, sheet.across_mm)
        yield from cut_faults(cuts, whole, direct, cut_sheet.offcuts, rules)
    else:
        yield from offcut_faults(cut_sheet.offcuts, direct)
    yield from guest_faults(cut_sheet, asked, rules)


def offcut_faults(offcuts: Sequence[Offcut], direct: Sequence[Placement]) -> Iterator[str]:
    """Offcuts that lie on a blank or on one another, where no cuts say what is left over."""
    for number, offcut in enumerate(offcuts):
        own = rectangle_of(offcut)
        beside: list[Placement | Offcut] = [*direct, *offcuts[number + 1 :]]
        taken = [rectangle_of(other) for other in beside]
        if any(overlap(own, other) for other in taken):
            yield say(
                "the offcut at {x_mm:g}, {y_mm:g} mm lies on what is cut out or kept.",
                x_mm=offcut.x_mm,
                y_mm=offcut.y_mm,
            )


def overlap(one: Rectangle, other: Rectangle) -> bool:
    """Whether two rectangles share ground."""
    return all(
        one[axis] < other[axis + 2] - TOLERANCE_MM and other[axis] < one[axis + 2] - TOLERANCE_MM
        for axis in (0, 1)
    )


def batch_faults(cut_sheet: CutSheet, asked: dict[str, Piece], rules: Rules) -> Iterator[str]:
    """Blanks of several batches on one sheet although they must not mix."""
    batches = {asked[placed.key].batch for placed in cut_sheet.placements if placed.key in asked}
    if len(batches) > 1 and not rules.mix_batches:
        yield say("it mixes the batches {batches}.", batches=", ".join(map(str, sorted(batches))))


def guest_faults(cut_sheet: CutSheet, asked: dict[str, Piece], rules: Rules) -> Iterator[str]:
    """Blanks said to be cut from a waste corner of another that do not lie in one, or not as they should."""
    direct = {placed.key: placed for placed in cut_sheet.placements if placed.host is None}
    guests: dict[tuple[str, int], list[Placement]] = {}
    for placed in cut_sheet.placements:
        if placed.host is None:
            continue
        if not rules.use_corners:
            yield say("blank {key} lies in a corner, which the rules do not allow.", key=placed.key)
        host = direct.get(placed.host)
        if host is None or placed.host not in asked:
            yield say(
                "blank {key} lies in {host}, which is not on the sheet itself.",
                key=placed.key,
                host=placed.host,
            )
            continue
        inside = [
            number
            for number, room in enumerate(corner_rooms(host, asked[placed.host], rules))
            if contains(room, rectangle_of(placed))
        ]
        if inside:
            guests.setdefault((placed.host, inside[0]), []).append(placed)
        else:
            yield say(
                "blank {key} does not lie in a waste corner of {host}.", key=placed.key, host=placed.host
            )
    cuts = [cut for cut in cut_sheet.cuts if cut.host is not None]
    for (key, number), placed_in in guests.items():
        room = corner_rooms(direct[key], asked[key], rules)[number]
        yield from neighbour_faults(placed_in, rules)
        own = [cut for cut in cuts if cut.host == key and contains(room, ends_of(cut))]
        cuts = [cut for cut in cuts if cut not in own]
        if not rules.edge_to_edge:
            continue
        if not is_separable([rectangle_of(placed) for placed in placed_in], rules.kerf_mm):
            yield say(
                "no order of cuts from edge to edge sets the blanks in a corner of {key} free.", key=key
            )
        yield from cut_faults(own, room, placed_in, (), rules)
    for cut in cuts:
        yield say("a cut in a corner of {host} sets no blank free.", host=cut.host)


def corner_rooms(host: Placement, piece: Piece, rules: Rules) -> list[Rectangle]:
    """The parts of a host's waste corners that can be used, on the sheet: a kerf is lost along inner edges.

    Turning a blank by 90 degrees to the left brings its point x, y to its width across less y, x.
    """
    kerf, rooms = rules.kerf_mm, []
    for number, (along, across) in enumerate(piece.corners):
        a, b = along - kerf, across - kerf
        x0 = piece.along_mm - a if number % 2 else 0.0
        y0 = piece.across_mm - b if number >= 2 else 0.0
        room = (x0, y0, x0 + a, y0 + b)
        if host.turned:
            room = (piece.across_mm - y0 - b, x0, piece.across_mm - y0, x0 + a)
        rooms.append((host.x_mm + room[0], host.y_mm + room[1], host.x_mm + room[2], host.y_mm + room[3]))
    return rooms


def contains(room: Rectangle, inner: Rectangle) -> bool:
    """Whether a rectangle lies within another."""
    return (
        room[0] - TOLERANCE_MM <= inner[0]
        and room[1] - TOLERANCE_MM <= inner[1]
        and inner[2] <= room[2] + TOLERANCE_MM
        and inner[3] <= room[3] + TOLERANCE_MM
    )


def ends_of(cut: Cut) -> Rectangle:
    """Both ends of a cut."""
    return cut.x0_mm, cut.y0_mm, cut.x1_mm, cut.y1_mm


def size_faults(placed: Placement, piece: Piece | None) -> Iterator[str]:
    """A blank placed in another size than asked, or turned though its flutes forbid it."""
    if piece is None:
        return
    along, across = piece.along_mm, piece.across_mm
    if placed.turned:
        along, across = across, along
        if not piece.may_turn:
            yield say("blank {key} is turned against its flutes.", key=piece.key)
    if not (is_close(placed.along_mm, along) and is_close(placed.across_mm, across)):
        yield (
            say(
                "blank {key} is placed as {along_mm:g} x {across_mm:g} mm, not {along:g} x {across:g} mm.",
                key=piece.key,
                along_mm=placed.along_mm,
                across_mm=placed.across_mm,
                along=along,
                across=across,
            )
        )


def position_faults(
    direct: Sequence[Placement], offcuts: Sequence[Offcut], sheet: Sheet, rules: Rules
) -> Iterator[str]:
    """Blanks or offcuts in the trim or off the sheet, and neighbours closer than a kerf."""
    trim = rules.trim_mm
    usable = (trim, trim, sheet.along_mm - trim, sheet.across_mm - trim)
    for placed in direct:
        if not contains(usable, rectangle_of(placed)):
            yield say("blank {key} reaches into the trim or off the sheet.", key=placed.key)
    yield from neighbour_faults(direct, rules)
    for offcut in offcuts:
        if not contains(usable, rectangle_of(offcut)):
            yield say(
                "the offcut at {x_mm:g}, {y_mm:g} mm reaches into the trim or off the sheet.",
                x_mm=offcut.x_mm,
                y_mm=offcut.y_mm,
            )


def neighbour_faults(placements: Sequence[Placement], rules: Rules) -> Iterator[str]:
    """Blanks that overlap or lie closer than a kerf."""
    kerf = rules.kerf_mm - TOLERANCE_MM
    by_x = sorted(placements, key=lambda placed: placed.x_mm)
    for number, placed in enumerate(by_x):
        _, y0, x1, y1 = rectangle_of(placed)
        for other in by_x[number + 1 :]:
            if other.x_mm >= x1 + kerf:
                break
            if other.y_mm < y1 + kerf and y0 < other.y_mm + other.across_mm + kerf:
                yield say(
                    "blanks {key} and {key2} overlap or lie closer than a kerf.",
                    key=placed.key,
                    key2=other.key,
                )


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


def cut_faults(
    cuts: Sequence[Cut],
    whole_part: Rectangle,
    placements: Sequence[Placement],
    offcuts: Sequence[Offcut],
    rules: Rules,
) -> Iterator[str]:
    """Cuts that do not run from edge to edge, and blanks or offcuts they do not set free."""
    parts: list[Rectangle] = [whole_part]
    for number, cut in enumerate(cuts, start=1):
        whole = next((part for part in parts if runs_edge_to_edge(cut, part)), None)
        if whole is None:
            yield say("cut {number} does not run from edge to edge of any part.", number=number)
            return
        parts.remove(whole)
        parts += halves(cut, whole, rules)
    for placed in placements:
        if not take_out(parts, rectangle_of(placed)):
            yield say("the cuts do not set blank {key} free in its size.", key=placed.key)
    for offcut in offcuts:
        if not take_out(parts, rectangle_of(offcut)):
            yield say(
                "the offcut at {x_mm:g}, {y_mm:g} mm is not a part that the cuts leave over.",
                x_mm=offcut.x_mm,
                y_mm=offcut.y_mm,
            )


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
