"""The person reading a page: her unit of length, her paper, her language and her hand."""

from dataclasses import dataclass

from django.http import HttpRequest

from objects.core.amounts import format_mass
from objects.core.areas import format_area
from objects.core.lengths import format_length, format_size, in_unit
from objects.core.retelling import retold
from objects.models import Preferences
from objects.roles import roles_of


@dataclass(frozen=True)
class Reader:
    """How one reader likes lengths and paper, and what she may do; language: "" for the browser's."""

    unit: str = "in"
    paper: str = "A4"
    roles: frozenset[str] = frozenset()
    language: str = ""
    hand: str = "right"

    def length(self, mm) -> str:
        """A length in the reader's unit; an em dash where there is none."""
        return "—" if mm is None else format_length(mm, self.unit)

    def size(self, sides_mm) -> str:
        """Several sides in the reader's unit; an em dash where one is missing."""
        return "—" if any(side is None for side in sides_mm) else format_size(sides_mm, self.unit)

    def area(self, mm2) -> str:
        """An area in square inches or square centimetres; an em dash where there is none."""
        return "—" if mm2 is None else format_area(mm2, self.unit)

    def sentence(self, text: object) -> str:
        """A sentence of the planner in the reader's language, its millimetres in her unit."""
        return in_unit(retold(str(text)), self.unit)

    def weight(self, grams) -> str:
        """A weight in the reader's unit; an em dash where there is none."""
        return "—" if grams is None else format_mass(grams, self.unit)

    @property
    def is_manager(self) -> bool:
        return "manager" in self.roles

    @property
    def is_maker(self) -> bool:
        return bool(self.roles & {"manager", "maker"})

    @property
    def is_surveyor(self) -> bool:
        return bool(self.roles & {"manager", "surveyor"})


def reader_of(request: HttpRequest) -> Reader:
    """The reader of this request, looked up once."""
    if not hasattr(request, "_reader"):
        user = getattr(request, "user", None)
        if user is None or not user.is_authenticated:
            request._reader = Reader()
        else:
            chosen = Preferences.objects.filter(user=user).first() or Preferences()
            request._reader = Reader(
                chosen.length_unit, chosen.paper, roles_of(user), chosen.language, chosen.hand
            )
    return request._reader


def reader(request: HttpRequest) -> dict[str, Reader]:
    """Context processor: gives every template its `reader`."""
    return {"reader": reader_of(request)}
