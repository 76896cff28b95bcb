"""Pictures of uncertainty: bars where the numbers are, words for all that is drawn, nothing off the page."""

from xml.etree import ElementTree

import pytest

from housing.core.drawing.range_charts import TEXT_SIZE, Mark, Swing, histogram_svg, tornado_svg

SVG = "{http://www.w3.org/2000/svg}"


def bars(root: ElementTree.Element) -> list[dict[str, float]]:
    """Places across in percent of the width, heights in px."""
    return [
        {key: float(bar.get(key).rstrip("%")) for key in ("x", "y", "width", "height")}
        for bar in root.iter(f"{SVG}rect")
    ]


def across(line: ElementTree.Element) -> float:
    return float(line.get("x1").rstrip("%"))


def histogram(edges=(0, 10, 20, 40), counts=(1, 4, 2), marks=()) -> ElementTree.Element:
    return ElementTree.fromstring(histogram_svg("Cost", edges, counts, marks, ("0 EUR", "40 EUR")))


def tornado(*swings: Swing, middle=100.0) -> ElementTree.Element:
    return ElementTree.fromstring(tornado_svg("What matters", swings, middle))


def test_bars_are_as_high_as_their_counts_and_stand_at_their_edges():
    drawn = bars(histogram())

    highest = drawn[1]["height"]
    assert [bar["height"] / highest for bar in drawn] == pytest.approx([1 / 4, 1, 2 / 4], abs=0.01)
    assert [bar["x"] for bar in drawn] == pytest.approx([0, 25, 50])


def test_a_mark_stands_at_its_value_and_is_told_in_words():
    root = histogram(marks=[Mark(20, "50 of 100: 20")])

    (mark,) = (line for line in root.iter(f"{SVG}line") if line.get("class") == "range-mark")
    assert across(mark) == pytest.approx(50)
    assert root.find(f"{SVG}title").text == "Cost"
    assert root.find(f"{SVG}desc").text == "From 0 EUR to 40 EUR; 50 of 100: 20."


@pytest.mark.parametrize("value", [-5, 0, 39, 40, 99])
def test_marks_stay_on_the_picture(value):
    root = histogram(marks=[Mark(value, "80 of 100: 39")])

    (mark,) = (line for line in root.iter(f"{SVG}line") if line.get("class") == "range-mark")
    assert 0 <= across(mark) <= 100
    # Words go to the side on which the page has room.
    (words,) = (text for text in root.iter(f"{SVG}text") if text.text == "80 of 100: 39")
    assert words.get("text-anchor") == ("end" if across(mark) > 50 else "start")


def test_words_of_marks_stand_below_each_other():
    root = histogram(marks=[Mark(20, "P50"), Mark(21, "P80"), Mark(22, "P95")])

    found = [text for text in root.iter(f"{SVG}text") if text.text.startswith("P")]
    heights = [float(text.get("y")) for text in found]
    assert [text.text for text in found] == ["P95", "P80", "P50"]
    assert all(lower - upper >= TEXT_SIZE for upper, lower in zip(heights, heights[1:], strict=False))


def test_no_words_stand_on_the_line_of_another_mark():
    root = histogram(marks=[Mark(18, "P50"), Mark(24, "P80"), Mark(30, "P95")])

    marks = [line for line in root.iter(f"{SVG}line") if line.get("class") == "range-mark"]
    words = [text for text in root.iter(f"{SVG}text") if text.text.startswith("P")]
    for mark, text in zip(marks, words, strict=True):
        assert text.get("text-anchor") == "end"
        to_the_left = [other for other in marks if across(other) < across(mark)]
        assert all(float(other.get("y1")) > float(text.get("y")) for other in to_the_left)


def test_a_cost_that_is_certain_is_one_bar():
    root = histogram(edges=(5, 5), counts=(100,), marks=[Mark(5, "50 of 100: 5")])

    (bar,) = bars(root)
    assert 0 < bar["height"] < float(root.get("height"))
    assert bar["width"] > 0


def test_words_are_escaped():
    root = tornado(Swing("Glue & <tape>", 90, 120, "90 to 120"))

    assert root.find(f"{SVG}desc").text == "Glue & <tape> 90 to 120"


def test_swings_lie_on_one_scale_around_the_middle():
    drawn = bars(tornado(Swing("Pace", 80, 130, "80 to 130"), Swing("Freight", 95, 105, "95 to 105")))

    # By hand: from 80 to 130 the whole width; from 95 to 105 from 3/10 on, a fifth as wide.
    assert [bar["width"] for bar in drawn] == pytest.approx([100, 20])
    assert [bar["x"] for bar in drawn] == pytest.approx([0, 30])


def test_a_cause_that_lowers_the_cost_is_drawn_as_well():
    (bar,) = bars(tornado(Swing("Learning", 120, 90, "120 to 90")))

    assert bar["width"] == pytest.approx(100)


def test_rows_do_not_overlap():
    first, second = bars(tornado(Swing("Pace", 80, 130, ""), Swing("Freight", 95, 105, "")))

    assert first["y"] + first["height"] < second["y"]


def test_nothing_uncertain_draws_nothing():
    assert tornado_svg("What matters", [], 100) == ""
