"""The pages of the survey without script: choosing a place, one object after another, deciding, the rules."""

from decimal import Decimal as D
from uuid import uuid4

import pytest
from django.conf import settings
from django.db import connection
from django.test.utils import CaptureQueriesContext

from objects.models import CatalogueObject, MeasuringRules, SurveyEntry
from objects.views.survey import ASSETS, MODULES
from tests.factories import make_location, make_object, make_user
from tests.objects.surveying import BOWL, UNMEASURED

pytestmark = pytest.mark.django_db


@pytest.fixture
def surveyor(client):
    client.user = make_user("surveyor", first_name="Ann", last_name="Lee")
    client.force_login(client.user)
    return client


@pytest.fixture
def shelf(db):
    return make_location("Shelf 2", parent=make_location("Bay A"))


def entry(thing: CatalogueObject | None = None, **given) -> dict:
    """What a browser sends of a form filled in by hand, in inches."""
    return {
        "entry_id": str(uuid4()),
        "object": thing.pk if thing else "",
        "unit": "in",
        "weight_unit": "lb",
        "how": "tape",
        **given,
    }


def page_of(shelf) -> str:
    return f"/catalogue/survey/{shelf.pk}/"


def shown(page) -> str | None:
    row = page.context["row"]
    return row and row["number"]


# ---- Choosing a place ------------------------------------------------------------------------------------


def test_the_places_say_what_is_left_there_and_within(surveyor, shelf):
    make_object(location=shelf, **UNMEASURED)
    make_object(location=shelf)
    make_object(location=shelf.parent, surveyed_at="2026-03-05T10:00Z")

    rows = surveyor.get("/catalogue/survey/").context["rows"]

    assert [(r.location.name, r.depth, r.no_size, r.not_surveyed, r.in_all) for r in rows] == [
        ("Bay A", 0, 1, 2, 3), ("Shelf 2", 1, 1, 2, 2),
    ]  # fmt: skip


def test_without_places_the_page_says_what_to_do(surveyor):
    assert "No locations yet" in surveyor.get("/catalogue/survey/").text


def test_one_place_and_three_take_as_many_queries(surveyor, django_assert_num_queries):
    make_location()
    surveyor.get("/catalogue/survey/")
    with CaptureQueriesContext(connection) as first:
        surveyor.get("/catalogue/survey/")
    make_location()
    make_location()

    with django_assert_num_queries(len(first)):
        surveyor.get("/catalogue/survey/")


# ---- One object after another ----------------------------------------------------------------------------


def test_objects_are_offered_unmeasured_first_then_doubtful_then_not_looked_at(surveyor, shelf):
    make_object(number="1", location=shelf, surveyed_at="2026-03-05T10:00Z")
    make_object(number="2", location=shelf)
    make_object(number="3", location=shelf, size_state="check")
    make_object(number="4", location=shelf.parent, **UNMEASURED)

    page = surveyor.get(page_of(shelf.parent))

    assert [row["number"] for row in page.context["rows"]] == ["4", "3", "2", "1"]
    assert (shown(page), page.context["left"]) == ("4", 3)


def test_saving_goes_on_to_the_next(surveyor, shelf):
    first = make_object(number="1", location=shelf, **UNMEASURED)
    make_object(number="2", location=shelf, **UNMEASURED)

    page = surveyor.post(
        page_of(shelf),
        entry(first, height_mm="10", width_mm="8 3/4", depth_mm="18,0975 cm", weight_g="2 lb 4 oz"),
        follow=True,
    )

    first.refresh_from_db()
    assert first.sides_mm == BOWL
    assert first.weight_g == D("1020.6")  # 2 x 453.59237 + 4 x 28.349523 = 1020.58 g
    assert (shown(page), SurveyEntry.objects.get().by) == ("2", surveyor.user)


def test_millimetres_are_millimetres(surveyor, shelf):
    thing = make_object(location=shelf, **UNMEASURED)

    surveyor.post(page_of(shelf), entry(thing, unit="mm", height_mm="254", weight_g="1,2", weight_unit="kg"))

    kept = SurveyEntry.objects.get()
    assert (kept.height_mm, kept.weight_g) == (D(254), D(1200))


def test_an_object_can_be_skipped(surveyor, shelf):
    first = make_object(number="1", location=shelf)
    make_object(number="2", location=shelf)

    assert shown(surveyor.get(f"{page_of(shelf)}?after={first.pk}")) == "2"


def test_after_the_last_the_first_comes_again(surveyor, shelf):
    make_object(number="1", location=shelf)
    last = make_object(number="2", location=shelf)

    assert shown(surveyor.get(f"{page_of(shelf)}?after={last.pk}")) == "1"


