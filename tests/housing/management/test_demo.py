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

from boards.core.money import to_cents
from housing.core.enclosures.form import BOARD
from housing.management.commands import demo as command
from housing.models import Blank, Campaign, Housing, PlannedSheet, Task
from objects.models import CatalogueObject

# One load of about ten seconds serves all the statements below.
pytestmark = pytest.mark.xdist_group("demo")


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
    planned = Blank.objects.filter(housing__status="planned", material=BOARD)  # foam is not nested

    assert planned.count() == demo["blanks"]
    assert not planned.filter(placements=None).exists()
    assert sum(demo["sheets_by_board"].values()) == PlannedSheet.objects.count()


def test_the_costs_of_the_boxes_and_of_the_categories_add_up_to_the_budget(demo):
    boxes = Housing.objects.all()  # those that wait are measured, which costs something too

    assert str(to_cents(sum((box.cost for box in boxes), Decimal()))) == demo["cost"]
    assert str(sum(map(Decimal, demo["cost_by_category"].values()))) == demo["cost"]
    assert {"board", "adhesive", "padding", "labour"} <= set(demo["cost_by_category"])


def test_every_task_has_a_person_or_says_why_not(demo):
    assert not Task.objects.filter(person=None, reason="").exists()
    assert sum(demo["tasks_by_person"].values()) == Task.objects.count()


def test_the_pages_show_the_same_figures(demo, client):
    client.login(username="manager", password="board-and-bone-folder")
    campaign = Campaign.objects.get()

    budget = client.get(reverse("housing:campaign-budget", args=[campaign.pk])).content.decode()
    home = client.get(reverse("housing:home")).content.decode()

    assert f"{Decimal(demo['cost']):,.2f}" in budget
    assert f"{demo['labour_hours']}" in budget
    assert f"{demo['unhoused']}" in home


def test_a_second_start_keeps_what_was_entered(demo):
    box = Housing.objects.filter(status="planned").first()
    box.design_reason = "Entered by hand"
    box.save()

    assert _summary() == demo
    assert Housing.objects.get(pk=box.pk).design_reason == "Entered by hand"


def test_a_worker_in_the_middle_of_long_work_is_not_waited_for(monkeypatch):
    monkeypatch.setattr(command, "WORKER_GRACE_SECONDS", 0.1)
    deaf = "import signal, time; signal.signal(signal.SIGTERM, signal.SIG_IGN); print(flush=True)"
    worker = subprocess.Popen([sys.executable, "-c", f"{deaf}; time.sleep(60)"], stdout=subprocess.PIPE)
    with worker.stdout:
        worker.stdout.readline()  # it does not hear the signal from here on

        command._stop(worker)

    assert worker.returncode is not None
