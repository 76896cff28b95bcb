"""Lists of places, and the making of places that a list names but nobody has recorded yet."""

import re
from collections.abc import Iterable

from objects.intake.fields import Field
from objects.intake.kinds import BATCH, ListKind, overwrite
from objects.intake.rows import Row, RowReading
from objects.models import Location
from objects.models.locations import SEPARATOR

Kind = Location.Kind
KIND_BY_DEPTH = (Kind.BUILDING, Kind.ROOM, Kind.BAY, Kind.SHELF)
NAME_LIMIT, PATH_LIMIT = 80, 400


def clean_path(text: str) -> str:
    """A path with one way of writing its separator; “>” is understood too."""
    parts = (" ".join(part.split()) for part in re.split(r"\s+[/>]\s+", text.strip()))
    return SEPARATOR.join(part for part in parts if part)


def read_path(row: Row, key: str) -> str:
    """The path in a cell, checked for length; empty when there is none or it is refused."""
    path = clean_path(row.cell(key))
    if len(path) > PATH_LIMIT or any(len(name) > NAME_LIMIT for name in path.split(SEPARATOR)):
        row.refuse_cell(
            key,
            f"a place's name has at most {NAME_LIMIT} characters, the whole path {PATH_LIMIT}. Shorten it.",
        )
        return ""
    return path


def location_for(path: str) -> Location:
    """The place a path names, made together with every place above it that is missing."""
    return locations_for([path])[path]


def locations_for(paths: Iterable[str]) -> dict[str, Location]:
    """The places that paths name, by path as given; what is missing of the tree is made, level by level."""
    asked = {path: clean_path(path) for path in paths}
    known = {location.path.casefold(): location for location in Location.objects.all()}
    wanted: dict[int, dict[str, str]] = {}
    for path in asked.values():
        names = path.split(SEPARATOR)
        for depth in range(1, len(names) + 1):
            above = SEPARATOR.join(names[:depth])
            if above.casefold() not in known:
                wanted.setdefault(depth, {}).setdefault(above.casefold(), above)
    for depth in sorted(wanted):
        made = Location.objects.bulk_create(
            (_place(path, depth, known) for path in wanted[depth].values()), batch_size=BATCH
        )
        known |= {location.path.casefold(): location for location in made}
    return {path: known[clean.casefold()] for path, clean in asked.items()}


def _place(path: str, depth: int, known: dict[str, Location]) -> Location:
    above, _, name = path.rpartition(SEPARATOR)
    parent = known[above.casefold()] if above else None
    return Location(
        parent=parent,
        name=name,
        path=f"{parent.path}{SEPARATOR}{name}" if parent else name,
        kind=KIND_BY_DEPTH[min(depth, len(KIND_BY_DEPTH)) - 1],
    )


class LocationList(ListKind):
    """A list of places, one path a row."""

    key = "locations"
    model, identity, identity_label = Location, "path", "location"
    fields = (
        Field("path", "Location", ("place", "location path", "storage location", "shelf"), required=True),
        Field("kind", "Type", ("kind", "type of place", "location type")),
        Field("note", "Note", ("notes", "remark", "remarks", "comment")),
    )

    def read(self, row: Row) -> None:
        if path := read_path(row, "path"):
            row.values["path"] = path
        row.choice("kind", Kind.choices)
        row.text("note", 200)

    def save(self, rows: list[RowReading], by=None) -> None:
        places = locations_for(row.values["path"] for row in rows)
        for row in rows:
            place = places[row.values["path"]]
            place.kind = row.values.get("kind", place.kind)
            place.note = row.values.get("note", place.note)
        overwrite([places[row.values["path"]] for row in rows])
