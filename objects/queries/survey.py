"""What is still to be measured or looked at, and what was found at the shelf."""

from dataclasses import dataclass

from django.db.models import Count, OuterRef, Q, QuerySet, Subquery

from objects.core.words import noted
from objects.models import CatalogueObject, Location, MeasuringRules, SurveyEntry
from objects.queries.catalogue import PlaceRow, inside, walk, with_those_above

NO_SIZE, TO_CHECK, NOT_SURVEYED, DONE, NOT_FOUND = "no_size", "check", "not_surveyed", "done", "not_found"
# The order in which objects are offered; what is done or could not be found comes last.
IN_TURN = (NO_SIZE, TO_CHECK, NOT_SURVEYED, NOT_FOUND, DONE)
STATE_WORDS = {
    NO_SIZE: noted("Not measured"),
    TO_CHECK: noted("To be checked"),
    NOT_SURVEYED: noted("Not looked at yet"),
    NOT_FOUND: noted("Not found here"),
    DONE: noted("Done"),
}
MOST_OBJECTS = 2000  # on one device at a time; assumed


@dataclass
class PlaceToSurvey(PlaceRow):
    """A location with what is left to do there and below it."""

    no_size: int = 0
    not_surveyed: int = 0
    in_all: int = 0


def survey_tree() -> list[PlaceToSurvey]:
    """Every location in the order of a walk: objects in it not measured, not looked at, and in all."""
    locations = Location.objects.annotate(
        no_size=Count("kept_here", filter=Q(kept_here__size_state=CatalogueObject.SizeState.MISSING)),
        not_surveyed=Count("kept_here", filter=Q(kept_here__surveyed_at=None)),
        here=Count("kept_here"),
    )
    rows = {place.path: PlaceToSurvey(place) for place in walk(locations)}
    for place in locations:
        for path in with_those_above(place.path):
            rows[path].no_size += place.no_size
            rows[path].not_surveyed += place.not_surveyed
            rows[path].in_all += place.here
    return list(rows.values())


def objects_to_survey(place: Location) -> list[CatalogueObject]:
    """The objects at a place and within it, each with its `survey_state`, in the order they are offered."""
    objects = list(
        _with_state(CatalogueObject.objects.filter(inside(place, "location__path"))).order_by(
            "location__path", "number_key"
        )[: MOST_OBJECTS + 1]
    )
    for thing in objects:
        thing.survey_state = survey_state(thing)
    return sorted(objects, key=lambda thing: IN_TURN.index(thing.survey_state))


def object_to_survey(pk: int) -> CatalogueObject | None:
    """One object with its `survey_state`, wherever it is."""
    thing = _with_state(CatalogueObject.objects.filter(pk=pk)).first()
    if thing is not None:
        thing.survey_state = survey_state(thing)
    return thing


def _with_state(objects: QuerySet[CatalogueObject]) -> QuerySet[CatalogueObject]:
    missed = SurveyEntry.objects.filter(object=OuterRef("pk"), found=SurveyEntry.Found.MISSING)
    return objects.select_related("location").annotate(
        missed_at=Subquery(missed.order_by("-measured_at").values("measured_at")[:1])
    )


def survey_state(thing: CatalogueObject) -> str:
    """What is left to do for an object annotated with `missed_at`."""
    if thing.missed_at and (thing.surveyed_at is None or thing.missed_at > thing.surveyed_at):
        return NOT_FOUND
    if thing.size_state == CatalogueObject.SizeState.MISSING:
        return NO_SIZE
    if thing.size_state == CatalogueObject.SizeState.CHECK:
        return TO_CHECK
    return NOT_SURVEYED if thing.surveyed_at is None else DONE


def next_in_turn(objects: list[CatalogueObject], after: int | None) -> CatalogueObject | None:
    """The next object with something left to do behind the one of that key, beginning anew at the end."""
    at = next((i for i, thing in enumerate(objects) if thing.pk == after), -1)
    turn = [*objects[at + 1 :], *objects[: max(at, 0)]]
    return next((thing for thing in turn if thing.survey_state not in (DONE, NOT_FOUND)), None)


def object_numbered(number: str) -> CatalogueObject | None:
    """The object of that number; capitals count only where two numbers differ in nothing else."""
    found = list(CatalogueObject.objects.filter(number__iexact=number).values_list("number", "pk"))
    same = dict(found).get(number, found[0][1] if found else None)
    return object_to_survey(same) if same else None


def entries_of(thing: CatalogueObject) -> QuerySet[SurveyEntry]:
    """What people found of an object, newest first."""
    return thing.survey_entries.select_related("by", "place")


def measuring_rules() -> MeasuringRules:
    """The museum's rules; the usual ones where nobody has set any."""
    return MeasuringRules.objects.filter(pk=1).first() or MeasuringRules(pk=1)
