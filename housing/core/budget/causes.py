"""What makes a budget uncertain: causes that move many figures together, with the ranges that are shipped."""

from collections.abc import Mapping
from dataclasses import dataclass

from housing.core.budget.lines import Section
from housing.core.budget.ranges import ThreePoint
from housing.core.labour.elements import ELEMENTS, SHIPPED
from objects.core.words import noted

ASSUMED = noted("Assumed; replace it by what your own records say")
BOX = "box"
ELEMENT = "element:"
TIME_TO = noted("Time to {work}")
LEARNING = "learning"


@dataclass(frozen=True)
class Cause:
    """A cause: its range as multiples of the stated figures, what it is, and where the range comes from."""

    key: str
    name: str
    words: str
    range: ThreePoint
    source: str = ASSUMED


SHARED: dict[str, Cause] = {
    cause.key: cause
    for cause in (
        Cause(
            "pace",
            noted("Pace of everybody"),
            noted("All work takes longer or shorter"),
            ThreePoint(0.85, 1, 1.4),
        ),
        Cause(
            LEARNING,
            noted("Learning"),
            noted("How fast people get quicker; counts only where the terms reckon with learning"),
            # (100/20)^(log2 0.85 - log2 0.90) and (100/20)^(log2 0.95 - log2 0.90)
            ThreePoint(0.88, 1, 1.13),
            noted(
                "The learning curve with 0.85 and 0.95 in place of 0.90, at the 100th box if the "
                "20th takes the standard time; that the rate may be off by so much is assumed"
            ),
        ),
        Cause("wages", noted("Pay"), noted("What an hour costs"), ThreePoint(1, 1, 1.06)),
        Cause(
            "board_prices", noted("Price of board"), noted("All boards together"), ThreePoint(0.97, 1, 1.15)
        ),
        Cause(
            "goods_prices",
            noted("Price of all other goods"),
            noted("All together"),
            ThreePoint(0.97, 1, 1.12),
        ),
        Cause("spoilage", noted("Board cut wrongly"), noted("Sheets needed"), ThreePoint(0.98, 1, 1.08)),
        Cause("glue_use", noted("Glue used"), noted("Against bead and joints"), ThreePoint(0.8, 1, 1.5)),
        Cause("padding_use", noted("Padding used"), noted("Against area and gap"), ThreePoint(0.9, 1, 1.3)),
        Cause("freight", noted("Freight"), noted("All orders together"), ThreePoint(0.9, 1, 1.5)),
    )
}
# With a mean of 1: what lies around the standard time must not move it.
BOX_SCATTER = Cause(
    BOX,
    noted("One box and the next"),
    noted("Each box by itself, around its standard time"),
    ThreePoint(0.5, 0.9, 1.9),
)
# Which causes a line follows; each multiplies it.
OF_SECTION: dict[Section, tuple[str, ...]] = {
    Section.BOARD: ("board_prices", "spoilage"),
    Section.ADHESIVE: ("goods_prices", "glue_use"),
    Section.PADDING: ("goods_prices", "padding_use"),
    Section.SUPPLIES: ("goods_prices",),
    Section.READY_MADE: ("goods_prices",),
    Section.FREIGHT: ("freight",),
}
OF_LABOUR = ("pace", "wages")


def element_causes() -> tuple[str, ...]:
    """Keys of the causes that are the standard times of the elements, in the order of ELEMENTS."""
    return tuple(f"{ELEMENT}{element.value}" for element in ELEMENTS)


def element_cause(column: int, low: float, likely: float, high: float) -> Cause:
    """How far the standard time of an element may be off for all boxes, from its three figures.

    Raises RangeRefused for figures out of order; a time of 0 has no range.
    """
    element = ELEMENTS[column]
    spread = ThreePoint(low / likely, 1, high / likely) if likely else ThreePoint(1, 1, 1)
    name = TIME_TO.format(work=f"{SHIPPED[element].name[0].lower()}{SHIPPED[element].name[1:]}")
    return Cause(
        f"{ELEMENT}{element.value}", name, noted("For all boxes"), spread, noted("Its standard time")
    )


def with_ranges(stored: Mapping[str, tuple[float, float, float]]) -> dict[str, Cause]:
    """The shipped causes, the scatter of boxes among them, with ranges that were entered by hand.

    Raises RangeRefused for figures out of order.
    """
    causes = SHARED | {BOX: BOX_SCATTER}
    return {
        key: Cause(key, cause.name, cause.words, ThreePoint(*stored[key]), noted("Entered by hand"))
        if key in stored
        else cause
        for key, cause in causes.items()
    }
