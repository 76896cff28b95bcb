"""The way back: the box on its shelf with its object in it, where that is now, and what it looks like."""

from typing import Any

from django.db import transaction

from housing.models import BenchEntry, FitCheck, HousedPhoto, Housing, Task
from housing.services.bench_entries import Ask, BenchRefused, Outcome, handles, undoes
from housing.services.fitting import YES, good_check
from housing.services.housings import move_back, move_housing
from housing.services.spells import end_spell
from housing.services.tasks import finish_task, refuse_held
from objects.core.words import say
from objects.models import CatalogueObject, Location
from objects.models.locations import SEPARATOR
from objects.services.moves import move_object

What, Status, State = BenchEntry.What, Housing.Status, Task.State


@handles(What.HOUSED)
def housed(ask: Ask) -> Outcome:
    """The object is in its box and the box is in its place: where it was, or where it is now said to be.

    A box that was not tried yet is refused, unless the same entry says that all is well.
    """
    housing = ask.housing or (ask.task.housing if ask.task else None)
    if housing is None:
        raise BenchRefused(say("Say which box is back. Open its page and enter it there."))
    housing = Housing.objects.select_for_update(of=("self",)).get(pk=housing.pk)
    refuse_held(housing)
    if housing.status != Status.MADE:
        raise BenchRefused(
            say(
                "{housing} is “{status}” and cannot be put on its shelf from there.",
                housing=housing,
                status=housing.get_status_display(),
            )
        )
    place = _place(str(ask.detail.get("place", "")))
    memory: dict[str, Any] = {"check": None, "task": None, "places": []}
    if good_check(housing) is None:
        if str(ask.detail.get("all_well", "")).lower() not in YES:
            raise BenchRefused(
                say(
                    "{housing} was not tried yet. Does the object fit, does the lid close, does nothing "
                    "press or rub? Say so first.",
                    housing=housing,
                )
            )
        memory["check"] = FitCheck.objects.create(
            housing=housing, fits=True, lid_closes=True, nothing_touches=True, at=ask.at, by=ask.by
        ).pk
    task = housing.tasks.filter(step=Task.Step.RETURN).exclude(state=State.DONE).first()
    if task is None:
        move_housing(housing=housing, status=Status.HOUSED, by=ask.by, note=say("Back on its shelf"))
    else:
        memory["task"] = {
            "pk": task.pk,
            "state": task.state,
            "person": task.person_id,
            "started_at": task.started_at.isoformat() if task.started_at else None,
        }
        end_spell(at_what=task, at=ask.at)
        finish_task(task=task, minutes=ask.minutes, person=ask.person, by=ask.by, at=ask.at)
    for tie in housing.contents.filter(is_live=True).select_related("object__location"):
        before = tie.object.location_id
        if place and move_object(
            thing=tie.object,
            place=place,
            by=ask.by,
            note=say("{housing} put on its shelf", housing=housing),
            at=ask.at,
        ):
            memory["places"].append([tie.object_id, before])
    if place:
        words = say("{box} is on its shelf at {place}. Well done.", box=housing, place=place)
    else:
        words = say("{box} is on its shelf. Well done.", box=housing)
    return Outcome(words, memory)


@undoes(What.HOUSED)
def undo_housed(entry: BenchEntry, by: Any) -> str:
    """Not on its shelf after all: box, task and places are as they were."""
    memory = entry.detail["memory"]
    if entry.housing is None:
        raise BenchRefused(say("That box is not there any more."))
    housing = move_back(
        housing=entry.housing, status=Status.MADE, by=by, note=say("Not on its shelf: undone")
    )
    if before := memory.get("task"):
        Task.objects.filter(pk=before["pk"]).update(
            state=before["state"],
            person=before["person"],
            started_at=before["started_at"],
            done_at=None,
            spent_minutes=None,
        )
    for thing, place in memory.get("places", ()):
        move_object(
            thing=CatalogueObject.objects.get(pk=thing),
            place=Location.objects.filter(pk=place).first(),
            by=by,
            note=say("{housing} not put on its shelf: undone", housing=housing),
        )
    if check := memory.get("check"):
        FitCheck.objects.filter(pk=check).update(is_void=True)
    return say("{housing} is not on its shelf.", housing=housing)


@handles(What.PHOTO)
def photographed(ask: Ask) -> Outcome:
    """A photo of the object in its box; the newest is shown, earlier ones stay."""
    housing = ask.housing or (ask.task.housing if ask.task else None)
    if housing is None or ask.photo is None:
        raise BenchRefused(say("There is no photo in this. Take one and send it again."))
    photo = HousedPhoto(housing=housing, at=ask.at, by=ask.by)
    photo.photo.save(f"housed-{housing.pk}.jpg", ask.photo, save=True)
    return Outcome(say("The photo of {housing} is kept.", housing=housing), {"photo": photo.pk})


@undoes(What.PHOTO)
def undo_photo(entry: BenchEntry, by: Any) -> str:
    """A photo of the wrong box, or one that shows what it should not, is removed for good."""
    kept = HousedPhoto.objects.filter(pk=entry.detail["memory"]["photo"]).first()
    if kept is None:
        raise BenchRefused(say("That photo is not there any more."))
    name, storage = kept.photo.name, kept.photo.storage
    kept.delete()
    transaction.on_commit(lambda: storage.delete(name))
    return say("The photo is removed.")


def _place(text: str) -> Location | None:
    """The place that somebody typed or scanned; None for none. Raises BenchRefused for an unknown one."""
    path = SEPARATOR.join(part.strip() for part in text.split("/") if part.strip())
    if not path:
        return None
    place = Location.objects.filter(path__iexact=path).first()
    if place is None:
        raise BenchRefused(
            say(
                "No place is called “{path}”. Write it as on the list of locations, or have a manager "
                "enter it there.",
                path=path,
            )
        )
    return place
