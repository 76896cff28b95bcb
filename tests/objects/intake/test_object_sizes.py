"""Sizes in lists: one text, columns of their own, or both; and the size that is recorded already."""

from datetime import UTC, datetime
from decimal import Decimal

import pytest

from objects.intake import preview
from objects.intake.catalogue import ObjectList
from objects.models import CatalogueObject, SurveyEntry
from tests.factories import make_object, make_user

pytestmark = pytest.mark.django_db
BOWL = (Decimal("254"), Decimal("222.25"), Decimal("180.975"))  # 10 x 8 3/4 x 7 1/8 in, 25.4 mm to the inch


def read_one(header: str, row: str, **how):
    (reading,) = preview(ObjectList(), f"{header}\n{row}\n".encode(), **how).rows
    return reading


def sides_of(reading) -> tuple:
    return tuple(reading.values.get(side) for side in ("height_mm", "width_mm", "depth_mm"))


@pytest.mark.parametrize(
    "header, cells, sides, text",
    [
        # by hand: 1 cm is 10 mm, 1 in is 25.4 mm
        ("Height,Width,Depth", "10 cm,12 cm,5.5 cm", (100, 120, 55), "H 10 cm; W 12 cm; D 5.5 cm"),
        ("Height (cm),Width (cm),Depth (cm)", "10,12,5.5", (100, 120, 55), "H 10 cm; W 12 cm; D 5.5 cm"),
        ("Height (cm),Width (cm),Depth", "10,12,5.5 cm", (100, 120, 55), "H 10 cm; W 12 cm; D 5.5 cm"),
        (
            "Height,Width,Depth,Unit",
            "10,8 1/2,5,in",
            (254, Decimal("215.9"), 127),
            "H 10 in; W 8 1/2 in; D 5 in",
        ),
        ("Height,Diameter,Unit", "10,12,cm", (100, 120, 120), "H 10 cm; Diam. 12 cm"),
    ],
)
def test_separate_columns_are_one_size(header, cells, sides, text):
    reading = read_one(f"Number,Name,{header}", f"7.1,Bowl,{cells}")

    assert (sides_of(reading), reading.values["dimensions_text"]) == (sides, text)
    assert (reading.status, reading.values["size_state"]) == ("new", "known")


def test_bare_figures_in_separate_columns_take_the_unit_that_a_person_chose():
    reading = read_one("Number,Name,Height,Width,Depth", "7.1,Bowl,10,12,5", unit="cm")

    assert sides_of(reading) == (100, 120, 50)


def test_blank_separate_columns_say_nothing():
    make_object(number="7.1", name="Bowl")

    reading = read_one("Number,Name,Height,Width,Depth,Unit,Fragility,Use,Need", "7.1,Bowl,,,,cm,,,")

    assert (reading.status, reading.changes) == ("unchanged", {})


def test_text_and_columns_that_agree_complete_each_other():
    reading = read_one("Number,Name,Dimensions,Height,Depth", "7.1,Bowl,10 x 12 cm,10 cm,5 cm")

    assert (reading.status, sides_of(reading)) == ("new", (100, 120, 50))


def test_text_and_columns_that_contradict_each_other_wait_for_a_person():
    reading = read_one("Number,Name,Dimensions,Height", "7.1,Bowl,10 x 12 x 5 cm,15 cm")

    assert reading.status == "check"
    assert reading.messages[0].startswith("The separate columns give another size than the text.")


def test_a_side_of_zero_among_others_is_not_stated_and_one_alone_refused():
    one_of_two = read_one("Number,Name,Height (cm),Width (cm)", "7.1,Bowl,10,0")
    alone = read_one("Number,Name,Height (cm)", "7.1,Bowl,0")

    assert (one_of_two.status, sides_of(one_of_two)) == ("new", (100, None, None))
    assert (alone.status, alone.messages[0][:9]) == ("refused", "Height (c")


# ---- What was measured at the shelf -----------------------------------------------------------------------


def measure(thing: CatalogueObject, **given) -> SurveyEntry:
    by = make_user("surveyor", username="vole")
    at = datetime(2026, 3, 2, 10, tzinfo=UTC)
    sides = dict(zip(("height_mm", "width_mm", "depth_mm"), BOWL, strict=True))
    return SurveyEntry.objects.create(object=thing, by=by, measured_at=at, **{**sides, **given})


