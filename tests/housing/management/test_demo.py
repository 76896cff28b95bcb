"""The demo: an invented museum's lists through the same import as a user's, then the whole plan."""

import json
import subprocess
import sys
from decimal import Decimal
from io import StringIO

import pytest
from django.core.management import call_command
from django.db import transaction
from django.test import override_settings
from django.urls import reverse
from django.utils import timezone

from boards.core.money import to_cents
from boards.models import SheetSize, StockMovement
from housing.core.enclosures.form import BOARD
from housing.management import serving
from housing.management.demo_collection import CAMPAIGN, PILOT
from housing.models import Blank, Campaign, FitCheck, Hold, HousedPhoto, Housing, PlannedSheet, Task
from objects.models import CatalogueObject
from tests.factories import balance_of

# One load of about ten seconds serves all the statements below.
pytestmark = pytest.mark.xdist_group("demo")
OPEN = ("waiting", "planned", "in_work", "made")


@pytest.fixture(scope="module")
def demo(django_db_setup, django_db_blocker, tmp_path_factory):
    """The summary that `demo --no-serve --json` prints; its records are gone after these tests."""
    media = override_settings(MEDIA_ROOT=tmp_path_factory.mktemp("media"))
    with django_db_blocker.unblock(), media, transaction.atomic():
        yield _summary()
        transaction.set_rollback(True)


def _summary() -> dict:
    out = StringIO()
    call_command("demo", "--no-serve", "--json", stdout=out, stderr=StringIO())
    return json.loads(out.getvalue())


def test_it_has_the_collection_that_the_scenario_tells(demo):
    assert CatalogueObject.objects.count() >= 240
    assert CatalogueObject.objects.exclude(location=None).values("location").distinct().count() == 40
    assert demo["objects"] == demo["housings_planned"] + sum(demo["housings_waiting"].values())


def test_what_cannot_be_made_is_counted_apart_by_its_reason(demo):
    assert set(demo["housings_waiting"]) == {"unmeasured", "check", "refused", "too_large"}
    assert not Housing.objects.filter(status="waiting", problem_note="").exists()


def test_every_planned_box_has_its_blanks_on_a_sheet(demo):
    of_move = {"housing__campaign__name": CAMPAIGN, "housing__status": "planned"}
    planned = Blank.objects.filter(material=BOARD, **of_move)  # foam is not nested

    assert planned.count() == demo["blanks"]
    assert not planned.filter(placements=None).exists()
    sheets = PlannedSheet.objects.filter(plan__campaign__name=CAMPAIGN)
    assert sum(demo["sheets_by_board"].values()) == sheets.count()


def test_the_costs_of_the_boxes_and_of_the_categories_add_up_to_the_budget(demo):
    # those that wait are measured, which costs something too
    boxes = Housing.objects.filter(campaign__name=CAMPAIGN)

    assert str(to_cents(sum((box.cost for box in boxes), Decimal()))) == demo["cost"]
    assert str(sum(map(Decimal, demo["cost_by_category"].values()))) == demo["cost"]
    assert {"board", "adhesive", "padding", "labour"} <= set(demo["cost_by_category"])


def test_every_task_has_a_person_or_says_why_not(demo):
    assert not Task.objects.filter(person=None, reason="").exists()
    tasks = Task.objects.filter(housing__campaign__name=CAMPAIGN)
    assert sum(demo["tasks_by_person"].values()) == tasks.count()


def test_the_pilot_has_met_with_all_that_happens_at_a_bench(demo):
    boxes = Housing.objects.filter(campaign__name=PILOT)

    assert {"housed", "dropped", "waiting"} <= set(boxes.values_list("status", flat=True))
    assert boxes.filter(remake_of__isnull=False, problem="remake").count() == 1
    assert set(FitCheck.objects.values_list("remedy", flat=True)) == {"", "adjust", "remake"}
    assert Hold.objects.filter(answered_at=None, housing__in=boxes).count() == 1
    assert StockMovement.objects.filter(kind="write_off", reason="miscut").count() == 1
    assert HousedPhoto.objects.filter(housing__in=boxes).exists()
    # what the ledgers say is what there is: sums told apart from the balances that are kept
    for size in SheetSize.objects.all():
        last = size.movements.order_by("sequence").last()
        assert balance_of(size) == (last.balance if last else 0)


def test_what_the_pilot_did_lies_in_the_past_and_in_its_order(demo):
    done = Task.objects.filter(housing__campaign__name=PILOT, state="done").exclude(done_at=None)

    assert done.filter(done_at__gt=timezone.now()).count() == 0
    for housing in Housing.objects.filter(campaign__name=PILOT, status="housed"):
        order = list(housing.tasks.order_by("done_at", "sequence").values_list("sequence", flat=True))
        assert order == sorted(order)
        trail = list(housing.events.order_by("at", "pk").values_list("status", flat=True))
        assert trail == ["planned", "in_work", "made", "housed"]


def test_the_pages_show_the_same_figures(demo, client):
    client.login(username="manager", password="board-and-bone-folder")
    campaign = Campaign.objects.get(name=CAMPAIGN)

    budget = client.get(reverse("housing:campaign-budget", args=[campaign.pk])).content.decode()
    home = client.get(reverse("housing:home")).content.decode()

    assert f"{Decimal(demo['cost']):,.2f}" in budget
    assert f"{demo['labour_hours']}" in budget
    still = demo["unhoused"] + Housing.objects.filter(campaign__name=PILOT, status__in=OPEN).count()
    assert f"<b>{still}</b> still unhoused" in home


def test_a_second_start_keeps_what_was_entered(demo):
    box = Housing.objects.filter(campaign__name=CAMPAIGN, status="planned").first()
    box.design_reason = "Entered by hand"
    box.save()

    assert _summary() == demo
    assert Housing.objects.get(pk=box.pk).design_reason == "Entered by hand"


@pytest.mark.django_db  # one marked test, so that there are records to load into when these run alone
def test_a_worker_in_the_middle_of_long_work_is_not_waited_for(monkeypatch):
    monkeypatch.setattr(serving, "WORKER_GRACE_SECONDS", 0.1)
    deaf = "import signal, time; signal.signal(signal.SIGTERM, signal.SIG_IGN); print(flush=True)"
    worker = subprocess.Popen([sys.executable, "-c", f"{deaf}; time.sleep(60)"], stdout=subprocess.PIPE)
    with worker.stdout:
        worker.stdout.readline()  # it does not hear the signal from here on

        serving.stop(worker)

    assert worker.returncode is not None
