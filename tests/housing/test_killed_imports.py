"""A worker killed while it saves a list leaves nothing of it; the next one takes it up and finishes."""

import signal

import pytest

from housing.intake.imports import stage_list
from tests.factories import make_object
from tests.shared_database import SharedDatabase

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.any_database]
TABLES = ("objects_catalogueobject", "objects_location", "objects_importedrow", "objects_listimport")

# A worker that stops, waiting to be killed, when all is stored but the transaction has not ended.
WORKER = """
import sys, time, django
django.setup()
from django.core.management import call_command
from housing.intake import saving
from housing.management.commands.worker import at_work, take_up_interrupted
def stop(*_):
    print("in the middle", flush=True)
    time.sleep(600)
if "stop" in sys.argv:
    saving._mark_plans = stop
with at_work(first_if_alone=take_up_interrupted):
    call_command("db_worker", verbosity=0, batch=True)
"""
QUEUE = """
import django
django.setup()
from housing.intake.jobs import start_list_job
from objects.models import ListImport
start_list_job(kind="import", listed=ListImport.objects.get())
"""


def test_a_worker_killed_while_it_stores_a_list_leaves_nothing_and_the_next_one_finishes(tmp_path):
    make_object(number="7.1", name="Bowl")
    data = b"Number,Name,Location\n7.1,Dish,House / Room\n7.2,Cup,House\n"
    stage_list(kind="objects", file_name="list.csv", data=data)
    shared = SharedDatabase(tmp_path)
    with shared.start(QUEUE) as queueing:
        assert queueing.wait() == 0
    before = {table: shared.rows(table) for table in TABLES}

    with shared.start(WORKER, "stop") as killed:
        assert killed.stdout.readline() == "in the middle\n"
        killed.send_signal(signal.SIGKILL)
    left = {table: shared.rows(table) for table in TABLES}
    job_left = shared.rows("housing_job", "state, percent")
    with shared.start(WORKER) as next_one:
        assert next_one.wait() == 0

    assert left == before
    assert job_left == [("running", 95)]
    assert shared.rows("housing_job", "state, message") == [("done", "“list.csv” is saved.")]
    assert shared.rows("objects_catalogueobject", "number, name") == [("7.1", "Dish"), ("7.2", "Cup")]
    assert shared.rows("objects_importedrow", "line, status") == [(2, "changed"), (3, "new")]
