"""The key beneath the drawing of a sheet."""

from collections.abc import Iterator

from housing.core.drawing import legend
from housing.core.drawing.badges import BADGE_MM, disc
from housing.core.drawing.svg import element, hatching
from housing.core.drawing.symbols import arrow, corner
from objects.core.words import say

HATCH_MM = 1.5
OFFCUT_FILL = "#f1f1f1"


def key_items(
    direction: str, *, trims: bool, numbers: bool, is_free: bool, corners: bool, offcuts: bool, origin: bool
) -> Iterator[legend.Item]:
    """What is told of the signs in a drawing. direction: "flutes" or "grain"; the others: what it has.

    origin: whether marks run from a corner.
    """
    yield legend.sample(say(direction), lambda x, y: arrow(x + 5, y, 10, "x"), 10)
    if origin:
        yield legend.sample(say("measure from this corner"), lambda x, y: corner(x + 1.2, y), 2.4)
    if trims:
        yield legend.words(say("trim the edges first"))
    if numbers:
        yield legend.sample(say("cut in this order"), lambda x, y: disc(x + BADGE_MM, y, 1), 4)
    if is_free:
        yield legend.words(say("cut round each blank"))
    if corners:
        yield legend.sample(say("cut from a corner that falls off"), _guest_sample, 6)
    if offcuts:
        yield legend.sample(
            say("left over"),
            lambda x, y: element(
                "rect", class_="key offcut", x=x, y=y - 1.5, width=6, height=3, fill=OFFCUT_FILL,
                stroke="#000", stroke_width=0.15,
            ),
            6,
        )  # fmt: skip


def falling_off(x: float, y: float, wide: float, high: float) -> str:
    """A rectangle that falls off, hatched; x, y is its upper left corner."""
    outline = element(
        "rect", class_="corner", x=x, y=y, width=wide, height=high, fill="#fff", stroke="#888",
        stroke_width=0.2,
    )  # fmt: skip
    return outline + hatching(x, y, wide, high, HATCH_MM, "waste")


def _guest_sample(x: float, y: float) -> str:
    guest = element(
        "rect", class_="key guest", x=x, y=y - 0.4, width=3.8, height=1.9, fill="#fff", stroke="#000",
        stroke_width=0.35,
    )  # fmt: skip
    return falling_off(x, y - 1.5, 6, 3) + guest
