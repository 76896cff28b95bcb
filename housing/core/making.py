"""The maker's steps, read off the parts of an enclosure: what to cut, fold, glue and put together."""

from collections.abc import Iterable, Sequence
from itertools import groupby

from housing.core.blank import Blank, Score
from housing.core.enclosures.form import Part, Seat
from housing.core.enclosures.seating import fits
from housing.core.panels import GlueJoint
from objects.core.phrases import joined

COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def making_steps(parts: Sequence[Part]) -> list[str]:
    """Sentences from the cut-out blanks to the closed enclosure.

    parts: of one enclosure, the one it stands on first. Parts made in the same way are told together.
    Returns one sentence or two a step; lengths as "12.3 mm".
    Source: the order of folding each form declares; the rest follows from its panels, joints and seats.
    """
    made: dict[tuple[str, ...], list[str]] = {}
    for part, count in alike(parts):
        name = part.name if count == 1 else f"{_counted(count)} like {part.name}"
        made.setdefault(tuple(_part_steps(part)), []).append(name)
    steps = [f"{_capital(joined(names))}: {step}" for ways, names in made.items() for step in ways]
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


def _part_steps(part: Part) -> list[str]:
    blank, steps = part.blank, []
    if opened := _openings(blank):
        steps.append(f"cut {opened}.")
    scores = sorted(blank.scores, key=lambda score: score.stage)
    stages = [_panels(list(group)) for _, group in groupby(scores, lambda score: score.stage)]
    if stages:
        steps.append(f"fold up the {', then the '.join(stages)}.")
    if part.joints:
        edges = [joint for joint in part.joints if joint.is_edge]
        flaps = [joint for joint in part.joints if not joint.is_edge]
        said = [_glued(some) for some in (flaps, edges) if some]
        steps.append(f"glue {'; '.join(said)}. Hold each until the glue has set.")
    return steps


def _panels(scores: list[Score]) -> str:
    """Panels folded at one time; of flaps it is enough to say how many."""
    if len(scores) > 2 and all(score.is_flap for score in scores):
        return f"{_counted(len(scores))} flaps"
    return _listed([score.panel for score in scores])


def _glued(joints: list[GlueJoint]) -> str:
    onto = list(dict.fromkeys(joint.to for joint in joints))
    flaps = [joint.flap for joint in joints]
    what = f"{_counted(len(flaps))} flaps" if len(flaps) > 2 else _listed(flaps)
    return f"the {what} to the {_listed(onto)}"


def _openings(blank: Blank) -> str:
    counted: dict[tuple[str, str], list[str]] = {}
    for opening in blank.openings:
        size = f"{opening.width_mm:.1f} mm by {opening.height_mm:.1f} mm"
        if opening.shape == "slit":
            size = f"{opening.cut_length_mm:.1f} mm long"
        counted.setdefault((opening.name, size), []).append(opening.panel)
    return "; ".join(
        f"the {name}, {size}, in the {_listed(panels)}"
        if len(panels) == 1 or len(set(panels)) == len(panels)
        else f"{_counted(len(panels))} of the {name}, {size}"
        for (name, size), panels in counted.items()
    )


def _joining(parts: Sequence[Part]) -> Iterable[str]:
    room = {fit.part: min(fit.x_mm, fit.y_mm) for fit in fits(parts)}
    first = parts[0].name
    for part, count in alike(parts[1:]):
        what = f"the {part.name}" if count == 1 else f"the {_counted(count)} parts like {part.name}"
        if part.seat is Seat.OVER:
            yield (
                f"Slide {what} over the {first}: it must go down without force; "
                f"it has {max(room[part.name], 0.0):.1f} mm of room in all."
            )
        elif part.seat is Seat.INSIDE:
            yield f"Lay {what} into the {first}."
        elif part.seat in (Seat.ACROSS_X, Seat.ACROSS_Y):
            yield f"Slot {what} into place in the {first}."


def _listed(words: Sequence[str]) -> str:
    """Left wall, right wall → left and right walls, where only the first word differs; else with "and"."""
    heads, tails = [word.rpartition(" ")[0] for word in words], {word.rpartition(" ")[2] for word in words}
    if len(words) > 1 and all(heads) and len(tails) == 1:
        return f"{joined(heads)} {tails.pop()}s"
    return joined(words)


def _counted(count: int) -> str:
    return COUNTS[count] if count < len(COUNTS) else str(count)


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
