"""The store as a grid of bays and shelves; every object stands in one cell."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.floor_grid import SHADES, Place, rooms_of, shade_of

A1, A2, B1 = (
    Place(("House", "Room", bay, shelf), key, still, 10)
    for bay, shelf, key, still in (("A", "1", "3", 0), ("A", "2", "4", 5), ("B", "1", "6", 10))
)
KEYS = {("House", "Room"): "1", ("House", "Room", "A"): "2", ("House", "Room", "B"): "5"}


def test_bays_are_columns_and_shelves_rows():
    (room,) = rooms_of([A1, A2, B1], KEYS)

    assert (room.name, room.key, room.still, room.total) == ("House / Room", "1", 15, 30)
    assert room.bays == [("A", "2"), ("B", "5")]
    assert [(shelf, [cell and cell.key for cell in cells]) for shelf, cells in room.rows] == [
        ("1", ["3", "6"]),
        ("2", ["4", None]),
    ]


@pytest.mark.parametrize(
    ("still", "total", "shade"), [(0, 8, 0), (1, 100, 1), (2, 8, 1), (3, 8, 2), (8, 8, 4), (0, 0, 0)]
)
def test_a_cell_is_the_darker_the_more_is_unhoused(still, total, shade):
    assert shade_of(still, total) == shade


def test_what_stands_in_the_room_itself_and_deeper_down_has_a_cell_too():
    places = [
        Place(("House", "Room"), "1", 1, 1, has_parts=True),
        Place(("House", "Room", "A", "1", "Drawer"), "9", 2, 2),
        Place(("House",), "0", 3, 3, has_parts=True),
    ]

    rooms = rooms_of(places, KEYS)

    assert [(room.name, room.still) for room in rooms] == [("House", 3), ("House / Room", 3)]
    assert rooms[1].bays == [("", ""), ("A", "2")]
    assert [shelf for shelf, _ in rooms[1].rows] == ["", "1 / Drawer"]


names = st.sampled_from(["1", "2", "10", "A"])
paths = st.lists(names, min_size=1, max_size=5).map(tuple)


@given(st.dictionaries(paths, st.tuples(st.integers(0, 50), st.integers(0, 50)), max_size=20))
def test_every_object_is_in_one_cell(found):
    places = [
        Place(path, str(n), still, still + more) for n, (path, (still, more)) in enumerate(found.items())
    ]

    rooms = rooms_of(places, {})

    cells = [cell for room in rooms for _, row in room.rows for cell in row if cell]
    assert sorted(cell.key for cell in cells) == sorted(place.key for place in places)
    assert sum(cell.still for cell in cells) == sum(room.still for room in rooms)
    assert all(0 <= cell.shade <= SHADES for cell in cells)
