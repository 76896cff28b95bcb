"""Deciding between measurements that differ; who decided what, and when, stays with them."""

from decimal import Decimal as D

import pytest

from objects.models import CatalogueObject, SurveyEntry
from objects.services.measurements import DecisionRefused, decide
from tests.factories import make_location, make_object, make_user
from tests.objects.surveying import BOWL, record

pytestmark = [pytest.mark.django_db, pytest.mark.any_database]
TALLER = (D(280), *BOWL[1:])  # 26 mm more, where 3 mm are allowed


@pytest.fixture
def carla(db):
    return make_user("manager", first_name="Carla", last_name="Roe")


@pytest.fixture
def thing(db):
    return make_object(height_mm=None, width_mm=None, depth_mm=None)


def outcome(thing: CatalogueObject, *entries: SurveyEntry) -> tuple:
    now = CatalogueObject.objects.get(pk=thing.pk)
    return now.sides_mm, now.size_state, [SurveyEntry.objects.get(pk=each.pk).state for each in entries]


def test_the_one_that_differs_can_be_used(thing, carla):
    first, second = record(thing, *BOWL), record(thing, *TALLER)

    decide(entry=second, decision="use", by=carla)

    assert outcome(thing, first, second) == (TALLER, "known", ["set_aside", "good"])
    second.refresh_from_db()
    assert second.state_note.startswith("Chosen by Carla Roe on ")


def test_the_size_in_use_can_be_kept(thing, carla):
    first, second = record(thing, *BOWL), record(thing, *TALLER)

    decide(entry=second, decision="keep", by=carla)

    assert outcome(thing, first, second) == (BOWL, "known", ["good", "set_aside"])
    second.refresh_from_db()
    assert second.state_note.startswith("Set aside by Carla Roe on ")


def test_setting_the_only_measurement_aside_leaves_no_size(thing, carla):
    only = record(thing, *BOWL)

    decide(entry=only, decision="set_aside", by=carla)

    assert outcome(thing, only) == ((None, None, None), "missing", ["set_aside"])


def test_setting_a_measurement_aside_brings_back_the_list(carla):
    thing = make_object(dimensions_text="10 x 8 3/4 x 7 1/8 in")
    entry = record(thing, *TALLER)

    decide(entry=entry, decision="set_aside", by=carla)

    assert outcome(thing, entry) == (BOWL, "known", ["set_aside"])


def test_what_was_set_aside_can_be_taken_up_again(thing, carla):
    entry = record(thing, *BOWL)
    decide(entry=entry, decision="set_aside", by=carla)

    decide(entry=entry, decision="use", by=carla)

    assert outcome(thing, entry) == (BOWL, "known", ["good"])


def test_choosing_one_settles_those_that_agree_with_it(thing, carla):
    first, second, third = record(thing, *BOWL), record(thing, *TALLER), record(thing, *TALLER)

    decide(entry=second, decision="use", by=carla)

    assert outcome(thing, first, second, third) == (TALLER, "known", ["set_aside", "good", "good"])


def test_one_of_two_that_differ_still_waits_when_the_other_is_kept_out(thing, carla):
    first, second, third = record(thing, *BOWL), record(thing, *TALLER), record(thing, D(300), *BOWL[1:])

    decide(entry=second, decision="keep", by=carla)

    assert outcome(thing, first, second, third) == (BOWL, "check", ["good", "set_aside", "differs"])


def test_an_object_can_be_said_to_be_kept_where_it_was_found(carla):
    here = make_location("Here")
    thing = make_object(location=make_location("There"))
    entry = record(thing, *BOWL, place=here)

    decide(entry=entry, decision="move", by=carla)

    assert CatalogueObject.objects.get(pk=thing.pk).location == here


@pytest.mark.parametrize("decision", ["use", "keep", "move", "burn"])
def test_what_is_not_open_is_refused(thing, carla, decision):
    entry = record(thing, *BOWL)

    with pytest.raises(DecisionRefused, match="decided already"):
        decide(entry=entry, decision=decision, by=carla)


def test_of_two_managers_who_decide_the_second_is_told(thing, carla):
    record(thing, *BOWL)
    entry = record(thing, *TALLER)
    seen = SurveyEntry.objects.get(pk=entry.pk)
    decide(entry=entry, decision="keep", by=carla)

    with pytest.raises(DecisionRefused):
        decide(entry=seen, decision="keep", by=carla)
