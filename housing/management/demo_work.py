"""Three weeks of invented work on a small first campaign, entered at the bench as people would."""

import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import datetime, time, timedelta
from decimal import Decimal
from io import BytesIO
from typing import Any
from uuid import uuid4

from django.contrib.auth.models import User
from django.core.files.base import ContentFile
from django.db.models import Max
from django.utils import timezone
from PIL import Image, ImageDraw, ImageOps

from boards.models import RackEntry, SheetSize, StockMovement, SupplyMovement
from boards.services import count_sheets, receive_sheets
from housing.core.weeks import monday_of
from housing.models import BenchEntry, Campaign, Housing, HousingEvent, Person, PlannedSheet, Task
from housing.services.bench_entries import Ask, record
from housing.services.budgets import freeze_budget
from housing.services.campaigns import plan_campaign
from objects.models import CatalogueObject

WEEKS = 3
OPENS, SESSION = time(9, 0), timedelta(minutes=100)
LONG_AGO = timedelta(days=120)
MEETS_ON = 2  # Wednesdays: everybody of the pilot gives a morning a week
SLOWER = {Person.Kind.VOLUNTEER: 1.3, Person.Kind.INTERN: 1.15, Person.Kind.STAFF: 0.95}
SPREAD = 0.2  # of the logarithm of minutes: people are not machines; assumed
SEED = 1907
# Which box of the campaign, in the order of the work, meets with what.
ADJUSTED, REMADE, ASKED_ABOUT, SPOILT_SHEET = 3, 8, 12, 2
QUESTION = "The neck has an old repair that moves. May it lie on its side in the foam, or must it stand?"
BACK_AT = (640, 480)

type Say = Callable[[str], None]


@dataclass
class _Diary:
    """The hours that a person gives the campaign, one morning a week."""

    person: Person
    now: datetime

    def take(self, minutes: float, not_before: datetime) -> tuple[datetime, datetime]:
        """Begin when both are ready, or in the next week where this week's morning is over."""
        begun = self._at_work(max(self.now, not_before))
        self.now = begun + timedelta(minutes=minutes)
        return begun, self.now

    def _at_work(self, moment: datetime) -> datetime:
        opens = timezone.make_aware(datetime.combine(timezone.localtime(moment).date(), OPENS))
        while moment > opens + SESSION or opens.weekday() != MEETS_ON:
            opens += timedelta(days=1)
            moment = opens
        return max(moment, opens)


@dataclass
class _Story:
    """What was done, entry by entry, dated when it happened."""

    campaign: Campaign
    by: User
    diaries: dict[int, _Diary]
    until: datetime
    chance: random.Random = field(default_factory=lambda: random.Random(SEED))

    def minutes(self, planned: Decimal, person: Person) -> Decimal:
        slow = SLOWER[Person.Kind(person.kind)] * self.chance.lognormvariate(0, SPREAD)
        return round(max(planned, Decimal(1)) * Decimal(slow), 1)

    def enter(self, what: str, at: datetime, person: Person | None, **more: Any) -> BenchEntry:
        """Make an entry and date what the database dates by itself."""
        before = {model: model.objects.aggregate(last=Max("pk"))["last"] or 0 for model in DATED}
        entry = record(entry_id=uuid4(), ask=Ask(what, self.by, at, person=person, **more)).entry
        for model, last in before.items():
            model.objects.filter(pk__gt=last).update(at=at)
        BenchEntry.objects.filter(pk=entry.pk).update(received_at=at)
        return entry


DATED = (HousingEvent, StockMovement, RackEntry)


def play(*, campaign: Campaign, by: User, say: Say) -> None:
    """Plan a campaign as of three weeks ago and work on it until now; what is not done by then stays open."""
    now = timezone.now()
    monday = monday_of(timezone.localdate()) - timedelta(weeks=WEEKS)
    begins = timezone.make_aware(datetime.combine(monday, OPENS))
    for ledger in (StockMovement, SupplyMovement):  # what is there already came long ago
        ledger.objects.update(at=begins - LONG_AGO)
    plan_campaign(campaign=campaign, by=by)
    HousingEvent.objects.filter(housing__campaign=campaign).update(at=begins)
    freeze_budget(campaign=campaign, name="As approved", by=by)
    campaign.work_from = monday
    campaign.save(update_fields=["work_from"])
    _stock_up(campaign, by, begins)
    diaries = {person.pk: _Diary(person, begins) for person in campaign.people.all()}
    story = _Story(campaign, by, diaries, now)
    ready: dict[int, datetime] = {}
    for sheet in campaign.plan.sheets.order_by("week", "position"):
        _cut(story, sheet, begins, ready)
    for number, housing in enumerate(_boxes(campaign)):
        _make(story, housing, number, ready.get(housing.pk, begins))
    _count_a_shelf(campaign, by)
    housed = campaign.housings.filter(status=Housing.Status.HOUSED).count()
    say(f"Played {WEEKS} weeks of “{campaign}”: {housed} of {campaign.memberships.count()} objects housed")


def _boxes(campaign: Campaign) -> Iterator[Housing]:
    first = (
        Task.objects.filter(housing__campaign=campaign, sheet__isnull=False)
        .order_by("sheet__week", "sheet__position", "housing")
        .values_list("housing", flat=True)
    )
    boxes = Housing.objects.in_bulk(list(dict.fromkeys(first)))
    yield from (boxes[pk] for pk in dict.fromkeys(first))


