"""The demo collection: its lists go through the same import as a user's, then everything is planned."""

import csv
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

from django.conf import settings
from django.contrib.auth.models import Group, User
from django.db import transaction
from django.db.models import QuerySet
from django.utils import timezone

from housing.core.weeks import monday_of
from housing.intake.saving import load_list
from housing.management.demo_work import WEEKS, play
from housing.models import Campaign, Person
from housing.queries.objects import POORLY_HOUSED, UNHOUSED, objects_with_status
from housing.services.campaigns import add_objects, plan_campaign
from housing.services.need import state_need
from housing.services.scenario_presets import preset
from housing.services.scenarios import save_scenario
from objects.models import CatalogueObject
from objects.roles import MANAGER, ROLES

LISTS = settings.BASE_DIR / "fixtures" / "demo"
CAMPAIGN = "The move to the new store"
PILOT, PILOT_CLASS = "The pilot: glass", "Glass"  # three weeks under way when the demo is opened
PILOT_PEOPLE = ("Tovi Barrand", "Jessa Thornquill", "Halden Oskery", "Perrin Lowmoss")
SCENARIOS = ("buy", "urgent", "board")  # defined, not worked out: that is a click on their page
PASSWORD = "board-and-bone-folder"  # published in README: a demo on one's own computer guards nothing
Say = Callable[[str], None]


def load_demo(*, say: Say, lists: Path = LISTS) -> Campaign:
    """Load the demo lists and plan the campaign; what is there already is kept and not loaded again."""
    campaign = Campaign.objects.filter(name=CAMPAIGN).first()
    if campaign is None:
        with transaction.atomic():
            campaign = _load(say, lists)
    if not hasattr(campaign, "plan"):
        say("Planning the campaign")
        plan_campaign(campaign=campaign, progress=lambda percent, stage, *_: say(f"  {percent:3d} % {stage}"))
    return campaign


def _load(say: Say, lists: Path) -> Campaign:
    for kind in ("locations", "boards", "supplies", "people", "designs", "ready_made"):
        _load_one(say, kind, lists)
    _load_one(say, "objects", lists, photos=lists / "photos")
    campaign = Campaign.objects.create(
        name=CAMPAIGN,
        note="Everything unhoused or badly housed gets a box before the move.",
        starts_on=timezone.localdate(),
    )
    campaign.people.set(Person.objects.all())
    _load_one(say, "rules", lists, campaign=campaign)
    _make_logins(lists)
    _state_needs(lists)
    in_need = objects_with_status().filter(housing_status__in=(UNHOUSED, POORLY_HOUSED))
    _load_pilot(say, lists, in_need.filter(classification=PILOT_CLASS, size_state="known"))
    in_need = objects_with_status().filter(housing_status__in=(UNHOUSED, POORLY_HOUSED))
    add_objects(campaign=campaign, objects=in_need)
    for key in SCENARIOS:
        save_scenario(scenario=preset(campaign=campaign, key=key))
    return campaign


def _load_pilot(say: Say, lists: Path, objects: QuerySet[CatalogueObject]) -> None:
    """A small campaign that is under way, so that progress, forecast and report have something to tell."""
    pilot = Campaign.objects.create(
        name=PILOT,
        note="Tries boxes, times and people before the move.",
        starts_on=monday_of(timezone.localdate()) - timedelta(weeks=WEEKS),
    )
    pilot.people.set(Person.objects.filter(name__in=PILOT_PEOPLE))
    _load_one(say, "rules", lists, campaign=pilot)
    add_objects(campaign=pilot, objects=objects)
    play(campaign=pilot, by=User.objects.get(username=MANAGER), say=say)


def _load_one(say: Say, kind: str, lists: Path, **more) -> None:
    listed = load_list(kind, lists / f"{kind}.csv", **more)
    counts = ", ".join(f"{count} {what}" for what, count in listed.counts.items() if count)
    say(f"Imported {kind}.csv: {counts}")


def _state_needs(lists: Path) -> None:
    """What the manager says over the present housing, as on the page of each object."""
    with (lists / "needs.csv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            state_need(
                thing=CatalogueObject.objects.get(number=row["Object number"]),
                need=row["Need"],
                note=row["Why"],
                by=User.objects.get(username=MANAGER),
            )


def _make_logins(lists: Path) -> None:
    """One login a role, tied to the first person who is listed with that role."""
    with (lists / "people.csv").open(encoding="utf-8", newline="") as file:
        people = {row["Login role"]: row["Name"] for row in reversed(list(csv.DictReader(file)))}
    for role in ROLES:
        user = User.objects.create_user(role, password=PASSWORD)
        user.groups.add(Group.objects.get_or_create(name=role)[0])
        Person.objects.filter(name=people.get(role)).update(user=user)
