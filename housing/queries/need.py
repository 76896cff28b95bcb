"""What is unhoused and where: by place, classification, class and score; and the need of one object."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from django.db.models import Count, F, Q, QuerySet
from django.utils.formats import date_format
from django.utils.timezone import localtime

from housing.core.need import POOR, UNHOUSED, HousingNeed, Statement, housing_need
from housing.core.priority import BANDS
from housing.models import Housing
from housing.queries.objects import BOX_IN_HAND, STILL_UNHOUSED, objects_with_status
from housing.queries.priority import band_expression, with_score
from housing.queries.progress import LEVELS, NONE, NOWHERE, UNCLASSIFIED
from objects.core.words import say
from objects.models import CatalogueObject, Location, NeedStatement, SurveyEntry
from objects.models.locations import SEPARATOR
from objects.queries.catalogue import inside, walk, with_those_above

GROUPINGS = {
    "location": "Location",
    "classification": "Classification",
    "priority": "Priority class",
    "score": "Priority score",
}


@dataclass
class UnhousedRow:
    """A group of objects: how many are still unhoused, how they are housed meanwhile, how many wait for what.

    filters: what narrows the object list to them. inner: the key of a place that has places in it.
    """

    label: str
    filters: Mapping[str, str]
    inner: str = ""
    counts: Counter[str] = field(default_factory=Counter)

    @property
    def still(self) -> int:
        return self.counts["still"]

    @property
    def unhoused(self) -> int:
        return self.counts[UNHOUSED]

    @property
    def poorly_housed(self) -> int:
        return self.counts[POOR]

    @property
    def otherwise(self) -> int:
        """Still unhoused only because a box is in hand: what they lie in is adequate, or they need none."""
        return self.still - self.unhoused - self.poorly_housed

    @property
    def in_hand(self) -> int:
        return self.counts["in_hand"]

    @property
    def not_surveyed(self) -> int:
        return self.counts["not_surveyed"]

    @property
    def not_measured(self) -> int:
        return self.counts["not_measured"]

    @property
    def objects(self) -> int:
        return self.counts["objects"]


def unhoused_rows(by: str, location: Location | None = None) -> list[UnhousedRow]:
    """Objects counted in groups, one row each, those with nothing unhoused included. by: of GROUPINGS.

    location: only what is kept in this place and below. One query counts, whatever the number of groups.
    """
    objects = objects_with_status()
    if location:
        objects = objects.filter(inside(location, "location__path"))
    if by == "score":
        group = band_expression()
        objects = with_score(objects)
    else:
        group = F({"location": "location_id"}.get(by, by))
    still = Q(housing_status__in=STILL_UNHOUSED)
    counted = (
        objects.annotate(group=group)
        .order_by()
        .values_list("group", "housing_need")
        .annotate(
            number=Count("pk"),
            still=Count("pk", filter=still),
            in_hand=Count("pk", filter=Q(housing_status__in=BOX_IN_HAND)),
            unseen=Count("pk", filter=still & Q(surveyed_at=None)),
            unmeasured=Count("pk", filter=still & Q(size_state=CatalogueObject.SizeState.MISSING)),
        )
    )
    rows, of_group = _rows(by, location)
    for group_key, need, number, still_unhoused, in_hand, unseen, unmeasured in counted:
        row = rows[of_group.get(group_key, group_key)] if by == "location" else rows.get(group_key)
        if row is None:
            row = rows[group_key] = UnhousedRow(group_key or say(UNCLASSIFIED), {by: group_key or NONE})
        row.counts.update(
            {
                need: still_unhoused,
                "still": still_unhoused,
                "in_hand": in_hand,
                "objects": number,
                "not_surveyed": unseen,
                "not_measured": unmeasured,
            }
        )
    if by == "classification":
        rows = dict(sorted(rows.items(), key=lambda item: (item[0] == "", item[0])))
    return [row for row in rows.values() if row.objects]


def _rows(by: str, location: Location | None) -> tuple[dict, Mapping]:
    """Empty rows in their natural order, and for places which row each of them belongs to."""
    if by == "priority":
        return {
            key: UnhousedRow(str(words), {"priority": key}) for key, words in CatalogueObject.Priority.choices
        }, {}
    if by == "score":
        return {key: UnhousedRow(words, {"score": key}) for key, words, _, _ in BANDS}, {}
    return _places(location) if by == "location" else ({}, {})


def _places(location: Location | None) -> tuple[dict[int | None, UnhousedRow], dict[int | None, int | None]]:
    """A row for each place next below one, or for each room; and the row that each place belongs to."""
    own = location.path.split(SEPARATOR) if location else []
    level = len(own) + 1 if location else LEVELS
    places = Location.objects.filter(inside(location)) if location else Location.objects.all()
    keys = {path: pk for pk, path in places.values_list("pk", "path")}
    rows: dict[int | None, UnhousedRow] = {}
    of_place: dict[int | None, int | None] = {None: None}
    for path in sorted(keys, key=lambda path: path.split(SEPARATOR)):
        steps = path.split(SEPARATOR)
        row = keys[SEPARATOR.join(steps[:level])]
        of_place[keys[path]] = row
        if row not in rows:
            label = SEPARATOR.join(steps[len(own) : level])
            rows[row] = UnhousedRow(label or say("In the place itself"), {"location": str(row)})
            if len(steps) < level:
                rows[row].filters = {"location": str(row), "place_only": "yes"}
        elif row != keys[path] and len(steps) > level:
            rows[row].inner = str(row)
    if location is None:
        rows[None] = UnhousedRow(say(NOWHERE), {"location": NONE})
    return rows, of_place


def total_row(rows: Iterable[UnhousedRow]) -> UnhousedRow:
    """All rows together."""
    return UnhousedRow(say("In all"), {}, counts=sum((row.counts for row in rows), Counter()))


def places_above(location: Location | None) -> list[Location]:
    """The places a place lies in, from the building down, itself included."""
    if location is None:
        return []
    return walk(Location.objects.filter(path__in=with_those_above(location.path)))


# ---- One object ------------------------------------------------------------------------------------------


def need_of(thing: CatalogueObject) -> HousingNeed:
    """The need of one object of objects_with_status(), with its reason in words."""
    box = ""
    if thing.housing_status == Housing.Status.HOUSED:
        box = Housing(pk=thing.live_housing).box_number
    return housing_need(
        thing.present_housing,
        seen_on=_seen_on(thing),
        looked_at_on=_day(thing.surveyed_at),
        statement=_statement(thing),
        box=box,
    )


def _seen_on(thing: CatalogueObject) -> str:
    """When somebody at the shelf last said of the present housing what is recorded."""
    if thing.surveyed_at is None:
        return ""
    seen = (
        SurveyEntry.objects.filter(object=thing)
        .exclude(present_housing="")
        .order_by("-measured_at", "-pk")
        .values_list("present_housing", "measured_at")
        .first()
    )
    return _day(seen[1]) if seen and seen[0] == thing.present_housing else ""


def _statement(thing: CatalogueObject) -> Statement | None:
    if not thing.need_by_hand:
        return None
    by = thing.need_said_by
    name = (by.get_full_name() or by.get_username()) if by else ""
    return Statement(thing.need_by_hand, thing.need_note, name, _day(thing.need_said_at))


def _day(moment) -> str:
    return date_format(localtime(moment), "j F Y") if moment else ""


def statements_of(thing: CatalogueObject) -> QuerySet[NeedStatement]:
    """All that was stated of an object's need, newest first."""
    return thing.need_statements.select_related("by")
