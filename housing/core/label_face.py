"""What stands where on a label of any size: nothing leaves it, and short ones leave out in a fixed order.

Measured from the label's upper left corner, mm. The code stands at the upper right, the photo beneath it
where there is room, else at the upper left; words take what is left. Too little room is made up for in this
order: smaller type, no photo, a smaller object number, the last marks counted instead of named, no name, no
place, no code, no box number. Hazards and the object number stand on every label.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from housing.core.type_widths import em_width
from objects.core.lengths import MM_PER_INCH
from objects.core.words import say

PT_MM = float(MM_PER_INCH) / 72
FLOOR_MM = 0.8  # free beneath the last line
EDGE_MM = 2.0  # free around words; assumed
CODE_EDGE_MM = 1.0  # a code brings a quiet zone of its own
# Least size of a module: common practice for codes printed at 203 dots an inch, four dots, and read at 20 to
# 30 cm by a telephone; no source.
LEAST_MODULE_MM = 0.5
CODE_SHARE, LARGEST_CODE_MM = 0.32, 30.0  # of the label's width; assumed
LEAST_WORDS_MM = 16.0  # beside the code; assumed
PHOTO_SHARE, LARGEST_PHOTO_MM = 0.22, 28.0  # of the label's width; assumed
LEAST_PHOTO_MM = 10.0  # lower ones show nothing; assumed
TYPES_PT = (11.0, 9.0, 7.5, 6.5)  # 6.5 points are the least that is read at arm's length; assumed
TYPE_SHARE = 0.1  # of the label's height: larger labels carry larger type; assumed
NUMBER_SHARE, NUMBER_MM = 0.18, (5.3, 12.0)  # of the label's height, and the greatest size of the number
SMALL_NUMBER_MM, ONE_LINE_MM, LEAST_NUMBER_MM = 3.2, 3.0, 1.5  # 9, 8.5 and 4 points; assumed
LINE, NUMBER_LINE, SIGN_LINE = 1.2, 1.15, 1.45  # from line to line, in type sizes
SIGN_SIZE = 1.45  # of a sign beside its words
SIGN_EM = 0.9 * SIGN_SIZE
BREAKS_AFTER = (" ", ".,/-:;")  # where a number is broken rather, then else
GAP = "  "


@dataclass(frozen=True)
class Mark:
    """A handling mark: the character of its sign, blank where it has none, and its words."""

    sign: str
    words: str


@dataclass(frozen=True)
class Said:
    """All that a label could say, in the reader's words.

    hazards: one mark with all of them, None where there is none. marks: the most urgent first. code_modules:
    along a side of the code with its quiet zone, 0 for none.
    """

    number: str
    box: str = ""
    name: str = ""
    place: str = ""
    hazards: Mark | None = None
    marks: tuple[Mark, ...] = ()
    has_photo: bool = False
    code_modules: int = 0


@dataclass(frozen=True)
class Line:
    """One line: what it is (number, box, hazard, marks, name, place), and its marks or its text."""

    kind: str
    text: str = ""
    marks: tuple[Mark, ...] = ()


@dataclass(frozen=True)
class Area:
    """A rectangle on the label: left, top, width and height in mm."""

    left: float
    top: float
    width: float
    height: float


@dataclass(frozen=True)
class Block:
    """Lines that stand beneath one another in an area."""

    area: Area
    lines: tuple[Line, ...]


@dataclass(frozen=True)
class Face:
    """A label laid out. left_out: what it has no room for, of photo, name, place, code and box."""

    type_pt: float
    number_pt: float
    blocks: tuple[Block, ...]
    code: Area | None = None
    photo: Area | None = None
    left_out: tuple[str, ...] = ()


@dataclass(frozen=True)
class _Try:
    """One way to fit it in. marks: how many are named. whole: whether box and marks have to stay unbroken."""

    type_pt: float
    photo: bool
    number_mm: float
    marks: int
    name_lines: int
    place: bool = True
    code: bool = True
    box: bool = True
    whole: bool = False


def lay_out(said: Said, width_mm: float, height_mm: float) -> Face:
    """The label of a size with as much as goes onto it; see the order at the top of the file."""
    code = code_area(said.code_modules, width_mm, height_mm)
    for one in _tries(said, height_mm):
        if (one.photo and not said.has_photo) or (one.code and code is None and said.code_modules):
            continue
        for with_foot in (False, True):
            face = _fit(said, one, width_mm, height_mm, code if one.code else None, with_foot)
            if face is not None:
                return face
    return _number_alone(said, width_mm, height_mm)


def code_area(modules: int, width_mm: float, height_mm: float) -> Area | None:
    """Where the code stands; None where its modules would be smaller than LEAST_MODULE_MM.

    modules: along a side, with the quiet zone.
    """
    if not modules:
        return None
    least = modules * LEAST_MODULE_MM
    side = min(height_mm - 2 * CODE_EDGE_MM, max(least, min(CODE_SHARE * width_mm, LARGEST_CODE_MM)))
    if side < least - 1e-9 or width_mm - side - CODE_EDGE_MM - EDGE_MM < LEAST_WORDS_MM:
        return None
    return Area(width_mm - side - CODE_EDGE_MM, CODE_EDGE_MM, side, side)


@lru_cache(maxsize=10_000)
def number_lines(number: str, width_mm: float, greatest_mm: float) -> tuple[float, list[str]]:
    """Size of an object number, mm, and its lines: on one line while that is large enough, else on more."""
    one_line = width_mm / em_width(number, True)
    if one_line >= min(ONE_LINE_MM, greatest_mm):
        return min(greatest_mm, one_line), [number]
    size = greatest_mm
    while size > LEAST_NUMBER_MM and len(broken(number, width_mm / size)) > 2:
        size = max(0.96 * size, LEAST_NUMBER_MM)
    return size, broken(number, width_mm / size)


def broken(number: str, most_em: float) -> list[str]:
    """An object number on lines of a width, behind a point where there is one; no letter is lost."""
    lines, rest = [], number
    while em_width(rest, True) > most_em and len(rest) > 1:
        end = 1
        while em_width(rest[: end + 1], True) <= most_em:
            end += 1
        near = range(end, end // 2, -1)
        breaks = (at for signs in BREAKS_AFTER for at in near if rest[at - 1] in signs)
        end = next(breaks, end)
        lines.append(rest[:end].rstrip())
        rest = rest[end:].lstrip()
    return [*lines, rest]


def shortened(text: str, most_em: float, bold: bool = False) -> str:
    """A text cut with an ellipsis where it is wider than most_em type sizes."""
    if em_width(text, bold) <= most_em:
        return text
    for end in range(len(text) - 1, 0, -1):
        short = text[:end].rstrip() + "…"
        if em_width(short, bold) <= most_em:
            return short
    return "…"


def _tries(said: Said, height_mm: float) -> Iterator[_Try]:
    """All ways in their order, the one that leaves out nothing first."""
    largest = max(TYPE_SHARE * height_mm / PT_MM, TYPES_PT[-1])
    types = [pt for pt in TYPES_PT if pt <= largest]
    least = types[-1]
    number = min(max(NUMBER_SHARE * height_mm, NUMBER_MM[0]), NUMBER_MM[1], height_mm / 2)
    small = min(SMALL_NUMBER_MM, number)
    every = len(said.marks)
    for lines in (2, 1):
        for pt in types:
            yield _Try(pt, True, number, every, lines, whole=pt > least)
    for lines in (2, 1):
        for pt in types:
            yield _Try(pt, False, number, every, lines, whole=pt > least)
    base = _Try(least, False, small, every, 1)
    for left_out in ({}, {"name_lines": 0}, {"place": False}, {"code": False}, {"box": False}):
        base = replace(base, **left_out)
        for kept in range(every, 0, -1):
            yield replace(base, marks=kept)
        if not every or not base.box:
            yield replace(base, marks=0)


def _fit(
    said: Said, one: _Try, width_mm: float, height_mm: float, code: Area | None, with_foot: bool
) -> Face | None:
    """The label laid out in one way; None where it does not fit. with_foot: with words beneath the code."""
    type_mm = one.type_pt * PT_MM
    photo = _photo_area(width_mm, height_mm, code) if one.photo else None
    areas = list(_areas(width_mm, height_mm, code, photo, LINE * type_mm))
    if not with_foot:
        areas = [replace(areas[0], height=height_mm - FLOOR_MM - areas[0].top)]
    elif len(areas) == 1:
        return None
    size_mm, numbers = number_lines(said.number, areas[0].width, one.number_mm)
    number_pt = math.floor(10 * size_mm / PT_MM) / 10
    # a line is never lower than one of the words' own type
    number_high = max(NUMBER_LINE * number_pt, LINE * one.type_pt) * PT_MM
    high = {"number": number_high, "hazard": SIGN_LINE * type_mm, "marks": SIGN_LINE * type_mm}
    flow = _Flow(areas, type_mm)
    marks = said.marks[: one.marks]
    if more := len(said.marks) - len(marks):
        marks = (*marks, Mark("", say("+ {count} more", count=more)))
    fits = (
        all(flow.add(Line("number", text), high["number"], new_area=False) for text in numbers)
        and (not (one.box and said.box) or flow.add_words("box", said.box, True, 1 if one.whole else 2))
        and (not said.hazards or flow.add_marks("hazard", (said.hazards,), high["hazard"]))
        and (not marks or flow.add_marks("marks", marks, high["marks"]))
        and not (one.whole and flow.is_broken)
        and (not (one.name_lines and said.name) or flow.add_words("name", said.name, False, one.name_lines))
        and (not (one.place and said.place) or flow.add_words("place", said.place, False, 1))
    )
    if not fits:
        return None
    left_out = [
        name
        for name, is_left in (
            ("photo", said.has_photo and photo is None),
            ("name", bool(said.name) and not one.name_lines),
            ("place", bool(said.place) and not one.place),
            ("code", bool(said.code_modules) and code is None),
            ("box", bool(said.box) and not one.box),
        )
        if is_left
    ]
    return Face(one.type_pt, number_pt, flow.blocks, code, photo, tuple(left_out))


def _number_alone(said: Said, width_mm: float, height_mm: float) -> Face:
    """A label that holds no more than its number, and the sign of a hazard if there is one."""
    room = width_mm - 2 * EDGE_MM
    number = f"{said.hazards.sign} {said.number}".strip() if said.hazards else said.number
    size = min(SMALL_NUMBER_MM, (height_mm - 1) / NUMBER_LINE)
    while size > LEAST_NUMBER_MM and len(broken(number, room / size)) * NUMBER_LINE * size > height_mm - 1:
        size = max(0.96 * size, LEAST_NUMBER_MM)
    lines, most = broken(number, room / size), max(int((height_mm - 1) / (NUMBER_LINE * size)), 1)
    if len(lines) > most:
        lines = [*lines[: most - 1], shortened("".join(lines[most - 1 :]), room / size, True)]
    area = Area(EDGE_MM, 0.5, room, height_mm - 1)
    shown = tuple(Line("number", line) for line in lines)
    return Face(TYPES_PT[-1], math.floor(10 * size / PT_MM) / 10, (Block(area, shown),), left_out=(
        "photo", "name", "place", "code", "box",
    ))  # fmt: skip


def _photo_area(width_mm: float, height_mm: float, code: Area | None) -> Area:
    """Beneath the code; else at the left, no lower than the code, so that words run across beneath both."""
    if code and (beneath := height_mm - code.top - code.height - EDGE_MM) >= LEAST_PHOTO_MM:
        return Area(code.left, code.top + code.height, code.width - EDGE_MM + CODE_EDGE_MM, beneath)
    side = min(PHOTO_SHARE * width_mm, LARGEST_PHOTO_MM)
    high = min(code.top + code.height - EDGE_MM if code else side * 1.3, height_mm - 2 * EDGE_MM, side * 1.3)
    return Area(EDGE_MM, EDGE_MM, side, high)


def _areas(
    width_mm: float, height_mm: float, code: Area | None, photo: Area | None, line_mm: float
) -> Iterator[Area]:
    """Where words may stand: between photo and code, and beneath them if a line goes there."""
    is_beneath = photo is not None and code is not None and photo.left >= code.left
    left = photo.left + photo.width + EDGE_MM if photo and not is_beneath else EDGE_MM
    right = code.left if code else width_mm - EDGE_MM
    floor = height_mm - FLOOR_MM
    beneath = max([one.top + one.height for one in (code, photo) if one], default=floor)
    has_foot = floor - beneath >= line_mm and not is_beneath
    yield Area(left, EDGE_MM - 0.4, right - left, (beneath if has_foot else floor) - EDGE_MM + 0.4)
    if has_foot:
        yield Area(EDGE_MM, beneath, width_mm - 2 * EDGE_MM, floor - beneath)


class _Flow:
    """Lines put into areas one after the other, as long as there is room."""

    def __init__(self, areas: Sequence[Area], type_mm: float) -> None:
        self.areas, self.type_mm = areas, type_mm
        self.at, self.used = 0, 0.0
        self.is_broken = False  # whether a box number was cut or a mark goes over two lines
        self.lines: list[list[Line]] = [[] for _ in areas]

    @property
    def blocks(self) -> tuple[Block, ...]:
        found = zip(self.areas, self.lines, strict=True)
        return tuple(Block(area, tuple(lines)) for area, lines in found if lines)

    @property
    def most_em(self) -> float:
        return self.areas[self.at].width / self.type_mm

    def add(self, line: Line, high_mm: float, *, new_area: bool = True) -> bool:
        """Put a line into the area; False where there is no room."""
        if not self.has_room(high_mm, new_area=new_area):
            return False
        self.lines[self.at].append(line)
        self.used += high_mm
        return True

    def has_room(self, high_mm: float, *, new_area: bool = True) -> bool:
        """Whether a line goes into this area, or into the next one, which is then begun."""
        if self.used + high_mm <= self.areas[self.at].height + 1e-9:
            return True
        if not new_area or self.at + 1 == len(self.areas):
            return False
        self.at, self.used = self.at + 1, 0.0
        return self.used + high_mm <= self.areas[self.at].height + 1e-9

    def add_words(self, kind: str, words: str, bold: bool, most: int) -> bool:
        """A text on at most so many lines, cut at the end of the last."""
        high, rest = LINE * self.type_mm, words
        for number in range(most):
            if not self.has_room(high):
                return False
            if kind == "box" and number + 1 == most and em_width(rest, bold) > self.most_em:
                self.is_broken = True
            line, rest = (
                (shortened(rest, self.most_em, bold), "") if number + 1 == most else self._first(rest, bold)
            )
            self.add(Line(kind, line), high)
            if not rest:
                break
        return True

    def _first(self, words: str, bold: bool) -> tuple[str, str]:
        """What goes onto one line, and the rest."""
        if em_width(words, bold) <= self.most_em:
            return words, ""
        parts = words.split(" ")
        for end in range(len(parts) - 1, 0, -1):
            if em_width(" ".join(parts[:end]), bold) <= self.most_em:
                return " ".join(parts[:end]), " ".join(parts[end:])
        return shortened(words, self.most_em, bold), ""

    def add_marks(self, kind: str, marks: Sequence[Mark], high: float) -> bool:
        """Marks side by side, none of them broken unless it is wider than its line."""
        waiting, was_broken = list(marks), self.is_broken
        while waiting:
            if not self.has_room(high):
                return False
            line, waiting = self._row(waiting)
            self.add(Line(kind, marks=tuple(line)), high)
        if kind == "hazard":  # a list of hazards goes over lines as any list
            self.is_broken = was_broken
        return True

    def _row(self, marks: list[Mark]) -> tuple[list[Mark], list[Mark]]:
        """The marks of one line, and those that wait for the next."""
        line, at = [], 0.0
        for place, mark in enumerate(marks):
            wide = mark_em(mark)
            if at + wide <= self.most_em:
                line.append(mark)
                at += wide + em_width(GAP, True)
                continue
            if line:
                return line, marks[place:]
            self.is_broken = True
            sign = mark_em(Mark(mark.sign, "")) if mark.sign else 0.0
            self_room = max(self.most_em - sign, 1.0)
            words = mark.words.split(" ")
            for end in range(len(words) - 1, 0, -1):
                if em_width(" ".join(words[:end]), True) <= self_room:
                    rest = Mark("", " ".join(words[end:]))
                    return [Mark(mark.sign, " ".join(words[:end]))], [rest, *marks[place + 1 :]]
            return [Mark(mark.sign, shortened(mark.words, self_room, True))], marks[place + 1 :]
        return line, []


def mark_em(mark: Mark) -> float:
    """How wide a mark runs, in type sizes."""
    sign = SIGN_EM + em_width(" ", True) if mark.sign else 0.0
    return sign + em_width(mark.words, True)
