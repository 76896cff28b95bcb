"""Of a period: how many objects had no box at its start and at its end, and which were housed in it.

That a box was on its shelf is told by its dated trail; which objects need a box, and where they are, as the
records are today, since they keep no history of it.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import Count, Q, QuerySet

from housing.models import Campaign, HousedObject, Housing, HousingEvent
from housing.queries.objects import STILL_UNHOUSED, objects_with_status
from housing.queries.periods import Period
from housing.queries.progress import LEVELS, NOWHERE, UNCLASSIFIED
from objects.core.words import say
from objects.models import CatalogueObject
from objects.models.locations import SEPARATOR

HOUSED = Housing.Status.HOUSED
AT_WORK = (Housing.Status.IN_WORK, Housing.Status.MADE, HOUSED, Housing.Status.DROPPED)
PRIORITIES = dict(CatalogueObject.Priority.choices)


@dataclass(frozen=True)
class CountRow:
    """Objects of a kind. at_start, at_end: in no box on its shelf; taken_out: housed before, not after."""

    label: str
    at_start: int = 0
    housed: int = 0
    taken_out: int = 0
    at_end: int = 0

    @property
    def is_any(self) -> bool:
        return bool(self.at_start or self.housed or self.taken_out or self.at_end)


@dataclass(frozen=True)
class Counts:
    """All objects that need a box or have one; recorded: of these, entered in the records in the period."""

    in_all: CountRow
    by_classification: tuple[CountRow, ...]
    by_priority: tuple[CountRow, ...]
    by_room: tuple[CountRow, ...]
    recorded: int
    boxes: int


@dataclass(frozen=True)
class _Kind:
    """What objects are counted by, and whether they were housed at the start and at the end."""

    classification: str
    priority: str
    room: str
    before: bool
    after: bool


def counts_of(period: Period, campaign: Campaign | None = None) -> Counts:
    """Objects of a campaign, or all, in five queries however many there are."""
    before, after = _boxes_on_shelf(period)
    things = _concerned(campaign)
    told = things.order_by().values_list("classification", "priority", "location__path")
    counted: Counter[_Kind] = Counter()
    recorded = 0
    for kind, priority, path, number, new in told.annotate(
        number=Count("pk"), new=Count("pk", filter=period.of("created_at"))
    ):
        counted[_Kind(kind or say(UNCLASSIFIED), str(PRIORITIES[priority]), _room(path), False, False)] += (
            number
        )
        recorded += new
    was, is_now = _things_in(before | after, before), _things_in(before | after, after)
    housed = things.filter(pk__in=_ever_housed().values("object"))
    for pk, kind, priority, path in housed.values_list("pk", "classification", "priority", "location__path"):
        if pk in was or pk in is_now:
            of = (kind or say(UNCLASSIFIED), str(PRIORITIES[priority]), _room(path))
            counted[_Kind(*of, False, False)] -= 1
            counted[_Kind(*of, pk in was, pk in is_now)] += 1
    rows = list(counted.items())
    return Counts(
        in_all=_row(say("All objects"), rows),
        by_classification=_grouped("classification", rows),
        by_priority=_grouped("priority", rows),
        by_room=_grouped("room", rows),
        recorded=recorded,
        boxes=_boxes_housed(after - before, campaign),
    )


def _concerned(campaign: Campaign | None) -> QuerySet[CatalogueObject]:
    """Objects that need a box, or have one."""
    things = objects_with_status().filter(housing_status__in=(*STILL_UNHOUSED, HOUSED))
    return things.filter(memberships__campaign=campaign) if campaign else things


def housed_in(period: Period) -> set[int]:
    """Boxes that are on their shelf at the end of a period and were not at its start."""
    # what got there in between did so by a step of the period
    before, after = _boxes_on_shelf(period, period.of("at"))
    return after - before


def _boxes_on_shelf(period: Period, when: Q | None = None) -> tuple[set[int], set[int]]:
    """Boxes that were on their shelf at the start, and at the end: the last step before then says so.

    when: only boxes that got to their shelf then, once or more; without it, any time before the end.
    Steps of planning are passed over: they come before a box is made, however late they were written down.
    """
    start, end = period.start, period.end
    ever = HousingEvent.objects.filter(when or Q(at__lt=end), status=HOUSED).values("housing")
    before: dict[int, str] = {}
    after: dict[int, str] = {}
    steps = HousingEvent.objects.filter(housing__in=ever, at__lt=end, status__in=AT_WORK)
    for box, status, at in steps.order_by("at", "pk").values_list("housing", "status", "at"):
        after[box] = status
        if at < start:
            before[box] = status
    return _on_shelf(before), _on_shelf(after)


def _on_shelf(last: dict[int, str]) -> set[int]:
    return {box for box, status in last.items() if status == HOUSED.value}


def _ever_housed() -> QuerySet[HousedObject]:
    """Objects in boxes that were ever on their shelf, also in those dropped since."""
    return HousedObject.objects.filter(
        housing__in=HousingEvent.objects.filter(status=HOUSED).values("housing")
    )


def _things_in(boxes: set[int], wanted: set[int]) -> set[int]:
    if not boxes:
        return set()
    return {thing for thing, box in _ever_housed().values_list("object", "housing") if box in wanted}


def _boxes_housed(boxes: set[int], campaign: Campaign | None) -> int:
    if campaign is None or not boxes:
        return len(boxes)
    mine = Housing.objects.filter(campaign=campaign, events__status=HOUSED).values_list("pk", flat=True)
    return len(boxes & set(mine))


def _room(path: str | None) -> str:
    return SEPARATOR.join(path.split(SEPARATOR)[:LEVELS]) if path else say(NOWHERE)


def _grouped(by: str, rows: Iterable[tuple[_Kind, int]]) -> tuple[CountRow, ...]:
    groups: defaultdict[str, list[tuple[_Kind, int]]] = defaultdict(list)
    for kind, number in rows:
        groups[getattr(kind, by)].append((kind, number))
    last = (say(NOWHERE), say(UNCLASSIFIED))
    found = [_row(label, groups[label]) for label in sorted(groups, key=lambda one: (one in last, one))]
    return tuple(row for row in found if row.is_any)


def _row(label: str, rows: Iterable[tuple[_Kind, int]]) -> CountRow:
    rows = list(rows)

    def number(before: bool | None, after: bool | None) -> int:
        return sum(
            count for kind, count in rows if before in (None, kind.before) and after in (None, kind.after)
        )

    return CountRow(
        label,
        at_start=number(False, None),
        housed=number(False, True),
        taken_out=number(True, False),
        at_end=number(None, False),
    )
