"""The worker takes up what a killed worker had begun."""

from functools import partial
from io import StringIO

import pytest
from django.db import connection
from django.tasks import TaskResultStatus
from django.utils import timezone
from django_tasks_db.models import DBTaskResult

from housing.management.commands.worker import Command, at_work, take_up_interrupted
from housing.models import Job


def test_interrupted_work_goes_back_into_the_queue(db):
    left = make_entry(TaskResultStatus.RUNNING)
    done = make_entry(TaskResultStatus.SUCCESSFUL)
    job = Job.objects.create(kind="plan", title="Plan", state="running", percent=40)

    taken_up = take_up_interrupted()

    assert taken_up == 1
    left.refresh_from_db()
    done.refresh_from_db()
    job.refresh_from_db()
    assert (left.status, done.status) == (TaskResultStatus.READY, TaskResultStatus.SUCCESSFUL)
    assert (job.state, job.percent) == ("waiting", 0)


@pytest.mark.parametrize(("number", "words"), [(1, "1 interrupted piece"), (2, "2 interrupted pieces")])
def test_the_worker_says_how_much_it_takes_up(db, number, words):
    for _ in range(number):
        make_entry(TaskResultStatus.RUNNING)
    said = StringIO()

    Command(stdout=said)._take_up()

    assert said.getvalue() == f"Taking up {words} of work.\n"


@pytest.mark.any_database
def test_a_worker_takes_up_what_was_left_only_while_no_other_works(db):
    alone: list[str] = []
    first, second, third = (partial(alone.append, name) for name in ("first", "second", "third"))

    with at_work(first_if_alone=first), at_work(first_if_alone=second):
        pass
    with at_work(first_if_alone=third):
        pass

    # Several workers may run on PostgreSQL only.
    several = connection.vendor == "postgresql"
    assert alone == (["first", "third"] if several else ["first", "second", "third"])


def make_entry(status: str) -> DBTaskResult:
    return DBTaskResult.objects.create(
        status=status,
        task_path="housing.services.jobs.run_job",
        args_kwargs={"args": [1], "kwargs": {}},
        backend_name="default",
        run_after=timezone.now(),
        exception_class_path="",
        traceback="",
    )
