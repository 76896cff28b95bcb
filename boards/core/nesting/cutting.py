"""From trees of cuts to sheets: where each blank lies, the cuts in their order, and what is left over."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from boards.core.nesting.compiled.places import CORNERS
from boards.core.nesting.compiled.trees import SPLIT, WASTE
from boards.core.nesting.job import UNIT_MM, mm, units
from boards.core.nesting.shapes import Cut, CutSheet, Offcut, Piece, Placement, Rules, Sheet
from boards.core.nesting.state import Node, State, set_places, tree

NOTHING = 100.0  # units; lengths up to this come of rounding


@dataclass
class Cutting:
    """One sheet being written down."""

    pieces: Sequence[Piece]
    rules: Rules
    placements: list[Placement] = field(default_factory=list)
    cuts: list[Cut] = field(default_factory=list)
    offcuts: list[Offcut] = field(default_factory=list)
    parts: int = 0

    def cut_up(self, root: Node, x: float, y: float, host: str | None) -> list[tuple[int, Placement]]:
        """Write down a tree whose near left corner lies at a place, in units; returns its blanks, placed.

        All cuts of one part come together, their lines marked in one go, common practice, no source; then
        each of its parts is finished, the nearest first.
        """
        laid = []
        waiting = [(root, 0)]
        kerf = units(self.rules.kerf_mm)
        while waiting:
            node, stage = waiting.pop()
            at_x, at_y = x + node.x, y + node.y
            if node.what == SPLIT:
                self.parts += 1
                for part in node.parts[: -2 if is_nothing(node) else -1]:
                    self.cuts.append(self.cut(part, node, at_x, at_y, kerf, stage, host))
                waiting += [(part, stage + 1) for part in reversed(node.parts)]
            elif node.what == WASTE:
                along, across = mm(node.a - kerf), mm(node.b - kerf)
                if host is None and min(along, across) > NOTHING * UNIT_MM:
                    self.offcuts.append(Offcut(mm(at_x), mm(at_y), along, across))
            else:
                laid.append((node.what, self.place(node, mm(at_x), mm(at_y), host)))
        return laid

    def cut(
        self, part: Node, whole: Node, x: float, y: float, kerf: float, stage: int, host: str | None
    ) -> Cut:
        """The cut beyond a part of a whole that lies at x, y, all in units."""
        if whole.way == 0:
            mark = part.x + part.a - whole.x - kerf
            at = mm(x + mark)
            return Cut(at, mm(y), at, mm(y + whole.b - kerf), False, self.parts, mm(mark), stage, host)
        mark = part.y + part.b - whole.y - kerf
        at = mm(y + mark)
        return Cut(mm(x), at, mm(x + whole.a - kerf), at, False, self.parts, mm(mark), stage, host)

    def place(self, node: Node, x_mm: float, y_mm: float, host: str | None) -> Placement:
        """A blank where it lies, in its own size."""
        piece, is_turned = self.pieces[node.what], bool(node.way)
        along, across = piece.along_mm, piece.across_mm
        if is_turned:
            along, across = across, along
        placed = Placement(piece.key, x_mm, y_mm, along, across, is_turned, host)
        self.placements.append(placed)
        return placed


def cut_up(state: State, sheet_number: int, pieces: Sequence[Piece], sheet: Sheet, rules: Rules) -> CutSheet:
    """A sheet of a plan with its placements, its cuts in order and its offcuts, the largest first.

    sheet_number: in the plan. pieces: all blanks of the job. sheet: the size as bought. Returns mm
    from the sheet's corner, trim included. Blanks in corners come after their hosts, and so do their cuts.
    """
    cutting = Cutting(pieces, rules)
    cutting.cuts += trim_cuts(sheet, rules.trim_mm)
    trim = units(rules.trim_mm)
    for blank, placed in cutting.cut_up(tree(state, sheet_number), trim, trim, None):
        for number in state.corners_of(blank):
            cut_corner(
                cutting, state, number, number - int(state.about[blank, CORNERS]), placed, rules.kerf_mm
            )
    least = [
        offcut
        for offcut in cutting.offcuts
        if min(offcut.along_mm, offcut.across_mm) >= rules.least_offcut_mm
        and offcut.area_mm2 >= rules.least_offcut_mm2
    ]
    return CutSheet(
        sheet.key,
        tuple(cutting.placements),
        tuple(cutting.cuts),
        tuple(sorted(least, key=lambda offcut: -offcut.area_mm2)),
    )


def cut_corner(
    cutting: Cutting, state: State, number: int, corner: int, host: Placement, kerf_mm: float
) -> None:
    """Write down the blanks in a corner of a host, 0 near left, 1 near right, 2 far left, 3 far right.

    Of the corner a kerf is lost along its inner edges. A host turned by 90 degrees to the left brings its
    near left corner to the near right.
    """
    root = tree(state, number)
    is_right, is_far = corner % 2 == 1, corner >= 2
    if host.turned:
        is_right, is_far = not is_far, is_right
        root.transpose()
        set_places(root)
    x = units(host.x_mm) + (units(host.along_mm) - root.a + units(kerf_mm) if is_right else 0.0)
    y = units(host.y_mm) + (units(host.across_mm) - root.b + units(kerf_mm) if is_far else 0.0)
    cutting.cut_up(root, x, y, host.key)


def is_nothing(node: Node) -> bool:
    """Whether the waste of a split is no more than what rounding left over."""
    rest = node.parts[-1]
    return rest.what == WASTE and (rest.a, rest.b)[node.way] < NOTHING


def trim_cuts(sheet: Sheet, trim_mm: float) -> list[Cut]:
    """The four cuts that take the damaged edges off."""
    if not trim_mm:
        return []
    far_x, far_y = mm(units(sheet.along_mm - trim_mm)), mm(units(sheet.across_mm - trim_mm))
    return [
        Cut(0.0, trim_mm, sheet.along_mm, trim_mm, is_trim=True, mark_mm=trim_mm),
        Cut(0.0, far_y, sheet.along_mm, far_y, is_trim=True, mark_mm=far_y),
        Cut(trim_mm, trim_mm, trim_mm, far_y, is_trim=True, mark_mm=trim_mm),
        Cut(far_x, trim_mm, far_x, far_y, is_trim=True, mark_mm=far_x),
    ]
