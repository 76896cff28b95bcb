"""The worker takes up what a killed worker had begun."""

from functools import partial
from io import StringIO

import pytest
from django.db import connection
from django.tasks import TaskResultStatus
from django.utils import timezone
from django_tasks_db.models import DBTaskResult

from housing.management.commands import worker
from housing.management.commands.worker import Command, at_work, take_up_interrupted
from housing.models import Job
from housing.services.jobs import run_job


def test_interrupted_work_goes_back_into_the_queue(db):
    job = Job.objects.create(kind="plan", title="Plan", state="running", percent=40)
    left = make_entry(TaskResultStatus.RUNNING, job.pk)
    done = make_entry(TaskResultStatus.SUCCESSFUL)

    taken_up = take_up_interrupted()

    assert taken_up == 1
    left.refresh_from_db()
    done.refresh_from_db()
    job.refresh_from_db()
    assert (left.status, done.status) == (TaskResultStatus.READY, TaskResultStatus.SUCCESSFUL)
    assert (job.state, job.percent, job.stage) == ("waiting", 0, "Begun again after a restart")


def test_work_that_was_cancelled_while_no_worker_ran_is_not_begun_again(db):
    job = Job.objects.create(kind="plan", title="Plan", state="running", wish="cancel")
    make_entry(TaskResultStatus.RUNNING, job.pk)

    take_up_interrupted()

    job.refresh_from_db()
    assert (job.state, job.message) == ("cancelled", "It was cancelled; nothing was changed.")


def test_work_of_a_worker_stopped_by_force_gets_a_new_entry_in_the_queue(db, settings):
    # A second Ctrl+C lets the worker mark its entry as failed before it ends.
    settings.TASKS = {"default": {"BACKEND": "django_tasks_db.DatabaseBackend"}}
    job = Job.objects.create(kind="plan", title="Plan", state="running")
    make_entry(TaskResultStatus.FAILED, job.pk)

    taken_up = take_up_interrupted()

    (entry,) = DBTaskResult.objects.filter(status=TaskResultStatus.READY)
    assert (taken_up, entry.task_path, entry.args_kwargs["args"]) == (1, run_job.module_path, [job.pk])


def test_a_worker_whose_parent_is_gone_ends_even_if_its_work_goes_on(monkeypatch):
    did = []
    monkeypatch.setattr(worker.os, "getppid", lambda: 1)
    monkeypatch.setattr(worker.os, "kill", lambda process, signal: did.append("asked"))
    monkeypatch.setattr(worker.time, "sleep", lambda seconds: did.append(seconds))
    monkeypatch.setattr(worker.os, "_exit", lambda code: did.append("ended"))

    worker._stop_with(parent=2)

    assert did == ["asked", worker.GRACE_SECONDS, "ended"]


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


def make_entry(status: str, job: int = 1) -> DBTaskResult:
    return DBTaskResult.objects.create(
        status=status,
        task_path="housing.services.jobs.run_job",
        args_kwargs={"args": [job], "kwargs": {}},
        backend_name="default",
        run_after=timezone.now(),
        exception_class_path="",
        traceback="",
    )