def test_a_measured_size_is_kept_and_the_lists_size_only_noted():
    measure(make_object(number="7.1", name="Bowl"))

    reading = read_one("Number,Name,Dimensions", "7.1,Bowl,25.5 x 22.2 x 18.1 cm")

    # 255 - 254 = 1 mm, 222.25 - 222 = 0.25 mm, 181 - 180.975 = 0.025 mm: none more than the usual 3 mm
    assert (reading.status, sides_of(reading)) == ("changed", (None, None, None))
    assert reading.values["dimensions_text"] == "25.5 x 22.2 x 18.1 cm"
    assert reading.messages[-1] == "Measured on 2026-03-02 by vole; the list's size is kept as text only."


def test_a_list_that_differs_from_a_measured_size_is_to_be_checked():
    measure(make_object(number="7.1", name="Bowl"))

    reading = read_one("Number,Name,Dimensions", "7.1,Bowl,30 x 22.2 x 18.1 cm")

    # 300 - 254 = 46 mm, more than 3 mm and more than 1 % of 300 mm
    assert (reading.status, sides_of(reading)) == ("check", (None, None, None))
    assert reading.messages[-1] == (
        "Measured on 2026-03-02 by vole; the list's size is kept as text only. "
        "It differs: the list says height 300 mm, measured were height 254 mm."
    )


@pytest.mark.parametrize("given", [{"how": "list"}, {"state": "set_aside"}, {"state": "differs"}])
def test_what_is_no_good_measurement_gives_way_to_a_list(given):
    measure(make_object(number="7.1", name="Bowl"), **given)

    reading = read_one("Number,Name,Dimensions", "7.1,Bowl,30 x 22 x 18 cm")

    assert (reading.status, sides_of(reading)) == ("changed", (300, 220, 180))


def test_a_side_that_was_not_measured_is_taken_from_the_list():
    thing = make_object(number="7.1", name="Bowl", depth_mm=None)
    measure(thing, depth_mm=None)

    reading = read_one("Number,Name,Dimensions", "7.1,Bowl,25.4 x 22.2 x 18 cm")

    assert (sides_of(reading), reading.values["size_state"]) == ((None, None, 180), "known")


# ---- The other fields of the survey -----------------------------------------------------------------------


@pytest.mark.parametrize(
    "heading, cell, field, value",
    [
        ("Fragility", "Delicate", "fragility", "delicate"),
        ("Fragility", "very_delicate", "fragility", "very_delicate"),
        ("Fragility", "Robust: bears ordinary handling", "fragility", "robust"),
        ("Fragile parts that project", "the spout, left", "projecting_parts", "the spout, left"),
        ("How often it is used", "About once a year", "use", "yearly"),
        ("Significance", "key", "significance", "key"),
        ("Present housing", "Good", "present_housing", "good"),
        ("Housing need", "Needs no housing", "need_by_hand", "not_needed"),
        ("Housing need", "unhoused", "need_by_hand", "unhoused"),
    ],
)
def test_choices_are_known_by_their_key_and_by_their_label(heading, cell, field, value):
    reading = read_one(f"Number,Name,{heading}", f'7.1,Bowl,"{cell}"')

    assert (reading.status, reading.values[field]) == ("new", value)


def test_a_stated_need_says_which_list_stated_it_unless_the_list_gives_a_reason():
    kind = ObjectList(file_name="stores.csv")
    data = b"Number,Name,Housing need,Why this need\n7.1,Bowl,unhoused,\n7.2,Cup,poor,Its box is acidic\n"

    rows = preview(kind, data).rows

    assert [row.values["need_note"] for row in rows] == [
        "Stated in the list stores.csv.",
        "Its box is acidic",
    ]


def test_a_reason_without_a_need_is_left_out_and_told():
    reading = read_one("Number,Name,Why this need", "7.1,Bowl,Its box is acidic")

    assert "need_note" not in reading.values
    assert reading.messages[-1] == "A reason without a housing need is left out."
