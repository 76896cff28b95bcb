"""Standard times as the list of them shows them: every element with what holds, and designs of their own."""

from collections import defaultdict
from dataclasses import dataclass, field, replace

from housing.core.labour.elements import SHIPPED, Driver, Element, Minutes, StandardElement
from housing.models import StandardTime, Task
from objects.core.words import noted, say

FOR_ONE = {
    Driver.BOX: noted("box"),
    Driver.OBJECT: noted("object"),
    Driver.BLANK: noted("blank"),
    Driver.CUT_METRE: noted("metre cut"),
    Driver.SCORE_METRE: noted("metre scored"),
    Driver.FOLD: noted("fold"),
    Driver.JOINT: noted("glue joint"),
    Driver.LINING: noted("square metre of lining"),
}


@dataclass
class ElementRow:
    """An element with the time that holds for every design, and those that designs have of their own."""

    shipped: StandardElement
    entered: StandardTime | None = None
    of_designs: list[StandardTime] = field(default_factory=list)

    @property
    def minutes(self) -> Minutes:
        return self.entered.to_core() if self.entered else self.shipped.minutes

    @property
    def source(self) -> str:
        return self.entered.source if self.entered else self.shipped.source

    @property
    def for_one(self) -> str:
        return say(FOR_ONE[self.shipped.driver])

    @property
    def step(self) -> str:
        return Task.Step(self.shipped.step).label


def element_rows() -> list[ElementRow]:
    """Every element in the order of the work."""
    entered: defaultdict[str, list[StandardTime]] = defaultdict(list)
    for time in StandardTime.objects.select_related("design"):
        entered[time.element].append(time)
    return [
        ElementRow(
            replace(shipped, name=say(shipped.name), source=say(shipped.source)),
            next((time for time in entered[element.value] if time.design_id is None), None),
            [time for time in entered[element.value] if time.design_id is not None],
        )
        for element, shipped in SHIPPED.items()
    ]


def time_of_every_design(element: Element) -> StandardTime:
    """The time entered for every design; one that is not stored, with the shipped minutes, where none is.

    The source is left to whoever enters a time of their own.
    """
    shipped = SHIPPED[element]
    return StandardTime.objects.filter(element=element.value, design=None).first() or StandardTime(
        element=element.value,
        low=shipped.minutes.low,
        likely=shipped.minutes.likely,
        high=shipped.minutes.high,
    )
