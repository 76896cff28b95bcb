"""Boxes that are bought: which of them holds what is needed, and which of these costs least."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from housing.core.clearances import InnerSize

SAME_MM = 1e-6  # lengths nearer to each other than this are one, far above rounding error

# Forms that a plain box with a lid can stand in for; the others do more than enclose, as dividers or foam do.
# Assumed, from what each form is for.
BOX_FORMS = frozenset(
    {
        "lidded_tray", "full_lid_tray", "notched_lid_tray", "hinged_lid", "drop_front", "clamshell",
        "garment_box",
    }
)  # fmt: skip


@dataclass(frozen=True)
class BoughtBox:
    """A box as it is sold: clear inside in mm, z upward, and the price of one."""

    key: str
    name: str
    inside: InnerSize
    price: Decimal
    is_buffered: bool = True


@dataclass(frozen=True)
class Room:
    """What is needed for the contents of a box: clear inside in mm for every way they may lie, z upward.

    ways: the preferred one first; contents that must stand have none in which they lie. buffered: whether the
    board has to be, None where that does not matter. weight_g: of the contents, None where it is not known.
    """

    key: str
    ways: tuple[InnerSize, ...]
    buffered: bool | None = None
    weight_g: float | None = None


@dataclass(frozen=True)
class Limits:
    """slack_mm: most room left over beyond the clear inside needed, on each side and above.

    heaviest_g: contents known to be heavier get no bought box; None for no limit.
    """

    slack_mm: float
    heaviest_g: float | None = None


@dataclass(frozen=True)
class Fit:
    """A box that holds what is needed. way: place of the way among those of the room.

    is_turned: whether the box stands turned by a quarter, its depth along the width needed. gaps_mm: left
    over on each side along x and along y, and above.
    """

    box: BoughtBox
    way: int
    is_turned: bool
    gaps_mm: tuple[float, float, float]


def fit(room: Room, box: BoughtBox, limits: Limits) -> Fit | None:
    """How a box holds what is needed, None where it does not.

    room, box: clear insides in mm. limits: slack in mm, weight in g.
    The first way that fits is taken, the box as it stands before turned. A box always keeps its lid on top,
    so what must stand is never laid down.
    Source: comparison of sides; that the contents stand in the middle, so that what is over is halved on
    each side, is common practice, no source.
    """
    if room.buffered is not None and room.buffered != box.is_buffered:
        return None
    if limits.heaviest_g is not None and (room.weight_g or 0.0) > limits.heaviest_g:
        return None
    inside = box.inside
    for place, way in enumerate(room.ways):
        for is_turned in (False, True):
            x, y = (inside.y_mm, inside.x_mm) if is_turned else (inside.x_mm, inside.y_mm)
            gaps = (x - way.x_mm) / 2, (y - way.y_mm) / 2, inside.z_mm - way.z_mm
            if min(gaps) >= -SAME_MM and max(gaps) <= limits.slack_mm + SAME_MM:
                return Fit(box, place, is_turned, gaps)
    return None


def by_price(boxes: Iterable[BoughtBox]) -> list[BoughtBox]:
    """Boxes by price, then by the room they take, then by name."""
    return sorted(boxes, key=lambda box: (box.price, _volume(box.inside), box.name))


def cheapest(room: Room, boxes: Sequence[BoughtBox], limits: Limits) -> Fit | None:
    """The box of least price that holds what is needed, of equals the smallest; None where none does.

    boxes: in the order of by_price. Source: least of those that fit.
    """
    return next((found for box in boxes if (found := fit(room, box, limits))), None)


def choose(rooms: Iterable[Room], boxes: Iterable[BoughtBox], limits: Limits) -> Iterator[tuple[str, Fit]]:
    """For each room that a box holds, its key and the box of least price."""
    ordered = by_price(boxes)
    for room in rooms:
        if found := cheapest(room, ordered, limits):
            yield room.key, found


def _volume(inside: InnerSize) -> float:
    return inside.x_mm * inside.y_mm * inside.z_mm


def holds_as_a_box(form: str) -> bool:
    """Whether a plain box can stand in for an enclosure of a form. Source: see BOX_FORMS."""
    return form in BOX_FORMS
