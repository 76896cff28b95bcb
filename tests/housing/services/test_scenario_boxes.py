"""The boxes of a campaign as a scenario has them: other objects, boards, designs and sizes; some bought."""

from decimal import Decimal

import pytest
from django.utils import timezone

from boards.models import Supplier
from housing.core.scenarios import Differences, ReadyMade
from housing.models import Blank, HousedObject, Housing, ReadyMadeBox, SizeFamily
from housing.queries.ready_made import boxes_on_the_list
from housing.services.housings import house_together
from housing.services.scenario_boxes import boxes_of_scenario
from tests.factories import make_board, make_campaign, make_design, make_object, make_sheet_size

pytestmark = pytest.mark.django_db

INCH = Decimal("25.4")


@pytest.fixture
def design():
    """A lidded box with an inch on the height and on each side: the bowl of 10 x 8 3/4 x 7 1/8 in needs
    8 3/4 + 2 = 10 3/4 in of width, 7 1/8 + 2 = 9 1/8 in of depth and 10 + 1 = 11 in of height inside."""
    return make_design(board=make_sheet_size().board)


def campaign_of(design, *objects):
    campaign = make_campaign(*objects)
    campaign.rules.create(position=1, design=design)
    return campaign


def worked_out(campaign, family=None, **differences):
    return boxes_of_scenario(
        campaign,
        Differences(**differences),
        family,
        boxes_on_the_list(today=timezone.localdate()),
        lambda *told: None,
    )


def make_box(*sides_in, **given) -> ReadyMadeBox:
    sides = dict(zip(("inner_x_mm", "inner_y_mm", "inner_z_mm"), (INCH * s for s in sides_in), strict=True))
    return ReadyMadeBox.objects.create(**{"name": f"Box {sides_in}", "price": 10, **sides, **given})


def numbers(drafts):
    return [draft.contents[0].number for draft in drafts]


def test_without_differences_every_box_is_made_as_planned(design):
    campaign = campaign_of(design, make_object(number="1"), make_object(number="2", height_mm=None))

    found = worked_out(campaign)

    assert (numbers(found.made), numbers(found.waiting), found.left_out) == (["1"], ["2"], 0)


def test_nothing_of_it_is_stored(design):
    campaign = campaign_of(design, make_object())

    worked_out(campaign, ready_made=ReadyMade())

    assert not Housing.objects.exists() and not Blank.objects.exists()


def test_only_asked_for_objects_get_a_box(design):
    things = [make_object(number=str(n), priority=p) for n, p in enumerate("ABC")]
    campaign = campaign_of(design, *things)

    assert numbers(worked_out(campaign, only_priorities=("A", "C")).made) == ["0", "2"]
    assert worked_out(campaign, only_priorities=("A",)).left_out == 2
    assert numbers(worked_out(campaign, only_objects=(things[1].pk,)).made) == ["1"]


def test_a_set_is_in_with_the_most_urgent_of_its_objects(design):
    pair = [make_object(priority="C"), make_object(priority="A")]
    campaign = campaign_of(design, *pair)
    house_together(contents=pair, campaign=campaign)

    assert len(worked_out(campaign, only_priorities=("A",)).made) == 1


def test_another_board_and_another_design_take_the_place_of_the_campaigns(design):
    board, other = make_board(), make_design(form="clamshell", board=design.board)
    campaign = campaign_of(design, make_object())

    (on_board,) = worked_out(campaign, board={design.board_id: board.pk}).made
    (in_design,) = worked_out(campaign, design={design.pk: other.pk}).made

    assert (on_board.housing.design.pk, on_board.housing.design.board) == (design.pk, board)
    assert in_design.housing.design == other
    design.refresh_from_db()
    assert design.board != board


def test_a_board_against_the_rules_is_told(design):
    campaign = make_campaign(make_object())
    campaign.rules.create(position=1, design=design, board_kind="buffered")
    unbuffered = make_board(is_buffered=False)

    (told,) = worked_out(campaign, board={design.board_id: unbuffered.pk}).notes

    assert "against the rules for 1 box" in told.what


# ---- Standard sizes --------------------------------------------------------------------------------------


def make_family(campaign, design, *sizes_in, of, slack_in=2):
    sizes = [[float(INCH) * side for side in size] for size in sizes_in]
    return SizeFamily.objects.create(
        campaign=campaign, name="Sizes", design=design, slack_mm=slack_in * INCH,
        result={"sizes": sizes, "of": {str(thing.pk): 0 for thing in of}},
    )  # fmt: skip


