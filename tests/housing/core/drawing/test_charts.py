"""Charts: shares as widths, words for everything drawn, and greys that tell the parts apart."""

from xml.etree import ElementTree

import pytest

from housing.core.drawing.charts import Bar, BarChart, ChartRefused, Series, Strip, percent

SVG = "{http://www.w3.org/2000/svg}"
MADE = Series("made", "Made", "#555555")
TO_MAKE = Series("to_make", "Still to make", "#ffffff")
BOTH = (MADE, TO_MAKE)


def chart(*bars: Bar) -> ElementTree.Element:
    return ElementTree.fromstring(BarChart("Boxes by room", bars, BOTH).svg)


def strip(**counts: float) -> ElementTree.Element:
    return ElementTree.fromstring(Strip("All boxes", counts, BOTH).svg)


def spans(root: ElementTree.Element) -> list[tuple[float, float]]:
    """Left edge and width of each rectangle, in percent of the page."""
    return [
        (float(rect.get("x", "0").rstrip("%")), float(rect.get("width", "").rstrip("%")))
        for rect in root.iter(f"{SVG}rect")
    ]


def words(root: ElementTree.Element) -> list[str]:
    return [text.text or "" for text in root.iter(f"{SVG}text")]


def test_longest_bar_leaves_room_for_its_words_and_the_others_keep_to_its_scale():
    root = chart(Bar("Attic", {"made": 30, "to_make": 10}), Bar("Cellar", {"made": 5, "to_make": 5}))

    # By hand: the longest row, 40 boxes, is 74 % of the width; 30, 10 and 5 are 55.5, 18.5 and 9.25 %.
    assert spans(root) == [(0, 55.5), (55.5, 18.5), (0, 9.25), (9.25, 9.25)]


def test_a_part_without_a_count_is_not_drawn():
    assert spans(chart(Bar("Attic", {"made": 0, "to_make": 4}))) == [(0, 74)]


def test_rows_do_not_overlap():
    root = chart(Bar("Attic", {"made": 1}), Bar("Cellar", {"made": 1}))

    (first, second) = ((float(r.get("y")), float(r.get("height"))) for r in root.iter(f"{SVG}rect"))
    label = next(text for text in root.iter(f"{SVG}text") if text.text == "Cellar")

    assert first[0] + first[1] <= float(label.get("y")) - float(label.get("font-size"))
    assert second[0] + second[1] <= float(root.get("height"))


def test_a_row_says_its_name_and_its_total_unless_it_has_a_note():
    root = chart(Bar("Attic", {"made": 1200, "to_make": 34}), Bar("Cellar", {"made": 5}, note="5 of 5 made"))

    assert words(root) == ["Attic", "1,234", "Cellar", "5 of 5 made"]


def test_a_count_with_a_fraction_keeps_two_decimals():
    assert words(chart(Bar("Glue", {"made": 96.204}))) == ["Glue", "96.20"]


def test_everything_drawn_is_also_said():
    root = chart(Bar("Attic", {"made": 30, "to_make": 10}))

    assert root.find(f"{SVG}title").text == "Boxes by room"
    assert root.find(f"{SVG}desc").text == "Attic: 30 made, 10 still to make."
    assert [r.find(f"{SVG}title").text for r in root.iter(f"{SVG}rect")] == ["Made: 30", "Still to make: 10"]


def test_a_chart_of_links_is_a_group_because_an_image_hides_its_links_from_screen_readers():
    # Source: WAI-ARIA 1.2, role img: its children are presentational.
    linked = chart(Bar("Attic", {"made": 1}, href="/objects/?room=attic&made=no"))

    assert chart(Bar("Attic", {"made": 1})).get("role") == "img"
    assert linked.get("role") == "group"
    assert [a.get("href") for a in linked.iter(f"{SVG}a")] == ["/objects/?room=attic&made=no"]


def test_names_are_written_as_they_are():
    root = chart(Bar('Room <3> & "annexe"', {"made": 1}))

    assert words(root)[0] == 'Room <3> & "annexe"'


def test_class_and_grey_come_from_the_series():
    rects = list(chart(Bar("Attic", {"made": 1, "to_make": 1})).iter(f"{SVG}rect"))

    assert [(r.get("class"), r.get("fill")) for r in rects] == [
        ("bar made", "#555555"),
        ("bar to-make", "#ffffff"),
    ]


def test_a_chart_needs_no_style_attribute_which_a_strict_page_would_refuse():
    assert all(part.get("style") is None for part in chart(Bar("Attic", {"made": 1})).iter())


def test_rows_for_the_table_follow_the_order_of_the_series():
    bar = Bar("Attic", {"to_make": 10})

    assert BarChart("Boxes by room", (bar,), BOTH).rows == ((bar, (0, 10)),)


def test_no_rows_make_an_empty_chart():
    assert spans(chart()) == []


def test_strip_divides_the_whole_width():
    assert spans(strip(made=3, to_make=1)) == [(0, 75), (75, 25)]


def test_strip_gives_each_part_its_count_and_share():
    parts = Strip("All boxes", {"made": 3, "to_make": 1}, BOTH).parts

    assert [(p.series.words, p.count, p.percent) for p in parts] == [
        ("Made", 3, "75%"),
        ("Still to make", 1, "25%"),
    ]


def test_strip_of_nothing_says_so():
    root = strip()

    assert root.find(f"{SVG}desc").text == "Nothing to count yet."
    assert [r.get("class") for r in root.iter(f"{SVG}rect")] == ["bar empty"]


@pytest.mark.parametrize(
    ("count", "total", "shown"),
    [
        (0, 0, "0%"),  # nothing of nothing
        (0, 9, "0%"),
        (1, 1000, "under 1%"),  # something is never shown as nothing
        (1, 3, "33%"),
        (2, 3, "67%"),
        (999, 1000, "99%"),  # nearly all is never shown as all
        (9, 9, "100%"),
    ],
)
def test_percent_is_honest_at_both_ends(count, total, shown):
    assert percent(count, total) == shown


def test_refuses_a_part_it_does_not_know():
    with pytest.raises(ChartRefused, match="Boxes by room, Attic: the chart has no part called mended"):
        chart(Bar("Attic", {"mended": 1}))


def test_refuses_a_count_below_zero():
    with pytest.raises(ChartRefused, match="All boxes: a count below zero cannot be drawn"):
        strip(made=-1)
