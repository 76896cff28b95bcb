"""Which way up an object goes into its box: every way its record allows, the one of least board chosen."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import StrEnum

from housing.core.clearances import MM2_PER_M2, ObjectSize
from objects.core.lying import MayLie, MeasuredWith
from objects.core.words import noted, say

SLENDER = 3.0  # times the smaller side of its base: an object higher than that tips easily; assumed
SAME = 1e-9  # share of the cost below which two costs are one, far above rounding error

type Cost = Callable[[ObjectSize], float | None]


class Up(StrEnum):
    """The measured side of an object that points up in its box."""

    HEIGHT = "height"
    DEPTH = "depth"
    WIDTH = "width"


LAID = {Up.DEPTH: noted("laid down on its back"), Up.WIDTH: noted("laid down on its side")}


@dataclass(frozen=True)
class Measured:
    """An object as recorded: its size in mm as it stood, how it may lie, what was measured with it."""

    size: ObjectSize
    may_lie: MayLie = MayLie.NOT_RECORDED
    measured_with: MeasuredWith = MeasuredWith.NOT_RECORDED

    @property
    def may_be_laid_down(self) -> bool:
        may = self.may_lie in (MayLie.LAID_DOWN, MayLie.ANY_SIDE)
        return may and not self.measured_with.keeps_upright


@dataclass(frozen=True)
class Orientation:
    """One way an object lies in its box. size: as it lies, mm. up: the measured side that points up.

    is_raised: whether it is higher so than it was measured. is_turned: by a quarter about the vertical.
    """

    size: ObjectSize
    up: Up = Up.HEIGHT
    is_raised: bool = False
    is_turned: bool = False

    @property
    def words(self) -> str:
        """Such as laid down on its back; "" for an object as it was measured."""
        if self.up is Up.HEIGHT:
            return say("turned by a quarter") if self.is_turned else ""
        words = say("set on edge") if self.is_raised else say(LAID[self.up])
        return say("{words}, its longer side from front to back", words=words) if self.is_turned else words


@dataclass(frozen=True)
class Choice:
    """The orientation taken, None where none can be made; all that were tried with their costs, mm2 of board.

    reason: a sentence. warnings: sentences on what to watch or to ask.
    """

    chosen: Orientation | None
    tried: tuple[tuple[Orientation, float | None], ...]
    reason: str
    warnings: tuple[str, ...] = ()


def orientations(thing: Measured, *, with_turns: bool = False) -> tuple[Orientation, ...]:
    """Every distinct way an object may lie, the way it was measured first.

    thing: the object, mm. with_turns: whether quarter turns about the vertical count as ways of their own, as
    they do beside other objects; without them an object laid down has its longer side along the front.
    Returns sizes in mm: height upward, width along the front, depth front to back.
    Source: permutations of three sides; to lay down never raises an object, since nothing says that a plate
    stands safely on its edge (assumed).
    """
    may_turn = with_turns and thing.may_lie not in (MayLie.NOT_RECORDED, MayLie.UPRIGHT)
    ways = [Orientation(thing.size)]
    if thing.may_be_laid_down:
        ways += [way for way in _laid(thing.size) if thing.may_lie is MayLie.ANY_SIDE or not way.is_raised]
    if may_turn:
        ways = [each for way in ways for each in (way, _turned(way))]
    by_size = {way.size: way for way in reversed(ways)}
    return tuple(way for way in ways if by_size[way.size] is way)


def _laid(size: ObjectSize) -> tuple[Orientation, ...]:
    high, wide, deep = size.height_mm, size.width_mm, size.depth_mm
    back = ObjectSize(deep, max(wide, high), min(wide, high))
    side = ObjectSize(wide, max(high, deep), min(high, deep))
    return Orientation(back, Up.DEPTH, deep > high), Orientation(side, Up.WIDTH, wide > high)


def _turned(way: Orientation) -> Orientation:
    size = ObjectSize(way.size.height_mm, way.size.depth_mm, way.size.width_mm)
    return replace(way, size=size, is_turned=True)


def is_slender(size: ObjectSize) -> bool:
    """Whether an object as it lies is so high on its base that it tips easily. Source: see SLENDER."""
    return size.height_mm > SLENDER * min(size.width_mm, size.depth_mm)


def best_orientation(thing: Measured, cost: Cost, *, looks_further: bool = False) -> Choice:
    """The allowed orientation that costs least; of equals the one tried first, so as it was measured.

    thing: the object, mm. cost: board for a size in mm, in mm2; None where no enclosure can be made for it.
    looks_further: whether to work out too what laying it down would save where that is not allowed.
    Returns the choice with its reason and warnings; lengths in them as "12.3 mm", areas in m².
    Source: least cost of the orientations tried.
    """
    tried = tuple((way, cost(way.size)) for way in orientations(thing))
    chosen, least = _least(tried)
    warnings = _tipping(thing, chosen) if chosen else ()
    if looks_further and chosen and least is not None and not thing.may_be_laid_down:
        warnings += _what_laying_would_save(thing, least, cost)
    return Choice(chosen, tried, _reason(thing, tried, chosen, least), warnings)


def _least(tried: tuple[tuple[Orientation, float | None], ...]) -> tuple[Orientation | None, float | None]:
    chosen: Orientation | None = None
    least: float | None = None
    for way, area in tried:
        if area is not None and (least is None or area < least - SAME * least):
            chosen, least = way, area
    return chosen, least


def _reason(
    thing: Measured,
    tried: tuple[tuple[Orientation, float | None], ...],
    chosen: Orientation | None,
    least: float | None,
) -> str:
    if chosen is None or least is None:
        return say("No enclosure can be made for it, whichever allowed side is underneath.")
    if len(tried) == 1:
        return f"{_stands(thing.size)}: {_why_only(thing)}."
    as_measured = tried[0][1]
    if chosen.up is Up.HEIGHT:
        others = [area for way, area in tried[1:] if area is not None]
        if not others:
            return say("{stands}: no enclosure can be made for it laid down.", stands=_stands(thing.size))
        mine, other = _areas(least, min(others))
        more = say("the same") if mine == other else other
        return say(
            "{stands}: {mine} of board; otherwise it would take {more}.",
            stands=_stands(thing.size),
            mine=mine,
            more=more,
        )
    words = chosen.words[:1].upper() + chosen.words[1:]
    before = say("as measured") if chosen.is_raised else say("standing")
    if as_measured is None:
        return say("{words}: no enclosure can be made for it {before}.", words=words, before=before)
    mine, other = _areas(least, as_measured)
    return say(
        "{words}: {mine} of board instead of {other} {before}.",
        words=words,
        mine=mine,
        other=other,
        before=before,
    )


def _stands(size: ObjectSize) -> str:
    return say("Stands") if size.height_mm > min(size.width_mm, size.depth_mm) else say("Lies as measured")


def _why_only(thing: Measured) -> str:
    if thing.measured_with.keeps_upright:
        return say("it was measured with its {part}", part=say(str(thing.measured_with)))
    if thing.may_lie is MayLie.NOT_RECORDED:
        return say("nobody has recorded that it may be laid down")
    if thing.may_be_laid_down:
        return say("no other side makes it lower")
    return say("it is recorded as upright only")


def _tipping(thing: Measured, way: Orientation) -> tuple[str, ...]:
    if not is_slender(way.size):
        return ()
    base = min(way.size.width_mm, way.size.depth_mm)
    if thing.may_lie is MayLie.NOT_RECORDED and not thing.measured_with.keeps_upright:
        then = say("Ask a conservator whether it may be laid down, and record the answer.")
    else:
        then = say("Hold it on all sides, and keep the box level when it is carried.")
    return (
        say(
            "At {height_mm:.1f} mm high on a base {base:.1f} mm wide it tips easily. {then}",
            height_mm=way.size.height_mm,
            base=base,
            then=then,
        ),
    )


def _what_laying_would_save(thing: Measured, least: float, cost: Cost) -> tuple[str, ...]:
    """What the cheapest way of laying it down would save, where the record does not allow it."""
    lower = tuple((way, cost(way.size)) for way in _laid(thing.size) if not way.is_raised)
    laid, area = _least(lower)
    if laid is None or area is None or area >= least - SAME * least:
        return ()
    mine, other = _areas(area, least)
    saved = say(
        "{words} it would take {mine} of board instead of {other}",
        words=laid.words.capitalize(),
        mine=mine,
        other=other,
    )
    if thing.measured_with.keeps_upright:
        return (
            say(
                "{saved}; ask whether it may be boxed without its {part}.",
                saved=saved,
                part=say(str(thing.measured_with)),
            ),
        )
    return (f"{saved}.",)


def _areas(one: float, other: float) -> tuple[str, str]:
    """Two areas of board in m², with two decimals, or as many up to four as tell them apart."""
    written = [(_area(one, places), _area(other, places)) for places in (2, 3, 4)]
    return next((pair for pair in written if pair[0] != pair[1]), written[0])


def _area(mm2: float, places: int) -> str:
    return f"{mm2 / MM2_PER_M2:.{places}f} m²"
