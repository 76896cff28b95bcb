"""Does the long work of the queue; on SQLite it is the only worker, so it may take up what was left."""

import os
import signal
import threading
import time

from django.core.management import call_command
from django.core.management.base import BaseCommand
from django.db import connection
from django.tasks import TaskResultStatus
from django_tasks_db.models import DBTaskResult

from housing.models import Job

PARENT_CHECK_SECONDS = 2


class Command(BaseCommand):
    help = "Does the long work: plans and big prints. On SQLite run one; on PostgreSQL as many as you like."

    def add_arguments(self, parser) -> None:
        parser.add_argument("--parent", type=int, help="Stop when this process is gone.")

    def handle(self, *args, parent: int | None = None, **options) -> None:
        if parent:
            threading.Thread(target=_stop_with, args=(parent,), daemon=True).start()
        if connection.vendor == "sqlite":
            taken_up = take_up_interrupted()
            if taken_up:
                self.stdout.write(f"Taking up {taken_up} interrupted pieces of work.")
        call_command("db_worker", verbosity=0)


def take_up_interrupted() -> int:
    """Put work that a killed worker had begun back into the queue; right only where no other worker runs."""
    left = DBTaskResult.objects.filter(status=TaskResultStatus.RUNNING)
    Job.objects.filter(state=Job.State.RUNNING).update(state=Job.State.WAITING, percent=0)
    return left.update(status=TaskResultStatus.READY, started_at=None)


def _stop_with(parent: int) -> None:
    while os.getppid() == parent:
        time.sleep(PARENT_CHECK_SECONDS)
    os.kill(os.getpid(), signal.SIGTERM)