def _stock_up(campaign: Campaign, by: User, at: datetime) -> None:
    """A delivery for the campaign, paid a little less than listed."""
    sizes = SheetSize.objects.filter(
        pk__in=campaign.plan.sheets.exclude(sheet_size=None).values("sheet_size")
    )
    for size in sizes:
        needed = campaign.plan.sheets.filter(sheet_size=size).count() + 2
        moved = receive_sheets(
            sheet_size=size,
            count=-(-needed // size.pack) * size.pack,
            by=by,
            note="Delivery for the pilot",
            paid_each=round(size.price * Decimal("0.97"), 2),
        )
        StockMovement.objects.filter(pk=moved.pk).update(at=at)


def _count_a_shelf(campaign: Campaign, by: User) -> None:
    """The stock is counted once: one sheet less than the book says."""
    size = SheetSize.objects.filter(
        pk__in=campaign.plan.sheets.exclude(sheet_size=None).values("sheet_size")
    ).first()
    last = size.movements.order_by("sequence").last() if size else None
    if last and last.balance:
        count_sheets(sheet_size=size, counted=last.balance - 1, by=by, note="Counted on a quiet Friday")


def _cut(story: _Story, sheet: PlannedSheet, begins: datetime, ready: dict[int, datetime]) -> None:
    person = sheet.person
    if person is None:
        return
    planned = sum((task.planned_minutes for task in sheet.tasks.filter(step__in=("fetch", "cut"))), Decimal())
    minutes = story.minutes(planned, person)
    begun, done = story.diaries[person.pk].take(float(minutes), begins)
    if done > story.until:
        return
    story.enter("start", begun, person, sheet=sheet)
    if sheet.position == SPOILT_SHEET and sheet.sheet_size_id:
        story.enter(
            "spoiled", begun, person, sheet=sheet, detail={"reason": "miscut", "note": "The rule slipped"}
        )
    story.enter("sheet_cut", done, person, sheet=sheet, minutes=minutes)
    for housing in Housing.objects.filter(blanks__placements__sheet=sheet).distinct():
        ready[housing.pk] = max(done, ready.get(housing.pk, done))


def _make(story: _Story, housing: Housing, number: int, ready: datetime) -> None:
    """Take one box from its cut blanks to its shelf, as far as the time allows."""
    for task in housing.tasks.exclude(state=Task.State.DONE).order_by("sequence"):
        if task.step in ("fetch", "cut") or task.person is None:
            return
        minutes = story.minutes(task.planned_minutes, task.person)
        begun, done = story.diaries[task.person.pk].take(float(minutes), ready)
        if done > story.until:
            return
        if number == ASKED_ABOUT and task.step == "fit":
            detail = {"reason": "conservator", "question": QUESTION}
            story.enter("hold", begun, task.person, housing=housing, detail=detail)
            return
        if task.step == "return" and not _tried(story, housing, number, begun, task.person):
            return
        if task.step == "return":
            story.enter("housed", done, task.person, housing=housing, minutes=minutes)
            _photograph(story, housing, done, task.person)
        else:
            story.enter("start", begun, task.person, task=task)
            story.enter("done", done, task.person, task=task, minutes=minutes)
        ready = done


def _tried(story: _Story, housing: Housing, number: int, at: datetime, person: Person) -> bool:
    """The fit check; whether the box may go back."""
    if number == ADJUSTED:
        detail = {
            "fits": "yes", "lid_closes": "no", "nothing_touches": "yes", "cause": "padding", "side": "height",
            "short": "4 mm", "note": "The foam of the lid was cut back",
        }  # fmt: skip
        story.enter("adjust", at, person, housing=housing, minutes=Decimal(8), detail=detail)
    elif number == REMADE:
        detail = {
            "fits": "no", "lid_closes": "no", "nothing_touches": "no", "cause": "measurement",
            "side": "width", "short": "11 mm", "note": "The handle was not measured",
        }  # fmt: skip
        story.enter("remake", at, person, housing=housing, detail=detail)
        return False
    else:
        story.enter("fits", at, person, housing=housing)
    return True


def _photograph(story: _Story, housing: Housing, at: datetime, person: Person) -> None:
    """A drawing that stands for a photo: the object's own, in a tray."""
    thing = CatalogueObject.objects.filter(housing_ties__housing=housing).exclude(photo="").first()
    if thing is not None:
        story.enter("photo", at, person, housing=housing, photo=ContentFile(_in_tray(thing), "housed.jpg"))


def _in_tray(thing: CatalogueObject) -> bytes:
    with thing.photo.open("rb") as file:
        picture = ImageOps.contain(Image.open(file).convert("RGB"), (360, 320))
    scene = Image.new("RGB", BACK_AT, "#e9e6df")
    draw = ImageDraw.Draw(scene)
    draw.rectangle((70, 40, 570, 440), fill="#c9b491", outline="#6d5a3a", width=6)
    draw.rectangle((100, 65, 540, 415), fill="#f4f2ee", outline="#8a7550", width=3)
    scene.paste(picture, ((BACK_AT[0] - picture.width) // 2, (BACK_AT[1] - picture.height) // 2))
    kept = BytesIO()
    scene.save(kept, "JPEG", quality=80)
    return kept.getvalue()
