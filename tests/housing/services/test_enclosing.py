"""The enclosure a design gives for one object or a set: how they lie in it, and what its notes say."""

from decimal import Decimal

import pytest

from housing.core.enclosures.form import Supply
from housing.core.errors import SizeRefused
from housing.services.campaigns import plan_campaign
from housing.services.enclosing import design_enclosure
from housing.services.housings import HousingRefused, house_together, is_as_worked_out
from objects.models import CatalogueObject
from tests.factories import make_board, make_campaign, make_design, make_object, make_person, make_sheet_size

pytestmark = pytest.mark.django_db
BARE = {"height_allowance_mm": Decimal(0), "side_allowance_mm": Decimal(0)}


@pytest.fixture
def tray():
    """An open tray without room around the object, its blank drawn as x + 2 z by y + 2 z."""
    return make_design(form="tray", drawn="nominal", **BARE)


def bottle(**given) -> CatalogueObject:
    """650 mm high, 150 mm wide, 120 mm deep."""
    sizes = {"height_mm": Decimal(650), "width_mm": Decimal(150), "depth_mm": Decimal(120)}
    return make_object(**{**sizes, **given})


def cup(**given) -> CatalogueObject:
    """100 mm high on a base of 80 by 80 mm."""
    sizes = {"height_mm": Decimal(100), "width_mm": Decimal(80), "depth_mm": Decimal(80)}
    return make_object(**{**sizes, **given})


def asked(made) -> tuple[float, float, float]:
    return made.asked.x_mm, made.asked.y_mm, made.asked.z_mm


# ---- One object ------------------------------------------------------------------------------------------


def test_an_object_of_usual_shape_needs_no_word_on_how_it_lies(tray):
    made = design_enclosure(design=tray, contents=[cup()])

    assert (asked(made), made.notes) == ((80, 80, 100), ())


def test_a_bottle_that_may_be_laid_down_gets_the_box_of_least_board_and_the_reason(tray):
    # By hand: standing (150 + 1300) x (120 + 1300) = 2.059 m²; on its back 890 x 390 = 0.347 m².
    made = design_enclosure(design=tray, contents=[bottle(may_lie="laid_down")])

    assert asked(made) == (650, 150, 120)
    assert made.notes == ("Laid down on its back: 0.35 m² of board instead of 2.06 m² standing.",)


def test_a_tall_object_nobody_has_asked_about_stands_with_what_laying_it_down_would_save(tray):
    made = design_enclosure(design=tray, contents=[bottle()])

    assert asked(made) == (150, 120, 650)
    assert made.notes == (
        "Stands: nobody has recorded that it may be laid down.",
        "At 650.0 mm high on a base 120.0 mm wide it tips easily. Ask a conservator whether it may be laid "
        "down, and record the answer.",
        "Laid down on its back it would take 0.35 m² of board instead of 2.06 m².",
    )


def test_what_was_measured_with_its_handle_stands(tray):
    made = design_enclosure(design=tray, contents=[cup(may_lie="laid_down", measured_with="handle")])

    assert (asked(made), made.notes) == (
        (80, 80, 100),
        ("Stands: it was measured with its handle.",),
    )


def test_an_object_refused_in_every_way_is_refused_as_it_was_measured():
    # 20 m and an inch on the height are more than an inside may have; laid down it is no shorter.
    design = make_design()
    mast = bottle(height_mm=Decimal(20_000), may_lie="laid_down")

    with pytest.raises(SizeRefused, match="The inner height comes to 20025.4 mm"):
        design_enclosure(design=design, contents=[mast])


def test_a_textile_to_be_rolled_is_not_laid_on_its_side():
    design = make_design(form="rolled_tube")
    textile = make_object(
        height_mm=Decimal(3), width_mm=Decimal(1200), depth_mm=Decimal(900), may_lie="any_side"
    )

    made = design_enclosure(design=design, contents=[textile])

    assert made.asked.x_mm == 1200


def test_one_record_larger_than_a_cell_is_taken_for_a_whole_set():
    design = make_design(form="divided_tray", **BARE)

    made = design_enclosure(design=design, contents=[cup()])

    assert made.notes[0] == (
        "80.0 x 80.0 mm is taken for the size of a whole set, since it does not go into one cell. To give "
        "single objects a cell each, house them together as a set."
    )


# ---- Sets ------------------------------------------------------------------------------------------------


def test_a_set_goes_in_a_row_with_a_spacer_between_neighbours():
    # By hand: 3 x 80 and two gaps of 10, with 10 on each side, make 280 by 100; 100 and 5 make 105.
    design = make_design(
        form="tray", height_allowance_mm=Decimal(5), side_allowance_mm=Decimal(10), drawn="nominal"
    )

    made = design_enclosure(design=design, contents=[cup(), cup(), cup()])

    assert asked(made) == (280, 100, 105)
    assert made.notes == (
        "3 objects side by side, in their order from left to right, with 2 spacers of 10.0 mm between them.",
    )
    assert made.supplies == (
        Supply("spacer of foam or padded board between neighbours, 10.0 x 80.0 x 100.0 mm", 2),
    )


def test_only_the_tall_one_of_a_set_is_laid_down_where_that_takes_less_board(tray):
    # By hand: beside a cup, standing, 230 x 120 and 650 high: 1530 x 1420 = 2.17 m²; on its side 730 x 120
    # and 150 high: 1030 x 420 = 0.43 m²; on its back 730 x 150 and 120 high: 970 x 390 = 0.38 m².
    made = design_enclosure(
        design=tray, contents=[cup(number="1990.1"), bottle(number="1990.2", may_lie="laid_down")]
    )

    assert asked(made) == (730, 150, 120)
    assert made.notes == (
        "2 objects side by side, in their order from left to right.",
        "To go in laid down on its back: 1990.2.",
        "The objects lie so that the box takes 0.38 m² of board; otherwise it would take up to 2.17 m².",
    )


