"""Lists of catalogue objects."""

from collections.abc import Iterable
from typing import Any

from objects.core.dimensions import read_dimensions
from objects.core.numbers import clean_number, natural_key
from objects.intake.fields import Field
from objects.intake.kinds import ListKind
from objects.intake.locations import locations_for, read_path
from objects.intake.photos import PhotoFolder, photo_name
from objects.intake.rows import Row, RowReading
from objects.models import CatalogueObject
from objects.models.objects import HAZARD_SEPARATOR

SizeState = CatalogueObject.SizeState
SIDES = ("height_mm", "width_mm", "depth_mm")


class ObjectList(ListKind):
    """A catalogue list, one object a row."""

    key = "objects"
    model, identity, identity_label = CatalogueObject, "number", "object number"
    fields = (
        Field(
            "number",
            "Object number",
            ("number", "object no", "object id", "accession number", "accession no", "inventory number"),
            required=True,
        ),
        Field("name", "Name", ("object name", "title", "object", "simple name")),
        Field("description", "Description", ("brief description", "physical description")),
        Field("classification", "Classification", ("class", "category", "object type", "collection")),
        Field("materials", "Materials", ("material", "medium", "made of")),
        Field("dimensions", "Dimensions", ("size", "measurements", "dimension")),
        Field(
            "may_lie",
            "How it may lie",
            ("may lie", "lying", "orientation", "storage orientation", "may be laid down", "way up"),
        ),
        Field(
            "measured_with",
            "Measured with",
            ("size includes", "measured including", "included in the size", "measured part"),
        ),
        Field("weight_g", "Weight", ("weight kg", "weight g", "weight lb", "mass")),
        Field("quantity", "Quantity", ("count", "number of parts", "number of items", "pieces", "qty")),
        Field("condition", "Condition", ("state",)),
        Field("hazards", "Hazards", ("hazard", "hazardous", "dangers")),
        Field("location", "Location", ("place", "storage location", "current location", "shelf")),
        Field("priority", "Priority", ("urgency",)),
        Field("present_housing", "Present housing", ("housing", "current housing", "present box")),
        Field("photo", "Photo", ("image", "picture", "photo file", "image file")),
    )

    def records(self) -> Iterable[CatalogueObject]:
        return CatalogueObject.objects.select_related("location")

    def match_key(self, name: str) -> str:
        return clean_number(name).casefold()  # 1995.04 and 1995.4 may well be two objects

    def read(self, row: Row) -> None:
        row.text("number", 60)
        if "number" in row.values:
            row.values["number"] = clean_number(row.values["number"])
        for key, limit in (
            ("name", 200),
            ("description", 10_000),
            ("classification", 80),
            ("materials", 200),
        ):
            row.text(key, limit)
        self._read_dimensions(row)
        row.choice("may_lie", CatalogueObject.MayLie.choices)
        row.choice("measured_with", CatalogueObject.MeasuredWith.choices)
        row.weight("weight_g")
        row.whole("quantity", 1, 1_000_000)
        row.choice("condition", CatalogueObject.Condition.choices)
        row.several("hazards", CatalogueObject.Hazard.choices, HAZARD_SEPARATOR)
        if path := read_path(row, "location"):
            row.values["location"] = path
        row.choice("priority", CatalogueObject.Priority.choices)
        row.choice("present_housing", CatalogueObject.PresentHousing.choices)
        if self.photos is not None and (photo := photo_name(row, "photo", self.photos)):
            row.values["photo"] = photo

    def _read_dimensions(self, row: Row) -> None:
        """Sizes in mm and how far they can be trusted; the text is kept as the list has it."""
        text = row.cell("dimensions")
        unit = row.heading_unit("dimensions", "in|cm|mm") or row.unit
        reading = read_dimensions(text, unit or None)
        if reading.status == "empty":
            return
        if reading.status == "refused":
            row.refuse_cell("dimensions", " ".join(reading.notes))
            return
        if len(text) > 300:
            row.refuse_cell("dimensions", f"{len(text)} characters; at most 300 can be kept. Shorten it.")
            return
        sides = {side: getattr(reading.dimensions, side) for side in SIDES}
        is_complete = None not in sides.values()
        if reading.status == "check":
            state, row.needs_check = SizeState.CHECK, True
        else:
            state = SizeState.KNOWN if is_complete else SizeState.MISSING
        note = " ".join(reading.notes)[:500]
        row.values |= {
            **sides,
            "dimensions_text": text,
            "dimensions_unit": reading.unit or unit,
            "dimensions_note": note,
            "size_state": state,
        }
        row.notes += [note] if note else []

    def settle(self, row: Row, record: CatalogueObject | None) -> None:
        if record is None:
            if not row.values.get("name"):
                row.refuse("A new object needs a name. Fill it in, or leave the row out of the list.")
            if row.cell("dimensions") == "":
                row.notes.append("Not measured yet.")
            return
        if "size_state" not in row.values:
            return
        is_same_text = all(
            row.values[field] == getattr(record, field) for field in ("dimensions_text", "dimensions_unit")
        )
        is_worse = record.size_state == SizeState.KNOWN and row.values["size_state"] != SizeState.KNOWN
        if is_same_text or is_worse:
            self._keep_recorded_size(row)
            if not is_same_text:
                row.notes.append("The size already recorded is complete and is kept.")

    def _keep_recorded_size(self, row: Row) -> None:
        for field in (*SIDES, "dimensions_text", "dimensions_unit", "dimensions_note", "size_state"):
            del row.values[field]
        row.needs_check = False

    def current(self, record: CatalogueObject, field: str) -> Any:
        if field == "location":
            return record.location.path if record.location else ""
        if field == "photo":
            return record.photo.name.rpartition("/")[2]
        return getattr(record, field)

    def save(self, rows: list[RowReading], by=None) -> None:
        places = locations_for({row.values["location"] for row in rows if "location" in row.values})
        with PhotoFolder(self.photos) as photos:
            for row in rows:
                if "location" in row.values:
                    row.values["location"] = places[row.values["location"]]
                if "photo" in row.values:
                    self._store_photo(row, photos)
            super().save(rows, by)

    def _store_photo(self, row: RowReading, photos: PhotoFolder) -> None:
        """The row's photo as stored; one that is no picture leaves the recorded photo as it is."""
        if stored := photos.store(row.values.pop("photo")):
            row.values["photo"] = stored

    def finish(self, record: CatalogueObject, is_new: bool) -> None:
        record.number_key = natural_key(record.number)
        record.version += not is_new
