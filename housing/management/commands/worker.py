"""Does the long work of the queue; a worker that starts alone takes up what a killed one left."""

import os
import signal
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from django.core.management import call_command
from django.core.management.base import BaseCommand
from django.db import connection, transaction
from django.tasks import TaskResultStatus
from django_tasks_db.models import DBTaskResult

from housing.services.jobs import put_back_interrupted, run_job

PARENT_CHECK_SECONDS = 2
GRACE_SECONDS = (
    10  # for the work at hand when the parent is gone; longer work is begun again by the next worker
)
WORKERS = 20_480_117  # of the lock that the workers of one PostgreSQL database share; any number will do


class Command(BaseCommand):
    help = (
        "Does the long work: plans, big prints and long lists. "
        "On SQLite run one; on PostgreSQL as many as you like."
    )

    def add_arguments(self, parser) -> None:
        parser.add_argument("--parent", type=int, help="Stop when this process is gone.")

    def handle(self, *args, parent: int | None = None, **options) -> None:
        if parent:
            threading.Thread(target=_stop_with, args=(parent,), daemon=True).start()
        with at_work(first_if_alone=self._take_up):
            call_command("db_worker", verbosity=0)

    def _take_up(self) -> None:
        if taken_up := take_up_interrupted():
            pieces = "piece" if taken_up == 1 else "pieces"
            self.stdout.write(f"Taking up {taken_up} interrupted {pieces} of work.")


@contextmanager
def at_work(*, first_if_alone: Callable[[], None]) -> Iterator[None]:
    """Counts this worker among those of its database, and calls first_if_alone if there is no other.

    The count is a lock that PostgreSQL itself lets go when a worker is killed; of SQLite there is one worker.
    """
    if connection.vendor != "postgresql":
        first_if_alone()
        yield
        return
    own = connection.copy()  # the work closes its connection now and then, which would end the lock
    try:
        with own.cursor() as cursor:
            cursor.execute("SELECT pg_try_advisory_lock(%s)", [WORKERS])
            (is_alone,) = cursor.fetchone()
            if is_alone:
                first_if_alone()
            cursor.execute("SELECT pg_advisory_lock_shared(%s)", [WORKERS])
            if is_alone:
                cursor.execute("SELECT pg_advisory_unlock(%s)", [WORKERS])
        yield
    finally:
        own.close()


@transaction.atomic
def take_up_interrupted() -> int:
    """Put work that a killed worker had begun back into the queue; right only where no other worker runs."""
    left = DBTaskResult.objects.filter(status=TaskResultStatus.RUNNING)
    taken_up = left.update(status=TaskResultStatus.READY, started_at=None)
    # A worker stopped by force still marks its entry as failed on its way out; such work gets a new one.
    entries = DBTaskResult.objects.filter(status=TaskResultStatus.READY, task_path=run_job.module_path)
    queued = {pk for entry in entries for pk in entry.args_kwargs["args"]}
    for job in put_back_interrupted():
        if job.pk not in queued:
            run_job.enqueue(job.pk)
            taken_up += 1
    return taken_up


def _stop_with(parent: int) -> None:
    while os.getppid() == parent:
        time.sleep(PARENT_CHECK_SECONDS)
    os.kill(os.getpid(), signal.SIGTERM)  # lets the work at hand be done first
    time.sleep(GRACE_SECONDS)
    os._exit(1)  # what is not yet stored is undone by the database