def test_when_all_is_done_the_page_says_so(surveyor, shelf):
    make_object(location=shelf, surveyed_at="2026-03-05T10:00Z")

    page = surveyor.get(page_of(shelf))

    assert shown(page) is None
    assert "Everything here has been measured and looked at." in page.text


def test_an_empty_place_says_so(surveyor, shelf):
    assert "No objects are recorded here." in surveyor.get(page_of(shelf)).text


def test_what_is_not_there_is_noted_as_not_found(surveyor, shelf):
    thing = make_object(location=shelf)

    surveyor.post(page_of(shelf), {**entry(thing), "found": ["here", "missing"]})  # the button comes last

    kept = SurveyEntry.objects.get()
    assert (kept.found, kept.place) == ("missing", shelf)


def test_an_object_of_the_place_is_found_by_its_number(surveyor, shelf):
    make_object(number="1", location=shelf)
    make_object(number="ab.2", location=shelf)

    page = surveyor.get(f"{page_of(shelf)}?number=AB.2")

    assert (shown(page), page.context["is_stray"]) == ("ab.2", False)


def test_an_object_of_another_place_can_be_noted_as_lying_here(surveyor, shelf):
    stray = make_object(number="7", location=make_location("Elsewhere"), **UNMEASURED)
    page = surveyor.get(f"{page_of(shelf)}?number=7")

    surveyor.post(page_of(shelf), entry(stray, height_mm="10", found="elsewhere"))

    assert (shown(page), page.context["is_stray"]) == ("7", True)
    kept = SurveyEntry.objects.get()
    assert (kept.object, kept.found, kept.place) == (stray, "elsewhere", shelf)


def test_a_number_that_no_object_has_is_told(surveyor, shelf):
    page = surveyor.get(f"{page_of(shelf)}?number=1999.9")

    assert page.context["problem"] == (
        "There is no object “1999.9” in the catalogue. Look at its label again."
    )


@pytest.mark.parametrize(
    ("sent", "field"),
    [
        ({"height_mm": "tall"}, "height_mm"),
        ({"height_mm": "40 m"}, "height_mm"),
        ({"weight_g": "-1"}, "weight_g"),
        ({"quantity": "0"}, "quantity"),
        ({"condition": "melted"}, "condition"),
        ({"hazards": ["dragons"]}, "hazards"),
        ({"how": "list"}, "how"),  # only a list says that
        ({"present_housing": "not_needed"}, "present_housing"),  # nobody sees that at a shelf
        ({"measured_at": "yesterday"}, "measured_at"),
        ({"unit": "ells", "note": "Here."}, "unit"),
        ({}, "height_mm"),  # nothing was entered
    ],
)
def test_what_cannot_be_kept_is_refused_beside_its_field(surveyor, shelf, sent, field):
    thing = make_object(number="1", location=shelf)

    page = surveyor.post(page_of(shelf), entry(thing, **sent))

    assert list(page.context["form"].errors) == [field]
    assert (shown(page), SurveyEntry.objects.count()) == ("1", 0)


def test_an_object_taken_out_of_the_catalogue_is_told(surveyor, shelf):
    page = surveyor.post(page_of(shelf), entry(object=999_999, height_mm="10"))

    assert page.context["form"].errors == {"object": ["This object is no longer in the catalogue."]}


def test_a_place_with_too_many_objects_asks_for_a_smaller_one(surveyor, shelf, monkeypatch):
    monkeypatch.setattr("objects.queries.survey.MOST_OBJECTS", 1)
    monkeypatch.setattr("objects.views.survey.MOST_OBJECTS", 1)
    make_object(location=shelf)
    make_object(location=shelf)

    assert "Choose a room, bay or shelf inside it" in surveyor.get(page_of(shelf)).text


def test_one_object_and_three_take_as_many_queries(surveyor, shelf, django_assert_num_queries):
    make_object(location=shelf)
    surveyor.get(page_of(shelf))
    with CaptureQueriesContext(connection) as first:
        surveyor.get(page_of(shelf))
    make_object(location=shelf)
    make_object(location=shelf)

    with django_assert_num_queries(len(first)):
        surveyor.get(page_of(shelf))


def test_hazards_come_with_what_to_mind_and_whom_to_ask(surveyor, shelf):
    make_object(location=shelf, hazards="asbestos")

    page = surveyor.get(page_of(shelf))

    assert page.context["row"]["cautions"][0].startswith("Asbestos: do not open, brush or measure it")
    assert "Ask the safety officer and a conservator before you handle it." in page.text


# ---- What a device sends ---------------------------------------------------------------------------------


