"""Lists of catalogue objects."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from django.utils import timezone

from objects.core.numbers import clean_number
from objects.core.words import noted
from objects.intake.fields import Field
from objects.intake.headings import HEADINGS
from objects.intake.kinds import ListKind
from objects.intake.locations import KnownPaths, clean_path, read_path
from objects.intake.object_sizes import (
    Measured,
    keep_better_size,
    measured_at_the_shelf,
    read_size,
    size_texts,
)
from objects.intake.photos import photo_name
from objects.intake.rows import Row
from objects.models import CatalogueObject, MeasuringRules
from objects.models.objects import HAZARD_SEPARATOR

TEXTS = {
    "name": 200, "description": 10_000, "classification": 80, "materials": 200, "projecting_parts": 200,
    "need_note": 300,
}  # fmt: skip
CHOICES = {
    field: tuple(CatalogueObject._meta.get_field(field).choices)
    for field in (
        "may_lie", "measured_with", "condition", "fragility", "use", "significance", "priority",
        "present_housing",
    )
}  # fmt: skip
NEED_FIELDS = ("need_by_hand", "need_note", "need_said_by", "need_said_at")
NEEDS = tuple(CatalogueObject.Need.choices)
HAZARDS = tuple(CatalogueObject.Hazard.choices)


class ObjectList(ListKind):
    """A catalogue list, one object a row."""

    key = "objects"
    model, identity, identity_label = CatalogueObject, "number", noted("object number")
    is_long = True
    fields = tuple(
        Field(key, label, HEADINGS[key], required=key == "number")
        for key, label in (
            ("number", noted("Object number")),
            ("name", noted("Name")),
            ("description", noted("Description")),
            ("classification", noted("Classification")),
            ("materials", noted("Materials")),
            ("dimensions", noted("Dimensions")),
            ("height", noted("Height")),
            ("width", noted("Width")),
            ("depth", noted("Depth")),
            ("length", noted("Length")),
            ("diameter", noted("Diameter")),
            ("dimension_unit", noted("Unit of the size")),
            ("may_lie", noted("How it may lie")),
            ("measured_with", noted("Measured with")),
            ("weight_g", noted("Weight")),
            ("quantity", noted("Quantity")),
            ("condition", noted("Condition")),
            ("fragility", noted("Fragility")),
            ("projecting_parts", noted("Fragile parts that project")),
            ("use", noted("How often it is used")),
            ("significance", noted("Significance")),
            ("hazards", noted("Hazards")),
            ("location", noted("Location")),
            ("priority", noted("Priority")),
            ("present_housing", noted("Present housing")),
            ("need", noted("Housing need")),
            ("need_note", noted("Why this need")),
            ("photo", noted("Photo")),
        )
    )

    def __init__(self, **context) -> None:
        super().__init__(**context)
        self.tolerance = (MeasuringRules.objects.first() or MeasuringRules()).to_core()
        self.now = timezone.now()
        self._keys: dict[str, int] | None = None
        self._paths: KnownPaths | None = None
        self._measured: dict[int, Measured] = {}

    def records(self) -> Iterable[CatalogueObject]:
        return CatalogueObject.objects.select_related("location")

    def match_key(self, name: str) -> str:
        return clean_number(name).casefold()  # 1995.04 and 1995.4 may well be two objects

    @property
    def keys(self) -> dict[str, int]:
        """The objects there are, by match key."""
        if self._keys is None:
            numbers = CatalogueObject.objects.order_by().values_list("pk", "number")
            self._keys = {self.match_key(number): pk for pk, number in numbers.iterator()}
        return self._keys

    def find(self, keys: Iterable[str]) -> Mapping[str, CatalogueObject]:
        """Only the numbers of all objects are held, and of the objects those asked for."""
        wanted = {key: self.keys[key] for key in keys if key in self.keys}
        things = self.records().in_bulk(list(wanted.values()))
        self._measured = measured_at_the_shelf(things)
        return {key: things[pk] for key, pk in wanted.items() if pk in things}

    def look_anew(self) -> None:
        self._keys = self._paths = None

    def look_ahead(self, rows: Sequence[Row]) -> None:
        told = [size_texts(row) for row in rows]
        self.sizes.read_ahead((text, unit) for *texts, unit in told for text in texts if text)

    def read(self, row: Row) -> None:
        row.text("number", 60)
        if "number" in row.values:
            row.values["number"] = clean_number(row.values["number"])
        for key in row.cells:
            if key in TEXTS:
                row.text(key, TEXTS[key])
            elif key in CHOICES:
                row.choice(key, CHOICES[key])
        row.choice("need", NEEDS)
        if "need" in row.values:
            row.values["need_by_hand"] = row.values.pop("need")
        row.several("hazards", HAZARDS, HAZARD_SEPARATOR)
        row.weight("weight_g")
        row.whole("quantity", 1, 1_000_000)
        read_size(row, self.sizes)
        if path := read_path(row, "location"):
            row.values["location"] = self._as_known(path)
        if self.photos is not None and (photo := photo_name(row, "photo", self.photos)):
            row.values["photo"] = photo

    def _as_known(self, path: str) -> str:
        if self._paths is None:
            self._paths = KnownPaths()
        return self._paths.written(path)

    def settle(self, row: Row, record: CatalogueObject | None) -> None:
        if record is None:
            if not row.values.get("name"):
                row.refuse(noted("A new object needs a name. Fill it in, or leave the row out of the list."))
            if "size_state" not in row.values:
                row.notes.append(noted("Not measured yet."))
        else:
            _keep_as_recorded(row, record)
            keep_better_size(row, record, self._measured.get(record.pk), self.tolerance)
        if record and record.weight_g and not row.cell("weight_g"):
            row.values.pop("weight_g", None)  # one that was only found in the text of the size
        self._settle_need(row, record)

    def _settle_need(self, row: Row, record: CatalogueObject | None) -> None:
        """A need says why, and who said it when; a reason without a need says nothing."""
        before = (record.need_by_hand, record.need_note) if record else ("", "")
        need = row.values.get("need_by_hand", before[0])
        if not need and row.values.pop("need_note", ""):
            row.notes.append(noted("A reason without a housing need is left out."))
        if need != before[0]:
            row.values.setdefault(
                "need_note",
                noted("Stated in the list {name}.").format(name=self.file_name or "handed in")[:300],
            )
        if need and (need, row.values.get("need_note", before[1])) != before:
            row.values |= {"need_said_by": self.by and self.by.pk, "need_said_at": self.now}

    def current(self, record: CatalogueObject, field: str) -> Any:
        if field == "location":
            return record.location.path if record.location else ""
        if field == "photo":
            return record.photo.name.rpartition("/")[2]
        if field == "need_said_by":
            return record.need_said_by_id
        return getattr(record, field)

    def label(self, field: str) -> str:
        return LABELS.get(field) or super().label(field)


def _keep_as_recorded(row: Row, record: CatalogueObject) -> None:
    """Keep what no cell can tell: the line breaks of a text, and signs in the name of a place."""
    for key in TEXTS.keys() & row.values.keys():
        if row.values[key] == " ".join((recorded := getattr(record, key)).split()):
            row.values[key] = recorded
    if record.location and row.values.get("location") == clean_path(record.location.path):
        row.values["location"] = record.location.path


LABELS = {
    "size_state": noted("state of the size"),
    "dimensions_unit": noted("unit of the size"),
    "dimensions_note": noted("note on the size"),
    "need_said_by": noted("who said the need"),
    "need_said_at": noted("when the need was said"),
}
