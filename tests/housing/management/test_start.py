"""Starting a museum of one's own."""

import pytest
from django.contrib.auth.models import User
from django.core.management import CommandError, call_command

from housing.management.demo_collection import CAMPAIGN
from objects.roles import MANAGER, has_role
from tests.factories import make_campaign, make_user

pytestmark = pytest.mark.django_db


def test_the_first_start_makes_a_manager(monkeypatch):
    monkeypatch.setenv("DJANGO_SUPERUSER_USERNAME", "mirel")
    monkeypatch.setenv("DJANGO_SUPERUSER_PASSWORD", "bone folder")
    asked = []
    monkeypatch.setattr(
        "housing.management.commands.start.call_command",
        lambda name, *given, **more: (
            asked.append(name) or call_command(name, **more | {"interactive": False})
        ),
    )

    call_command("start", no_serve=True)

    assert asked == ["migrate", "createsuperuser"]
    assert has_role(User.objects.get(username="mirel"), MANAGER)


def test_a_later_start_asks_for_nothing(capsys):
    make_user("manager")

    call_command("start", no_serve=True)

    assert "Who looks after" not in capsys.readouterr().out


def test_where_nobody_can_be_asked_it_says_how_to_make_an_account(monkeypatch):
    monkeypatch.setattr("housing.management.commands.start.call_command", lambda *given, **more: None)

    with pytest.raises(CommandError, match="createsuperuser"):
        call_command("start", no_serve=True)


def test_the_demo_is_not_taken_for_a_museum_of_ones_own():
    make_campaign(name=CAMPAIGN)

    with pytest.raises(CommandError, match="VAR_DIR=museum"):
        call_command("start", no_serve=True)
