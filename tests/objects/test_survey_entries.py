"""Entries from the shelf: each is kept once, and the object takes over what is good and newest."""

from decimal import Decimal as D
from pathlib import Path
from uuid import uuid4

import pytest
from django.conf import settings
from django.core.files.base import ContentFile

from housing.queries.progress import is_plan_current
from housing.services.campaigns import plan_campaign
from objects.models import CatalogueObject, SurveyEntry
from objects.queries import survey as survey_queries
from objects.services import survey
from objects.services.survey import EntryRefused
from tests.factories import make_campaign, make_location, make_object
from tests.objects.surveying import BOWL, UNMEASURED, days_ago, fresh, record

pytestmark = [pytest.mark.django_db, pytest.mark.any_database]


def photos_in_store() -> set[str]:
    folder = Path(settings.MEDIA_ROOT) / "photos"
    return {path.name for path in folder.glob("*")}


# ---- Keeping ---------------------------------------------------------------------------------------------


def test_an_object_takes_over_what_was_found():
    thing = make_object(**UNMEASURED)
    shelf = make_location()
    answers = {
        "weight_g": D(1200), "quantity": 2, "may_lie": "upright", "measured_with": "lid",
        "fragility": "delicate", "projecting_parts": "Spout, left", "condition": "fair",
        "present_housing": "poor", "hazards": "lead",
    }  # fmt: skip

    record(thing, *BOWL, answers=answers, place=shelf)

    now = fresh(thing)
    assert (now.sides_mm, now.size_state, now.version) == (BOWL, "known", 2)
    assert {name: getattr(now, name) for name in answers} == answers
    assert now.surveyed_at is not None
    assert "measured with tape or ruler by Ann Lee" in now.dimensions_note


def test_what_is_not_said_stays_as_it_was():
    thing = make_object(condition="good", weight_g=D(900), hazards="arsenic")

    record(thing, *BOWL, answers={"condition": "", "weight_g": None, "hazards": ""})

    now = fresh(thing)
    assert (now.condition, now.weight_g, now.hazards) == ("good", D(900), "arsenic")


def test_hazards_seen_are_added_to_those_known():
    thing = make_object(hazards="arsenic")

    record(thing, answers={"hazards": "lead; arsenic"})

    assert fresh(thing).hazards == "arsenic; lead"


def test_an_entry_sent_twice_is_kept_once():
    thing, entry_id = make_object(**UNMEASURED), uuid4()
    first = record(thing, *BOWL, entry_id=entry_id)

    again = record(thing, D(1), D(1), D(1), entry_id=entry_id)

    assert again == first
    assert (SurveyEntry.objects.count(), fresh(thing).sides_mm) == (1, BOWL)


def test_an_entry_that_two_requests_bring_at_the_same_time_is_kept_once(monkeypatch):
    thing, entry_id = make_object(**UNMEASURED), uuid4()
    first = record(thing, *BOWL, entry_id=entry_id)
    looked, look = [], survey._kept_before

    def too_early_the_first_time(asked):
        looked.append(asked)
        return look(asked) if len(looked) > 1 else None

    monkeypatch.setattr(survey, "_kept_before", too_early_the_first_time)
    photo = ContentFile(b"a photo", name="photo.jpg")
    before = photos_in_store()

    again = record(thing, D(1), D(1), D(1), entry_id=entry_id, photo=photo)

    assert (again, len(looked), SurveyEntry.objects.count()) == (first, 2, 1)
    assert fresh(thing).sides_mm == BOWL
    assert photos_in_store() == before


def test_a_measurement_before_a_later_one_arrives_late_and_changes_nothing():
    thing = make_object(**UNMEASURED)
    record(thing, *BOWL, answers={"condition": "good"}, measured_at=days_ago(1))

    record(thing, *(side + 1 for side in BOWL), answers={"condition": "poor"}, measured_at=days_ago(2))

    now = fresh(thing)
    assert (now.sides_mm, now.condition, thing.survey_entries.count()) == (BOWL, "good", 2)


def test_looking_at_an_object_leaves_its_version_and_its_plan_alone():
    thing = make_object()
    campaign = make_campaign(thing)
    plan_campaign(campaign=campaign)
    before = is_plan_current(campaign)

    record(thing, note="In its old wrapper.")

    now = fresh(thing)
    assert (now.version, now.surveyed_at is not None) == (1, True)
    assert is_plan_current(campaign) is before


def test_a_new_size_makes_plans_out_of_date():
    thing = make_object(**UNMEASURED)
    changed_at = thing.changed_at

    record(thing, *BOWL)

    assert fresh(thing).changed_at > changed_at  # what is_plan_current() looks at


# ---- Where it was found ----------------------------------------------------------------------------------


def test_what_was_not_found_was_not_looked_at():
    shelf = make_location()
    thing = make_object(location=shelf)

    record(thing, found="missing", place=shelf)

    assert fresh(thing).surveyed_at is None
    assert [each.survey_state for each in survey_queries.objects_to_survey(shelf)] == ["not_found"]


def test_what_was_not_found_and_then_is_found_is_no_longer_missing():
    shelf = make_location()
    thing = make_object(location=shelf)
    record(thing, found="missing", place=shelf, measured_at=days_ago(1))

    record(thing, *BOWL, place=shelf)

    assert [each.survey_state for each in survey_queries.objects_to_survey(shelf)] == ["done"]


def test_an_object_of_another_place_is_noted_as_lying_here():
    here, there = make_location("Here"), make_location("There")
    thing = make_object(location=there)

    entry = record(thing, *BOWL, place=here)

    assert (entry.found, entry.place, fresh(thing).location) == ("elsewhere", here, there)


def test_an_object_of_a_shelf_is_where_it_belongs_in_its_bay():
    bay = make_location("Bay")
    shelf = make_location("Shelf", parent=bay)

    entry = record(make_object(location=shelf), *BOWL, place=bay)

    assert entry.found == "here"


# ---- Refusals --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({"sides_mm": (D(-1), None, None)}, "__all__"),
        ({"sides_mm": (D(20_001), None, None)}, "__all__"),  # 20 m is the most
        ({"answers": {"condition": "melted"}}, "condition"),
        ({"answers": {"quantity": 0}}, "__all__"),
        ({"how": "guess"}, "how"),
        ({"note": "x" * 301}, "note"),
        ({"found": "missing", "sides_mm": BOWL}, "height_mm"),
        ({}, "height_mm"),  # nothing was said at all
    ],
)
def test_what_cannot_be_kept_is_refused_beside_its_field(given, field):
    thing = make_object()

    with pytest.raises(EntryRefused) as refused:
        record(thing, **given)

    assert list(refused.value.problems) == [field]
    assert (SurveyEntry.objects.count(), fresh(thing).version) == (0, 1)


def test_an_object_that_was_taken_out_of_the_catalogue_is_refused():
    thing = make_object()
    CatalogueObject.objects.filter(pk=thing.pk).delete()

    with pytest.raises(EntryRefused, match="no longer in the catalogue"):
        record(thing, *BOWL)
