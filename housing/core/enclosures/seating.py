"""Where the parts of an enclosure stand once it is closed, and the room they leave one another."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from housing.core.enclosures.form import Part, Seat
from housing.core.folding import Bounds


@dataclass(frozen=True, slots=True)
class Turn:
    """A rigid motion along the axes: new axis i is old axis `axes[i]` times `signs[i]` plus `shift[i]` mm."""

    axes: tuple[int, int, int]
    signs: tuple[int, int, int]
    shift: tuple[float, float, float]

    def of(self, box: Bounds) -> Bounds:
        """A box moved."""
        low, high = [], []
        for axis, sign, shift in zip(self.axes, self.signs, self.shift, strict=True):
            a, b = sign * box[axis] + shift, sign * box[axis + 3] + shift
            low.append(min(a, b))
            high.append(max(a, b))
        return (low[0], low[1], low[2], high[0], high[1], high[2])


STAY = Turn((0, 1, 2), (1, 1, 1), (0.0, 0.0, 0.0))
# Old axes and signs that make the new ones, by seat. A lid turns over about x; a strip is set up on its near
# edge, then turned to run along x or along y.
TURNS = {
    Seat.OVER: ((0, 1, 2), (1, -1, -1)),
    Seat.ACROSS_X: ((0, 2, 1), (1, 1, 1)),
    Seat.ACROSS_Y: ((2, 0, 1), (1, 1, 1)),
}


def turn_of(part: Part, first: Part) -> Turn | None:
    """How a part moves from its own floor's corner to its place in the closed enclosure.

    part: any part; first: the part the enclosure stands on. Returns None for a part without a place.
    Source: plane geometry; a lid's floor rests on the highest rim of the part it covers.
    """
    if part.seat is Seat.FIRST:
        return STAY
    if part.seat is Seat.APART:
        return None
    axes, signs = TURNS.get(part.seat, ((0, 1, 2), (1, 1, 1)))
    turn = Turn(axes, signs, (0.0, 0.0, 0.0))
    is_outer = part.seat is Seat.OVER
    own = turn.of(part.folded.clear if is_outer else part.folded.bounds)
    target = first.folded.bounds if is_outer else first.folded.clear
    shift = [(target[i] + target[i + 3] - own[i] - own[i + 3]) / 2 for i in range(3)]
    if part.seat is Seat.OVER:
        shift[2] = target[5] - own[5]
    else:
        shift[0] += part.at_mm[0]
        shift[1] += part.at_mm[1]
        shift[2] = target[2] - own[2] + part.lift_mm
    return Turn(axes, signs, (shift[0], shift[1], shift[2]))


def closed_bounds(parts: Sequence[Part]) -> Bounds:
    """Bounds of the closed enclosure, mm from the first part's floor; parts without a place left out."""
    if len(parts) == 1:
        return parts[0].folded.bounds
    return around(
        turn.of(part.folded.bounds) for part in parts if (turn := turn_of(part, parts[0])) is not None
    )


def around(boxes: Iterable[Bounds]) -> Bounds:
    """The least box around some boxes."""
    x0s, y0s, z0s, x1s, y1s, z1s = zip(*boxes, strict=True)
    return min(x0s), min(y0s), min(z0s), max(x1s), max(y1s), max(z1s)


@dataclass(frozen=True, slots=True)
class Fit:
    """Room in all between a part and the first, along x and y, mm; negative where they do not go together."""

    part: str
    x_mm: float
    y_mm: float


def fits(parts: Sequence[Part]) -> list[Fit]:
    """How loosely each part slides over or into the first part."""
    found = []
    for part in parts[1:]:
        if part.seat is Seat.OVER:
            outer, inner = part.folded.inside, parts[0].folded.outside
        elif part.seat is Seat.INSIDE:
            outer, inner = parts[0].folded.inside, part.folded.outside
        else:
            continue
        found.append(Fit(part.name, outer.x_mm - inner.x_mm, outer.y_mm - inner.y_mm))
    return found
