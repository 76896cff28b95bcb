"""The drawings of a cut sheet shared out among its pages, each as large as its room allows, and their key."""

from collections.abc import Sequence

from housing.core.drawing.blank_key import Key, key_svg
from housing.core.drawing.blank_svg import BlankDrawing
from housing.printing.box_parts import PartSheet
from housing.printing.cut_sheet_content import CutSheet
from housing.printing.cut_sheet_frame import Frame, placed
from housing.printing.typesetting import HEAD_MM, LEADING, Run, rule, text_lines, wrap
from objects.core.words import say

type Plate = list[tuple[PartSheet, BlankDrawing | None]]
Picture = tuple[str, float, float]  # SVG, and its sides in mm
HEADED_MM = HEAD_MM * LEADING + 3.7  # heading of a drawing and the gap beneath it
MOST_SHARES = 4  # times a height is shared out anew
MORE, EVEN = 1.2, 1.6  # times more for the smallest drawing; drawings whose scales differ less are left


def key_of(sheet: CutSheet, width: float) -> Picture:
    blanks = [part.blank for part in sheet.parts]
    scores = [score for blank in blanks for score in blank.scores]
    key = Key(
        scored=sheet.manner.scored if scores else None,
        has_flaps=any(score.is_flap for score in scores),
        from_right=sheet.manner.from_right,
        has_waste=any(blank.waste for blank in blanks),
        cuts=any(blank.cuts or blank.openings for blank in blanks),
        joints=any(part.manner.joints for part in sheet.parts),
    )
    return key_svg(key, say("Key"), width)


def plates_of(
    parts: Sequence[PartSheet], width: float, frame: Frame, tops: Sequence[float], key_mm: float, least: int
) -> list[Plate]:
    """The drawings by page: on as few pages as let every line have its marks at both ends.

    key_mm: height of the key on the first page. least: pages there are anyhow.
    """
    best: list[Plate] = []
    for count in range(least, max(least, len(parts)) + 1):
        for groups in _splits(parts, count):
            plates = []
            for index, group in enumerate(groups):
                bottom = frame.bottom - (key_mm + 3.0 if index == 0 else 0.0)
                plates.append(fitted(group, width, bottom - tops[min(index, 1)]))
            if is_whole(plates):
                return plates
            if not best or undrawn(plates) < undrawn(best):
                best = plates
    return best


def is_whole(plates: Sequence[Plate]) -> bool:
    return all(drawing and drawing.both_edges for plate in plates for _, drawing in plate)


def reduced(plates: Sequence[Plate]) -> float:
    """How many times smaller than the board the smallest drawing is."""
    return max((drawing.reduction for plate in plates for _, drawing in plate if drawing), default=1.0)


def undrawn(plates: Sequence[Plate]) -> int:
    return sum(drawing is None for plate in plates for _, drawing in plate)


def _splits(parts: Sequence[PartSheet], count: int) -> list[list[list[PartSheet]]]:
    """Ways to put parts in their order on some pages: evenly, the first page, which has the key too, with the
    fewest; where there are more pages than parts also on the last ones."""
    filled_pages = min(count, len(parts))
    sizes = [len(parts) // filled_pages] * filled_pages
    for i in range(len(parts) % filled_pages):
        sizes[-1 - i] += 1
    groups, at = [], 0
    for size in sizes:
        groups.append(list(parts[at : at + size]))
        at += size
    empty: list[list[PartSheet]] = [[] for _ in range(count - filled_pages)]
    return [groups + empty] + ([empty + groups] if empty else [])


def fitted(
    parts: Sequence[PartSheet], width: float, height: float, most_reduced: float = float("inf")
) -> Plate:
    """Drawings that share a height, the one that would be smallest given more of it while that helps."""
    if not parts:
        return []
    room = height - len(parts) * HEADED_MM
    weights = [1.0] * len(parts)
    best = _shared(parts, width, room, weights, most_reduced)
    for _ in range(MOST_SHARES if len(parts) > 1 else 0):
        sizes = [drawing.reduction if drawing else float("inf") for _, drawing in best]
        if is_whole([best]) and max(sizes) < EVEN * min(sizes):
            break
        marked = [drawing.both_edges if drawing else False for _, drawing in best]
        worst = max(range(len(parts)), key=lambda i: (not marked[i], sizes[i]))
        weights[worst] *= MORE
        again = _shared(parts, width, room, weights, most_reduced)
        if _badness(again) < _badness(best):
            best = again
    return best


def _badness(plate: Plate) -> tuple[int, bool, float]:
    return undrawn([plate]), not is_whole([plate]), reduced([plate])


def _shared(
    parts: Sequence[PartSheet], width: float, room: float, weights: Sequence[float], most_reduced: float
) -> Plate:
    """Drawings with shares of a height; what low ones leave goes to the highest."""
    shares = [room * weight / sum(weights) for weight in weights]
    drawn = [part.draw(width, share, most_reduced) for part, share in zip(parts, shares, strict=True)]
    used = [drawing.height_mm if drawing else share for drawing, share in zip(drawn, shares, strict=True)]
    spare = room - sum(used)
    if len(parts) > 1 and spare > 2:
        for i in sorted(range(len(parts)), key=lambda i: used[i], reverse=True):
            again = parts[i].draw(width, used[i] + spare, most_reduced)
            if again and (not drawn[i] or again.height_mm > used[i]):
                drawn[i] = again
                break
    return list(zip(parts, drawn, strict=True))


def laid_down(plate: Plate, x: float, wide: float, y: float) -> list[str]:
    found = []
    for part, drawing in plate:
        runs = [(part.name, True), (f"{part.size}, {drawing.scale}" if drawing else part.size, False)]
        found.append(text_lines([_spaced(runs)], x, y + 0.8, HEAD_MM, "head"))
        found.append(rule(x, y + 0.8 + HEAD_MM * LEADING + 0.5, wide, 0.3))
        y += HEADED_MM - 0.6
        if drawing is None:
            told = say(
                "The drawing does not fit this page. Work from the tables, or print on a larger paper."
            )
            found.append(text_lines(wrap([(told, False)], wide), x, y))
            continue
        found.append(placed(drawing.svg, x + max(0.0, (wide - drawing.width_mm) / 2), y))
        y += drawing.height_mm + 0.6
    return found


def height_of_plate(plate: Plate) -> float:
    return sum(HEADED_MM + (drawing.height_mm if drawing else 0.0) for _, drawing in plate)


def _spaced(runs: list[Run]) -> list[Run]:
    (name, bold), (rest, plain) = runs
    return [(f"{name}  ", bold), (rest, plain)]
