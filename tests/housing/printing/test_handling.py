"""What prints and pages say about lifting and stacking a box."""

from decimal import Decimal

import pytest

from housing.core.handling.stacking import StoreConditions, stack
from housing.printing.labels import make_label
from housing.queries.handling import handling_of
from objects.readers import Reader
from tests.factories import make_board, make_design, make_object
from tests.housing.printing.boxes import make_box
from tests.housing.printing.test_cut_sheets import sheet_of

pytestmark = pytest.mark.django_db


def box_of(weight_g, **board):
    given = {
        "caliper_mm": Decimal("3"),
        "grammage_g_m2": Decimal("600"),
        "edge_crush_kn_m": Decimal("4.5"),
        **board,
    }
    design = make_design(board=make_board(**given))
    return make_box(make_object(weight_g=weight_g), design=design)


def test_gross_weight_is_the_object_and_the_board_of_all_parts():
    box = box_of(Decimal("2000"))

    area = sum(blank.to_core().board_area_mm2 for blank in box.blanks.all())
    # by hand: square metres times 600 g
    assert handling_of(box).gross_g == pytest.approx(2000 + area / 1e6 * 600)


def test_stacking_is_that_of_the_boards_edge_crush():
    box = box_of(Decimal("2000"))

    told = handling_of(box)

    inside = tuple(float(side) for side in (box.inner_x_mm, box.inner_y_mm, box.inner_z_mm))
    assert told.boxes_high == stack(told.gross_g / 1000, inside, 3, 4.5, StoreConditions()).boxes
    assert told.sentences[1].startswith(f"Stack at most {told.boxes_high} high")


@pytest.mark.parametrize(
    ("weight", "board", "says"),
    [
        (None, {}, "Gross weight not known: weigh "),
        (Decimal("2000"), {"grammage_g_m2": None}, "Gross weight not known: the board has no grammage."),
    ],
)
def test_what_is_not_known_is_not_guessed(weight, board, says):
    told = handling_of(box_of(weight, **board))

    assert (told.gross_g, told.boxes_high, len(told.sentences)) == (None, None, 1)
    assert told.sentences[0].startswith(says)


def test_board_without_edge_crush_gives_no_stacking_figure():
    told = handling_of(box_of(Decimal("2000"), edge_crush_kn_m=None))

    assert told.boxes_high is None
    assert told.sentences[1].startswith("No stacking estimate: the board's edge crush is not known.")


def test_heavy_box_says_two_people_on_sheet_and_label():
    box = box_of(Decimal("13000"))

    sheet, label = sheet_of(box), make_label(box, (70.0, 37.0), "http://planner.example")

    assert any(caution.startswith("Two people: 13.") for caution in sheet.cautions)
    said = [mark.words for mark in label.said.marks]
    assert "Two people" in said
    assert any(words.endswith(" kg") for words in said)


def test_light_box_needs_no_such_words():
    label = make_label(box_of(Decimal("500")), (70.0, 37.0), "http://planner.example")

    said = [mark.words for mark in label.said.marks]
    assert [words for words in said if "people" in words or words.endswith(" kg")] == []


def test_cut_sheet_gives_the_gross_weight_in_the_readers_unit():
    facts = dict(sheet_of(box_of(Decimal("2000"))).facts)

    assert facts["Gross weight"] == Reader().weight(handling_of(box_of(Decimal("2000"))).gross_g)