def test_boxes_are_made_in_the_standard_size_of_their_objects(design):
    bowl = make_object()
    campaign = campaign_of(design, bowl)
    family = make_family(campaign, design, (12, 10, 12), of=[bowl])

    (made,) = worked_out(campaign, family, sizes=family.pk).made

    # height, width, depth: clear inside as the size has it, to a hundredth of a millimetre
    assert made.housing.inner_mm == pytest.approx((12 * INCH, 12 * INCH, 10 * INCH), abs=Decimal("0.01"))


@pytest.mark.parametrize(
    "size_in", [(10.5, 10, 12), (12, 10, 14)], ids=["too narrow", "3 in over its height"]
)
def test_what_a_standard_size_no_longer_holds_is_made_to_measure_and_told(design, size_in):
    bowl = make_object()
    campaign = campaign_of(design, bowl)
    family = make_family(campaign, design, size_in, of=[bowl])

    found = worked_out(campaign, family, sizes=family.pk)

    assert found.made[0].housing.inner_mm == pytest.approx(
        (11 * INCH, Decimal("10.75") * INCH, Decimal("9.125") * INCH), abs=Decimal("0.01")
    )
    assert "1 box made to measure" in found.notes[0].what


# ---- Bought ----------------------------------------------------------------------------------------------


def test_a_box_is_bought_where_one_fits_and_the_rest_is_made(design):
    make_box(11, 10, 12, wall_mm=3)
    campaign = campaign_of(design, make_object(number="bowl"), make_object(number="post", height_mm=900))

    found = worked_out(campaign, ready_made=ReadyMade(slack_mm=50))

    ((draft, fit),) = found.bought
    assert (draft.contents[0].number, fit.box.name, draft.blanks) == ("bowl", "Box (11, 10, 12)", [])
    assert draft.housing.outside_x_mm == 11 * INCH + 6  # a wall of 3 mm on either side
    assert numbers(found.made) == ["post"]


@pytest.mark.parametrize(
    "given",
    [{"price": None}, {"price": 0}, {"withdrawn_on": "2020-01-01"}],
    ids=["no price", "for nothing", "withdrawn"],
)
def test_a_box_that_cannot_be_bought_is_left_aside_and_told(design, given):
    make_box(11, 10, 12, **given)
    campaign = campaign_of(design, make_object())

    found = worked_out(campaign, ready_made=ReadyMade(slack_mm=50))

    assert not found.bought and len(found.made) == 1
    assert found.notes[0].affects == "It is not bought"


def test_an_empty_price_list_is_told(design):
    found = worked_out(campaign_of(design, make_object()), ready_made=ReadyMade())

    assert found.notes[0].what == "The price list of ready-made boxes is empty"


def test_heavy_contents_and_forms_that_are_no_plain_box_are_made(design):
    make_box(11, 10, 12)
    make_box(12, 12, 12, name="Cube")
    heavy = campaign_of(design, make_object(weight_g=Decimal(6000)))
    divided = campaign_of(make_design(form="divided_tray", board=design.board), make_object())

    assert not worked_out(heavy, ready_made=ReadyMade(slack_mm=200, heaviest_g=5000)).bought
    assert not worked_out(divided, ready_made=ReadyMade(slack_mm=200)).bought


def test_unbuffered_board_asked_for_takes_an_unbuffered_box(design):
    make_box(11, 10, 12, name="Cheap buffered", price=1)
    make_box(11, 10, 12, name="Unbuffered", price=9, is_buffered=False)
    design.board.is_buffered = False
    design.board.save()
    campaign = make_campaign(make_object())
    campaign.rules.create(position=1, design=design, board_kind="unbuffered")

    ((_, fit),) = worked_out(campaign, ready_made=ReadyMade(slack_mm=50)).bought

    assert fit.box.name == "Unbuffered"


def test_begun_boxes_are_none_of_its_business(design):
    thing = make_object()
    campaign = campaign_of(design, thing)
    housing = Housing.objects.create(
        campaign=campaign, design=design, status="in_work", inner_x_mm=1, inner_y_mm=1, inner_z_mm=1
    )
    HousedObject.objects.create(housing=housing, object=thing)

    found = worked_out(campaign)

    assert (found.made, found.waiting, found.left_out) == ([], [], 0)
    assert not Supplier.objects.exists()
