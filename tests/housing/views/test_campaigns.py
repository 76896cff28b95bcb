"""The pages of a campaign: overview, sheets, work and progress; people and jobs."""

from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from boards.services import receive_sheets
from housing.models import Campaign, Job, Person
from housing.services.campaigns import plan_campaign
from housing.services.housings import move_housing
from objects.models import Preferences
from tests.factories import (
    balance_of,
    make_campaign,
    make_design,
    make_housing,
    make_object,
    make_person,
    make_sheet_size,
    make_user,
)

pytestmark = pytest.mark.django_db
PAGES = ("", "plan/", "budget/", "tasks/", "progress/")


@pytest.fixture
def size():
    size = make_sheet_size()
    receive_sheets(sheet_size=size, count=5)
    return size


@pytest.fixture
def campaign(size):
    campaign = make_campaign(make_object(number="2001.1"), make_object(height_mm=None))
    campaign.rules.create(position=1, design=make_design(board=size.board))
    campaign.people.add(make_person())
    return campaign


def campaign_data(**given) -> dict:
    return {
        "name": "The move", "currency": "EUR", "rate_per_hour": "20", "glue_price_kg": "18",
        "kerf_mm": "1 mm", "trim_mm": "0", "offcut_side_mm": "6 in", "offcut_area_mm2": "0", **given,
    }  # fmt: skip


def queries_of(client, address: str) -> int:
    client.get(address)
    with CaptureQueriesContext(connection) as made:
        assert client.get(address).status_code == 200
    return len(made)


@pytest.mark.parametrize("part", PAGES)
@pytest.mark.parametrize("is_planned", [False, True])
def test_every_page_of_a_campaign_opens_before_and_after_planning(manager, campaign, part, is_planned):
    if is_planned:
        plan_campaign(campaign=campaign)

    assert manager.get(f"/campaigns/{campaign.pk}/{part}").status_code == 200


@pytest.mark.parametrize("part", PAGES)
def test_a_page_asks_as_often_for_four_objects_as_for_two(manager, campaign, part):
    address = f"/campaigns/{campaign.pk}/{part}"
    plan_campaign(campaign=campaign)
    once = queries_of(manager, address)
    campaign.objects_in_it.add(make_object(), make_object(depth_mm=None))
    plan_campaign(campaign=campaign)

    assert queries_of(manager, address) == once


def test_the_list_asks_as_often_for_three_campaigns_as_for_one(manager):
    make_campaign()
    once = queries_of(manager, "/campaigns/")
    make_campaign()
    make_campaign()

    assert queries_of(manager, "/campaigns/") == once


def test_a_campaign_is_entered_with_lengths_in_either_unit(manager):
    manager.post("/campaigns/new/", campaign_data())

    made = Campaign.objects.get()
    assert (made.kerf_mm, made.trim_mm) == (1, 0)
    assert made.offcut_side_mm == Decimal("152.4")  # 6 x 25.4


def test_a_new_campaign_starts_with_the_usual_figures(manager):
    form = manager.get("/campaigns/new/").context["form"]

    assert [form[name].value() for name in ("kerf_mm", "trim_mm", "offcut_side_mm")] == [
        "1 mm", "5 mm", "150 mm",
    ]  # fmt: skip


def test_a_campaign_is_entered_with_its_cutting_rules(manager):
    manager.post(
        "/campaigns/new/", campaign_data(offcut_area_mm2="40", use_corners="on", search_seconds="120")
    )

    made = Campaign.objects.get()
    # 40 x 25.4 x 25.4: a number alone is in the reader's unit, and that is square inches
    assert made.offcut_area_mm2 == Decimal("25806.40")
    assert (made.use_corners, made.mix_batches, made.edge_to_edge) == (True, False, False)
    assert made.search_seconds == 120


def test_a_new_campaign_starts_with_the_usual_cutting_rules(manager):
    form = manager.get("/campaigns/new/").context["form"]

    names = ("offcut_area_mm2", "use_corners", "mix_batches", "edge_to_edge", "search_seconds")
    assert [form[name].value() for name in names] == ["0 sq in", True, True, True, None]


@pytest.mark.parametrize(
    ("unit", "shown"),
    [("in", ["250 cm²", "38.8 sq in"]), ("cm", ["250 cm²", "250 cm²"]), ("mm", ["250 cm²", "250 cm²"])],
)  # 250 / 6.4516 = 38.75: square inches would round it, so its field keeps to the unit it was typed in
def test_an_area_stays_exact_when_a_campaign_is_saved_again(client, unit, shown):
    user = make_user("manager")
    Preferences.objects.create(user=user, length_unit=unit)
    client.force_login(user)
    campaign = make_campaign(offcut_area_mm2=Decimal("25000"))
    value = client.get(f"/campaigns/{campaign.pk}/edit/").context["form"]["offcut_area_mm2"].value()

    client.post(f"/campaigns/{campaign.pk}/edit/", campaign_data(offcut_area_mm2=value))

    campaign.refresh_from_db()
    assert (campaign.offcut_area_mm2, value) == (25000, shown[0])
    assert f"on the shorter side and {shown[1]} in area</dd>" in client.get(f"/campaigns/{campaign.pk}/").text


