"""Boxes that are sold ready-made: the list, and those that may be bought."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.utils.formats import date_format

from housing.core.clearances import InnerSize
from housing.core.ready_made import BoughtBox
from housing.models import ReadyMadeBox
from objects.core.words import say


@dataclass(frozen=True)
class ListedBox:
    """A box of the price list. each: the price of one, None where none is known. fault: why none is bought.

    doubt: what to look at although it may be bought.
    """

    box: ReadyMadeBox
    each: Decimal | None
    fault: str = ""
    doubt: str = ""

    @property
    def inner_mm(self) -> tuple[Decimal, Decimal, Decimal]:
        """Width, depth and height inside, mm."""
        return self.box.inner_x_mm, self.box.inner_y_mm, self.box.inner_z_mm


def boxes_on_the_list(*, today: date) -> list[ListedBox]:
    """All boxes by name, each with what keeps it from being bought."""
    found = ReadyMadeBox.objects.select_related("supplier").order_by("name")
    return [_listed(box, today) for box in found]


def _listed(box: ReadyMadeBox, today: date) -> ListedBox:
    price, fault, doubt = box.price, "", ""
    if box.withdrawn_on and box.withdrawn_on <= today:
        fault = say("No longer sold since {day}", day=date_format(box.withdrawn_on, "d F Y"))
    elif not price:
        fault = say("No price")
    elif box.priced_on and box.priced_on > today:
        doubt = say("The price holds only from {day}", day=date_format(box.priced_on, "d F Y"))
    return ListedBox(box, price / box.pack if price else None, fault, doubt)


def boxes_to_buy(listed: list[ListedBox]) -> Iterator[BoughtBox]:
    """Those of the list that may be bought, as the core knows them."""
    for one in listed:
        if not one.fault and one.each is not None:
            inside = InnerSize(*map(float, one.inner_mm))
            yield BoughtBox(str(one.box.pk), one.box.name, inside, one.each, one.box.is_buffered)
