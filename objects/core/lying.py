"""How an object may lie in its box, and what stood or hung on it when it was measured."""

from enum import StrEnum


class MayLie(StrEnum):
    """Which sides of an object may be underneath. Height is the side that pointed up when it was measured."""

    NOT_RECORDED = ""  # it then lies as it was measured
    UPRIGHT = "upright"  # as it was measured, with the same side to the front
    TURNED = "turned"  # upright, any side to the front
    LAID_DOWN = "laid_down"  # also on its back or its side, if that makes it lower
    ANY_SIDE = "any_side"  # on any side, also one on which it is higher than it was measured


class MeasuredWith(StrEnum):
    """What was included in an object's size."""

    NOT_RECORDED = ""
    NOTHING = "nothing"
    STAND = "stand"
    HANDLE = "handle"
    MOUNT = "mount"
    LID = "lid"

    @property
    def keeps_upright(self) -> bool:
        """Whether what was included would come off, or stick out, if the object were laid down."""
        return self not in (MeasuredWith.NOT_RECORDED, MeasuredWith.NOTHING)
