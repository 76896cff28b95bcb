"""The tree of locations with what is kept at each."""

from dataclasses import dataclass

from django.db.models import Count, Q, QuerySet

from objects.models import CatalogueObject, Location
from objects.models.locations import SEPARATOR

LONGEST_KEY = 18  # digits; SQLite counts to 9 223 372 036 854 775 807, which has 19, and fails above


@dataclass
class LocationRow:
    """A location, how deep it lies in the tree, and its objects: right here, and here and below."""

    location: Location
    depth: int
    here: int
    in_all: int

    @property
    def steps(self) -> range:
        """One for each place above it, to indent by."""
        return range(self.depth)


def location_tree() -> list[LocationRow]:
    """Every location under the one it belongs to, in the order of a walk through the building."""
    locations = Location.objects.annotate(here=Count("kept_here"))
    rows = {
        place.path: LocationRow(place, place.path.count(SEPARATOR), place.here, place.here)
        for place in sorted(locations, key=lambda place: place.path.split(SEPARATOR))
    }
    for row in rows.values():
        parts = row.location.path.split(SEPARATOR)
        for length in range(1, len(parts)):
            rows[SEPARATOR.join(parts[:length])].in_all += row.here
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
