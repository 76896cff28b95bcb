"""Labels: as many as boxes, where they are asked to start, and refused where they do not fit."""

from dataclasses import asdict
from decimal import Decimal
from io import BytesIO

import pytest
from pypdf import PdfReader

from housing.core.drawing.svg import text_width
from housing.printing.asked import Asked
from housing.printing.labels import (
    DEFAULT_LAYOUTS,
    LabelLayout,
    LayoutRefused,
    fitting,
    labels_context,
    lines_for_marks,
    make_label,
    most_urgent_first,
    number_pt,
    places_mm,
)
from housing.printing.papers import PAPERS
from housing.printing.pdfs import make_print
from housing.queries.prints import boxes_to_print
from objects.readers import Reader
from tests.factories import make_board, make_design, make_object
from tests.housing.printing.boxes import make_box

SITE = "https://planner.example/"
A4, LETTER = PAPERS["A4"], PAPERS["letter"]


def context_of(*boxes, layout=DEFAULT_LAYOUTS["A4"], start=1):
    return labels_context(boxes_to_print([box.pk for box in boxes]), A4, SITE, layout, start)


def label_of(box):
    """The label of one box on US Letter, 3 x 10, each 1 inch high."""
    (housing,) = boxes_to_print([box.pk])
    return make_label(housing, DEFAULT_LAYOUTS["letter"].label_mm(LETTER), SITE)


def test_labels_of_a_row_and_their_gaps_and_margins_are_as_wide_as_the_paper():
    layout = LabelLayout(3, 10, margin_x_mm=4.7625, margin_y_mm=12.7, gap_x_mm=3.175)

    wide, high = layout.label_mm(LETTER)

    # by hand: (8 1/2 - 2 x 3/16 - 2 x 1/8) / 3 = 2 5/8 in wide; (11 - 2 x 1/2) / 10 = 1 in high
    assert (wide / 25.4, high / 25.4) == pytest.approx((2.625, 1.0))
    assert places_mm(layout, LETTER)[4] == pytest.approx((4.7625 + 66.675 + 3.175, 12.7 + 25.4), abs=0.001)


@pytest.mark.parametrize(
    ("layout", "words"),
    [
        (LabelLayout(columns=5), "5 columns do not fit this paper: margins and gaps leave 37.2 mm each"),
        (LabelLayout(rows=13), "13 rows do not fit this paper: margins and gaps leave 21.0 mm each"),
        (
            LabelLayout(margin_x_mm=120),
            "3 columns do not fit this paper: margins and gaps leave no room at all",
        ),
    ],
)
def test_a_layout_that_does_not_fit_is_refused(layout, words):
    # by hand: (210 - 14 - 4 x 2.5) / 5 = 37.2; (297 - 24) / 13 = 21
    with pytest.raises(LayoutRefused) as refused:
        layout.label_mm(A4)

    assert str(refused.value).startswith(words)


def test_a_short_object_number_is_large_and_a_longer_one_shrinks_to_its_label():
    assert number_pt("1", 37.0) == pytest.approx(5.3 / 25.4 * 72, abs=0.1)
    assert text_width("1995.0042.4.3a", number_pt("1995.0042.4.3a", 37.0) * 25.4 / 72) <= 37.0


def test_a_very_long_object_number_fits_on_two_lines():
    number = "TX.1998.0042.0117.3a-f-long-number"

    assert text_width(number, number_pt(number, 37.0) * 25.4 / 72) <= 2 * 37.0


@pytest.mark.django_db
def test_labels_begin_at_the_place_asked_for():
    boxes = [make_box() for _ in range(3)]

    pages = context_of(*boxes, layout=LabelLayout(3, 8), start=23)["pages"]

    assert [[(place, label.box) for place, label in page] for page in pages] == [
        [(22, boxes[0].box_number), (23, boxes[1].box_number)],
        [(0, boxes[2].box_number)],
    ]


@pytest.mark.django_db
def test_a_label_warns_of_hazards_and_says_how_to_handle_the_box():
    frail = make_object(condition="fragile", weight_g=Decimal(12_500), hazards="lead")
    [[(_, first), (_, second)]] = context_of(
        make_box(frail), make_box(make_object(), design=make_design(form="tray"))
    )["pages"]

    assert (first.hazards, first.handling) == ("Hazard: Lead", ("Fragile", "This way up", "Two people"))
    assert (second.hazards, second.handling) == ("", ())


@pytest.mark.django_db
def test_marks_that_rules_advise_stand_on_the_label_once_each_the_most_urgent_first():
    box = make_box(make_object(condition="fragile"))
    box.advice = {"marks": [{"value": mark} for mark in ("gloves", "fragile", "ask_first")]}
    box.save()

    [[(_, label)]] = context_of(box)["pages"]

    assert label.handling == ("Fragile", "This way up")
    assert label.marks == ("Ask before opening", "Wear gloves")


@pytest.mark.django_db
def test_a_rule_that_forbids_stacking_goes_before_the_height_that_was_worked_out():
    strong = make_design(board=make_board(grammage_g_m2=600, edge_crush_kn_m=5))
    box = make_box(make_object(weight_g=Decimal(500)), design=strong)
    [[(_, before)]] = context_of(box)["pages"]
    box.advice = {"marks": [{"value": "do_not_stack"}]}
    box.save()

    [[(_, after)]] = context_of(box)["pages"]

    assert [word for word in before.handling if "tack" in word] != []
    assert [word for word in (*after.handling, *after.marks) if "tack" in word] == ["Do not stack"]