def send(client, shelf, thing=None, **given):
    sent = {**entry(thing, **given), "user": given.get("user", client.user.pk)}
    return client.post(f"{page_of(shelf)}entries/", sent)


def test_an_entry_from_a_device_is_answered_with_the_object_as_it_is_now(surveyor, shelf):
    thing = make_object(number="1", location=shelf, **UNMEASURED)
    entry_id = str(uuid4())

    answer = send(
        surveyor, shelf, thing, entry_id=entry_id, height_mm="10", width_mm="8.75", depth_mm="7 1/8"
    )

    said = answer.json()
    assert (answer.status_code, said["entry_id"]) == (200, entry_id)
    assert (said["object"]["state"], said["object"]["size"]) == ("done", "10 × 8 3/4 × 7 1/8 in")


def test_the_time_of_the_device_is_kept(surveyor, shelf):
    thing = make_object(location=shelf)

    send(surveyor, shelf, thing, note="Seen.", measured_at="2026-11-20T10:30:00.000Z")

    assert f"{SurveyEntry.objects.get().measured_at:%Y-%m-%d %H:%M %Z}" == "2026-11-20 10:30 UTC"


def test_a_device_is_told_when_a_measurement_differs(surveyor, shelf):
    thing = make_object(number="1", location=shelf, **UNMEASURED)
    sides = {"width_mm": "8 3/4", "depth_mm": "7 1/8"}
    send(surveyor, shelf, thing, height_mm="10", **sides)

    answer = send(surveyor, shelf, thing, height_mm="11", **sides)

    assert answer.json()["notice"].startswith("1: this differs from the size measured before.")


def test_what_a_device_sends_wrongly_is_refused_by_field(surveyor, shelf):
    answer = send(surveyor, shelf, make_object(location=shelf), height_mm="tall")

    assert (answer.status_code, list(answer.json()["problems"])) == (422, ["height_mm"])
    assert not SurveyEntry.objects.exists()


def test_what_somebody_else_recorded_is_not_kept_under_another_name(surveyor, shelf):
    answer = send(surveyor, shelf, make_object(location=shelf), height_mm="10", user=surveyor.user.pk + 1)

    assert (answer.status_code, SurveyEntry.objects.count()) == (409, 0)


def test_two_people_at_one_shelf_both_keep_their_entries(surveyor, client, shelf):
    thing = make_object(location=shelf, **UNMEASURED)
    send(surveyor, shelf, thing, height_mm="10", width_mm="8", depth_mm="7")
    client.user = make_user("surveyor")
    client.force_login(client.user)

    send(client, shelf, thing, height_mm="10 1/16", width_mm="8", depth_mm="7")

    assert SurveyEntry.objects.filter(object=thing, state="good").count() == 2
    listed = client.get(f"{page_of(shelf)}objects/").json()["objects"]
    assert [(row["state"], row["size"]) for row in listed] == [("done", "10 1/16 × 8 × 7 in")]


def test_the_worker_is_served_with_all_that_a_device_keeps(client):
    answer = client.get("/catalogue/survey/worker.js")

    assert (answer.status_code, answer["Content-Type"]) == (200, "text/javascript")
    assert "'self'" in answer["Content-Security-Policy"]
    for name in (*ASSETS, *MODULES):
        assert f'"{settings.STATIC_URL}{name}"' in answer.text.replace("\\u002D", "-")


def test_every_script_of_the_survey_is_kept_on_the_device():
    folder = settings.BASE_DIR / "housing" / "static"
    scripts = {str(path.relative_to(folder)) for path in folder.glob("housing/survey*.js")}

    assert scripts <= {*ASSETS, *MODULES}


# ---- The object's page -----------------------------------------------------------------------------------


@pytest.fixture
def disputed(surveyor, shelf):
    """A bowl measured twice, the second time 1 in taller."""
    thing = make_object(number="1", location=shelf, **UNMEASURED)
    for height in ("10", "11"):
        send(surveyor, shelf, thing, height_mm=height, width_mm="8 3/4", depth_mm="7 1/8")
    return thing


def test_all_measurements_stand_on_the_objects_page(surveyor, disputed):
    page = surveyor.get(f"/objects/{disputed.pk}/").text

    assert "11 × 8 3/4 × 7 1/8 in" in page
    assert page.count("Ann Lee") >= 2
    assert "Use this one" in page and "Keep the size in use" in page


def test_a_decision_is_taken_on_the_objects_page(surveyor, disputed):
    second = disputed.survey_entries.get(state="differs")

    answer = surveyor.post(f"/catalogue/measurements/{second.pk}/decide/", {"decision": "use"})

    disputed.refresh_from_db()
    assert (answer.url, disputed.height_mm) == (f"/objects/{disputed.pk}/", D("279.4"))  # 11 x 25.4


