"""The home page: how far are we?"""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from tests.factories import make_housing, make_location, make_object, make_user

pytestmark = pytest.mark.django_db


@pytest.fixture
def signed_in(client):
    client.force_login(make_user("viewer"))
    return client


def test_every_object_is_counted_once_under_its_status(signed_in):
    make_object()
    make_object(present_housing="adequate")
    make_object(present_housing="not_needed")
    make_object(present_housing="poor")
    for status in ("waiting", "planned", "in_work", "made", "housed", "dropped"):
        make_housing(status=status)

    counted = signed_in.get(reverse("housing:home")).context["progress"]

    # By hand: the object of a dropped housing is unhoused again, beside the one that never had a housing.
    assert counted.counts == {
        "unhoused": 2, "poorly_housed": 1, "housed_before": 1, "not_needed": 1,
        "waiting": 1, "planned": 1, "in_work": 1, "made": 1, "housed": 1,
    }  # fmt: skip
    assert (counted.total, counted.still_unhoused) == (10, 7)


def test_shelves_are_counted_under_their_room(signed_in):
    room = make_location("Room 1", parent=make_location("North wing"))
    make_object(location=make_location("Shelf A", parent=room))
    make_object(location=make_location("Shelf B", parent=room))
    make_object()

    chart = signed_in.get(reverse("housing:home")).context["charts"][0]

    assert [(bar.label, bar.counts, bar.href) for bar in chart.bars] == [
        ("North wing / Room 1", {"unhoused": 2}, f"/objects/?location={room.pk}"),
        ("No location", {"unhoused": 1}, "/objects/?location=null"),
    ]


def test_each_bar_leads_to_as_many_objects_as_it_counts(signed_in):
    attic = make_location("Attic")
    make_object(classification="Textiles", location=attic)
    make_object(classification="Textiles", location=make_location("Trunk", parent=attic))
    make_object(classification="", location=None)

    charts = signed_in.get(reverse("housing:home")).context["charts"]
    found = [signed_in.get(bar.href).context["number"] for chart in charts for bar in chart.bars]

    assert found == [1, 1, 1, 2, 1]


def test_what_blocks_is_counted_and_linked(signed_in):
    make_housing(status="waiting", problem="unmeasured")
    make_housing(status="waiting", problem="unmeasured")

    blocks = signed_in.get(reverse("housing:home")).context["blocks"]

    assert blocks == [("Not measured", 2, "/objects/?problem=unmeasured")]


def test_an_empty_museum_is_shown_four_steps(signed_in):
    page = signed_in.get(reverse("housing:home"))

    assert [(words, done) for words, _, _, done in page.context["steps"]] == [
        ("Enter your boards", False),
        ("Take in your list of objects", False),
        ("Describe your designs", False),
        ("Plan a campaign", False),
    ]
    assert "Four steps to your first plan" in page.text


def test_nobody_reads_it_without_signing_in(client):
    assert client.get(reverse("housing:home")).url == "/accounts/login/?next=/"


def test_one_object_and_three_take_as_many_queries(signed_in, django_assert_num_queries):
    make_housing(status="made")
    with CaptureQueriesContext(connection) as first:
        signed_in.get(reverse("housing:home"))
    make_housing(status="made")
    make_housing(status="made")

    with django_assert_num_queries(len(first)):
        signed_in.get(reverse("housing:home"))
