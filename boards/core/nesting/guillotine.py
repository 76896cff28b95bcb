"""Blanks laid one by one into free rectangles, so that cuts from edge to edge free every one of them.

A blank laid in the near corner of a free rectangle leaves an L. Which of the two ways it is cut is left open
until a later blank is laid in one of its halves; until then all four possible rectangles are offered.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import NamedTuple

from boards.core.nesting.job import SLACK_MM, Blank, Job, Kind
from boards.core.nesting.supply import Supply

# How badly a blank fits a free rectangle, from the rests along and across and its sides; least is best.
ChoiceRule = Callable[[float, float, float, float], float]
# Sides and near corner of a free rectangle.
Corner = tuple[float, float, float, float]
# The same, the number of its sheet, and the rectangles that lapse once this one is used.
Room = tuple[float, float, float, float, int, range]


def shorter_rest(rest_a: float, rest_b: float, a: float, b: float) -> float:
    """The smaller of the two gaps: blanks go where one side fits closely."""
    return rest_a if rest_a < rest_b else rest_b


def scattered_rest(rest_a: float, rest_b: float, a: float, b: float) -> float:
    """How much free area is used up or broken into small rectangles, mm to the power 2.5.

    Source: sum of free areas to the power 1.25, J. Gardeyn and T. Wauters, European J. Oper. Res. 2022.
    """
    used_a, used_b = a - rest_a, b - rest_b
    upright = math.pow(rest_a * b, 1.25) + math.pow(used_a * rest_b, 1.25)
    level = math.pow(rest_a * used_b, 1.25) + math.pow(a * rest_b, 1.25)
    return math.pow(a * b, 1.25) - max(upright, level)


class Laid(NamedTuple):
    """A blank where it lies, and the sides of the free rectangle in whose near corner it was laid."""

    blank: int
    x: float
    y: float
    a: float
    b: float
    turned: bool
    room_a: float
    room_b: float


@dataclass(frozen=True)
class LaidSheet:
    """A sheet and what lies on it."""

    kind: Kind
    laid: list[Laid]

    @cached_property
    def free_share(self) -> float:
        """Share of the finished sheet on which nothing lies, kerfs not counted as free."""
        return 1 - sum(laid.a * laid.b for laid in self.laid) / self.kind.area


@dataclass
class Laying:
    """Sheets being filled: what lies on them, and the free rectangles by number.

    least_side: free rectangles narrower than this, in mm, are not worth offering.
    """

    least_side: float
    rule: ChoiceRule
    sheets: list[LaidSheet] = field(default_factory=list)
    rooms: dict[int, Room] = field(default_factory=dict)
    used_numbers: int = 0

    def best_room(self, blank: Blank) -> tuple[int | None, bool]:
        """Number of the free rectangle the blank fits best, None for none; and whether it lies turned."""
        a, b, rule = blank.a - SLACK_MM, blank.b - SLACK_MM, self.rule
        turns = blank.may_turn and a != b
        best, best_turned, least = None, False, float("inf")
        for number, room in self.rooms.items():
            room_a, room_b = room[0], room[1]
            if a <= room_a and b <= room_b:
                rest = rule(room_a - a, room_b - b, room_a, room_b)
                if rest < least:
                    best, best_turned, least = number, False, rest
            if turns and b <= room_a and a <= room_b:
                rest = rule(room_a - b, room_b - a, room_a, room_b)
                if rest < least:
                    best, best_turned, least = number, True, rest
        return best, best_turned

    def open(self, kind: Kind) -> None:
        """Add an empty sheet."""
        self.offer([(kind.a, kind.b, 0.0, 0.0)], [], len(self.sheets))
        self.sheets.append(LaidSheet(kind, []))

    def put(self, index: int, blank: Blank, number: int, turned: bool) -> None:
        """Lay a blank in the near corner of a free rectangle and offer what is left of it."""
        room_a, room_b, x, y, sheet, lapsing = self.rooms.pop(number)
        for other in lapsing:
            self.rooms.pop(other, None)
        a, b = (blank.b, blank.a) if turned else (blank.a, blank.b)
        self.sheets[sheet].laid.append(Laid(index, x, y, a, b, turned, room_a, room_b))
        rest_a, rest_b = room_a - a, room_b - b
        beside, beyond = (rest_a, room_b, x + a, y), (room_a, rest_b, x, y + b)
        if rest_a < self.least_side:
            self.offer([], [beyond] if rest_b >= self.least_side else [], sheet)
        elif rest_b < self.least_side:
            self.offer([beside], [], sheet)
        else:
            self.offer([beside, (a, rest_b, x, y + b)], [beyond, (rest_a, b, x + a, y)], sheet)

    def offer(self, upright: list[Corner], level: list[Corner], sheet: int) -> None:
        """Add the free rectangles for a first cut across and for one along; using one drops the others."""
        first = self.used_numbers
        middle = first + len(upright)
        self.used_numbers = middle + len(level)
        uprights, levels = range(first, middle), range(middle, self.used_numbers)
        for number, corner in zip(uprights, upright, strict=True):
            self.rooms[number] = (*corner, sheet, levels)
        for number, corner in zip(levels, level, strict=True):
            self.rooms[number] = (*corner, sheet, uprights)


def lay(
    job: Job, order: Sequence[int], supply: Supply, rule: ChoiceRule, stop_short: bool = False
) -> tuple[list[LaidSheet], list[int]]:
    """Lay blanks one after the other where they fit best, opening a sheet whenever one fits nowhere.

    order: indexes of blanks. supply: sheets that may be opened; what is opened is taken out of it.
    stop_short: give up at the first blank that finds no sheet.
    Returns the sheets, sizes grown by the kerf, and the blanks that found no room.
    Source: guillotine free rectangles with the choice by best fit, J. Jylänki, A thousand ways to pack the
        bin, 2010 (from memory); the undecided L is our own.
    """
    narrowest = min((min(job.blanks[index][:2]) for index in order), default=0.0)
    laying = Laying(narrowest - SLACK_MM, rule)
    left_out: list[int] = []
    for index in order:
        blank = job.blanks[index]
        number, turned = laying.best_room(blank)
        if number is None and (kind := supply.take(job.kinds, blank)):
            laying.open(kind)
            number, turned = laying.best_room(blank)
        if number is not None:
            laying.put(index, blank, number, turned)
        else:
            left_out.append(index)
            if stop_short:
                break
    return laying.sheets, left_out
