"""What stands in each cell of a list taken out of the planner, so that taking it in again changes nothing."""

from collections.abc import Callable, Sequence
from decimal import Decimal
from functools import lru_cache

from django.utils import timezone

from housing.models import Housing
from housing.printing.list_columns import SIDE_KEYS, Column
from housing.queries.objects import status_name
from objects.core.dimensions import Dimensions, format_dimensions, read_dimensions
from objects.core.lengths import MM_PER_UNIT, POINT, format_length, format_size, unit_of
from objects.core.weights import GRAMS
from objects.models import CatalogueObject
from objects.models.objects import HAZARD_SEPARATOR

type Cell = str | int | Decimal
CHOICES = {
    field.name: {key: str(label).split(":")[0] for key, label in field.flatchoices}
    for field in CatalogueObject._meta.concrete_fields
    if field.choices
}
HAZARDS = {key: str(label) for key, label in CatalogueObject.Hazard.choices}
FINE = Decimal("0.0000001")  # of a unit: finer than a tenth of a gram or a ten-thousandth of a millimetre

type Sides = tuple[Decimal | None, Decimal | None, Decimal | None]


class Cells:
    """Writes objects as rows under the columns given; sizes of boxes also in the reader's unit."""

    def __init__(self, columns: Sequence[Column], unit: str) -> None:
        self.columns, self.unit = columns, unit
        self.units = {column.key: column.unit for column in columns}
        self.has_sides = any(column.key in SIDE_KEYS for column in columns)
        self.writers: dict[str, Callable[[CatalogueObject], Cell]] = {
            "weight_g": self._weight,
            "quantity": lambda thing: thing.quantity,
            "hazards": _hazards,
            "need": lambda thing: CHOICES["need_by_hand"].get(thing.need_by_hand, thing.need_by_hand),
            "location": lambda thing: thing.location.path if thing.location else "",
            "photo": lambda thing: thing.photo.name.rpartition("/")[2],
            "housing_status": lambda thing: status_name(thing.housing_status),
            "box_number": lambda thing: (
                Housing(pk=thing.live_housing).box_number if thing.live_housing else ""
            ),
            "box_mm": lambda thing: self._box(thing, "mm"),
            "box_unit": lambda thing: self._box(thing, self.unit),
            "new_location": self._new_location,
            "housed_on": _housed_on,
        }

    def row(self, thing: CatalogueObject) -> list[Cell]:
        """The cells of one object, from objects_to_export()."""
        size = self._size(thing)
        return [self._cell(column.key, thing, size) for column in self.columns]

    def _cell(self, key: str, thing: CatalogueObject, size: dict[str, Cell]) -> Cell:
        if key in size:
            return size[key]
        if key in self.writers:
            return self.writers[key](thing)
        value = getattr(thing, key)
        return CHOICES[key].get(value, value) if key in CHOICES else value

    def _weight(self, thing: CatalogueObject) -> Cell:
        """In the unit that the heading names, else with its unit behind it."""
        if thing.weight_g is None:
            return ""
        unit = self.units["weight_g"]
        if not unit:
            return f"{_short(thing.weight_g)} g"
        return _short((thing.weight_g / GRAMS[unit]).quantize(FINE))

    def _size(self, thing: CatalogueObject) -> dict[str, Cell]:
        """The text of the size, the unit of its bare figures, and the sides where they have columns."""
        text, unit = self._dimensions(thing)
        size: dict[str, Cell] = {"dimensions": text, "dimension_unit": unit}
        if self.has_sides:
            size |= self._sides(thing, unit)
        return size

    def _dimensions(self, thing: CatalogueObject) -> tuple[str, str]:
        """The text as it was written while the size is still the one read from it, else the size labelled."""
        text, sides = thing.dimensions_text, thing.sides_mm
        if text and _sides_read(text, self.units["dimensions"]) == sides:
            return text, ""
        if text and "dimension_unit" in self.units and _sides_read(text, thing.dimensions_unit) == sides:
            return text, thing.dimensions_unit
        return format_dimensions(Dimensions(*sides)), ""

    def _sides(self, thing: CatalogueObject, unit: str) -> dict[str, Cell]:
        """Each side in the unit that its heading or the column of units names, else with its unit."""
        cells: dict[str, Cell] = dict.fromkeys(SIDE_KEYS, "")
        for key, mm in zip(SIDE_KEYS, thing.sides_mm, strict=False):
            bare = unit_of(unit) or self.units.get(key, "")
            if mm is not None:
                cells[key] = _short((mm / MM_PER_UNIT[bare]).quantize(FINE)) if bare else f"{_short(mm)} mm"
        return cells

    def _box(self, thing: CatalogueObject, unit: str) -> str:
        """Height × width × depth of the closed box; millimetres without the unit, which the heading names."""
        sides = (thing.box_height_mm, thing.box_width_mm, thing.box_depth_mm)
        if None in sides:
            return ""
        if unit == "mm":
            return " × ".join(format_length(side, "mm", with_unit=False, sign=POINT) for side in sides)
        return format_size(sides, unit, POINT)

    def _new_location(self, thing: CatalogueObject) -> str:
        """Where an object is kept now that it is in its box."""
        is_housed = thing.housing_status == Housing.Status.HOUSED
        return thing.location.path if is_housed and thing.location else ""


@lru_cache(maxsize=10_000)
def _sides_read(text: str, unit: str) -> Sides:
    return read_dimensions(text, unit or None).dimensions.sides


def _short(figure: Decimal) -> Decimal:
    """A figure without zeros at its end, never in powers of ten."""
    return Decimal(f"{figure.normalize():f}")


def _hazards(thing: CatalogueObject) -> str:
    return HAZARD_SEPARATOR.join(HAZARDS.get(one, one) for one in thing.hazards.split(HAZARD_SEPARATOR))


def _housed_on(thing: CatalogueObject) -> str:
    """The day, as ISO 8601 writes it."""
    return f"{timezone.localtime(thing.housed_at):%Y-%m-%d}" if thing.housed_at else ""
