"""The picture of spending by month: heights to scale, words for who does not see it."""

import re
from xml.etree import ElementTree

import pytest

from housing.core.drawing.month_chart import Column, Part, columns_svg

PARTS = (Part("month-goods", "Goods", "#ccc"), Part("month-work", "Work <&>", "#555"))
SVG = "{http://www.w3.org/2000/svg}"


def drawn(*columns):
    return ElementTree.fromstring(columns_svg("Spending", PARTS, columns, "USD"))


def heights(svg) -> list[float]:
    return [float(rect.get("height")) for rect in svg.findall(f"{SVG}g/{SVG}rect")]


def test_amounts_are_as_high_as_they_are_large():
    found = heights(drawn(Column("Nov 2026", (100.0, 50.0)), Column("Dec 2026", (0.0, 75.0))))

    # by hand: 100 to 50 to 75; a part of nothing is not drawn
    assert [round(height / found[1], 3) for height in found] == [2, 1, 1.5]


def test_its_words_tell_every_month():
    svg = drawn(Column("Nov 2026", (1000.0, 234.4)), Column("Dec 2026", (0.0, 0.0)))

    assert svg.find(f"{SVG}desc").text == "Nov 2026 1,234 USD; Dec 2026 0 USD."


def test_many_months_leave_out_names_rather_than_write_over_each_other():
    columns = [Column(f"M{n}", (1.0, 1.0)) for n in range(48)]

    svg = drawn(*columns)

    names = [text for text in svg.findall(f"{SVG}text") if re.fullmatch(r"M\d+", text.text)]
    places = [float(text.get("x")) for text in names]
    assert 2 <= len(names) < 48
    assert min(b - a for a, b in zip(places, places[1:], strict=False)) >= 50


def test_no_month_is_no_picture():
    assert columns_svg("Spending", PARTS, [], "USD") == ""


@pytest.mark.parametrize("amounts", [(1.0,), (1.0, -1.0)])
def test_columns_that_cannot_be_drawn_are_refused(amounts):
    with pytest.raises(ValueError, match="none of them below zero"):
        drawn(Column("Nov 2026", amounts))
