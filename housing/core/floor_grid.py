"""The store as a grid: a room is a table whose columns are bays and whose rows are shelves."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

BUILDING_AND_ROOM = 2
NO_BAY, NO_SHELF = "", ""
SHADES = 4  # besides white; more cannot be told apart on a bad print


@dataclass(frozen=True)
class Place:
    """A place with objects. path: its names from the building down. key: of its record. still: objects that
    are unhoused of all. has_parts: whether other places lie within it."""

    path: tuple[str, ...]
    key: str
    still: int
    total: int
    has_parts: bool = False


@dataclass(frozen=True)
class Cell:
    """A shelf of a bay. shade: 0 where all are housed, up to SHADES where none is."""

    key: str
    still: int
    total: int
    is_place_only: bool

    @property
    def shade(self) -> int:
        return shade_of(self.still, self.total)


@dataclass(frozen=True)
class Room:
    """A room. bays: (name, key). rows: (shelf, a cell for each bay, None where the bay has no such shelf)."""

    name: str
    key: str
    still: int
    total: int
    bays: Sequence[tuple[str, str]]
    rows: Sequence[tuple[str, Sequence[Cell | None]]]


def shade_of(still: int, total: int) -> int:
    """How dark a cell is: by quarters of what is still unhoused, 1 for a single object of many."""
    return -(-still * SHADES // total) if total else 0


def rooms_of(places: Iterable[Place], keys: Mapping[tuple[str, ...], str], natural=str) -> list[Room]:  # type: ignore[no-untyped-def]
    """Rooms with their grids, those with most still unhoused first.

    places: each with its own objects, not with those of places within it. keys: of rooms and bays by path.
    natural: what bays and shelves are sorted by. Counts of a room are those of all its cells.
    """
    of_room: defaultdict[tuple[str, ...], list[Place]] = defaultdict(list)
    for place in places:
        of_room[place.path[:BUILDING_AND_ROOM]].append(place)
    rooms = []
    for path, inside in of_room.items():
        cells: dict[tuple[str, str], Cell] = {}
        for place in inside:
            below = place.path[len(path) :]
            bay, shelf = (below[0] if below else NO_BAY), " / ".join(below[1:]) or NO_SHELF
            cells[bay, shelf] = Cell(place.key, place.still, place.total, place.has_parts)
        bays = sorted({bay for bay, _ in cells}, key=natural)
        shelves = sorted({shelf for _, shelf in cells}, key=natural)
        rooms.append(
            Room(
                " / ".join(path),
                keys.get(path, ""),
                sum(place.still for place in inside),
                sum(place.total for place in inside),
                [(bay, keys.get((*path, bay), "")) for bay in bays],
                [(shelf, [cells.get((bay, shelf)) for bay in bays]) for shelf in shelves],
            )
        )
    return sorted(rooms, key=lambda room: (-room.still, room.name))
