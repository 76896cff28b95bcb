"""Which size an object takes: from a list, typed, measured once or twice, or estimated by eye."""

from decimal import Decimal as D

import pytest

from objects.models import CatalogueObject, MeasuringRules
from objects.services.catalogue import save_object
from tests.factories import make_object, make_user
from tests.objects.surveying import BOWL, UNMEASURED, fresh, record

pytestmark = [pytest.mark.django_db, pytest.mark.any_database]


def kept(thing: CatalogueObject) -> list[tuple[str, str]]:
    """How and with what outcome each entry of an object was kept, oldest first."""
    return [(entry.how, entry.state) for entry in thing.survey_entries.order_by("pk")]


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


def test_where_list_and_measurement_differ_by_a_unit_a_person_decides():
    thing = make_object(
        height_mm=D(10), width_mm=D("8.75"), depth_mm=D("7.125"), dimensions_text="10 x 8.75 x 7.125 mm"
    )

    measured = record(thing, *BOWL)  # 25.4 times as much: the list or the person took the wrong unit

    now = fresh(thing)
    assert (measured.state, now.size_state, now.height_mm) == ("differs", "check", D(10))
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
