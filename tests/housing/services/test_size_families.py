"""Standard sizes found among the planned boxes of a campaign."""

from decimal import Decimal

import pytest

from housing.core.clearances import InnerSize
from housing.core.enclosures import make_enclosure
from housing.core.standard_sizes import Size, SizesRefused
from housing.models import Housing, SizeFamily
from housing.queries.sizes import board_price_m2
from housing.services.campaigns import plan_campaign
from housing.services.size_families import BoxCost, find_sizes, needs_of, scenario_with_sizes
from tests.factories import make_campaign, make_design, make_object, make_sheet_size

pytestmark = pytest.mark.django_db


@pytest.fixture
def family():
    """Five objects of two kinds of size, planned; two sizes are wanted."""
    design = make_design(board=make_sheet_size().board)
    sides = [(100, 120, 90), (104, 118, 92), (98, 122, 88), (200, 210, 190), (205, 200, 195)]
    things = [make_object(height_mm=h, width_mm=w, depth_mm=d) for h, w, d in sides]
    campaign = make_campaign(*things)
    campaign.rules.create(position=1, design=design)
    plan_campaign(campaign=campaign)
    return SizeFamily.objects.create(
        campaign=campaign, name="Ceramics", design=design, sizes_wanted=2, slack_mm=20
    )


def test_two_kinds_of_objects_get_two_sizes_that_hold_them(family):
    found = find_sizes(family=family).result

    assert sorted(found["counts"]) == [2, 3]
    assert found["custom"] == []
    boxes = Housing.objects.filter(campaign=family.campaign)
    for box in boxes:
        x, y, z = found["sizes"][found["of"][str(box.contents.get().object_id)]]
        needed = sorted((float(box.inner_x_mm), float(box.inner_y_mm)))
        assert (y, x, z) >= (needed[0] - 1e-6, 0, 0)
        assert x >= needed[1] - 1e-6 and z >= float(box.inner_z_mm) - 1e-6
    assert found["gap"] == pytest.approx(0, abs=1e-6)
    assert [point["number"] for point in found["curve"]][:2] == [1, 2]


def test_a_larger_box_costs_more(family):
    cost = BoxCost(family)

    assert 0 < cost(Size(200, 150, 100)) < cost(Size(250, 200, 150))


def test_room_on_the_shelf_may_be_worth_something(family):
    without = BoxCost(family)(Size(200, 150, 100))
    family.volume_price = Decimal("2")

    design = family.design
    made = make_enclosure(
        design.form, InnerSize(200, 150, 100), design.board.to_core(), design.to_choices()
    ).outside
    litres = made.x_mm * made.y_mm * made.z_mm / 1e6
    assert litres > 3  # what it holds
    assert BoxCost(family)(Size(200, 150, 100)) - without == pytest.approx(2 * litres, rel=1e-4)


def test_board_is_dearer_by_what_the_plan_wastes(family):
    # 12.50 for 1.524 x 1.016 m, over the share of the sheets that is used.
    share = family.campaign.plan.board_plans.get().used_share

    price = board_price_m2(family.campaign, family.design.board)

    assert float(price) == pytest.approx(12.50 / (1.524 * 1.016) / share)


def test_boxes_of_other_designs_and_of_several_objects_are_left_alone(family):
    other = make_design(board=family.design.board)

    assert needs_of(SizeFamily(campaign=family.campaign, design=other)) == []


def test_without_boxes_there_is_nothing_to_find(family):
    Housing.objects.update(status=Housing.Status.DROPPED)

    with pytest.raises(SizesRefused, match="no measured object"):
        find_sizes(family=family)

    assert SizeFamily.objects.get().result == {}


def test_the_sizes_become_a_scenario(family):
    assert scenario_with_sizes(family=family).differences == {"sizes": family.pk}