def test_every_object_of_a_set_in_a_tray_with_dividers_has_a_cell():
    # By hand: cells of 80 + 2 x (5 + 2) = 94; 8 x 1 would be 8 x 94 + 7 x 3 = 773 mm long, above the 700 of
    # the form, so 4 x 2: 4 x 94 + 3 x 3 = 385 by 2 x 94 + 3 = 191; 100 + 10 + 2 = 112 high.
    design = make_design(
        form="divided_tray",
        board=make_board(caliper_mm=Decimal(3)),
        height_allowance_mm=Decimal(10),
        side_allowance_mm=Decimal(5),
        lining_mm=Decimal(2),
    )

    made = design_enclosure(design=design, contents=[cup() for _ in range(7)])

    assert asked(made) == (676, 94, 112)  # seven in a line: 7 x 94 + 6 x 3
    made = design_enclosure(design=design, contents=[cup() for _ in range(8)])
    assert asked(made) == (385, 191, 112)
    assert made.notes == (
        "8 objects, one in a cell, row by row from the front left.",
        "4 x 2 cells of 94.0 mm by 94.0 mm.",
    )


def test_cells_that_stay_free_are_told():
    design = make_design(form="divided_tray", board=make_board(caliper_mm=Decimal(3)), **BARE)

    made = design_enclosure(design=design, contents=[cup() for _ in range(11)])

    # By hand: 11 in a line are 910 mm; 6 x 2 is 6 x 80 + 5 x 3 = 495 by 163, 80 685 mm2; 4 x 3 is 329 x 246,
    # 80 934 mm2.
    assert made.notes == (
        "11 objects, one in a cell, row by row from the front left. 1 cell stays free.",
        "6 x 2 cells of 80.0 mm by 80.0 mm.",
    )


def test_objects_turned_to_share_a_cell_are_named():
    design = make_design(form="divided_tray", board=make_board(caliper_mm=Decimal(3)), **BARE)
    one = cup(number="1990.1", width_mm=Decimal(40))
    other = cup(number="1990.2", depth_mm=Decimal(40), may_lie="turned")

    made = design_enclosure(design=design, contents=[one, other])

    # By hand: cells of 40 x 80, one behind the other 40 x 163 = 6520 mm2, less than 83 x 80 = 6640.
    assert asked(made)[:2] == (40, 163)
    assert made.notes[1] == "To go in turned by a quarter: 1990.2."


def test_slender_objects_of_a_set_are_named(tray):
    made = design_enclosure(design=tray, contents=[bottle(number="1990.1"), cup()])

    assert made.notes[-1] == (
        "Tall on a narrow base and easily tipped: 1990.1. Hold them on all sides, or ask a conservator "
        "whether they may be laid down."
    )


# ---- In a campaign ---------------------------------------------------------------------------------------


def campaign_for(form: str, *things: CatalogueObject):
    size = make_sheet_size(along_mm=Decimal(3000), across_mm=Decimal(2000))
    design = make_design(form=form, board=size.board, **BARE)
    campaign = make_campaign(*things)
    campaign.rules.create(position=1, design=design, reason="All alike")
    campaign.people.add(make_person())
    return campaign


def test_a_planned_box_keeps_the_reason_and_notices_when_the_record_changes():
    thing = bottle(may_lie="laid_down")
    campaign = campaign_for("tray", thing)

    plan_campaign(campaign=campaign)

    (housing,) = campaign.housings.all()
    assert housing.inner_mm == (Decimal(120), Decimal(650), Decimal(150))
    assert housing.notes[0].startswith("Laid down on its back: ")
    assert is_as_worked_out(housing)
    CatalogueObject.objects.update(may_lie="upright")
    assert not is_as_worked_out(type(housing).objects.get())


@pytest.mark.parametrize(
    ("form", "status", "note"),
    [
        ("divided_tray", "planned", ""),
        ("tray", "waiting", "13 objects are too many for one row; at most 12 go side by side."),
    ],
)
def test_thirteen_objects_go_into_cells_but_not_into_a_row(form, status, note):
    things = [cup() for _ in range(13)]
    campaign = campaign_for(form, *things)
    house_together(contents=things, campaign=campaign)

    plan_campaign(campaign=campaign)

    (housing,) = campaign.housings.all()
    assert housing.status == status
    assert note in housing.problem_note


def test_more_objects_than_a_tray_has_cells_are_not_housed_together():
    things = [cup() for _ in range(49)]

    with pytest.raises(HousingRefused) as refused:
        house_together(contents=things, campaign=make_campaign())

    assert str(refused.value) == (
        "49 objects are too many for one box; a tray with dividers takes at most 48. Tick only those that "
        "belong together."
    )


@pytest.mark.parametrize(
    ("weights", "told"),
    [
        # a tray with a telescoping lid is meant for up to 15 kg
        ((Decimal(15_000),), False),
        ((Decimal(15_001),), True),
        ((Decimal(8_000), Decimal(8_000)), True),  # a set weighs what its objects weigh together
        ((None,), False),  # nobody has weighed it
    ],
)
def test_contents_heavier_than_the_form_is_meant_for_are_told(weights, told):
    contents = [make_object(weight_g=weight) for weight in weights]

    notes = design_enclosure(design=make_design(), contents=contents).notes

    assert any("this form is meant for up to 15 kg." in note for note in notes) is told