def test_a_decision_that_is_not_open_is_told(surveyor, disputed):
    first = disputed.survey_entries.get(state="good")

    page = surveyor.post(f"/catalogue/measurements/{first.pk}/decide/", {"decision": "use"}, follow=True)

    assert "This was decided already." in page.text


def test_whoever_may_not_decide_sees_the_measurements_without_buttons(client, disputed):
    client.force_login(make_user("viewer"))

    page = client.get(f"/objects/{disputed.pk}/").text

    assert "11 × 8 3/4 × 7 1/8 in" in page
    assert "Use this one" not in page


def test_an_object_nobody_measured_leads_to_its_shelf(surveyor, shelf):
    thing = make_object(location=shelf)

    page = surveyor.get(f"/objects/{thing.pk}/").text

    assert f'href="{page_of(shelf)}?object={thing.pk}"' in page


def test_one_measurement_and_three_take_as_many_queries(surveyor, shelf, django_assert_num_queries):
    thing = make_object(location=shelf, **UNMEASURED)
    send(surveyor, shelf, thing, height_mm="10")
    surveyor.get(f"/objects/{thing.pk}/")
    with CaptureQueriesContext(connection) as first:
        surveyor.get(f"/objects/{thing.pk}/")
    queries = len(first)
    send(surveyor, shelf, thing, height_mm="10")
    send(surveyor, shelf, thing, height_mm="10")

    with django_assert_num_queries(queries):
        surveyor.get(f"/objects/{thing.pk}/")


def test_an_entry_without_a_photo_has_none_to_show(surveyor, disputed):
    kept = disputed.survey_entries.first()

    assert surveyor.get(f"/catalogue/measurements/{kept.pk}/photo/").status_code == 404


# ---- The rules -------------------------------------------------------------------------------------------


def test_a_manager_sets_how_far_measurements_may_differ(client):
    client.force_login(make_user("manager"))

    client.post("/catalogue/measuring/", {"tolerance_mm": "1/8 in", "tolerance_percent": "0.5"})

    rules = MeasuringRules.objects.get()
    assert (rules.tolerance_mm, rules.tolerance_percent) == (D("3.175"), D("0.5"))  # 25.4 / 8


@pytest.mark.parametrize(
    ("sent", "field"),
    [
        ({"tolerance_mm": "-1"}, "tolerance_mm"),
        ({"tolerance_mm": "2 m"}, "tolerance_mm"),
        ({"tolerance_percent": "101"}, "tolerance_percent"),
    ],
)
def test_rules_that_make_no_sense_are_refused(client, sent, field):
    client.force_login(make_user("manager"))

    page = client.post("/catalogue/measuring/", {"tolerance_mm": "3 mm", "tolerance_percent": "1", **sent})

    assert (list(page.context["form"].errors), MeasuringRules.objects.count()) == ([field], 0)


# ---- Who may ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("role", ["viewer", "maker", ""])
def test_only_surveyors_and_managers_measure(client, shelf, role):
    client.user = make_user(role)
    client.force_login(client.user)
    thing = make_object(location=shelf)

    answers = [
        client.get("/catalogue/survey/"),
        client.get(page_of(shelf)),
        client.get(f"{page_of(shelf)}objects/"),
        client.post(page_of(shelf), entry(thing, height_mm="10")),
        send(client, shelf, thing, height_mm="10"),
    ]

    assert [answer.status_code for answer in answers] == [403] * 5
    assert not SurveyEntry.objects.exists()


@pytest.mark.parametrize("role", ["surveyor", "maker", "viewer"])
def test_only_managers_set_the_rules(client, role):
    client.force_login(make_user(role))

    assert client.get("/catalogue/measuring/").status_code == 403


def test_only_surveyors_and_managers_decide(client, disputed):
    client.force_login(make_user("maker"))
    second = disputed.survey_entries.get(state="differs")

    answer = client.post(f"/catalogue/measurements/{second.pk}/decide/", {"decision": "use"})

    second.refresh_from_db()
    assert (answer.status_code, second.state) == (403, "differs")


def test_a_place_that_does_not_exist_is_not_found(surveyor):
    assert surveyor.get("/catalogue/survey/999999/").status_code == 404


@pytest.mark.parametrize("page", ["survey/", "survey/1/", "survey/1/objects/", "measuring/"])
def test_nobody_gets_in_without_signing_in(client, page):
    assert client.get(f"/catalogue/{page}").url == f"/accounts/login/?next=/catalogue/{page}"
