"""Nothing is lost by one press: what deletes, drops or undoes asks first, or can be taken back."""

import re
from collections.abc import Iterator

import pytest
from django.apps import apps
from django.urls import URLPattern, URLResolver, get_resolver, reverse
from django.utils import timezone

from boards.models import BoardStatement, Supplier, Supply
from housing.models import (
    Absence,
    Grade,
    Housing,
    Job,
    Phase,
    ReadyMadeBox,
    Scenario,
    Selection,
    SizeFamily,
    StandardTime,
)
from objects.models import ListImport
from tests.factories import (
    make_board,
    make_campaign,
    make_design,
    make_housing,
    make_object,
    make_person,
    make_sheet,
    make_tasks,
    make_user,
)

pytestmark = pytest.mark.django_db
LOSES = re.compile(r"delete|drop|undo|cancel|reset|forget|gone|reverse|remove|take|spoil|clear")
# What can be taken back, each with how.
TAKEN_BACK = {
    "bench-undo": "an undone step is noted again at the bench; the trail keeps both",
    "stock-undo": "entries of ledgers are never deleted; the sheet is noted again",
    "movement-reverse": "an entry against an entry; both stay in the ledger",
    "supply-reverse": "an entry against an entry; both stay in the ledger",
    "offcut-gone": "offcut-back puts it on the rack again",
    "offcut-take": "offcut-back puts it on the rack again",
    "first-run-remove": "the samples are laid out again by the button beside it",
}
# By a page of its own; in the row of the print, beneath what has to be opened first.
ASKS_IN_ITS_OWN_WAY = {"label-sheet-delete", "print-drop"}


def records() -> dict[str, tuple[str, dict[str, int], dict[str, str]]]:
    """For each route that asks: its name, its arguments, and what its button sends."""
    day = timezone.localdate()
    campaign, board = make_campaign(), make_board()
    design, person = make_design(board=board), make_person()
    rule = campaign.rules.create(position=1, design=design)
    absence = Absence.objects.create(person=person, first_day=day, last_day=day)
    phase = Phase.objects.create(campaign=campaign, name="Grant", starts_on=day, ends_on=day)
    box = ReadyMadeBox.objects.create(name="Cube", inner_x_mm=305, inner_y_mm=305, inner_z_mm=305, price=9)
    selection = Selection.objects.create(campaign=campaign, name="Spring")
    family = SizeFamily.objects.create(
        campaign=campaign, name="Cups", design=design, sizes_wanted=2, slack_mm=9
    )
    statement = BoardStatement.objects.create(board=board, standard="iso_18916", stated_by="Supplier")
    time = StandardTime.objects.create(element="cut", low=1, likely=2, high=3, source="Timed")
    waiting = ListImport.objects.create(
        kind="objects", file_name="list.csv", data=b"number\n1\n", reading={"rows": 1}
    )
    saved = ListImport.objects.create(
        kind="objects", state="saved", file_name="old.csv", data=b"", reading={"rows": 1}
    )
    job = Job.objects.create(kind="plan", title="Plan", state="running")
    housing = make_housing(make_object(), campaign=campaign)

    def one(record, **keys) -> dict[str, int]:
        return keys or {"pk": record.pk}

    campaigns = {"pk": campaign.pk}
    return {
        "absence-delete": ("housing", one(absence), {}),
        "phase-delete": ("housing", one(phase), {}),
        "grade-delete": ("housing", one(Grade.objects.create(name="Technician")), {}),
        "ready-made-delete": ("housing", one(box), {}),
        "rule-delete": ("housing", one(rule), {}),
        "scenario-delete": ("housing", one(Scenario.objects.create(campaign=campaign, name="A")), {}),
        "selection-delete": ("housing", {**campaigns, "selection": selection.pk}, {}),
        "size-family-delete": ("housing", {**campaigns, "family": family.pk}, {}),
        "standard-reset": ("housing", one(time), {}),
        "board-correction-forget": ("housing", one(board), {}),
        "import-drop": ("housing", one(waiting), {}),
        "import-undo": ("housing", one(saved), {}),
        "job-cancel": ("housing", one(job), {}),
        "housing-move": ("housing", one(housing), {"status": "dropped"}),
        "statement-delete": ("boards", one(statement), {}),
        "supply-delete": ("boards", one(Supply.objects.create(name="Glue", kind="glue", unit="g")), {}),
        "supplier-delete": ("boards", one(Supplier.objects.create(name="Mill")), {}),
    }


ASKS = (
    "absence-delete", "phase-delete", "grade-delete", "ready-made-delete", "rule-delete", "scenario-delete",
    "selection-delete", "size-family-delete", "standard-reset", "board-correction-forget", "import-drop",
    "import-undo", "job-cancel", "housing-move", "statement-delete", "supply-delete", "supplier-delete",
)  # fmt: skip


