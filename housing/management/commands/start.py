"""A museum of one's own on this computer: empty at first, with an account for whoever looks after it."""

from django.contrib.auth.models import User
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError

from housing.management.demo_collection import CAMPAIGN
from housing.management.serving import refuse_taken, serve
from housing.models import Campaign


class Command(BaseCommand):
    help = "Serves your own museum on this computer; the first start asks for a name and a password."

    def add_arguments(self, parser) -> None:
        parser.add_argument("--port", type=int, default=8000, help="Port to serve on (8000).")
        parser.add_argument("--no-serve", action="store_true", help="Stop before serving the pages.")

    def handle(self, *args, port: int, no_serve: bool, **options) -> None:
        if not no_serve:
            refuse_taken(port, "it")
        call_command("migrate", verbosity=0, interactive=False)
        if Campaign.objects.filter(name=CAMPAIGN).exists():
            raise CommandError(
                "The demo lies here. Name another folder for your own museum, for example "
                "VAR_DIR=museum python3 manage.py start"
            )
        self._have_account()
        if not no_serve:
            self.stdout.write(f"\nOpen http://127.0.0.1:{port}/ in a browser and sign in. Ctrl+C stops it.\n")
            serve(port)

    def _have_account(self) -> None:
        """Ask for the first account, a manager's, where there is none yet."""
        if User.objects.exists():
            return
        self.stdout.write("Who looks after the museum? Choose a name and a password to sign in with.")
        call_command("createsuperuser", email="")
        if not User.objects.exists():
            raise CommandError(
                "There is no account yet, and nobody could be asked for one. Make it with "
                "python3 manage.py createsuperuser"
            )
