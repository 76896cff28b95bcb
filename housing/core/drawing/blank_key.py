"""The key of drawn blanks: what each kind of line and each sign means."""

from collections.abc import Callable
from dataclasses import dataclass

from housing.core.blank import OUTSIDE
from housing.core.drawing import legend
from housing.core.drawing.number_signs import circle, square
from housing.core.drawing.svg import document, hatching, line
from housing.core.drawing.symbols import corner
from objects.core.words import say

# Dashes of scores made on the inside face, and of those made on the outside: dots between the dashes.
SCORE_DASHES = "3 1.2", "3 0.8 0.6 0.8"
FLAP_DASHES = "1 0.8", "1.4 0.6 0.3 0.6"


@dataclass(frozen=True, slots=True)
class Key:
    """What a key has to explain.

    scored: how folds are scored and on which face, "" where that is not said, None where nothing is scored.
    has_flaps: some folds are those of flaps. from_right: lengths are measured from the right edge.
    has_waste, cuts, joints: some board is waste; cuts and glue joints carry numbers.
    """

    scored: str | None = ""
    has_flaps: bool = False
    from_right: bool = False
    has_waste: bool = False
    cuts: bool = False
    joints: bool = False


def key_items(key: Key) -> list[legend.Item]:
    """The entries of a key."""

    def stroke(class_: str, width: float, dash: str | None = None) -> Callable[[float, float], str]:
        return lambda x, y: line(x, y, x + legend.SAMPLE_MM, y, f"key {class_}", width, stroke_dasharray=dash)

    items = [legend.sample(say("cut"), stroke("cut", 0.5))]
    if key.scored is not None:
        outside = OUTSIDE in key.scored
        words = say("score: {how}", how=say(key.scored)) if key.scored else say("score and fold")
        items.append(legend.sample(words, stroke("score", 0.4, SCORE_DASHES[outside])))
        if key.has_flaps:
            dash = FLAP_DASHES[outside]
            items.append(legend.sample(say("score for a flap"), stroke("flap-score", 0.3, dash)))
    if key.has_waste:
        items.append(legend.sample(say("waste"), lambda x, y: hatching(x + 2, y - 1.6, 5, 3.2, 1.2, "key")))
    if key.cuts:
        items.append(legend.sample(say("cuts, in this order"), lambda x, y: circle(x + 4.5, y, 1)))
    if key.joints:
        items.append(legend.sample(say("glue, in this order"), lambda x, y: square(x + 4.5, y, 1)))
    side = say("measure from this corner")
    items += [legend.words(say("inside face up")), legend.sample(side, lambda x, y: corner(x + 1.2, y), 2.4)]
    return items


def key_svg(key: Key, title: str, width_mm: float) -> tuple[str, float, float]:
    """A key that serves several drawings, in rows no wider than asked: the SVG and its sides in mm."""
    made = legend.flow(key_items(key), width_mm)
    wide, high = max(width_mm, made.width_mm), made.height_mm
    return document(wide, high, title, "", [made.draw(0, 0)], "drawing key"), wide, high
