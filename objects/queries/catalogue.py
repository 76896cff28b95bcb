"""The tree of locations with what is kept at each."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import Count, Q, QuerySet

from objects.models import CatalogueObject, Location
from objects.models.locations import SEPARATOR

LONGEST_KEY = 18  # digits; SQLite counts to 9 223 372 036 854 775 807, which has 19, and fails above


@dataclass
class PlaceRow:
    """A location as it stands in the tree."""

    location: Location

    @property
    def depth(self) -> int:
        """How many places it lies in."""
        return self.location.path.count(SEPARATOR)

    @property
    def steps(self) -> range:
        """One for each place above it, to indent by."""
        return range(self.depth)


@dataclass
class LocationRow(PlaceRow):
    """A location with its objects: right here, and here and below."""

    here: int
    in_all: int = 0


def walk(locations: Iterable[Location]) -> list[Location]:
    """Every location under the one it belongs to, in the order of a walk through the building."""
    return sorted(locations, key=lambda place: place.path.split(SEPARATOR))


def with_those_above(path: str) -> list[str]:
    """The paths of the places that a place lies in, from the building down, and its own."""
    parts = path.split(SEPARATOR)
    return [SEPARATOR.join(parts[:length]) for length in range(1, len(parts) + 1)]


def location_tree() -> list[LocationRow]:
    """Every location in the order of a walk, with how many objects are kept there."""
    locations = walk(Location.objects.annotate(here=Count("kept_here")))
    rows = {place.path: LocationRow(place, place.here) for place in locations}
    for path, row in rows.items():
        for above in with_those_above(path):
            rows[above].in_all += row.here
    return list(rows.values())


def inside(location: Location, path: str = "path") -> Q:
    """The condition that a path lies in a location or below it."""
    return Q(**{path: location.path}) | Q(**{f"{path}__startswith": location.path + SEPARATOR})


def classifications() -> list[str]:
    """Every classification in use, in the order of the alphabet."""
    return list(
        CatalogueObject.objects.exclude(classification="")
        .order_by("classification")
        .values_list("classification", flat=True)
        .distinct()
    )


def places_outside(location: Location) -> QuerySet[Location]:
    """Every place that may hold a location: all but itself and what lies in it."""
    return Location.objects.exclude(inside(location)) if location.pk else Location.objects.all()
