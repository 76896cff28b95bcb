"""The maker's steps, read off the parts of an enclosure: what to cut, fold, glue and put together."""

from collections.abc import Iterable, Sequence
from functools import reduce
from itertools import groupby

from housing.core.blank import Blank, Score
from housing.core.drawing.numbering import gluing_order
from housing.core.enclosures.form import Part, Seat
from housing.core.enclosures.seating import fits
from housing.core.panels import GlueJoint
from housing.core.part_names import cap, named
from objects.core.words import say, say_count


def making_steps(parts: Sequence[Part]) -> list[str]:
    """Sentences from the cut-out blanks to the closed enclosure.

    parts: of one enclosure, the one it stands on first. Parts made in the same way are told together.
    Returns one sentence or two a step; lengths as "12.3 mm". Glue joints carry the numbers of the drawing.
    Source: the order of folding each form declares; the rest follows from its panels, joints and seats.
    """
    made: dict[tuple[str, ...], list[str]] = {}
    for part, count in alike(parts):
        made.setdefault(tuple(_part_steps(part)), []).append(_counted_part(part, count))
    steps = [
        say("{parts}: {step}", parts=cap(_and(names)), step=step)
        for ways, names in made.items()
        for step in ways
    ]
    return steps + list(_joining(parts))


def alike(parts: Sequence[Part]) -> list[tuple[Part, int]]:
    """Each kind of part once, in order, with how many there are."""
    found: list[tuple[Part, int]] = []
    for part in parts:
        for number, (known, count) in enumerate(found):
            if known.blank == part.blank and known.material == part.material:
                found[number] = known, count + 1
                break
        else:
            found.append((part, 1))
    return found


def _counted_part(part: Part, count: int) -> str:
    return named(part.name) if count == 1 else f"{count} × {named(part.name.rstrip('0123456789 '))}"


def _part_steps(part: Part) -> list[str]:
    blank, steps = part.blank, []
    if opened := _openings(blank):
        steps.append(say("cut {openings}.", openings=opened))
    scores = sorted(blank.scores, key=lambda score: score.stage)
    stages = [_panels(list(group)) for _, group in groupby(scores, lambda score: score.stage)]
    if stages:
        panels = reduce(
            lambda before, after: say("{before}, then {after}", before=before, after=after), stages
        )
        steps.append(say("fold up {panels}.", panels=panels))
    if part.joints:
        glued = "; ".join(_glued(part.joints))
        steps.append(
            say("glue in the order of the squares: {joints}. Hold each until it has set.", joints=glued)
        )
    return steps


def _panels(scores: list[Score]) -> str:
    """Panels folded at one time; of flaps it is enough to say how many."""
    if len(scores) > 2 and all(score.is_flap for score in scores):
        return say_count("{count} flap", "{count} flaps", len(scores))
    return _and([named(score.panel) for score in scores])


def _glued(joints: Sequence[GlueJoint]) -> Iterable[str]:
    """Each wall with the numbers of the joints at it, as the drawing has them."""
    numbered = gluing_order(joints)
    for (wall, is_edge), group in groupby(numbered, lambda each: (each[1].to, each[1].is_edge)):
        found = list(group)
        numbers, what = ", ".join(str(number) for number, _ in found), named(found[0][1].flap)
        wall = named(wall)
        if is_edge:
            yield say("{numbers} edge to {wall}", numbers=numbers, wall=wall)
        elif len(found) == 1:
            yield say("{numbers} {flap} to {wall}", numbers=numbers, flap=what, wall=wall)
        else:
            yield say("flaps {numbers} to {wall}", numbers=numbers, wall=wall)


def _openings(blank: Blank) -> str:
    counted: dict[tuple[str, str], list[str]] = {}
    for opening in blank.openings:
        size = f"{_figure(opening.width_mm)} × {_figure(opening.height_mm)} mm"
        if opening.shape == "slit":
            size = say("{length} long", length=f"{_figure(opening.cut_length_mm)} mm")
        counted.setdefault((named(opening.name), size), []).append(named(opening.panel))
    return "; ".join(
        say("{name}, {size}, in {panels}", name=name, size=size, panels=_and(panels))
        if len(set(panels)) == len(panels)
        else f"{len(panels)} × {name}, {size}"
        for (name, size), panels in counted.items()
    )


def _joining(parts: Sequence[Part]) -> Iterable[str]:
    room = {fit.part: min(fit.x_mm, fit.y_mm) for fit in fits(parts)}
    first = named(parts[0].name)
    for part, count in alike(parts[1:]):
        what = _counted_part(part, count)
        if part.seat is Seat.OVER:
            yield say(
                "Slide “{part}” over “{base}”: it must go down without force; it has {room} of room in all.",
                part=what, base=first, room=f"{_figure(max(room[part.name], 0.0))} mm",
            )  # fmt: skip
        elif part.seat is Seat.INSIDE:
            yield say("Lay “{part}” into “{base}”.", part=what, base=first)
        elif part.seat in (Seat.ACROSS_X, Seat.ACROSS_Y):
            yield say("Slot “{part}” into place in “{base}”.", part=what, base=first)


def _figure(mm: float) -> str:
    """A length to a tenth of a millimetre, without an idle nought."""
    return f"{mm:.1f}".removesuffix(".0")


def _and(words: Sequence[str]) -> str:
    """Words in a row: left wall, near wall and lid."""
    if len(words) == 1:
        return words[0]
    return say("{first} and {last}", first=", ".join(words[:-1]), last=words[-1])
