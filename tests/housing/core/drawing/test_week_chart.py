"""The picture of the weeks: bars within their columns, as long as their hours, and told in words."""

from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.drawing.week_chart import COLUMN_WIDTH, NAME_WIDTH, WeekBar, WeekHead, WeekRow, weeks_svg
from tests.examples import few

SVG = "{http://www.w3.org/2000/svg}"
hours = st.floats(0, 60, allow_nan=False).map(lambda value: round(value, 2))
bars = st.builds(WeekBar, hours, hours)


def heads(number: int) -> list[WeekHead]:
    return [WeekHead(f"Week {week}", "7 to 11 Dec") for week in range(1, number + 1)]


charts = st.integers(1, 8).flatmap(
    lambda weeks: st.lists(
        st.builds(WeekRow, st.text("ab &<", min_size=1, max_size=40), st.tuples(*[bars] * weeks)),
        min_size=1,
        max_size=6,
    )
)


def cells(svg: str) -> list[list[ElementTree.Element]]:
    """The rectangles of each cell, row by row."""
    return [group.findall(f"{SVG}rect") for group in ElementTree.fromstring(svg).iter() if is_cell(group)]


def is_cell(group: ElementTree.Element) -> bool:
    return group.get("class") == "week-cell"


def widths(rects: list[ElementTree.Element]) -> dict[str, float]:
    return {rect.get("class", ""): float(rect.get("width", "")) for rect in rects}


@few(60)
@given(charts)
def test_every_bar_lies_within_its_column(rows):
    drawn = cells(weeks_svg("Weeks", heads(len(rows[0].bars)), rows))

    for place, rects in enumerate(drawn):
        left = NAME_WIDTH + COLUMN_WIDTH * (place % len(rows[0].bars))
        for rect in rects:
            x, width = float(rect.get("x")), float(rect.get("width"))
            assert left - 1e-3 <= x
            assert x + width <= left + COLUMN_WIDTH + 1e-3


@few(60)
@given(charts)
def test_all_bars_have_one_scale_and_are_as_long_as_their_hours(rows):
    drawn = cells(weeks_svg("Weeks", heads(len(rows[0].bars)), rows))
    all_bars = [bar for row in rows for bar in row.bars]
    most = max(max(bar.to_do, bar.there) for bar in all_bars)

    assert len(drawn) == len(all_bars)
    for bar, rects in zip(all_bars, drawn, strict=True):
        found = widths(rects)
        filled = found.get("week-to-do", 0) + found.get("week-over", 0)
        for width, wanted in ((filled, bar.to_do), (found.get("week-there", 0), bar.there)):
            share = wanted / most if most else 0
            assert width / (COLUMN_WIDTH - 12) == pytest.approx(share, abs=2e-3)  # 12 px between columns


def test_too_much_is_hatched_and_said_and_idle_hours_are_an_empty_frame():
    row = WeekRow("Ada", (WeekBar(25, 20), WeekBar(12.5, 20), WeekBar(20, 20), WeekBar(0, 0)))
    svg = weeks_svg("Weeks", heads(4), [row])

    over, idle, full, away = cells(svg)
    assert [rect.get("fill") for rect in over][-1] == "url(#week-too-much)"
    assert "week-over" not in widths(idle)
    assert widths(idle)["week-there"] > widths(idle)["week-to-do"]
    assert away == []
    texts = [text.text for text in ElementTree.fromstring(svg).iter(f"{SVG}text")]
    assert [words for words in texts if words in ("5.0 too much", "7.5 idle", "full", "away")] == [
        "5.0 too much", "7.5 idle", "full", "away",
    ]  # fmt: skip
    assert len(full) == 2


def test_the_picture_tells_all_in_words_for_those_who_cannot_see_it():
    svg = weeks_svg("Hours", heads(1), [WeekRow("Ada & Bo", (WeekBar(25, 20, "/work/?person=1&week=1"),))])

    root = ElementTree.fromstring(svg)
    assert root.findtext(f"{SVG}title") == "Hours"
    assert root.findtext(f"{SVG}desc") == "Ada & Bo: week 1 25.0 of 20.0 hours, 5.0 too much."
    assert root.get("role") == "group"  # an image would hide its links
    assert root.find(f"{SVG}a").get("href") == "/work/?person=1&week=1"


def test_nobody_is_no_picture():
    assert weeks_svg("Weeks", heads(2), []) == ""


@pytest.mark.parametrize("row", [WeekRow("Ada", ()), WeekRow("Ada", (WeekBar(-1, 20),))])
def test_a_row_that_cannot_be_drawn_is_refused(row):
    with pytest.raises(ValueError, match="week|below zero"):
        weeks_svg("Weeks", heads(1), [row])


def test_a_week_that_is_over_has_work_that_is_late_and_nobody_away():
    late, done = WeekBar(0.2, 0.0, is_over=True), WeekBar(0.0, 0.0, is_over=True)

    assert (late.words, late.too_much) == ("0.2 late", 0)
    assert done.words == "over"
