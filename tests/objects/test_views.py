"""Editing objects and locations, photos, and how a reader likes to read."""

from decimal import Decimal
from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.test.utils import CaptureQueriesContext
from PIL import Image

from objects.core.lying import MayLie, MeasuredWith
from objects.models import CatalogueObject, Location, Preferences
from tests.factories import make_location, make_object, make_user

pytestmark = pytest.mark.django_db


def typed(page) -> dict:
    """What a browser sends when a form is saved as it was opened."""
    form, sent = page.context["form"], {}
    for name, field in form.fields.items():
        value = form[name].value()
        if name == "photo" or value is None:
            continue
        sent[name] = value
        if field.show_hidden_initial:
            sent[f"initial-{name}"] = value
    return sent


def edit(client, thing):
    return typed(client.get(f"/catalogue/{thing.pk}/edit/"))


# ---- Objects ---------------------------------------------------------------------------------------------


def test_a_new_object_takes_lengths_in_any_unit(surveyor):
    sent = {
        "number": "1990.1", "name": "Jar", "height_mm": "10¾ in", "width_mm": "27.3 cm", "depth_mm": "10 3/4",
        "quantity": 1, "priority": "B", "present_housing": "none", "hazards": ["lead", "sharp"],
    }  # fmt: skip

    answer = surveyor.post("/catalogue/new/", sent)

    jar = CatalogueObject.objects.get()
    assert answer.url == f"/objects/{jar.pk}/"
    # 10.75 x 25.4 = 273.05; a number alone is in inches, the reader's unit.
    assert jar.sides_mm == (Decimal("273.05"), Decimal("273"), Decimal("273.05"))
    assert (jar.size_state, jar.hazards) == ("known", "lead; sharp")


def test_saving_without_a_change_keeps_sizes_finer_than_they_are_shown(surveyor):
    thing = make_object(height_mm=Decimal("273.1"))

    surveyor.post(f"/catalogue/{thing.pk}/edit/", {**edit(surveyor, thing), "name": "Renamed"})

    thing.refresh_from_db()
    assert (thing.name, thing.height_mm) == ("Renamed", Decimal("273.1"))


@pytest.mark.parametrize(
    ("changes", "state"),
    [
        ({"name": "Renamed"}, "check"),
        ({"size_checked": "on"}, "known"),
        ({"height_mm": "11"}, "known"),
        ({"height_mm": ""}, "missing"),
    ],
)
def test_a_size_to_be_checked_is_known_once_a_person_has_looked(surveyor, changes, state):
    thing = make_object(size_state="check")

    surveyor.post(f"/catalogue/{thing.pk}/edit/", {**edit(surveyor, thing), **changes})

    thing.refresh_from_db()
    assert thing.size_state == state


def test_how_an_object_may_lie_is_recorded_and_shown(surveyor):
    thing = make_object()
    opened = edit(surveyor, thing)

    surveyor.post(
        f"/catalogue/{thing.pk}/edit/", {**opened, "may_lie": "laid_down", "measured_with": "nothing"}
    )

    thing.refresh_from_db()
    assert (opened["may_lie"], opened["measured_with"]) == ("", "")
    assert (thing.may_lie, thing.measured_with) == ("laid_down", "nothing")
    page = surveyor.get(f"/objects/{thing.pk}/").text
    assert "<dt>How it may lie</dt><dd>Also laid down on its back or side</dd>" in page
    assert "<dt>Measured with</dt><dd>Nothing else</dd>" in page


@pytest.mark.parametrize("name", ["may_lie", "measured_with"])
def test_a_way_of_lying_that_is_not_offered_is_refused(surveyor, name):
    thing = make_object()

    page = surveyor.post(f"/catalogue/{thing.pk}/edit/", {**edit(surveyor, thing), name: "floating"})

    assert list(page.context["form"].errors) == [name]


def test_the_records_and_the_planner_know_the_same_ways_to_lie():
    assert set(CatalogueObject.MayLie) | {""} == set(MayLie)
    assert set(CatalogueObject.MeasuredWith) | {""} == set(MeasuredWith)


@pytest.mark.parametrize("height", ["0", "-3 in", "tall", "40 m"])
def test_an_unusable_size_is_refused_beside_its_field(surveyor, height):
    thing = make_object()

    page = surveyor.post(f"/catalogue/{thing.pk}/edit/", {**edit(surveyor, thing), "height_mm": height})

    assert list(page.context["form"].errors) == ["height_mm"]
    assert height in page.context["form"].errors["height_mm"][0]


def test_a_number_that_is_taken_is_refused(surveyor):
    make_object(number="1990.1")
    thing = make_object(number="1990.2")

    page = surveyor.post(f"/catalogue/{thing.pk}/edit/", {**edit(surveyor, thing), "number": "1990.1"})

    assert page.context["form"].errors == {
        "number": ["Another object has this number. Enter another, or change that object."]
    }


def test_of_two_people_saving_the_second_sees_both_values_and_loses_nothing(surveyor):
    thing = make_object(name="Bowl", height_mm=Decimal("254"))
    first, second = edit(surveyor, thing), edit(surveyor, thing)
    surveyor.post(f"/catalogue/{thing.pk}/edit/", {**first, "height_mm": "11", "priority": "A"})

    page = surveyor.post(f"/catalogue/{thing.pk}/edit/", {**second, "height_mm": "12", "name": "Dish"})

    assert page.context["conflicts"] == [
        "Height: theirs “11 in”, yours “12”",
        "Priority: theirs “A: first”, yours “B: next”",
    ]
    kept = page.context["form"]
    assert [kept[name].value() for name in ("name", "height_mm", "priority")] == ["Dish", "12", "A"]
    thing.refresh_from_db()
    assert (thing.name, thing.height_mm) == ("Bowl", Decimal("279.4"))