def routes(resolver: URLResolver | None = None) -> Iterator[str]:
    for pattern in (resolver or get_resolver()).url_patterns:
        if isinstance(pattern, URLPattern):
            yield pattern.name or ""
        else:
            yield from routes(pattern)


def all_records() -> list:
    """Every row of our own tables, as stored."""
    models = [m for m in apps.get_models() if m._meta.app_label in ("objects", "boards", "housing")]
    return [list(model.objects.order_by("pk").values()) for model in models]


def test_every_route_that_loses_something_is_known_to_ask_or_to_be_taken_back():
    losing = {name for name in routes() if LOSES.search(name)}

    assert losing - {*ASKS, *TAKEN_BACK, *ASKS_IN_ITS_OWN_WAY} == set()
    assert {*ASKS, *TAKEN_BACK, *ASKS_IN_ITS_OWN_WAY} - set(routes()) == set()


@pytest.mark.parametrize("name", ASKS)
def test_without_a_confirmation_nothing_changes(client, name):
    app, keys, sent = records()[name]
    client.force_login(make_user("manager"))
    address, before = reverse(f"{app}:{name}", kwargs=keys), all_records()

    assert client.get(address).status_code == 405
    asked = client.post(address, sent)

    assert asked.status_code == 200
    assert asked.context["asked"].consequences
    assert 'name="confirmed" value="yes"' in asked.text
    assert all(f'name="{key}" value="{value}"' in asked.text for key, value in sent.items())
    assert all_records() == before


@pytest.mark.parametrize("name", ["absence-delete", "rule-delete", "scenario-delete", "supply-delete"])
def test_once_confirmed_it_is_done(client, name):
    app, keys, sent = records()[name]
    client.force_login(make_user("manager"))
    before = all_records()

    answer = client.post(reverse(f"{app}:{name}", kwargs=keys), {**sent, "confirmed": "yes"})

    assert answer.status_code == 302
    assert all_records() != before


@pytest.mark.parametrize("name", ASKS)
def test_whoever_may_not_is_not_even_asked(client, name):
    app, keys, sent = records()[name]
    client.force_login(make_user("viewer"))

    assert client.post(reverse(f"{app}:{name}", kwargs=keys), sent).status_code in (403, 404)


def test_dropping_a_box_is_told_in_numbers(client):
    campaign = make_campaign()
    box = make_housing(make_object(), make_object(), campaign=campaign, status=Housing.Status.PLANNED)
    make_sheet(box)
    make_tasks(box, "cut", "score", "label")
    client.force_login(make_user("maker"))

    asked = client.post(f"/housings/{box.pk}/move/", {"status": "dropped"})

    assert asked.context["asked"].heading == f"Drop {box}?"
    assert asked.context["asked"].consequences == [
        "2 objects are without a box again; what they need is as it was before.",
        "3 steps that are still open leave the work list.",
        "1 sheet not cut yet was planned with its blanks: plan the campaign again, and throw away "
        "its printed cut sheet.",
        "A label that is printed already leads to a page that says the box was dropped.",
    ]


def test_a_box_goes_on_without_being_asked_about(client):
    box = make_housing(make_object(), campaign=make_campaign())
    client.force_login(make_user("maker"))

    client.post(f"/housings/{box.pk}/move/", {"status": "in_work"})

    box.refresh_from_db()
    assert box.status == "in_work"


def test_a_set_asks_before_it_drops_the_boxes_planned_singly(client):
    cup, saucer, campaign = make_object(), make_object(), make_campaign()
    box = make_housing(cup, campaign=campaign, status=Housing.Status.PLANNED)
    client.force_login(make_user("maker"))
    sent = {"action": "together", "campaign": campaign.pk, "object": [cup.pk, saucer.pk], "filter": "q=cup"}

    asked = client.post("/objects/act/", sent)

    assert asked.context["asked"].heading == f"House these objects together and drop {box}?"
    assert asked.text.count('name="object"') == 2
    assert Housing.objects.count() == 1
    client.post("/objects/act/", {**sent, "confirmed": "yes"})
    assert list(Housing.objects.latest("pk").objects_in_it.all()) == [cup, saucer]


def test_the_way_back_leads_to_where_the_button_was(client):
    client.force_login(make_user("manager"))
    supply = Supply.objects.create(name="Glue", kind="glue", unit="g")
    address = f"/boards/supplies/{supply.pk}/delete/"

    here = client.post(address, headers={"referer": "http://testserver/boards/supplies/?a=1"})
    elsewhere = client.post(address, headers={"referer": "https://elsewhere.example/"})

    assert (here.context["back"], elsewhere.context["back"]) == (
        "http://testserver/boards/supplies/?a=1",
        "/",
    )
