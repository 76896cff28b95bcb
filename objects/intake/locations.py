"""Lists of places, and the making of places that a list names but nobody has recorded yet."""

import re
from collections.abc import Iterable

from objects.core.words import noted, say
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
            say(
                "a place's name has at most {name_limit} characters, the whole path {path_limit}. "
                "Shorten it.",
                name_limit=NAME_LIMIT,
                path_limit=PATH_LIMIT,
            ),
        )
        return ""
    return path


class KnownPaths:
    """How each place's path is written, so that capitals make no other place of it."""

    def __init__(self) -> None:
        paths = Location.objects.order_by().values_list("path", flat=True)
        self._written = {path.casefold(): path for path in paths}

    def written(self, path: str) -> str:
        """A path as it is recorded; one that is new begins as the place above it is written."""
        if path.casefold() not in self._written:
            above, separator, name = path.rpartition(SEPARATOR)
            self._written[path.casefold()] = f"{self.written(above)}{separator}{name}" if above else name
        return self._written[path.casefold()]


def location_for(path: str) -> Location:
    """The place a path names, made together with every place above it that is missing."""
    return locations_for([path])[path]


def locations_for(paths: Iterable[str]) -> dict[str, Location]:
    """The places that paths name, by path as given; what is missing of the tree is made."""
    asked = {path: clean_path(path) for path in paths}
    make_missing(asked.values())
    known = {location.path.casefold(): location for location in Location.objects.all()}
    return {path: known[clean.casefold()] for path, clean in asked.items()}


def make_missing(paths: Iterable[str]) -> list[Location]:
    """Make the places that clean paths name and nobody has recorded, level by level; returns those made."""
    known = {location.path.casefold(): location for location in Location.objects.all()}
    wanted: dict[int, dict[str, str]] = {}
    for path in paths:
        names = path.split(SEPARATOR)
        for depth in range(1, len(names) + 1):
            above = SEPARATOR.join(names[:depth])
            if above.casefold() not in known:
                wanted.setdefault(depth, {}).setdefault(above.casefold(), above)
    made: list[Location] = []
    for depth in sorted(wanted):
        level = [_place(path, depth, known) for path in wanted[depth].values()]
        made += Location.objects.bulk_create(level, batch_size=BATCH)
        known |= {location.path.casefold(): location for location in level}
    return made


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
    model, identity, identity_label = Location, "path", noted("location")
    fields = (
        Field(
            "path", noted("Location"), ("place", "location path", "storage location", "shelf"), required=True
        ),
        Field("kind", noted("Type"), ("kind", "type of place", "location type")),
        Field("note", noted("Note"), ("notes", "remark", "remarks", "comment")),
    )

    def read(self, row: Row) -> None:
        if path := read_path(row, "path"):
            row.values["path"] = path
        row.choice("kind", Kind.choices)
        row.text("note", 200)

    def save(self, rows: list[RowReading], by=None) -> None:
        self.places_made = make_missing(row.values["path"] for row in rows)
        places = locations_for(row.values["path"] for row in rows)
        for row in rows:
            place = row.instance = places[row.values["path"]]
            place.kind = row.values.get("kind", place.kind)
            place.note = row.values.get("note", place.note)
        overwrite([row.instance for row in rows])
