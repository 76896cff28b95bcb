"""From blanks laid on a sheet to the cuts that free them, in an order that a straight edge can follow."""

from collections.abc import Sequence
from typing import NamedTuple

from boards.core.nesting.guillotine import Laid, LaidSheet
from boards.core.nesting.job import SLACK_MM
from boards.core.nesting.shapes import Cut, CutSheet, Offcut, Piece, Placement, Rules, Sheet

# Positions are written to the nanometre, which hides the noise of binary fractions and nothing else.
DIGITS = 6


class Panel(NamedTuple):
    """A part of the sheet: near corner and sides, mm grown by the kerf, from the corner inside the trim."""

    x: float
    y: float
    a: float
    b: float


def cut_up(laid_sheet: LaidSheet, pieces: Sequence[Piece], sheet: Sheet, rules: Rules) -> CutSheet:
    """The sheet with its placements, its cuts in order and its offcuts.

    laid_sheet: blanks in the near corners of free rectangles, mm grown by the kerf. pieces: all blanks of the
    job. sheet: the size as bought. Returns mm from the sheet's corner, trim included.
    Source: the near strip is cut off first and finished before the rest, common practice, no source.
    """
    cuts = trim_cuts(sheet, rules.trim_mm)
    offcuts = []
    at = {(laid.x, laid.y): laid for laid in laid_sheet.laid}
    in_hand = [Panel(0.0, 0.0, laid_sheet.kind.a, laid_sheet.kind.b)]
    while in_hand:
        panel = in_hand.pop()
        laid = at.get((panel.x, panel.y))
        if laid is None:
            offcuts.append(panel)
            continue
        new_cuts, rest = free_one(laid, panel, at, rules)
        cuts += new_cuts
        in_hand += rest
    placements = tuple(placement(laid, pieces[laid.blank], rules) for laid in laid_sheet.laid)
    return CutSheet(sheet.key, placements, tuple(cuts), usable(offcuts, rules))


def trim_cuts(sheet: Sheet, trim_mm: float) -> list[Cut]:
    """The four cuts that take the damaged edges off."""
    if not trim_mm:
        return []
    far_x, far_y = clean(sheet.along_mm - trim_mm), clean(sheet.across_mm - trim_mm)
    return [
        Cut(0.0, trim_mm, sheet.along_mm, trim_mm, is_trim=True),
        Cut(0.0, far_y, sheet.along_mm, far_y, is_trim=True),
        Cut(trim_mm, trim_mm, trim_mm, far_y, is_trim=True),
        Cut(far_x, trim_mm, far_x, far_y, is_trim=True),
    ]


def free_one(
    laid: Laid, panel: Panel, at: dict[tuple[float, float], Laid], rules: Rules
) -> tuple[list[Cut], list[Panel]]:
    """The one or two cuts that free a blank from the near corner of a panel, and the panels then left."""
    x, y = panel.x + laid.a, panel.y + laid.b
    rest_a, rest_b = panel.a - laid.a, panel.b - laid.b
    if rest_a < SLACK_MM and rest_b < SLACK_MM:
        return [], []
    if rest_b < SLACK_MM:
        return [upright(x, panel.y, panel.b, rules)], [Panel(x, panel.y, rest_a, panel.b)]
    if rest_a < SLACK_MM:
        return [level(y, panel.x, panel.a, rules)], [Panel(panel.x, y, panel.a, rest_b)]
    if is_upright_first(laid, panel, at.get((x, panel.y)), at.get((panel.x, y))):
        cuts = [upright(x, panel.y, panel.b, rules), level(y, panel.x, laid.a, rules)]
        return cuts, [Panel(x, panel.y, rest_a, panel.b), Panel(panel.x, y, laid.a, rest_b)]
    cuts = [level(y, panel.x, panel.a, rules), upright(x, panel.y, laid.b, rules)]
    return cuts, [Panel(panel.x, y, panel.a, rest_b), Panel(x, panel.y, rest_a, laid.b)]


def is_upright_first(laid: Laid, panel: Panel, beside: Laid | None, beyond: Laid | None) -> bool:
    """Whether the first cut runs across the panel: as later blanks need it, else for the larger offcut."""
    if beside:
        return beside.room_b > laid.b + SLACK_MM
    if beyond:
        return beyond.room_a <= laid.a + SLACK_MM
    return (panel.a - laid.a) * panel.b >= panel.a * (panel.b - laid.b)


def upright(x: float, y: float, b: float, rules: Rules) -> Cut:
    """A cut across, just beyond a blank that ends one kerf before x in grown sizes."""
    x_mm = clean(rules.trim_mm + x - rules.kerf_mm)
    y_mm = rules.trim_mm + y
    return Cut(x_mm, clean(y_mm), x_mm, clean(y_mm + b - rules.kerf_mm))


def level(y: float, x: float, a: float, rules: Rules) -> Cut:
    """A cut along, just beyond a blank that ends one kerf before y in grown sizes."""
    y_mm = clean(rules.trim_mm + y - rules.kerf_mm)
    x_mm = rules.trim_mm + x
    return Cut(clean(x_mm), y_mm, clean(x_mm + a - rules.kerf_mm), y_mm)


def placement(laid: Laid, piece: Piece, rules: Rules) -> Placement:
    """A blank where it lies, in its own size."""
    along, across = piece.along_mm, piece.across_mm
    if laid.turned:
        along, across = across, along
    x_mm, y_mm = clean(rules.trim_mm + laid.x), clean(rules.trim_mm + laid.y)
    return Placement(piece.key, x_mm, y_mm, along, across, laid.turned)


def usable(panels: list[Panel], rules: Rules) -> tuple[Offcut, ...]:
    """The panels left over whose shorter side reaches the least worth keeping, largest first."""
    kerf, trim = rules.kerf_mm, rules.trim_mm
    offcuts = [
        Offcut(clean(trim + x), clean(trim + y), clean(a - kerf), clean(b - kerf))
        for x, y, a, b in panels
        if min(a, b) - kerf > max(rules.least_offcut_mm - SLACK_MM, SLACK_MM)
    ]
    return tuple(sorted(offcuts, key=lambda offcut: -offcut.area_mm2))


def clean(length_mm: float) -> float:
    """The length without the noise of binary fractions."""
    return round(length_mm, DIGITS)
