"""What boxes take of work and materials, and how the texts by which forms ask for more are read."""

from dataclasses import replace

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures import ENCLOSURES, make_enclosure
from housing.models import Campaign, Housing
from housing.queries.box_facts import _supply, boxes_to_measure, facts_of_box, facts_of_campaign
from tests.factories import make_campaign, make_design, make_housing, make_object
from tests.housing.printing.boxes import make_box


@pytest.mark.parametrize(
    ("text", "name", "size"),
    [
        # lengths in m and areas in m²: 900 mm = 0.9 m; 900 x 600 mm = 0.54 m²
        ("flat cotton tape 12 mm wide, 900 mm long", "flat cotton tape 12 mm wide", 0.9),
        ("webbing tape 25 mm wide, 900 mm long, around the tray", "webbing tape 25 mm wide", 0.9),
        ("acid-free tube, 80 mm across and 900 mm long", "acid-free tube, 80 mm across", 0.9),
        ("interleaving tissue, 900 x 600 mm", "interleaving tissue", 0.54),
        ("soft pad, 900 x 600 mm, 5 mm thick", "soft pad", 0.54),
        ("acid-free tissue, a pad for every fold", "acid-free tissue, a pad for every fold", 0),
        ("polyester film, 20 mm larger all round", "polyester film, 20 mm larger all round", 0),
    ],
)
def test_a_size_is_parted_from_the_name(text, name, size):
    assert _supply(text, 2) == (name, 2, pytest.approx(size))


BOARD = BoardSpec(caliper_mm=3.175, fold_share=0.5)


@pytest.mark.parametrize("form", ENCLOSURES)
def test_boxes_of_any_size_ask_for_supplies_of_the_same_names(form):
    """Otherwise each size would need a supply of its own on the list."""
    heights = (15, 18) if form == "rolled_tube" else (120, 140)  # of a roll: one layer
    small, large = (
        {_supply(one.what, 1)[0] for one in make_enclosure(form, InnerSize(*sides), BOARD).supplies}
        for sides in ((300, 240, heights[0]), (420, 310, heights[1]))
    )

    assert small == large


# ---- The facts of boxes ----------------------------------------------------------------------------------


@pytest.mark.django_db
def test_a_lidded_tray_takes_what_is_worked_by_hand():
    """Base and lid for 10 x 8 3/4 x 7 1/8 in at 11 x 10 3/4 x 9 1/8 in, flaps of 2 1/2 in, drawn nominally.

    By hand, inches. Scores of the base 2 (10 3/4 + 9 1/8) + 4 x 11 = 83 3/4, of the lid
    2 (11 3/8 + 9 1/2) + 4 x 3 1/2 = 55 3/4. Cuts 4 x 22 + 4 x 7 = 116 with outlines of 127 3/4 and 69 3/4.
    Blanks 32 3/4 x 31 1/8 and 18 3/8 x 16 1/2. Outside 11 3/4 x 9 5/8 x 11 3/16 = 20.73 litres.
    """
    box = make_box(design=make_design(drawn="nominal"))

    (facts,) = facts_of_campaign(given_campaign(box))

    assert (facts.blanks, facts.folds, facts.joints, facts.objects) == (2, 16, 8, 1)
    assert facts.score_m == pytest.approx(139.5 * 0.0254, abs=1e-4)
    assert facts.cut_m == pytest.approx(313.5 * 0.0254, abs=1e-4)
    assert facts.blank_m2 == pytest.approx((32.75 * 31.125 + 18.375 * 16.5) * 0.0254**2, abs=1e-4)
    assert facts.outside_litres == pytest.approx(20.73, abs=0.005)


@pytest.mark.django_db
@pytest.mark.any_database
@pytest.mark.parametrize("form", ENCLOSURES)
def test_a_stored_box_has_the_facts_of_the_same_box_in_memory(form):
    number = 2 if form == "lidded_tray" else 1
    height = 12 if form == "rolled_tube" else 254  # of a roll: one layer
    things = [make_object(height_mm=height) for _ in range(number)]
    box = make_box(*things, design=make_design(form=form, padding="felt", lining_mm=3))

    (stored,) = facts_of_campaign(given_campaign(box))

    box.refresh_from_db()
    in_memory = facts_of_box(box, list(box.blanks.all()), box.recipe, things)
    assert replace(stored, score=0) == in_memory
    assert (stored.objects, stored.cut_m > 0) == (number, True)


@pytest.mark.django_db
def test_only_boxes_with_a_place_in_the_plan_are_in_a_budget():
    boxes = {status: make_box() for status in ("planned", "in_work", "made", "housed", "dropped")}
    campaign = given_campaign(*boxes.values())
    for status, box in boxes.items():
        Housing.objects.filter(pk=box.pk).update(status=status)
    waiting = make_housing(make_object(height_mm=None), status="waiting", problem="unmeasured")
    Housing.objects.filter(pk=waiting.pk).update(campaign=campaign)

    keys = {facts.key for facts in facts_of_campaign(campaign)}

    assert keys == {str(box.pk) for status, box in boxes.items() if status != "dropped"}
    assert [(one.key, one.objects) for one in boxes_to_measure(campaign)] == [(str(waiting.pk), 1)]


@pytest.mark.django_db
def test_work_goes_by_batch_before_priority():
    boxes = [make_box(make_object(priority=priority)) for priority in ("A", "C", "B")]
    campaign = given_campaign(*boxes)
    things = [box.contents.get().object for box in boxes]
    campaign.objects_in_it.add(*things)
    campaign.memberships.filter(object=things[0]).update(batch=2)

    assert [facts.key for facts in facts_of_campaign(campaign)] == [
        str(box.pk) for box in (boxes[2], boxes[1], boxes[0])
    ]


@pytest.mark.django_db
def test_more_boxes_ask_for_no_more(django_assert_num_queries):
    one, three = given_campaign(make_box()), given_campaign(*(make_box() for _ in range(3)))
    with CaptureQueriesContext(connection) as asked:
        facts_of_campaign(one)

    with django_assert_num_queries(len(asked)):
        facts_of_campaign(three)


def given_campaign(*boxes: Housing) -> Campaign:
    """A campaign with these boxes in it."""
    campaign = make_campaign()
    Housing.objects.filter(pk__in=[box.pk for box in boxes]).update(campaign=campaign)
    return campaign