def test_the_page_of_a_campaign_shows_its_cutting_rules(manager):
    usual = make_campaign()
    other = make_campaign(use_corners=False, mix_batches=False, edge_to_edge=False, search_seconds=3600)

    shown = [manager.get(f"/campaigns/{campaign.pk}/").text for campaign in (usual, other)]

    for words in (
        ("Run from edge to edge", "May end anywhere"),
        ("Used for small ones", "Not used"),
        ("May share sheets", "Each cut from sheets of its own"),
        ("As long as the number of blanks suggests", "3,600 seconds"),
    ):
        assert [f"<dd>{word}</dd>" in page for word, page in zip(words, shown, strict=True)] == [True, True]


def test_a_campaign_tells_how_many_boxes_each_batch_has(manager):
    cup, saucer, bowl, jar = (make_object() for _ in range(4))
    campaign = make_campaign(cup, saucer, bowl, jar)
    campaign.memberships.exclude(object=cup).update(batch=2)
    make_housing(cup, saucer, campaign=campaign)  # due with the first of its objects
    make_housing(bowl, campaign=campaign)
    make_housing(jar, campaign=campaign, status="dropped")
    make_campaign(bowl).memberships.update(batch=9)

    page = manager.get(f"/campaigns/{campaign.pk}/")

    assert page.context["batches"] == [
        {"batch": 1, "objects": 1, "boxes": 1}, {"batch": 2, "objects": 3, "boxes": 1},
    ]  # fmt: skip
    assert f'<a href="/objects/?campaign={campaign.pk}&amp;batch=2">Batch 2</a>' in page.text


def test_a_campaign_of_one_batch_has_no_table_of_batches(manager):
    campaign = make_campaign(make_object())

    assert 'id="batches"' not in manager.get(f"/campaigns/{campaign.pk}/").text


def test_the_page_of_a_campaign_asks_as_often_for_three_batches_as_for_one(manager):
    things = [make_object() for _ in range(3)]
    campaign = make_campaign(*things)
    once = queries_of(manager, f"/campaigns/{campaign.pk}/")
    for batch, thing in enumerate(things, start=1):
        campaign.memberships.filter(object=thing).update(batch=batch)

    assert queries_of(manager, f"/campaigns/{campaign.pk}/") == once


def test_changing_a_campaign_makes_its_plan_out_of_date(manager, campaign):
    plan_campaign(campaign=campaign)
    assert manager.get(f"/campaigns/{campaign.pk}/").context["is_current"]

    manager.post(f"/campaigns/{campaign.pk}/edit/", campaign_data())

    assert not manager.get(f"/campaigns/{campaign.pk}/").context["is_current"]


@pytest.mark.parametrize(
    ("given", "is_current"),
    [
        ({}, True),
        ({"name": "The great move", "note": "With a new name", "is_closed": "on"}, True),
        ({"kerf_mm": "2 mm"}, False),
        ({"use_corners": "on"}, False),
        ({"search_seconds": "60"}, False),
    ],
)
def test_words_of_a_campaign_may_change_without_its_plan(manager, campaign, given, is_current):
    address = f"/campaigns/{campaign.pk}/"
    manager.post(f"{address}edit/", campaign_data())
    plan_campaign(campaign=Campaign.objects.get())

    manager.post(f"{address}edit/", campaign_data(**given))

    assert manager.get(address).context["is_current"] == is_current


def test_a_closed_campaign_says_so_and_how_it_is_opened(manager):
    campaign = make_campaign(is_closed=True)

    page = manager.get(f"/campaigns/{campaign.pk}/").content.decode()

    assert "The campaign is closed: nothing more is planned." in page
    assert f'<a href="/campaigns/{campaign.pk}/edit/">Open it again</a>' in page


def test_what_waits_is_shown_apart_with_a_link_to_all_of_it(manager, campaign):
    plan_campaign(campaign=campaign)

    ((group, url),) = manager.get(f"/campaigns/{campaign.pk}/").context["waiting"]

    assert (group.problem, group.number) == ("unmeasured", 1)
    assert url == f"/objects/?campaign={campaign.pk}&problem=unmeasured"


def test_plan_it_starts_one_job_however_often_it_is_pressed(manager, campaign):
    first = manager.post(f"/campaigns/{campaign.pk}/make-plan/")
    second = manager.post(f"/campaigns/{campaign.pk}/make-plan/")

    job = Job.objects.get()
    assert job.parameters == {"campaign": campaign.pk}
    assert first.url == second.url == f"/jobs/{job.pk}/"


