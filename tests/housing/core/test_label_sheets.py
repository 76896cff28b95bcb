"""Label sheets: complete from what a ruler tells, refused with a figure where that contradicts itself."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.label_sheets import (
    LEAST_MM,
    USUAL,
    Along,
    LabelLayout,
    LayoutRefused,
    complete,
    label_numbers,
)
from tests.examples import few

# ISO 216: A4 is 210 x 297 mm. US Letter is 8 1/2 x 11 in = 215.9 x 279.4 mm.
A4 = LabelLayout(210, 297, 3, 8, 63.5, 34, 7, 12, 2.5)


def told(page=210.0, number=3, before=None, after=None, size=None, gap=None) -> Along:
    return Along(page, number, before, after, size, gap)


@pytest.mark.parametrize(
    ("along", "found"),
    [
        # by hand: (210 - 7 - 7 - 2 x 2.5) / 3 = 63.667
        (told(before=7, after=7, gap=2.5), (7, 63.6667, 2.5)),
        # margins that differ: (210 - 5 - 11 - 2 x 1) / 3 = 64
        (told(before=5, after=11, gap=1), (5, 64, 1)),
        # the gap: (210 - 7 - 7 - 3 x 64) / 2 = 2
        (told(before=7, after=7, size=64), (7, 64, 2)),
        # the second margin is not needed
        (told(before=4, size=64, gap=2), (4, 64, 2)),
        # the first one follows from it: 210 - 30 - 3 x 50 - 2 x 5 = 20
        (told(after=30, size=50, gap=5), (20, 50, 5)),
        # no margin measured: both the same, (210 - 3 x 64 - 2 x 2) / 2 = 7
        (told(size=64, gap=2), (7, 64, 2)),
        # one margin and no size: the other as wide, labels without gaps: (210 - 2 x 15) / 3 = 60
        (told(before=15), (15, 60, 0)),
        # limiting cases: one label as wide as its roll; figures that a ruler cannot tell apart
        (told(page=62, number=1, before=0, after=0), (0, 62, 0)),
        (told(before=7, after=7.3, size=64, gap=2), (7, 64, 2)),
    ],
)
def test_what_was_not_measured_follows_from_the_rest(along, found):
    assert complete(along, is_width=True) == pytest.approx(found, abs=0.001)


@pytest.mark.parametrize(
    ("along", "words"),
    [
        # by hand: 5 + 3 x 64 + 2 x 2 + 5 = 206
        (
            told(before=5, after=5, size=64, gap=2),
            "Margins, labels and gaps across add up to 206.0 mm, 4.0 mm less than the page's 210.0 mm.",
        ),
        # by hand: 3 x 70 + 2 x 2 = 214, of 210 - 5 = 205 mm
        (
            told(before=5, size=70, gap=2),
            "The labels are 9.0 mm too wide for the page: 3 across with their gaps take 214.0 mm, and 205.0 "
            "mm are there beside the left margin.",
        ),
        # by hand: (210 - 50 - 150 - 4) / 3 = 2
        (
            told(before=50, after=150, gap=2),
            "3 labels across do not fit: margins and gaps leave 2.0 mm for each",
        ),
        (told(before=150, after=70), "3 labels across do not fit: margins and gaps leave no room at all."),
        (told(number=0, size=60), "A sheet has at least 1 label across and 1 down."),
    ],
)
def test_figures_that_contradict_one_another_are_refused_by_how_much(along, words):
    with pytest.raises(LayoutRefused) as refused:
        complete(along, is_width=True)

    assert str(refused.value).startswith(words)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        # by hand: 7 + 3 x 70 + 2 x 2.5 = 222 of 210
        ({"label_width_mm": 70}, "The labels are 12.0 mm too wide for the page: 3 across"),
        # by hand: 12 + 9 x 34 = 318 of 297
        ({"rows": 9}, "The labels are 21.0 mm too high for the page: 9 down"),
        (
            {"label_height_mm": 5},
            "A label of 63.5 mm × 5.0 mm is too small to be read; it needs 20 mm × 8 mm.",
        ),
        ({"columns": 0}, "A sheet has at least 1 label across and 1 down."),
        ({"page_width_mm": 2000}, "A page of 2000.0 mm × 297.0 mm is no label sheet"),
        ({"offset_x_mm": -25}, "A shift of more than 20 mm is no printer's."),
        ({"gap_x_mm": -1}, "A margin or a gap is negative."),
    ],
)
def test_a_sheet_that_cannot_be_is_refused(change, words):
    with pytest.raises(LayoutRefused) as refused:
        replace(A4, **change)

    assert str(refused.value).startswith(words)


def test_labels_lie_row_by_row_where_their_margins_and_gaps_put_them():
    # by hand: 7 + 63.5 + 2.5 = 73; 12 + 34 = 46; the printer's shift moves what is printed alone
    shifted = replace(A4, offset_x_mm=1.5, offset_y_mm=-2)

    assert A4.places_mm()[:4] == [(7, 12), (73, 12), (139, 12), (7, 46)]
    assert shifted.places_mm()[3] == (8.5, 44)
    assert shifted.places_mm(shifted=False) == A4.places_mm()
    assert (A4.right_mm, A4.bottom_mm) == pytest.approx((210 - 7 - 3 * 63.5 - 5, 297 - 12 - 8 * 34))


def test_usual_sheets_reach_the_page_with_equal_margins():
    # common practice, no source: sheets are divided evenly: what is left at the end is as at the start
    assert [(name, round(one.right_mm, 2), round(one.bottom_mm, 2)) for name, one in USUAL] == [
        (name, round(one.left_mm, 2), round(one.top_mm, 2)) for name, one in USUAL
    ]


@few(200)
@given(
    st.integers(1, 12), st.integers(1, 30), st.floats(0, 30), st.floats(0, 30), st.floats(0, 10),
    st.floats(0, 30), st.floats(0, 30), st.floats(0, 10),
)  # fmt: skip
def test_every_label_of_a_complete_sheet_lies_on_its_page_and_on_no_other(
    columns, rows, left, right, gap_x, top, bottom, gap_y
):
    try:
        x, wide, across = complete(told(210, columns, left, right, None, gap_x), is_width=True)
        y, high, down = complete(told(297, rows, top, bottom, None, gap_y), is_width=False)
    except LayoutRefused:
        return
    layout = LabelLayout(210, 297, columns, rows, wide, high, x, y, across, down)

    assert wide >= LEAST_MM[0] and high >= LEAST_MM[1]
    places = layout.places_mm()
    assert max(x for x, _ in places) + wide <= 210 - right + 0.01
    assert max(y for _, y in places) + high <= 297 - bottom + 0.01
    for (x0, y0), (x1, y1) in zip(places, places[1:], strict=False):
        assert x1 - x0 >= wide + gap_x - 0.01 or y1 - y0 >= high + gap_y - 0.01


def test_labels_begin_at_the_first_free_place_and_go_on_with_the_next_sheet():
    assert list(label_numbers(A4, 3, start=23)) == [[(22, 0), (23, 1)], [(0, 2)]]
    assert [len(sheet) for sheet in label_numbers(A4, 50)] == [24, 24, 2]


@pytest.mark.parametrize("start", [0, 25])
def test_a_place_that_is_not_on_the_sheet_is_refused(start):
    with pytest.raises(LayoutRefused, match="A sheet has 24 labels"):
        list(label_numbers(A4, 1, start=start))
