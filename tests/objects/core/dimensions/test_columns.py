"""Sides in columns of their own: one text that reads as a person would read the columns."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from objects.core.dimensions import CHECK, READ, REFUSED, Dimensions, read_dimensions
from objects.core.dimensions.columns import text_of_sides

# What each column means is what its heading says; mm by 1 in = 25.4 mm.
MM = {"mm": 1, "cm": 10, "m": 1000, "in": Decimal("25.4"), "ft": Decimal("304.8")}


def read(parts: dict[str, str], unit: str = ""):
    reading = read_dimensions(text_of_sides(parts, unit))
    return reading.status, [None if side is None else float(side) for side in reading.dimensions.sides]


def test_the_columns_become_one_labelled_text():
    parts = {"diameter": "12 cm", "width": '10 3/4"', "height": "25"}

    assert text_of_sides(parts, "cm") == "H 25 cm; W 10 3/4 in; Diam. 12 cm"


@pytest.mark.parametrize(
    "parts, unit, status, sides",
    [
        ({"height": "25", "width": "20", "depth": "10"}, "cm", READ, [250, 200, 100]),
        ({"height": "25", "width": "20", "depth": "10"}, "Inches", READ, [635, 508, 254]),
        ({"height": "25", "width": "20", "depth": "10"}, "(cm.)", READ, [250, 200, 100]),
        ({"height": "25 cm", "width": "200 mm"}, "", READ, [250, 200, None]),
        ({"height": "25,4", "width": "20,3"}, "cm", READ, [254, 203, None]),
        ({"height": "10 3/4", "width": "8½"}, "in", READ, [273.05, 215.9, None]),
        ({"height": "5' 3\"", "width": "2'"}, "", READ, [1600.2, 609.6, None]),
        ({"height": "30", "diameter": "12"}, "cm", READ, [300, 120, 120]),
        ({"length": "30", "width": "20", "height": "9"}, "cm", READ, [90, 200, 300]),
        ({"depth": "10", "height": "30"}, "cm", READ, [300, None, 100]),  # never taken for a diameter
        ({"height": "25 cm high", "width": "W 20 cm"}, "", READ, [250, 200, None]),
        # not stated
        ({"height": "25", "width": "-", "depth": "n/a"}, "cm", READ, [250, None, None]),
        ({"height": "25", "width": "20", "depth": "0"}, "cm", READ, [250, 200, None]),
        ({"height": "25", "width": "20", "depth": "0.00 cm"}, "cm", READ, [250, 200, None]),
        ({"height": "25", "width": "20", "depth": "?"}, "cm", READ, [250, 200, None]),
        # a person has to look
        ({"height": "12-14", "width": "20"}, "cm", CHECK, [140, 200, None]),
        ({"height": "ca. 30", "width": "20"}, "cm", CHECK, [300, 200, None]),
        ({"height": "25 (30 with lid)", "width": "20"}, "cm", CHECK, [300, 200, None]),
        ({"height": "25", "width": "20"}, "", CHECK, [None, None, None]),
        ({"height": "25", "width": "20 cm"}, "", CHECK, [250, 200, None]),
        ({"height": "25", "width": "20"}, "kg", CHECK, [None, None, None]),
        ({"height": "25", "width": "20"}, "in/cm", CHECK, [None, None, None]),
        ({"height": "25", "width": "2 kg"}, "cm", CHECK, [250, None, None]),
        ({"height": "W 25", "width": "20"}, "cm", CHECK, [None, 250, None]),
        ({"height": "1,250", "width": "800"}, "mm", CHECK, [1250, 800, None]),
        ({"circumference": "31.4159265359", "height": "4"}, "cm", CHECK, [40, 100, 100]),
        # no size
        ({"height": "0", "width": "0"}, "cm", REFUSED, [None, None, None]),
        ({"height": "0", "width": ""}, "cm", REFUSED, [None, None, None]),
        ({"height": "-5", "width": "4"}, "cm", REFUSED, [None, None, None]),
    ],
)  # fmt: skip
def test_the_columns_read_as_a_person_reads_them(parts, unit, status, sides):
    assert read(parts, unit) == (status, sides)


@pytest.mark.parametrize(
    "cell", ["", " ", "-", "—", "n/a", "N/A", "na", "?", "None", "unknown", "not recorded"]
)
def test_without_a_side_there_is_no_text(cell):
    assert text_of_sides({"height": cell, "width": cell}, "cm") == ""


def test_a_column_that_is_no_side_is_a_mistake_of_the_program():
    with pytest.raises(KeyError):
        text_of_sides({"colour": "25"})


@given(
    st.lists(st.integers(1, 99_999), min_size=3, max_size=3),
    st.lists(st.sampled_from(["mm", "cm", "in", "ft", "m"]), min_size=3, max_size=3),
    st.booleans(),
)
def test_decimal_sizes_read_back_exactly(steps, units, unit_in_its_own_column):
    scale = {"mm": 1, "cm": 100, "in": 1000, "ft": 100, "m": 10_000}  # no finer than 0.0001 mm
    if unit_in_its_own_column:
        units = units[:1] * 3
    figures = [Decimal(step) / scale[unit] for step, unit in zip(steps, units, strict=True)]
    cells = [
        f"{each}" if unit_in_its_own_column else f"{each} {u}" for each, u in zip(figures, units, strict=True)
    ]
    parts = dict(zip(("height", "width", "depth"), cells, strict=True))

    reading = read_dimensions(text_of_sides(parts, units[0] if unit_in_its_own_column else ""))

    exact = [each * MM[u] for each, u in zip(figures, units, strict=True)]
    if max(exact) <= 20_000:
        assert reading.dimensions == Dimensions(*exact)


@given(st.text(max_size=12), st.text(max_size=12), st.text(max_size=6))
def test_whatever_stands_in_the_columns_nothing_breaks(height, width, unit):
    text = text_of_sides({"height": height, "width": width}, unit)

    assert read_dimensions(text).status in (READ, CHECK, REFUSED, "empty")