def test_a_running_job_looks_again_by_itself_and_a_finished_one_stops(manager):
    job = Job.objects.create(kind="plan", title="Plan", state="running", percent=40)
    poll = f'hx-get="/jobs/{job.pk}/"'
    partial = {"HX-Request": "true"}

    running = manager.get(f"/jobs/{job.pk}/", headers=partial).content.decode()
    Job.objects.update(state="failed", message="There is no sheet.")
    over = manager.get(f"/jobs/{job.pk}/", headers=partial).content.decode()

    assert poll in running and "<html" not in running
    assert poll not in over and "There is no sheet." in over


def test_each_sheet_is_drawn_with_the_number_of_its_object(manager, campaign):
    plan_campaign(campaign=campaign)

    (drawn, *_) = manager.get(f"/campaigns/{campaign.pk}/plan/").context["drawn"]

    thing = campaign.objects_in_it.get(number="2001.1")
    assert ("2001.1 base", f"/objects/{thing.pk}/") in drawn.pieces
    assert "2001.1 base" in drawn.svg


def test_a_sheet_is_noted_as_cut(manager, campaign, size):
    sheet = plan_campaign(campaign=campaign).sheets.first()

    answer = manager.post(f"/sheets/{sheet.pk}/cut/")

    assert answer.url.endswith(f"#sheet-{sheet.position}")
    assert balance_of(size) == 4  # 5 - 1


def test_progress_counts_what_reached_its_shelf_this_week(manager, campaign):
    plan_campaign(campaign=campaign)
    housing = campaign.housings.get(status="planned")
    for status in ("in_work", "made", "housed"):
        move_housing(housing=housing, status=status)

    shown = manager.get(f"/campaigns/{campaign.pk}/progress/").context

    assert (shown["housed"], shown["total"]) == (1, 2)
    assert [number for _, number in shown["weeks"]] == [1]
    assert [row["label"] for row in shown["steps"]][0] == "Measure"


def test_a_person_is_entered_with_skills(manager):
    manager.post(
        "/people/new/",
        {
            "name": "Ada",
            "kind": "staff",
            "hours_per_week": "20",
            "rate_per_hour": "24",
            "skills": ["cut", "fold"],
        },
    )

    assert Person.objects.get().skill_set == {"cut", "fold"}
    assert manager.get("/people/").status_code == 200


# ---- Refused ---------------------------------------------------------------------------------------------


def test_a_sheet_cut_twice_is_refused_with_a_sentence(manager, campaign, size):
    sheet = plan_campaign(campaign=campaign).sheets.first()
    manager.post(f"/sheets/{sheet.pk}/cut/")

    answer = manager.post(f"/sheets/{sheet.pk}/cut/", follow=True)

    assert "was cut already" in [str(message) for message in answer.context["messages"]][-1]
    assert balance_of(size) == 4
    assert "#" not in answer.redirect_chain[-1][0]  # the sentence stands at the top, far above the sheet


def test_a_closed_campaign_is_not_planned(manager):
    campaign = make_campaign(make_object(), is_closed=True)

    manager.post(f"/campaigns/{campaign.pk}/make-plan/")

    assert not Job.objects.exists()


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("name", ""), ("kerf_mm", "3 in"), ("trim_mm", "5 m"), ("offcut_side_mm", "0"),
        ("rate_per_hour", "-1"), ("kerf_mm", "narrow"), ("offcut_area_mm2", "-1"), ("offcut_area_mm2", ""),
        ("offcut_area_mm2", "6 in"), ("search_seconds", "4"), ("search_seconds", "3601"),
        ("search_seconds", "-1"), ("search_seconds", "a minute"),
    ],
)  # fmt: skip
def test_a_figure_that_cannot_be_is_refused_beside_its_field(manager, field, value):
    answer = manager.post("/campaigns/new/", campaign_data(**{field: value}))

    assert list(answer.context["form"].errors) == [field]
    assert len(answer.context["form"].errors[field]) == 1


def test_more_hours_than_a_week_can_hold_are_refused(manager):
    answer = manager.post("/people/new/", {"name": "Ada", "kind": "staff", "hours_per_week": "90"})

    assert answer.context["form"].errors["hours_per_week"] == ["Enter 0 to 80."]


@pytest.mark.parametrize("address", ["make-plan/", "edit/"])
def test_a_maker_changes_no_campaign(client, campaign, address):
    client.force_login(make_user("maker"))

    assert client.post(f"/campaigns/{campaign.pk}/{address}").status_code == 403


def test_a_viewer_cuts_no_sheet(client, campaign):
    sheet = plan_campaign(campaign=campaign).sheets.first()
    client.force_login(make_user("viewer"))

    assert client.post(f"/sheets/{sheet.pk}/cut/").status_code == 403


def test_planning_by_following_a_link_is_refused(manager, campaign):
    assert manager.get(f"/campaigns/{campaign.pk}/make-plan/").status_code == 405


def test_who_is_not_signed_in_is_asked_to(client, campaign):
    assert client.get(f"/campaigns/{campaign.pk}/").status_code == 302


def test_a_campaign_that_is_not_there_is_missing(manager):
    assert manager.get("/campaigns/999/").status_code == 404