def test_marks_that_go_onto_no_line_are_counted_instead():
    names = ["Fragile", "This way up", "Wear gloves", "Keep away from sunlight"]

    # Widths in mm with a dot, bold at 6.5 points, as measured: 13.7, 21.0, 21.2 and 38.7; "+ 1 more" 17.5.
    # By hand onto lines of 36: 13.7 + 21.0 = 34.7 | 21.2 | 38.7 on two lines; 21.2 + 17.5 = 38.7 is too long.
    assert fitting(names, 36.0, 4, 6.5) == names
    assert fitting(names, 36.0, 3, 6.5) == ["Fragile", "This way up", "Wear gloves", "+ 1 more"]
    assert fitting(names, 36.0, 2, 6.5) == ["Fragile", "This way up", "+ 2 more"]
    assert fitting(names, 36.0, 1, 6.5) == ["Fragile", "+ 3 more"]
    assert fitting(names, 5.0, 1, 6.5) == ["Fragile"]  # limiting case: the most urgent stands in any case


def test_a_hazard_and_a_long_number_leave_fewer_lines_for_marks():
    # A4, 3 x 8: 20.4 mm beside the code. A number of 15 points takes 15 x 1.2 / 72 x 25.4 = 6.35 mm; of the
    # 14.05 mm left each line of 7.5 points takes 3.175 mm: 4 lines, one of them for the box.
    assert lines_for_marks(34.1, 37.0, 15.0, "", ()) == 3
    assert lines_for_marks(34.1, 37.0, 15.0, "Hazard: Lead", ()) == 2
    assert lines_for_marks(34.1, 37.0, 30.0, "Hazard: Lead", ()) == 1


def test_on_a_short_label_the_weight_stands_beside_two_people_and_stacking_comes_last():
    said = [
        "This way up",
        "8.4 kg",
        "Stack 8 high at most",
        "Wear gloves",
        "Two people",
        "Ask before opening",
    ]

    assert most_urgent_first(said) == [
        "Ask before opening", "This way up", "Two people", "8.4 kg", "Wear gloves", "Stack 8 high at most",
    ]  # fmt: skip


@pytest.mark.django_db
def test_a_label_one_inch_high_gives_up_its_photo_before_a_mark_its_name_or_its_place(monkeypatch):
    monkeypatch.setattr("housing.printing.labels.photo_data_uri", lambda thing: "data:image/jpeg;base64,")
    box = make_box(make_object(name="Mineral drawer", hazards="lead", condition="fragile"))
    plain = label_of(make_box())
    box.advice = {"marks": [{"value": mark} for mark in ("ask_first", "gloves", "lift_from_below")]}
    box.save()

    label = label_of(box)

    # By hand, lines of 6.5 pt x 1.2 = 2.75 mm beside the photo, 66.7 - 6 - 20 - 16 = 24.7 mm wide: number
    # 5.3 x 1.2 = 6.4 mm leaves 25.4 - 2.2 - 6.4 = 16.8 mm, 6 lines; box, hazard, name and place take 4, and
    # on 2 lines of 24.7 mm stand two marks of five. Without the photo they are 40.7 mm wide.
    assert plain.photo
    assert (label.photo, label.name, label.hazards) == ("", "Mineral drawer", "Hazard: Lead")
    assert label.marks[:2] == ("Ask before opening", "Fragile")
    assert len(label.marks) == 5 or label.marks[-1] == f"+ {6 - len(label.marks)} more"


@pytest.mark.django_db
@pytest.mark.parametrize(("rows", "is_tall"), [(8, True), (10, False)])
def test_only_a_tall_label_has_words_beneath_its_code(rows, is_tall):
    # by hand: (297 - 24) / 8 = 34.1 mm; (297 - 24) / 10 = 27.3 mm
    assert context_of(make_box(), layout=LabelLayout(3, rows))["is_tall"] is is_tall


@pytest.mark.django_db
def test_a_set_is_labelled_with_its_first_numbers_and_how_many_more():
    things = [make_object(number=f"1990.7.{part}") for part in range(1, 6)]

    [[(_, label)]] = context_of(make_box(*things))["pages"]

    assert label.numbers == "1990.7.1, 1990.7.2 + 3 more"


@pytest.mark.pango
@pytest.mark.django_db
def test_label_sheets_in_pieces_are_the_same_as_in_one(monkeypatch):
    monkeypatch.setattr("housing.printing.pdfs.CHUNK_PAGES", 1)
    boxes = [make_box() for _ in range(5)]
    keys = tuple(box.pk for box in boxes)
    options = {"layout": asdict(LabelLayout(2, 2)), "start": 4}

    file = make_print(
        asked=Asked("labels", keys, Reader(), A4, SITE, options=options), progress=lambda percent, stage: None
    )

    pages = [page.extract_text() for page in PdfReader(BytesIO(file)).pages]
    assert [sum(box.box_number in page for box in boxes) for page in pages] == [1, 4]
    # ISO 216: A4 is 210 x 297 mm
    sides = PdfReader(BytesIO(file)).pages[0].mediabox[2:]
    assert [float(side) * 25.4 / 72 for side in sides] == pytest.approx([210, 297], abs=0.1)
