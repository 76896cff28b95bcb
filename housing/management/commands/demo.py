"""The demo: an invented museum, planned before your eyes, and served on this computer."""

import json
import shutil

from django.conf import settings
from django.contrib.auth.models import Group
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.db import connection

from housing.management.demo_collection import PASSWORD, load_demo
from housing.management.serving import refuse_taken, serve
from housing.queries.summary import plan_summary
from objects.roles import ROLES


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
            refuse_taken(port, "the demo")
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
            serve(port)

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