def test_saving_again_after_a_conflict_keeps_the_work_of_both(surveyor):
    thing = make_object(name="Bowl")
    first, second = edit(surveyor, thing), edit(surveyor, thing)
    surveyor.post(f"/catalogue/{thing.pk}/edit/", {**first, "priority": "A"})
    page = surveyor.post(f"/catalogue/{thing.pk}/edit/", {**second, "name": "Dish"})

    surveyor.post(f"/catalogue/{thing.pk}/edit/", page.context["form"].data.dict())

    thing.refresh_from_db()
    assert (thing.name, thing.priority, thing.version) == ("Dish", "A", 3)


def test_a_viewer_edits_nothing(client):
    client.force_login(make_user("viewer"))

    assert client.get(f"/catalogue/{make_object().pk}/edit/").status_code == 403


def test_a_missing_object_is_not_found(surveyor):
    assert surveyor.get("/catalogue/999/edit/").status_code == 404


# ---- Photos ----------------------------------------------------------------------------------------------


def picture() -> SimpleUploadedFile:
    kept = BytesIO()
    Image.new("RGB", (3200, 800), "teal").save(kept, "PNG")
    return SimpleUploadedFile("jar.png", kept.getvalue(), "image/png")


def test_a_photo_is_made_smaller_and_shown_to_whoever_is_signed_in(surveyor):
    thing = make_object()

    surveyor.post(f"/catalogue/{thing.pk}/edit/", {**edit(surveyor, thing), "photo": picture()})

    answer = surveyor.get(f"/catalogue/{thing.pk}/photo/")
    assert answer["Content-Type"] == "image/jpeg"
    assert Image.open(BytesIO(answer.getvalue())).size == (1600, 400)


def test_a_file_that_is_no_picture_is_refused(surveyor):
    thing = make_object()
    script = SimpleUploadedFile("jar.png", b"<script>", "image/png")

    page = surveyor.post(f"/catalogue/{thing.pk}/edit/", {**edit(surveyor, thing), "photo": script})

    assert list(page.context["form"].errors) == ["photo"]


def test_a_photo_that_breaks_off_is_refused(surveyor):
    thing, whole = make_object(), BytesIO()
    Image.effect_noise((400, 400), 90).save(whole, "JPEG")
    half = SimpleUploadedFile("jar.jpg", whole.getvalue()[: len(whole.getvalue()) // 2], "image/jpeg")

    page = surveyor.post(f"/catalogue/{thing.pk}/edit/", {**edit(surveyor, thing), "photo": half})

    assert "breaks off" in page.context["form"].errors["photo"][0]


def test_an_object_without_a_photo_has_none_to_show(surveyor):
    assert surveyor.get(f"/catalogue/{make_object().pk}/photo/").status_code == 404


# ---- Locations -------------------------------------------------------------------------------------------


def test_the_tree_counts_what_is_in_a_place_and_below(surveyor):
    room = make_location("Room", parent=make_location("Wing"))
    make_object(location=room)
    make_object(location=make_location("Shelf", parent=room))

    rows = surveyor.get("/catalogue/locations/").context["rows"]

    assert [(row.location.name, row.depth, row.here, row.in_all) for row in rows] == [
        ("Wing", 0, 0, 2), ("Room", 1, 1, 2), ("Shelf", 2, 1, 1),
    ]  # fmt: skip


def test_renaming_a_place_takes_along_what_lies_in_it(surveyor):
    wing = make_location("Wing")
    make_location("Shelf", parent=make_location("Room", parent=wing))

    surveyor.post(f"/catalogue/locations/{wing.pk}/edit/", {"name": "Hall", "kind": "building"})

    assert [place.path for place in Location.objects.all()] == ["Hall", "Hall / Room", "Hall / Room / Shelf"]


@pytest.mark.parametrize(
    ("sent", "field"),
    [({"name": "Hall"}, "name"), ({"name": "A/B"}, "name"), ({"name": ""}, "name")],
)
def test_a_name_that_cannot_be_used_is_refused(surveyor, sent, field):
    make_location("Hall")

    page = surveyor.post("/catalogue/locations/new/", {"kind": "room", **sent})

    assert list(page.context["form"].errors) == [field]


def test_a_place_cannot_lie_in_itself(surveyor):
    wing = make_location("Wing")
    room = make_location("Room", parent=wing)
    sent = {"name": "Wing", "kind": "building", "parent": room.pk}

    page = surveyor.post(f"/catalogue/locations/{wing.pk}/edit/", sent)

    assert list(page.context["form"].errors) == ["parent"]


def test_one_place_and_three_take_as_many_queries(surveyor, django_assert_num_queries):
    make_location()
    surveyor.get("/catalogue/locations/")
    with CaptureQueriesContext(connection) as first:
        surveyor.get("/catalogue/locations/")
    make_location()
    make_location()

    with django_assert_num_queries(len(first)):
        surveyor.get("/catalogue/locations/")


# ---- Preferences -----------------------------------------------------------------------------------------


def test_each_reader_chooses_her_own_unit_paper_language_and_hand(client):
    user = make_user("viewer")
    client.force_login(user)

    client.post(
        "/catalogue/preferences/",
        {"length_unit": "mm", "paper": "letter", "language": "fr", "hand": "left"},
    )

    chosen = Preferences.objects.get(user=user)
    assert (chosen.length_unit, chosen.paper, chosen.language, chosen.hand) == ("mm", "letter", "fr", "left")


@pytest.mark.parametrize("page", ["new/", "1/edit/", "1/photo/", "locations/", "preferences/"])
def test_nobody_gets_in_without_signing_in(client, page):
    assert client.get(f"/catalogue/{page}").url == f"/accounts/login/?next=/catalogue/{page}"
