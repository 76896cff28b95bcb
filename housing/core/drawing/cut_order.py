"""How a sheet is cut, part by part, in words: where the lines are marked and what comes off."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import groupby

from boards.core.nesting.shapes import Corners, Cut, CutSheet, Offcut, Placement, Sheet
from housing.core.drawing.sheet_corners import WASTE, corners_in_use, middle_of, mirrored_name
from objects.core.words import noted, say

SAME_MM = 0.01  # trims closer than this are one figure, far below what a rule shows
MIRRORED = {"left": "right", "right": "left"}
AT_EDGE = {
    "near": noted("{depth} at the near edge"),
    "far": noted("{depth} at the far edge"),
    "left": noted("{depth} at the left edge"),
    "right": noted("{depth} at the right edge"),
}
MARK_FROM = {
    "near": noted("{start}, mark from the near edge: {marks}."),
    "left": noted("{start}, mark from the left edge: {marks}."),
    "right": noted("{start}, mark from the right edge: {marks}."),
}


@dataclass(frozen=True)
class CutStep:
    """One part in hand: the numbers of its cuts in words, what to do, and what comes of it, in order.

    numbers: such as "1 to 3", as they stand in the drawing; "" where nothing is numbered. part: what is in
    hand; edge: from which of its edges marks lie, "near", "left" or "right"; marks: where, from there;
    running: where on the whole sheet, from the corner at which its marks begin. The last four tell what the
    sentence says once more, for a table.
    """

    numbers: str
    what: str
    gives: tuple[str, ...] = ()
    part: str = field(default="", compare=False)
    edge: str = field(default="", compare=False)
    marks: str = field(default="", compare=False)
    running: str = field(default="", compare=False)


def numbered_cuts(cut_sheet: CutSheet) -> list[Cut]:
    """The cuts that carry a number in the drawing, in its order: trims have none, corners come last."""
    return sorted((cut for cut in cut_sheet.cuts if not cut.is_trim), key=lambda cut: cut.host is not None)


def is_free(cut_sheet: CutSheet) -> bool:
    """Whether blanks lie anyhow, with no cuts from edge to edge that would set them free."""
    direct = sum(placed.host is None for placed in cut_sheet.placements)
    return not numbered_cuts(cut_sheet) and direct > (1 if cut_sheet.cuts else 0)


def cut_steps(
    cut_sheet: CutSheet,
    sheet: Sheet,
    *,
    labels: Mapping[str, str],
    write: Callable[[Sequence[float]], str],
    write_size: Callable[[Sequence[float]], str],
    corners: Mapping[str, Corners] | None = None,
    kerf_mm: float = 0.0,
    is_mirrored: bool = False,
    is_short: bool = False,
) -> list[CutStep]:
    """The steps of cutting up one sheet, in their order.

    cut_sheet: placements, cuts and offcuts, mm from the sheet's near left corner. sheet: its sides in mm.
    labels: name of each blank, by its key. write: several lengths in mm as the reader wants them, the unit
    once. write_size: two sides. corners: waste of each blank from which others are cut, in its own axes, mm.
    kerf_mm: lost beyond each line, from which the marks of older plans without any are worked out.
    is_mirrored: whether left and right are exchanged in the drawing, for whoever cuts with the left hand.
    is_short: whether parts are called by the numbers of their cuts alone, for a table of `part` and `gives`.
    Returns the trims first, then one step a part in hand, blanks in corners last. Marks lie from the near or
    the left edge of the part in hand, once trimmed, as the part lies in the drawing.
    Source: all cuts of a part are marked in one go, common practice, no source.
    """
    return _Steps(
        cut_sheet, sheet, labels, write, write_size, corners or {}, kerf_mm, is_mirrored, is_short
    ).steps()


@dataclass(frozen=True, eq=False)
class _Part:
    """A part in hand: what it is called and where it lies, mm.

    host: the blank whose waste it is or was cut from. is_corner: whether it is a whole corner of that blank.
    """

    name: str
    left: float
    near: float
    right: float
    far: float
    host: str | None = None
    is_corner: bool = False

    def holds(self, x_mm: float, y_mm: float) -> bool:
        return self.left <= x_mm <= self.right and self.near <= y_mm <= self.far

    def distance(self, x_mm: float, y_mm: float) -> float:
        """How far a point lies outside, the greater of both ways; 0 within."""
        return max(self.left - x_mm, x_mm - self.right, self.near - y_mm, y_mm - self.far, 0.0)


@dataclass(frozen=True)
class _Division:
    """A part in hand with the cuts through it, their marks and the parts they make, the nearest first."""

    whole: _Part
    edge: str
    marks: list[float]
    running: list[float]
    parts: list[_Part]


@dataclass
class _Steps:
    """One sheet being put into words."""

    cut_sheet: CutSheet
    sheet: Sheet
    labels: Mapping[str, str]
    write: Callable[[Sequence[float]], str]
    write_size: Callable[[Sequence[float]], str]
    corners: Mapping[str, Corners]
    kerf_mm: float
    is_mirrored: bool
    is_short: bool

    def steps(self) -> list[CutStep]:
        trims, whole = self._trims()
        if is_free(self.cut_sheet):
            laid = sorted(self.cut_sheet.placements, key=lambda placed: placed.host is not None)
            first = CutStep("", say("Mark every blank on the sheet before the first cut."))
            return [*trims, first, *(self._round(placed, whole) for placed in laid)]
        corners = [
            _Part(c.name, c.x_mm, c.y_mm, c.x_mm + c.along_mm, c.y_mm + c.across_mm, c.host, True)
            for c in corners_in_use(self.cut_sheet, self.corners)
        ]
        divided = self._divide([whole, *corners])
        begun: set[str] = set()
        steps = [self._step(division, numbers, divided, begun) for division, numbers in divided.values()]
        steps += [self._as_it_is(corner, begun) for corner in corners if corner not in divided]
        if whole not in divided and self.cut_sheet.placements:
            steps.insert(0, CutStep("", say("There is nothing more to cut."), (self._outcome(whole, {}),)))
        return trims + steps

    def _trims(self) -> tuple[list[CutStep], _Part]:
        """The trims in words, and what they leave of the sheet."""
        left, near, right, far = 0.0, 0.0, self.sheet.along_mm, self.sheet.across_mm
        trimmed = []
        for cut in self.cut_sheet.cuts:
            if not cut.is_trim:
                continue
            if _is_along(cut) and cut.y0_mm < self.sheet.across_mm / 2:
                near = cut.y0_mm
                trimmed.append(("near", near))
            elif _is_along(cut):
                far = cut.y0_mm
                trimmed.append(("far", self.sheet.across_mm - far))
            elif cut.x0_mm < self.sheet.along_mm / 2:
                left = cut.x0_mm
                trimmed.append(("left", left))
            else:
                right = cut.x0_mm
                trimmed.append(("right", self.sheet.along_mm - right))
        if not trimmed:
            return [], _Part(say("the sheet"), left, near, right, far)
        depths = [depth for _, depth in trimmed]
        if len(trimmed) == 4 and max(depths) - min(depths) < SAME_MM:
            words = say("Trim {depth} off all four edges.", depth=self.write([depths[0]]))
        else:
            told = [say(AT_EDGE[self._side(edge)], depth=self.write([depth])) for edge, depth in trimmed]
            words = say("Trim off {list}.", list=", ".join(told))
        return [CutStep("", words)], _Part(say("the trimmed sheet"), left, near, right, far)

    def _side(self, edge: str) -> str:
        """An edge as it lies in the drawing."""
        return MIRRORED.get(edge, edge) if self.is_mirrored else edge

    def _round(self, placed: Placement, whole: _Part) -> CutStep:
        """A blank that lies anyhow: its four edges from those of the sheet."""
        x_mm, y_mm = placed.x_mm - whole.left, placed.y_mm - whole.near
        marks = {
            "along": self.write([x_mm, x_mm + placed.along_mm]),
            "across": self.write([y_mm, y_mm + placed.across_mm]),
        }
        if self.is_mirrored:
            words = say("Mark from the right edge: {along}; from the near edge: {across}.", **marks)
        else:
            words = say("Mark from the left edge: {along}; from the near edge: {across}.", **marks)
        if placed.host is None:
            words += " " + say("Cut round it.")
        else:
            host = self.labels[placed.host]
            words += " " + say("Cut round it once {host} is cut out and its corners are trimmed.", host=host)
        return CutStep("", words, (self.labels[placed.key],))

    def _divide(self, parts: list[_Part]) -> dict[_Part, tuple[_Division, list[int]]]:
        """Each part that is cut with what becomes of it and the numbers of its cuts, in their order."""
        divided = {}
        numbered = enumerate(numbered_cuts(self.cut_sheet), start=1)
        # older plans do not tell parts; there every cut is one
        for _, group in groupby(numbered, key=lambda each: each[1].part or -each[0]):
            numbers, cuts = map(list, zip(*group, strict=True))
            middle = (cuts[0].x0_mm + cuts[0].x1_mm) / 2, (cuts[0].y0_mm + cuts[0].y1_mm) / 2
            own = [part for part in parts if part.host == cuts[0].host] or parts
            whole = min(own, key=lambda part: part.distance(*middle))
            division = self._division(whole, cuts, numbers)
            parts.remove(whole)
            parts += division.parts
            divided[whole] = division, numbers
        return divided

    def _division(self, whole: _Part, cuts: list[Cut], numbers: list[int]) -> _Division:
        is_along = _is_along(cuts[0])
        places = [cut.y0_mm if is_along else cut.x0_mm for cut in cuts]
        start, end = (whole.near, whole.far) if is_along else (whole.left, whole.right)
        starts, ends = [start, *(at + self.kerf_mm for at in places)], [*places, end]
        way = "near" if is_along else self._side("left")
        names = _short_names(way, numbers) if self.is_short else _names(way, numbers)
        if is_along:
            sides = [(cuts[0].x0_mm, a, cuts[0].x1_mm, b) for a, b in zip(starts, ends, strict=True)]
        else:
            sides = [(a, cuts[0].y0_mm, b, cuts[0].y1_mm) for a, b in zip(starts, ends, strict=True)]
        return _Division(
            whole,
            "near" if is_along else self._side("left"),
            [cut.mark_mm if cut.part else at - start for cut, at in zip(cuts, places, strict=True)],
            places if whole.host is None else [],
            [_Part(name, *box, whole.host) for name, box in zip(names, sides, strict=True)],
        )

    def _step(
        self,
        division: _Division,
        numbers: list[int],
        divided: Mapping[_Part, tuple[_Division, list[int]]],
        begun: set[str],
    ) -> CutStep:
        start, marks = self._start(division.whole, begun), self.write(division.marks)
        return CutStep(
            _in_words(numbers),
            say(MARK_FROM[division.edge], start=start, marks=marks),
            tuple(self._outcome(part, divided) for part in division.parts),
            part=self._named(division.whole),
            edge=division.edge,
            marks=marks,
            running=self.write(division.running) if division.running else "",
        )

    def _as_it_is(self, corner: _Part, begun: set[str]) -> CutStep:
        gives = self._outcome(corner, {})
        what = say("{start}, take the whole piece.", start=self._start(corner, begun))
        return CutStep("", what, (gives,), part=self._named(corner))

    def _named(self, part: _Part) -> str:
        """What a part is called; a corner with the blank that it falls off."""
        if part.host is None or not part.is_corner:
            return part.name
        return say("{corner} of {host}", corner=self._corner(part), host=self.labels[part.host])

    def _corner(self, part: _Part) -> str:
        name = mirrored_name(part.name) if self.is_mirrored else part.name
        return say("waste") if name == WASTE else say("{corner} corner", corner=say(name))

    def _start(self, part: _Part, begun: set[str]) -> str:
        """How a step begins: what is taken in hand; a blank with blanks in its corners is cut out first."""
        if part.host is None or not part.is_corner:
            return say("From {part}", part=part.name)
        told = {"host": self.labels[part.host], "corner": self._corner(part)}
        if part.host in begun:
            return say("From the {corner} of {host}", **told)
        begun.add(part.host)
        return say("Cut out {host} first and trim its corners; then from its {corner}", **told)

    def _outcome(self, part: _Part, divided: Mapping[_Part, tuple[_Division, list[int]]]) -> str:
        if part in divided:
            numbers = divided[part][1]
            if self.is_short:
                return say("→ cut {numbers}", numbers=_in_words(numbers))
            if len(numbers) == 1:
                return say("kept for cut {number}", number=numbers[0])
            return say("kept for cuts {numbers}", numbers=_in_words(numbers))
        for placed in self.cut_sheet.placements:
            if placed.host == part.host and part.holds(*middle_of(placed)):
                return self.labels[placed.key]
        for offcut in self.cut_sheet.offcuts if part.host is None else ():
            if part.holds(*_middle(offcut)):
                size = self.write_size((offcut.along_mm, offcut.across_mm))
                return say("to the rack, {size}", size=size)
        return say("waste")


def _is_along(cut: Cut) -> bool:
    return cut.y0_mm == cut.y1_mm


def _middle(offcut: Offcut) -> tuple[float, float]:
    return offcut.x_mm + offcut.along_mm / 2, offcut.y_mm + offcut.across_mm / 2


NAMES = {
    "near": (noted("the part nearer than cut {number}"), noted("the part beyond cut {number}")),
    "left": (noted("the part left of cut {number}"), noted("the part right of cut {number}")),
    "right": (noted("the part right of cut {number}"), noted("the part left of cut {number}")),
}
SHORT_NAMES = {
    "near": (noted("nearer than {number}"), noted("beyond {number}")),
    "left": (noted("left of {number}"), noted("right of {number}")),
    "right": (noted("right of {number}"), noted("left of {number}")),
}


def _names(edge: str, numbers: list[int]) -> list[str]:
    """What the parts between cuts are called, the one at the edge that marks begin at first."""
    before, beyond = NAMES[edge]
    between = [
        say("the part between cuts {first} and {second}", first=a, second=b)
        for a, b in zip(numbers, numbers[1:], strict=False)
    ]
    return [say(before, number=numbers[0]), *between, say(beyond, number=numbers[-1])]


def _short_names(edge: str, numbers: list[int]) -> list[str]:
    """The same by the numbers of the cuts alone."""
    before, beyond = SHORT_NAMES[edge]
    between = [
        say("between {first} and {second}", first=a, second=b)
        for a, b in zip(numbers, numbers[1:], strict=False)
    ]
    return [say(before, number=numbers[0]), *between, say(beyond, number=numbers[-1])]


def _in_words(numbers: list[int]) -> str:
    first, last = numbers[0], numbers[-1]
    if len(numbers) == 1:
        return str(first)
    if len(numbers) == 2:
        return say("{first} and {last}", first=first, last=last)
    return say("{first} to {last}", first=first, last=last)
