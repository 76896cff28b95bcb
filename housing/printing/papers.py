"""The papers prints are made for, and the words both prints share."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from housing.models import Housing
from objects.models import CatalogueObject

TWO_PEOPLE_G = Decimal(12_000)  # assumed: above 12 kg a box is carried by two
LONGEST_LIST = 3


@dataclass(frozen=True)
class Paper:
    """A paper, sides and the room inside the margins of a cut sheet in mm."""

    key: str
    width_mm: float
    height_mm: float
    margin_mm: float = 9.0
    foot_mm: float = 11.0

    @property
    def room_height_mm(self) -> float:
        return self.height_mm - self.margin_mm - self.foot_mm


# ISO 216: A4 is 210 x 297 mm. US Letter is 8 1/2 x 11 in.
PAPERS = {paper.key: paper for paper in (Paper("A4", 210.0, 297.0), Paper("letter", 215.9, 279.4))}


def contents_of(housing: Housing) -> list[CatalogueObject]:
    """The objects a box is for; they must have been fetched with it."""
    return [tie.object for tie in housing.contents.all()]


def weight_g(things: Iterable[CatalogueObject]) -> Decimal:
    """What the objects weigh together, as far as it is known."""
    return sum((thing.weight_g for thing in things if thing.weight_g), Decimal(0))


def hazards_of(things: Iterable[CatalogueObject]) -> list[str]:
    """The hazards of all the objects, each once."""
    return list(dict.fromkeys(hazard for thing in things for hazard in thing.hazard_list))


def shortened(text: str, most: int) -> str:
    """A text cut off at a number of signs."""
    return text if len(text) <= most else text[: most - 1].rstrip() + "…"


def listed(texts: Iterable[str], most: int = LONGEST_LIST) -> str:
    """The first few of a list, and how many more there are: 1990.1, 1990.2 + 5 more."""
    texts = list(texts)
    more = len(texts) - most
    return ", ".join(texts[:most]) + (f" + {more} more" if more > 0 else "")
