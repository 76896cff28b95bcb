"""Choosing which boxes to make within limits: asked, worked out, stored, and put to use."""

from dataclasses import asdict
from typing import Any

from django.db import transaction
from django.urls import reverse
from django.utils import timezone

from housing.core.selecting import Limits, SelectionRefused, next_gains, select
from housing.models import HousedObject, Job, Scenario, Selection
from housing.queries.selections import candidates_of, offers_of, workers_until
from housing.services.campaigns import set_batch
from housing.services.jobs import runs, start_job
from housing.services.nesting import Progress
from housing.services.scenarios import save_scenario
from objects.core.words import say
from objects.models import CatalogueObject

MINUTES_PER_HOUR = 60
SHOWN_LEFT = 20


def find_selection(*, selection: Selection, progress: Progress = lambda *told: None) -> Selection:
    """Choose within the limits, say what more would add, and store both.

    Raises SelectionRefused where nothing can be chosen so, or the limits were changed meanwhile.
    """
    campaign, as_of = selection.campaign, timezone.now()
    candidates, objects = candidates_of(campaign)
    offers = offers_of(campaign)
    progress(10, say("Choosing among {count:,} boxes", count=len(candidates)))
    limits = limits_of(selection, objects)
    found = select(candidates, offers, limits)
    progress(50, say("Finding out what a little more would add"))
    gains = next_gains(candidates, offers, limits, found)
    progress(95, say("Storing the choice"))
    known = {one.key: one for one in candidates}
    result = {
        "boxes": list(found.chosen),
        "chosen": [thing for key in found.chosen for thing in objects[key]],
        "worth": found.worth,
        "bound": found.bound,
        "gap": found.gap,
        "money": round(found.money, 2),
        "hours": found.hours,
        "packs": dict(found.packs),
        "uses": [asdict(use) for use in found.uses],
        "left": [
            {"objects": objects[key], "worth": known[key].worth, "money": round(known[key].money, 2)}
            for key in found.left[:SHOWN_LEFT]
        ],
        "left_number": len(found.left),
        "next": [
            {
                "what": gain.what,
                "amount": gain.amount,
                "unit": gain.unit,
                "worth": gain.worth,
                "added": [thing for key in gain.added for thing in objects[key]],
                "dropped": [thing for key in gain.dropped for thing in objects[key]],
            }
            for gain in gains
        ],
    }
    with transaction.atomic():
        now = Selection.objects.select_for_update(of=("self",)).filter(pk=selection.pk).first()
        if now is None or _asked(now) != _asked(selection):
            raise SelectionRefused(
                say("“{selection}” was changed or deleted meanwhile. Choose again.", selection=selection)
            )
        now.made_at, now.result = as_of, result
        now.save(update_fields=["made_at", "result"])
    return now


def _asked(selection: Selection) -> tuple[Any, ...]:
    names = ("money", "hours", "ends_on", "must", "must_not", "sets", "whole_locations")
    return tuple(getattr(selection, name) for name in names)


def limits_of(selection: Selection, objects: dict[str, list[int]]) -> Limits:
    """The limits as the core knows them. objects: those in each box, by its key.

    Raises SelectionRefused for an object that must be in and has no planned box.
    """
    box_of = {thing: key for key, things in objects.items() for thing in things}
    lacking = [pk for pk in selection.must if pk not in box_of]
    if lacking:
        numbers = CatalogueObject.objects.filter(pk__in=lacking).values_list("number", flat=True)
        raise SelectionRefused(
            say(
                "{sorted} must be in, but no box that is still to be made in this campaign holds it. "
                "Plan the campaign again, or take it off the list.",
                sorted=", ".join(sorted(numbers)[:5]),
            )
        )
    today = timezone.localdate()
    workers = workers_until(selection.campaign, selection.ends_on, today) if selection.ends_on else None
    return Limits(
        money=float(selection.money) if selection.money is not None else None,
        minutes={skill: float(hours) * MINUTES_PER_HOUR for skill, hours in selection.hours.items()},
        workers=workers,
        must=frozenset(box_of[pk] for pk in selection.must),
        must_not=frozenset(box_of[pk] for pk in selection.must_not if pk in box_of),
        sets=[sorted({box_of[pk] for pk in kept if pk in box_of}) for kept in selection.sets],
        whole_locations=selection.whole_locations,
    )


def start_selecting(*, selection: Selection, by: Any = None) -> Job:
    """Have a choice made in the background."""
    return start_job(
        kind=Job.Kind.SELECT,
        title=say("Choose for “{selection}”", selection=selection)[:200],
        parameters={"campaign": selection.campaign_id, "selection": selection.pk},
        by=by,
    )


@runs(Job.Kind.SELECT)
def _run_selecting(job: Job, progress: Progress) -> dict[str, str]:
    found = Selection.objects.select_related("campaign").filter(pk=job.parameters["selection"]).first()
    if found is None:
        raise SelectionRefused(say("The limits were deleted meanwhile."))
    done = find_selection(selection=found, progress=progress)
    return {
        "message": say("{count:,} objects are chosen.", count=len(done.result["chosen"])),
        "result_url": reverse("housing:selection-detail", args=[found.campaign_id, found.pk]),
    }


@transaction.atomic
def scenario_of_selection(*, selection: Selection, by: Any = None) -> Scenario:
    """A scenario of the campaign with the chosen objects only, whose sheets are nested for real."""
    name = say("Within a limit: {selection}", selection=selection)[:120]
    differences = {"only_objects": selection.result["chosen"]}
    return save_scenario(
        scenario=Scenario(campaign=selection.campaign, name=name, differences=differences), by=by
    )


def give_batches(*, selection: Selection, batch: int) -> int:
    """Let the chosen objects be due with a batch, with those sharing their boxes. Returns how many."""
    boxes = HousedObject.objects.filter(
        object__in=selection.result["chosen"], housing__campaign=selection.campaign, is_live=True
    )
    together = HousedObject.objects.filter(housing__in=boxes.values("housing"), is_live=True)
    objects = CatalogueObject.objects.filter(pk__in=together.values("object"))
    return set_batch(campaign=selection.campaign, objects=objects, batch=batch)
