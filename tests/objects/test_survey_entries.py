"""Entries from the shelf: each is kept once, and the object takes over what is good and newest."""

from datetime import datetime, timedelta
from decimal import Decimal as D
from pathlib import Path
from uuid import uuid4

import pytest
from django.conf import settings
from django.core.files.base import ContentFile
from django.utils import timezone

from housing.queries.progress import is_plan_current
from housing.services.campaigns import plan_campaign
from objects.models import CatalogueObject, MeasuringRules, SurveyEntry
from objects.queries import survey as survey_queries
from objects.services import survey
from objects.services.catalogue import save_object
from objects.services.survey import EntryRefused, record_entry
from tests.factories import make_campaign, make_location, make_object, make_user

pytestmark = [pytest.mark.django_db, pytest.mark.any_database]
BOWL = (D(254), D("222.25"), D("180.975"))  # 10 x 8 3/4 x 7 1/8 in, at 25.4 mm to the inch
UNMEASURED = {"height_mm": None, "width_mm": None, "depth_mm": None}


def record(thing: CatalogueObject, *sides: D | None, **given):
    """An entry made now with a tape by Ann Lee, unless said otherwise."""
    return record_entry(
        **{
            "entry_id": uuid4(),
            "object": thing,
            "by": given.pop("by", None) or make_user("surveyor", first_name="Ann", last_name="Lee"),
            "measured_at": timezone.now(),
            "how": "tape",
            "sides_mm": (*sides, None, None, None)[:3],
            **given,
        }
    ).entry


def days_ago(days: int) -> datetime:
    return timezone.now() - timedelta(days=days)


def fresh(thing: CatalogueObject) -> CatalogueObject:
    return CatalogueObject.objects.get(pk=thing.pk)


def photos_in_store() -> set[str]:
    folder = Path(settings.MEDIA_ROOT) / "photos"
    return {path.name for path in folder.glob("*")}


def kept(thing: CatalogueObject) -> list[tuple[str, str]]:
    """How and with what outcome each entry of an object was kept, oldest first."""
    return [(entry.how, entry.state) for entry in thing.survey_entries.order_by("pk")]


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


# ---- Sizes that were there before ------------------------------------------------------------------------


def test_a_size_from_a_list_is_kept_before_it_is_replaced():
    # 26 x 23 x 19 cm: the bowl as a list has it that rounds up to the whole centimetre (37.1 becomes 38 cm).
    thing = make_object(height_mm=D(260), width_mm=D(230), depth_mm=D(190), dimensions_text="26 x 23 x 19 cm")

    record(thing, *BOWL)

    listed, measured = thing.survey_entries.order_by("pk")
    assert (listed.how, listed.sides_mm, listed.by) == ("list", (D(260), D(230), D(190)), None)
    assert (fresh(thing).sides_mm, measured.state) == (BOWL, "good")
    assert measured.state_note == (
        "The list had 260 × 230 × 190 mm, more, as lists do that round up to the whole centimetre."
    )


def test_a_size_that_was_typed_before_is_kept_too():
    thing = make_object()

    record(thing, *BOWL)

    assert kept(thing) == [("typed", "good"), ("tape", "good")]


def test_a_list_that_was_wrong_by_the_unit_is_told_and_not_followed():
    thing = make_object(
        height_mm=D(10), width_mm=D("8.75"), depth_mm=D("7.125"), dimensions_text="10 x 8.75 x 7.125 mm"
    )

    record(thing, *BOWL)

    now = fresh(thing)
    assert (now.sides_mm, now.size_state) == (BOWL, "known")
    assert "perhaps inches and millimetres were mixed up" in now.dimensions_note


def test_two_sides_of_a_flat_thing_are_kept_and_the_third_is_said_to_lack():
    thing = make_object(**UNMEASURED)

    record(thing, D(420), D(297))

    now = fresh(thing)
    assert (now.sides_mm, now.size_state) == ((D(420), D(297), None), "missing")
    assert now.dimensions_note.endswith("Depth not measured yet.")


def test_a_side_not_measured_again_stays_as_the_list_has_it():
    thing = make_object(dimensions_text="10 x 8 3/4 x 7 1/8 in")

    record(thing, D(250), D(220))

    now = fresh(thing)
    assert (now.sides_mm, now.size_state) == ((D(250), D(220), D("180.975")), "known")
    assert "Depth as the list has it." in now.dimensions_note


def test_a_side_from_a_list_that_is_not_sure_stays_to_be_checked():
    thing = make_object(dimensions_text="approx. 10 x 8 3/4 x 7 1/8 in", size_state="check")

    record(thing, D(250), D(220))

    assert fresh(thing).size_state == "check"


