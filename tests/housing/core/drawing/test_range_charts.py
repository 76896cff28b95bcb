"""Pictures of uncertainty: bars where the numbers are, words for all that is drawn, nothing off the page."""

from xml.etree import ElementTree

import pytest

from housing.core.drawing.range_charts import (
    HEIGHT,
    LEFT,
    RIGHT,
    WIDTH,
    Mark,
    Swing,
    histogram_svg,
    tornado_svg,
)

SVG = "{http://www.w3.org/2000/svg}"
INSIDE = WIDTH - LEFT - RIGHT


def bars(root: ElementTree.Element) -> list[dict[str, float]]:
    return [
        {key: float(bar.get(key)) for key in ("x", "y", "width", "height")} for bar in root.iter(f"{SVG}rect")
    ]


def histogram(edges=(0, 10, 20, 40), counts=(1, 4, 2), marks=()) -> ElementTree.Element:
    return ElementTree.fromstring(histogram_svg("Cost", edges, counts, marks, ("0 EUR", "40 EUR")))


def tornado(*swings: Swing, middle=100.0) -> ElementTree.Element:
    return ElementTree.fromstring(tornado_svg("What matters", swings, middle))


def test_bars_are_as_high_as_their_counts_and_stand_at_their_edges():
    drawn = bars(histogram())

    highest = drawn[1]["height"]
    assert [bar["height"] / highest for bar in drawn] == pytest.approx([1 / 4, 1, 2 / 4], abs=0.01)
    assert [(bar["x"] - LEFT) / INSIDE for bar in drawn] == pytest.approx([0, 1 / 4, 1 / 2], abs=0.01)


def test_a_mark_stands_at_its_value_and_is_told_in_words():
    root = histogram(marks=[Mark(20, "50 of 100: 20")])

    (mark,) = (line for line in root.iter(f"{SVG}line") if line.get("class") == "range-mark")
    assert (float(mark.get("x1")) - LEFT) / INSIDE == pytest.approx(0.5, abs=0.01)
    assert root.find(f"{SVG}title").text == "Cost"
    assert root.find(f"{SVG}desc").text == "From 0 EUR to 40 EUR; 50 of 100: 20."


@pytest.mark.parametrize("value", [-5, 0, 39, 40, 99])
def test_marks_stay_on_the_picture(value):
    root = histogram(marks=[Mark(value, "80 of 100: 39")])

    for line in root.iter(f"{SVG}line"):
        assert LEFT <= float(line.get("x1")) <= WIDTH - RIGHT


def test_a_cost_that_is_certain_is_one_bar():
    (bar,) = bars(histogram(edges=(5, 5), counts=(100,)))

    assert 0 < bar["height"] < HEIGHT


def test_words_are_escaped():
    root = tornado(Swing("Glue & <tape>", 90, 120, "90 to 120"))

    assert root.find(f"{SVG}desc").text == "Glue & <tape> 90 to 120"


def test_swings_lie_on_one_scale_around_the_middle():
    drawn = bars(tornado(Swing("Pace", 80, 130, "80 to 130"), Swing("Freight", 95, 105, "95 to 105")))

    # By hand: from 80 to 130 the whole width; from 95 to 105 from 3/10 on, a fifth as wide.
    assert [bar["width"] / INSIDE for bar in drawn] == pytest.approx([1, 0.2], abs=0.01)
    assert [(bar["x"] - LEFT) / INSIDE for bar in drawn] == pytest.approx([0, 0.3], abs=0.01)


def test_a_cause_that_lowers_the_cost_is_drawn_as_well():
    (bar,) = bars(tornado(Swing("Learning", 120, 90, "120 to 90")))

    assert bar["width"] / INSIDE == pytest.approx(1, abs=0.01)


def test_rows_do_not_overlap():
    first, second = bars(tornado(Swing("Pace", 80, 130, ""), Swing("Freight", 95, 105, "")))

    assert first["y"] + first["height"] < second["y"]


def test_nothing_uncertain_draws_nothing():
    assert tornado_svg("What matters", [], 100) == ""
