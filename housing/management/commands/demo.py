"""The demo: an invented museum, planned before your eyes, and served on this computer."""

import json
import os
import shutil
import socket
import subprocess
import sys

from django.conf import settings
from django.contrib.auth.models import Group
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.db import connection

from housing.management.demo_collection import PASSWORD, load_demo
from housing.queries.summary import plan_summary
from objects.roles import ROLES

WORKER_GRACE_SECONDS = 10  # a print or a small plan ends in that; few wait longer for a Ctrl+C


class Command(BaseCommand):
    help = "Loads the demo collection, plans its campaign and serves the pages on this computer."

    def add_arguments(self, parser) -> None:
        parser.add_argument("--no-serve", action="store_true", help="Stop before serving the pages.")
        parser.add_argument("--port", type=int, default=8000, help="Port to serve on (8000).")
        parser.add_argument("--reset", action="store_true", help="Throw the demo away and start afresh.")
        parser.add_argument("--yes", action="store_true", help="Do not ask before --reset.")
        parser.add_argument("--json", action="store_true", help="Print a summary of the plan as JSON.")

    def handle(self, *args, no_serve, port, reset, yes, **options) -> None:
        as_json = options["json"]
        say = self.stderr.write if as_json else self.stdout.write
        if not no_serve:
            _refuse_taken(port)
        if reset:
            self._reset(yes)
        call_command("migrate", verbosity=0, interactive=False)
        campaign = load_demo(say=say)
        if as_json:
            self.stdout.write(json.dumps(plan_summary(campaign), indent=2, ensure_ascii=False))
        elif no_serve:
            say(f"“{campaign}” is loaded and planned. Without --no-serve its pages are served.")
        if not no_serve:
            say(f"\nOpen http://127.0.0.1:{port}/ in a browser. Ctrl+C stops it.")
            say(f"Sign in as {', '.join(ROLES[:-1])} or {ROLES[-1]}; the password is {PASSWORD}\n")
            _serve(port)

    def _reset(self, yes: bool) -> None:
        """Empty the demo's database and its files, if the person says so."""
        name = connection.settings_dict["NAME"]
        if not yes and input(f"Delete everything in {name} and start afresh? [y/N] ").lower() != "y":
            raise CommandError("Nothing was deleted.")
        call_command("migrate", verbosity=0, interactive=False)
        call_command("flush", verbosity=0, interactive=False)
        for role in ROLES:
            Group.objects.get_or_create(name=role)
        shutil.rmtree(settings.MEDIA_ROOT, ignore_errors=True)


def _refuse_taken(port: int) -> None:
    with socket.socket() as probe:
        if probe.connect_ex(("127.0.0.1", port)) == 0:
            raise CommandError(
                f"Port {port} is in use; perhaps the demo runs already. Stop it, or add --port {port + 1}."
            )


def _serve(port: int) -> None:
    """Serve the pages, with the one worker beside it that does the long work."""
    worker = subprocess.Popen(
        [sys.executable, str(settings.BASE_DIR / "manage.py"), "worker", f"--parent={os.getpid()}"]
    )
    os.environ["DJANGO_RUNSERVER_HIDE_WARNING"] = "true"  # this server is only for this computer
    try:
        call_command("runserver", f"127.0.0.1:{port}", use_reloader=False, verbosity=0)
    finally:
        _stop(worker)


def _stop(worker: subprocess.Popen) -> None:
    """Let the work at hand end if it is soon done; what is cut short is begun again by the next start."""
    worker.terminate()
    try:
        worker.wait(timeout=WORKER_GRACE_SECONDS)
    except subprocess.TimeoutExpired:
        worker.kill()
        worker.wait()