def test_a_size_measured_whole_makes_a_doubtful_one_known():
    thing = make_object(dimensions_text="approx. 10 x 8 3/4 x 7 1/8 in", size_state="check")

    record(thing, *BOWL)

    assert fresh(thing).size_state == "known"


def test_an_estimate_by_eye_is_to_be_checked():
    thing = make_object(**UNMEASURED)

    record(thing, *BOWL, how="eye")

    now = fresh(thing)
    assert (now.sides_mm, now.size_state) == (BOWL, "check")
    assert "only estimated by eye" in now.dimensions_note


def test_an_estimate_replaces_no_measurement():
    thing = make_object(**UNMEASURED)
    record(thing, *BOWL)

    entry = record(thing, D(300), D(200), D(200), how="eye")

    now = fresh(thing)
    assert (now.sides_mm, now.size_state, entry.state) == (BOWL, "known", "good")
    assert entry.state_note == "The estimate differs from what was measured, which stays in use."


# ---- Two measurements ------------------------------------------------------------------------------------


def test_a_second_measurement_within_the_tolerance_is_used():
    thing = make_object(**UNMEASURED)
    record(thing, *BOWL)

    record(thing, D(256), D("222.25"), D("180.975"))  # 2 mm more; 3 mm are allowed

    now = fresh(thing)
    assert (now.height_mm, now.size_state) == (D(256), "known")


def test_a_second_measurement_that_differs_is_flagged_and_both_are_told():
    thing = make_object(**UNMEASURED)
    record(thing, *BOWL)
    ben = make_user("surveyor", first_name="Ben", last_name="Ode")

    entry = record(thing, D(280), D("222.25"), D("180.975"), by=ben)

    now = fresh(thing)
    assert (entry.state, now.sides_mm, now.size_state) == ("differs", BOWL, "check")
    assert "280 × 222.3 × 181 mm by Ben Ode" in now.dimensions_note
    assert "by Ann Lee" in now.dimensions_note


def test_the_same_sides_in_another_order_are_told_as_that():
    thing = make_object(**UNMEASURED)
    record(thing, *BOWL)

    entry = record(thing, D("222.25"), D(254), D("180.975"))

    assert (entry.state, entry.state_note) == ("differs", "These are the same sides in another order.")


def test_the_tolerance_is_the_museums_own():
    MeasuringRules.objects.create(pk=1, tolerance_mm=D(30), tolerance_percent=D(0))
    thing = make_object(**UNMEASURED)
    record(thing, *BOWL)

    record(thing, D(280), D("222.25"), D("180.975"))  # 26 mm more; 30 are allowed

    assert fresh(thing).size_state == "known"


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


# ---- Typing a size on the object's page ------------------------------------------------------------------


def test_typing_a_size_leaves_an_entry_and_keeps_what_was_there():
    thing = make_object(dimensions_text="10 x 8 3/4 x 7 1/8 in")
    ann = make_user("surveyor", first_name="Ann", last_name="Lee")

    save_object(thing=thing, changes={"height_mm": D(250)}, seen_version=1, by=ann)

    listed, typed = thing.survey_entries.order_by("pk")
    assert (listed.how, listed.sides_mm) == ("list", BOWL)
    assert (typed.how, typed.by, typed.sides_mm) == ("typed", ann, (D(250), *BOWL[1:]))
    assert fresh(thing).dimensions_note.startswith("Size typed by Ann Lee on ")


def test_typing_a_size_decides_on_measurements_that_differ():
    thing = make_object(**UNMEASURED)
    record(thing, *BOWL)
    record(thing, D(280), D("222.25"), D("180.975"))

    save_object(thing=fresh(thing), changes={"height_mm": D(281)}, seen_version=3, by=make_user("manager"))

    assert fresh(thing).size_state == "known"
    assert kept(thing) == [("tape", "good"), ("tape", "set_aside"), ("typed", "good")]


def test_a_side_cleared_on_the_objects_page_stays_cleared():
    thing = make_object(**UNMEASURED)
    record(thing, *BOWL)
    save_object(thing=fresh(thing), changes={"depth_mm": None}, seen_version=2, by=None)

    record(thing, D(254), D("222.25"))

    assert fresh(thing).sides_mm == (D(254), D("222.25"), None)


def test_saving_other_words_leaves_no_entry():
    thing = make_object()

    save_object(thing=thing, changes={"name": "Dish"}, seen_version=1)

    assert not thing.survey_entries.exists()
