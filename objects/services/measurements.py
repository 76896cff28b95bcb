"""Deciding between measurements that differ; what was decided, by whom and when stays with them."""

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils import timezone

from objects.core.measuring import BY_HAND, difference
from objects.core.refusals import Refusal
from objects.core.words import noted, say
from objects.models import CatalogueObject, SurveyEntry
from objects.queries.survey import measuring_rules
from objects.services.moves import move_object
from objects.services.sizes import said_by, settled_size
from objects.services.survey import save_changes

State = SurveyEntry.State
USE, KEEP, SET_ASIDE, MOVE = "use", "keep", "set_aside", "move"


class DecisionRefused(Refusal):
    """A decision cannot be taken; the message is a sentence for the reader."""


@transaction.atomic
def decide(*, entry: SurveyEntry, decision: str, by: AbstractBaseUser) -> SurveyEntry:
    """Decide on a measurement: use it, keep the one in use instead, set it aside, or move the object there.

    Using one sets aside what differs from it, and settles what agrees with it.
    Raises DecisionRefused when the decision is not open (any more).
    """
    thing = CatalogueObject.objects.select_for_update().get(pk=entry.object_id)
    entry.refresh_from_db()
    if decision not in open_decisions(entry, thing):
        raise DecisionRefused(
            say("This was decided already. Look at the measurements below as they are now.")
        )
    if decision == MOVE:
        move_object(
            thing=thing,
            place=entry.place,
            by=by,
            note=noted("Seen there on {measured_at:%Y-%m-%d}").format(measured_at=entry.measured_at),
        )
        return entry
    when = said_by(by, timezone.now())
    if decision == USE:
        _settle_others(entry, when)
        _note(entry, State.GOOD, noted("Chosen {said_by}.").format(said_by=when))
    elif decision == KEEP:
        _note(
            entry,
            State.SET_ASIDE,
            noted("Set aside {said_by}; the size in use is kept.").format(said_by=when),
        )
    else:
        _note(entry, State.SET_ASIDE, noted("Set aside {said_by}.").format(said_by=when))
    save_changes(thing=thing, changes=settled_size(thing=thing))
    return entry


def open_decisions(entry: SurveyEntry, thing: CatalogueObject) -> list[str]:
    """What can be decided on an entry."""
    decisions = []
    if entry.is_measured or entry.how == SurveyEntry.How.TYPED:
        decisions += {
            State.DIFFERS: [USE, KEEP], State.SET_ASIDE: [USE], State.GOOD: [SET_ASIDE]
        }[State(entry.state)]  # fmt: skip
    if entry.found == SurveyEntry.Found.ELSEWHERE and entry.place_id and entry.place_id != thing.location_id:
        decisions.append(MOVE)
    return decisions


def _settle_others(chosen: SurveyEntry, when: str) -> None:
    """What differs from the chosen measurement is set aside; what agrees no longer waits for a decision."""
    mine, tolerance = chosen.to_core(), measuring_rules().to_core()
    for other in chosen.object.survey_entries.exclude(pk=chosen.pk).exclude(state=State.SET_ASIDE):
        theirs = other.to_core()
        if theirs.trust < BY_HAND or not (other.is_measured or other.how == SurveyEntry.How.TYPED):
            continue
        hides = other.how == SurveyEntry.How.TYPED and any(
            side is not None and theirs.sides_mm[i] is None for i, side in enumerate(mine.sides_mm)
        )
        if hides or difference(theirs.sides_mm, mine.sides_mm, tolerance).sides:
            _note(
                other,
                State.SET_ASIDE,
                noted("Set aside {said_by} for another measurement.").format(said_by=when),
            )
        elif other.state == State.DIFFERS:
            _note(other, State.GOOD, "")


def _note(entry: SurveyEntry, state: str, words: str) -> None:
    entry.state, entry.state_note = state, words[:300]
    entry.save(update_fields=["state", "state_note"])
