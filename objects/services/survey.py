"""What is found at the shelf: every entry is kept, once, and the object takes over what it says."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Any
from uuid import UUID

from django.contrib.auth.models import AbstractBaseUser
from django.core.exceptions import ValidationError
from django.core.files.base import ContentFile
from django.db import IntegrityError, transaction
from django.utils import timezone

from objects.core.measuring import BY_HAND, BY_LIST, believable_time, difference, sides_in_use
from objects.core.refusals import Refusal
from objects.core.words import noted, say
from objects.models import CatalogueObject, Location, MeasuringRules, SurveyEntry
from objects.models.locations import SEPARATOR
from objects.models.objects import HAZARD_SEPARATOR
from objects.queries.survey import measuring_rules
from objects.services.sizes import SIZE_FIELDS, keep_size_before, list_remark, settled_size

ANSWERS = (
    "weight_g", "quantity", "may_lie", "measured_with", "fragility", "projecting_parts", "condition",
    "present_housing", "hazards",
)  # fmt: skip
State, Found = SurveyEntry.State, SurveyEntry.Found


class EntryRefused(Refusal):
    """An entry cannot be kept as it is. problems: sentences by field."""

    def __init__(self, problems: Mapping[str, Sequence[str]]) -> None:
        self.problems = {name: list(sentences) for name, sentences in problems.items()}
        super().__init__(" ".join(sentence for sentences in problems.values() for sentence in sentences))


@dataclass(frozen=True)
class Kept:
    """An entry as kept. is_new: it was not there before."""

    entry: SurveyEntry
    is_new: bool


def record_entry(
    *,
    entry_id: UUID,
    object: CatalogueObject,
    by: AbstractBaseUser | None,
    measured_at: datetime,
    how: str,
    sides_mm: Sequence[Decimal | None] = (None, None, None),
    answers: Mapping[str, Any] | None = None,
    photo: ContentFile | None = None,
    note: str = "",
    found: str = Found.HERE,
    place: Location | None = None,
) -> Kept:
    """Keep what a person found of an object, and let the object take over what is good and newest.

    entry_id: given by the device; an entry sent again is kept once. measured_at: by the device's clock.
    sides_mm: height, width, depth. answers: fields of ANSWERS, those left out or blank are not said; hazards
    are added to those known. place: where the person stands; an object recorded elsewhere was found there.
    Raises EntryRefused, with nothing stored.
    """
    entry = SurveyEntry(
        entry_id=entry_id,
        object=object,
        by=by,
        measured_at=believable_time(measured_at, timezone.now()),
        how=how,
        **dict(zip(SIZE_FIELDS, sides_mm, strict=True)),
        **{name: value for name, value in (answers or {}).items() if name in ANSWERS},
        photo=photo or "",
        note=note,
        found=found,
        place=place,
    )
    _refuse_unusable(entry)
    is_stored = False
    try:
        with transaction.atomic():
            kept = _keep(entry)
        is_stored = kept.is_new
    except IntegrityError:
        known = _kept_before(entry_id)
        if known is None:
            raise
        kept = Kept(known, False)  # the same entry came in by another request just now
    finally:
        if photo and not is_stored and entry.photo.name != photo.name:  # it was copied into the store already
            entry.photo.delete(save=False)
    return kept


def _kept_before(entry_id: UUID) -> SurveyEntry | None:
    return SurveyEntry.objects.filter(entry_id=entry_id).first()


def _refuse_unusable(entry: SurveyEntry) -> None:
    try:
        entry.clean_fields(exclude=["object", "by", "place", "photo"])
        entry.validate_constraints()
    except ValidationError as error:
        raise EntryRefused(error.message_dict) from error
    said = [entry.photo, entry.note, *(getattr(entry, name) for name in ANSWERS)]
    if entry.found == Found.MISSING and entry.is_measured:
        raise EntryRefused(
            {"height_mm": [say("What was not found cannot be measured. Clear the sizes, or save it.")]}
        )
    if entry.found == Found.HERE and not entry.is_measured and not any(said):
        raise EntryRefused(
            {
                "height_mm": [
                    say(
                        "Nothing was entered. Enter a size, an answer, a photo or a note, or skip the object."
                    )
                ]
            }
        )


def _keep(entry: SurveyEntry) -> Kept:
    thing = CatalogueObject.objects.select_for_update().filter(pk=entry.object_id).first()
    if thing is None:
        raise EntryRefused({"object": [say("This object is no longer in the catalogue.")]})
    if known := _kept_before(entry.entry_id):
        return Kept(known, False)
    entry.object = thing
    if entry.found == Found.HERE and _lies_elsewhere(thing, entry.place):
        entry.found = Found.ELSEWHERE
    changes: dict[str, Any] = {}
    if entry.is_measured:
        keep_size_before(thing=thing)
        _compare(entry, measuring_rules())
    entry.save()
    if entry.is_measured:
        changes |= settled_size(thing=thing)
    changes |= _newest_answers(entry, thing)
    if entry.photo and not thing.photo:
        changes["photo"] = entry.photo.name
    if entry.found != Found.MISSING:
        changes["surveyed_at"] = max(thing.surveyed_at or entry.measured_at, entry.measured_at)
    save_changes(thing=thing, changes=changes)
    return Kept(entry, True)


def _lies_elsewhere(thing: CatalogueObject, place: Location | None) -> bool:
    if place is None:
        return False
    recorded = thing.location.path if thing.location else ""
    return recorded != place.path and not recorded.startswith(place.path + SEPARATOR)


def _compare(entry: SurveyEntry, rules: MeasuringRules) -> None:
    """Flag an entry that differs from what was measured before; say how it differs from the list.

    A list is only told of, since many round up; but where the unit seems mistaken a person has to decide.
    """
    good = list(entry.object.survey_entries.filter(state=State.GOOD))
    used = sides_in_use(each.to_core() for each in good)
    by_hand, by_list = (
        tuple(m.sides_mm[i] if m and m.trust == trust else None for i, m in enumerate(used))
        for trust in (BY_HAND, BY_LIST)
    )
    apart = difference(entry.sides_mm, by_hand, rules.to_core())
    from_list = difference(entry.sides_mm, by_list, rules.to_core())
    if not apart.sides:
        entry.state_note = list_remark(from_list, by_list)
        if from_list.is_unit_slip and entry.how != SurveyEntry.How.EYE:
            entry.state = State.DIFFERS
    elif entry.how == SurveyEntry.How.EYE:
        entry.state_note = noted("The estimate differs from what was measured, which stays in use.")
    else:
        entry.state = State.DIFFERS
        entry.state_note = apart.likely_reason


def _newest_answers(entry: SurveyEntry, thing: CatalogueObject) -> dict[str, Any]:
    """What the object takes over: each answer that no later entry gave; hazards only come on top."""
    later = list(thing.survey_entries.filter(measured_at__gt=entry.measured_at))
    said = {name: getattr(entry, name) for name in ANSWERS if getattr(entry, name) not in (None, "")}
    changes = {name: value for name, value in said.items() if not any(getattr(each, name) for each in later)}
    if "hazards" in said:
        both = [*thing.hazards.split(HAZARD_SEPARATOR), *said["hazards"].split(HAZARD_SEPARATOR)]
        changes["hazards"] = HAZARD_SEPARATOR.join(dict.fromkeys(hazard for hazard in both if hazard))
    return changes


def save_changes(*, thing: CatalogueObject, changes: Mapping[str, Any]) -> None:
    """Store what is different. That an object was merely looked at leaves its version and its plans alone."""
    differing = {name: value for name, value in changes.items() if getattr(thing, name) != value}
    for name, value in differing.items():
        setattr(thing, name, value)
    fields = list(differing)
    if differing.keys() - {"surveyed_at"}:
        thing.version += 1
        fields += ["version", "changed_at"]
    if fields:
        thing.save(update_fields=fields)
