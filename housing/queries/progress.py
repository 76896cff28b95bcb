"""How far the museum is: counts by location, class and priority, and what was done last."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from django.db.models import Count, Max, Q, QuerySet

from housing.core.floor_grid import Place, Room, rooms_of
from housing.models import Campaign, CuttingPlan, Design, HousingEvent
from housing.queries.objects import STILL_UNHOUSED, objects_with_status
from objects.core.numbers import natural_key
from objects.core.words import noted, say
from objects.models import CatalogueObject, Location
from objects.models.locations import SEPARATOR

LEVELS = 2  # building and room
NOWHERE, UNCLASSIFIED = noted("No location"), noted("Not classified")
PRIORITIES = dict(CatalogueObject.Priority.choices)
NONE = "null"  # what a filter in an address calls "has none"


@dataclass
class Group:
    """A location or a classification: its objects by status, and what filters the list to them.

    is_place_only: what lies further down in the place belongs to other groups.
    """

    label: str
    key: str
    is_place_only: bool = False
    counts: Counter[str] = field(default_factory=Counter)

    @property
    def total(self) -> int:
        return self.counts.total()

    @property
    def still_unhoused(self) -> int:
        return sum(self.counts[status] for status in STILL_UNHOUSED)


@dataclass(frozen=True)
class Progress:
    """All objects by status, in all and in groups."""

    all: Group
    by_location: tuple[Group, ...]
    by_classification: tuple[Group, ...]
    by_priority: tuple[Group, ...]
    rooms: tuple[Room, ...]
    places: int


def progress() -> Progress:
    """Count every object once, in one query, and sort the counts into rooms and classifications."""
    rows = list(
        objects_with_status()
        .order_by()
        .values_list("location_id", "classification", "priority", "housing_status")
        .annotate(Count("pk"))
    )
    paths = dict(Location.objects.values_list("path", "pk"))
    rooms = _rooms(paths)
    everything = Group(say("All objects"), "")
    by_location: dict[str, Group] = {}
    by_classification: dict[str, Group] = {}
    by_priority: dict[str, Group] = {}
    by_place: defaultdict[int, list[int]] = defaultdict(lambda: [0, 0])
    for location, classification, priority, status, number in rows:
        room, key, is_place_only = rooms[location]
        everything.counts[status] += number
        by_location.setdefault(key, Group(room, key, is_place_only)).counts[status] += number
        by_classification.setdefault(
            classification, Group(classification or say(UNCLASSIFIED), classification or NONE)
        ).counts[status] += number
        by_priority.setdefault(priority, Group(str(PRIORITIES[priority]), priority)).counts[status] += number
        if location is not None:
            by_place[location][0] += number * (status in STILL_UNHOUSED)
            by_place[location][1] += number
    return Progress(
        everything,
        _sorted(by_location.values()),
        _sorted(by_classification.values()),
        _sorted(by_priority.values()),
        tuple(_floor(paths, by_place)),
        len(by_place),
    )


def _floor(paths: Mapping[str, int], counts: Mapping[int, Sequence[int]]) -> list[Room]:
    """Rooms as grids of bays and shelves, with the objects of each place."""
    split = {pk: tuple(path.split(SEPARATOR)) for path, pk in paths.items()}
    parents = {steps[:-1] for steps in split.values()}
    places = [
        Place(split[pk], str(pk), still, total, split[pk] in parents) for pk, (still, total) in counts.items()
    ]
    return rooms_of(places, {steps: str(pk) for pk, steps in split.items()}, natural_key)


def _sorted(groups: Iterable[Group]) -> tuple[Group, ...]:
    return tuple(sorted(groups, key=lambda group: (group.key == NONE, group.label)))


def _rooms(paths: Mapping[str, int]) -> Mapping[int | None, tuple[str, str, bool]]:
    """For each location the path of its room, that room's key, and whether it is a building itself."""
    rooms: dict[int | None, tuple[str, str, bool]] = {None: (say(NOWHERE), NONE, False)}
    for path, pk in paths.items():
        steps = path.split(SEPARATOR)
        room = SEPARATOR.join(steps[:LEVELS])
        # a name may hold the separator itself, and then no place has the shorter path
        rooms[pk] = (room, str(paths.get(room, pk)), len(steps) < LEVELS)
    return rooms


def recent_steps(limit: int = 8) -> QuerySet[HousingEvent]:
    """The last steps people took at the bench; planning, which moves hundreds at once, is left out."""
    return (
        HousingEvent.objects.filter(status__in=["in_work", "made", "housed", "dropped"])
        .select_related("by")
        .prefetch_related("housing__contents__object")
        .order_by("-at", "-pk")[:limit]
    )


def is_plan_current(campaign: Campaign) -> bool:
    """Whether nothing the campaign's plan rests on changed since it was made: objects, designs, boards."""
    plan = CuttingPlan.objects.filter(campaign=campaign).first()
    if plan is None:
        return False
    designs = Design.objects.filter(
        Q(rules__campaign=campaign)
        | Q(form__in=campaign.rules.exclude(form="").values("form"))
        | Q(housings__campaign=campaign)
        | Q(pk__in=campaign.memberships.exclude(chosen_design=None).values("chosen_design"))
    )
    changes = [
        Campaign.objects.values_list("changed_at", flat=True).get(pk=campaign.pk),
        campaign.objects_in_it.aggregate(last=Max("changed_at"))["last"],
        *designs.aggregate(design=Max("changed_at"), board=Max("board__changed_at")).values(),
    ]
    return all(changed is None or changed <= plan.made_at for changed in changes)
