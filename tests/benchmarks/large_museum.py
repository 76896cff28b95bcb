"""A made-up museum of any size for measurements: objects, boxes in all states, a running campaign.

The running campaign is planned as people plan it, with sheets, tasks and budget; its first weeks are then
noted as done. All other records are written in bulk.
"""

import random
from collections.abc import Iterable
from datetime import datetime, timedelta
from decimal import Decimal
from types import SimpleNamespace

from django.db.models import F
from django.utils import timezone

from boards.models import SheetSize, StockMovement, Supply, SupplyMovement
from boards.services import receive_sheets
from housing.core.label_codes import new_code
from housing.core.weeks import first_day
from housing.models import (
    BenchEntry,
    Campaign,
    CampaignObject,
    FitCheck,
    Hold,
    HousedObject,
    Housing,
    HousingEvent,
    PlannedSheet,
    Task,
    WorkSpell,
)
from housing.services.campaigns import plan_campaign
from objects.core.numbers import natural_key
from objects.models import CatalogueObject, Location, ObjectMove
from objects.models.locations import SEPARATOR
from tests.factories import make_board, make_campaign, make_design, make_person, make_sheet_size, make_user

AT_ONCE = 2_000  # rows written together
STEPS_A_BOX = 8  # a lidded box of a measured object
WINGS, ROOMS, BAYS, SHELVES = 2, 20, 4, 5
EARLIER = 12  # campaigns that are over
SHARE_IN_EARLIER = 0.55  # of all objects
PEOPLE, HOURS, WEEKS_DONE = 12, 4, 10  # few hours, so that the work lasts a year and more
CLASSES = 60


def fill(objects: int, tasks: int) -> None:
    """Write everything into the database in use, which must be empty."""
    chance, now = random.Random(1), timezone.now()
    shelves = _places()
    things = _objects(objects, shelves, chance, now)
    chance.shuffle(things)
    in_work = things[: tasks // STEPS_A_BOX]
    over = things[len(in_work) : len(in_work) + round(objects * SHARE_IN_EARLIER)]
    design = make_design(board=make_sheet_size().board)
    _earlier_campaigns(over, design, chance, now)
    _running_campaign(in_work, design, chance, now)
    _moves(things, shelves, chance, now)
    _supplies(chance)


def example() -> SimpleNamespace:
    """What the pages to measure are asked for: one record of each kind, and who reads."""
    campaign = Campaign.objects.get(is_closed=False)
    maker = campaign.people.order_by("pk").first()
    next_first = F("cut_at").asc(nulls_first=True), "week", "position"
    sheet = PlannedSheet.objects.filter(plan__campaign=campaign).order_by(*next_first).first()
    box = Housing.objects.filter(blanks__placements__sheet=sheet).order_by("pk").first()
    room = Location.objects.filter(kind="room").order_by("pk").first()
    housed = Housing.objects.filter(status="housed").order_by("-pk").first()
    return SimpleNamespace(
        campaign=campaign, person=maker, user=maker.user, sheet=sheet, box=box, room=room, housed=housed,
        object=box.contents.get().object, board=sheet.board, today=timezone.localdate(),
    )  # fmt: skip


def _places() -> list[Location]:
    """Shelves in bays in rooms in wings."""

    def below(parents: list[Location], kind: str, number: int) -> list[Location]:
        return Location.objects.bulk_create(
            Location(
                parent=parent, kind=kind, name=f"{kind.capitalize()} {place:02d}",
                path=f"{parent.path}{SEPARATOR}{kind.capitalize()} {place:02d}",
            )
            for parent in parents
            for place in range(1, number + 1)
        )  # fmt: skip

    wings = [Location.objects.create(name=f"Wing {number}", kind="building") for number in range(WINGS)]
    return below(below(below(wings, "room", ROOMS), "bay", BAYS), "shelf", SHELVES)


def _objects(
    number: int, shelves: list[Location], chance: random.Random, now: datetime
) -> list[CatalogueObject]:
    said = {
        "priority": "ABC",
        "condition": ("good", "fair", "poor", "fragile", ""),
        "fragility": ("robust", "ordinary", "delicate", "very_delicate", ""),
        "use": ("never", "years", "yearly", "monthly", "weekly", ""),
        "significance": ("low", "ordinary", "ordinary", "high", "key", ""),
        "hazards": ("", "", "", "", "", "", "lead", "arsenic; sharp"),
        "projecting_parts": ("", "", "", "handle"),
        "materials": ("clay", "silver", "oak; iron", "paper", "linen"),
        "present_housing": ("none", "none", "poor", "poor", "adequate", "good", "not_needed"),
    }
    return CatalogueObject.objects.bulk_create(
        (
            CatalogueObject(
                number=f"1990.{i}", number_key=natural_key(f"1990.{i}"), name=f"Bowl {i}",
                classification=f"Class {chance.randrange(CLASSES):02d}", location=chance.choice(shelves),
                description=f"A bowl with a rim, found in pit {i % 911}, mended in two places.",
                height_mm=60 + i % 140, width_mm=80 + i % 150, depth_mm=70 + i % 120, size_state="known",
                weight_g=200 + i % 3000,
                surveyed_at=now - timedelta(days=i % 700) if i % 3 else None,
                need_by_hand="unhoused" if i % 50 == 0 else "", need_note="seen" if i % 50 == 0 else "",
                **{name: chance.choice(values) for name, values in said.items()},
            )
            for i in range(number)
        ),
        batch_size=AT_ONCE,
    )  # fmt: skip


def _earlier_campaigns(over: list[CatalogueObject], design, chance: random.Random, now: datetime) -> None:
    """Boxes of campaigns that are over: nine in ten on their shelves, the rest at every stage; one in 50 made
    again in place of one that was dropped."""
    campaigns = [make_campaign(is_closed=True, name=f"Earlier {number:02d}") for number in range(EARLIER)]
    sides = {f"{which}_{side}_mm": 200 for which in ("inner", "outside") for side in "xyz"}
    stages = ("housed",) * 90 + ("made",) * 2 + ("in_work",) * 2 + ("planned",) * 3 + ("waiting",) * 3
    boxes = []
    for i, _ in enumerate(over):
        status = chance.choice(stages)
        boxes.append(
            Housing(
                campaign=campaigns[i * EARLIER // len(over)], design=design, status=status,
                problem=chance.choice(("unmeasured", "no_design", "check")) if status == "waiting" else "",
                code=new_code(chance), **sides,
            )
        )  # fmt: skip
    boxes = Housing.objects.bulk_create(boxes, batch_size=AT_ONCE)
    lost = Housing.objects.bulk_create(
        (Housing(campaign=box.campaign, design=design, status="dropped", **sides) for box in boxes[::50]),
        batch_size=AT_ONCE,
    )
    CampaignObject.objects.bulk_create(
        (CampaignObject(campaign=box.campaign, object=t) for box, t in zip(boxes, over, strict=True)),
        batch_size=AT_ONCE,
    )
    HousedObject.objects.bulk_create(
        (HousedObject(housing=box, object=thing) for box, thing in zip(boxes, over, strict=True)),
        batch_size=AT_ONCE,
    )
    HousedObject.objects.bulk_create(
        (HousedObject(housing=box, object=t, is_live=False) for box, t in zip(lost, over[::50], strict=True)),
        batch_size=AT_ONCE,
    )
    for box, new in zip(lost, boxes[::50], strict=True):
        new.remake_of = box
    Housing.objects.bulk_update(boxes[::50], ["remake_of"], batch_size=AT_ONCE)
    way = ("planned", "in_work", "made", "housed")
    _events(
        (box, status, now - timedelta(days=90 + 900 * (1 - i / len(boxes)) - 20 * place))
        for i, box in enumerate(boxes)
        for place, status in enumerate(
            way[: way.index(box.status) + 1] if box.status in way else (box.status,)
        )
    )
    _fit_checks(
        [(box, now - timedelta(days=90 + 900 * (1 - i / len(boxes)))) for i, box in enumerate(boxes)][::10],
        chance,
    )
    _holds([box for box in boxes if box.status == "waiting"][:200], chance, now)


def _running_campaign(things: list[CatalogueObject], design, chance: random.Random, now: datetime) -> None:
    """A campaign planned and given out, its first weeks done: sheets cut, boxes made and put back."""
    campaign = make_campaign(name="Storage move", search_seconds=5)
    CampaignObject.objects.bulk_create(
        (CampaignObject(campaign=campaign, object=thing, batch=1 + i % 4) for i, thing in enumerate(things)),
        batch_size=AT_ONCE,
    )
    people = [
        make_person(name=f"Maker {i:02d}", hours_per_week=HOURS, user=make_user("manager", username=f"m{i}"))
        for i in range(PEOPLE)
    ]
    campaign.people.set(people)
    campaign.rules.create(position=1, design=design)
    receive_sheets(sheet_size=design.board.sheet_sizes.first(), count=2 * len(things))
    plan_campaign(campaign=campaign)
    campaign.refresh_from_db()
    campaign.work_from -= timedelta(weeks=WEEKS_DONE)
    campaign.save()
    _cut(campaign, now)
    _work_done(campaign, chance, now)


def _cut(campaign: Campaign, now: datetime) -> None:
    """The sheets of the weeks that are over are cut and have left the stock."""
    sheets = list(PlannedSheet.objects.filter(plan__campaign=campaign, week__lte=WEEKS_DONE))
    for sheet in sheets:
        sheet.cut_at = _day_of(campaign, sheet.week, sheet.position)
    PlannedSheet.objects.bulk_update(sheets, ["cut_at"], batch_size=500)
    StockMovement.objects.bulk_create(
        (
            StockMovement(
                sheet_size=sheet.sheet_size, kind="use", quantity=-1, sequence=number, at=sheet.cut_at,
                balance=2 * campaign.memberships.count() + 1 - number, reference=f"planned_sheet:{sheet.pk}",
            )
            for number, sheet in enumerate(sheets, 2)
        ),
        batch_size=AT_ONCE,
    )  # fmt: skip
    SheetSize.objects.filter(pk__in={sheet.sheet_size_id for sheet in sheets}).update(reorder_level=20)


def _work_done(campaign: Campaign, chance: random.Random, now: datetime) -> None:
    """Tasks of the weeks that are over are done, with clocks, entries, trail, fit checks and questions."""
    tasks = list(
        Task.objects.filter(housing__campaign=campaign, week__lte=WEEKS_DONE)
        .select_related("housing", "person")
        .order_by("week", "housing", "sequence")
    )
    reached: dict[int, tuple[Housing, str, datetime]] = {}
    for number, task in enumerate(tasks):
        task.state = Task.State.DONE
        task.done_at = _day_of(campaign, task.week, number)
        task.started_at = task.done_at - timedelta(minutes=float(task.planned_minutes))
        task.spent_minutes = round(task.planned_minutes * Decimal(str(chance.uniform(0.6, 1.6))), 2)
        status = {"return": "housed", "label": "made"}.get(task.step, "in_work")
        reached[task.housing_id] = (task.housing, status, task.done_at)
    Task.objects.bulk_update(tasks, ["state", "done_at", "started_at", "spent_minutes"], batch_size=500)
    for housing, status, _ in reached.values():
        housing.status = status
    boxes = [housing for housing, _, _ in reached.values()]
    Housing.objects.bulk_update(boxes, ["status"], batch_size=500)
    _codes(campaign, chance)
    by_person = [task for task in tasks if task.person]
    WorkSpell.objects.bulk_create(
        (
            WorkSpell(task=task, person=task.person, started_at=task.started_at, ended_at=task.done_at)
            for task in by_person
        ),
        batch_size=AT_ONCE,
    )
    BenchEntry.objects.bulk_create(
        (
            BenchEntry(
                what=what, housing=task.housing, task=task, person=task.person, at=at, by=task.person.user,
                minutes=task.spent_minutes if what == "done" else None, message="Kept.",
            )
            for task in by_person
            for what, at in (("start", task.started_at), ("done", task.done_at))
        ),
        batch_size=AT_ONCE,
    )  # fmt: skip
    _events(reached.values())
    made = [(box, at) for box, status, at in reached.values() if status != "in_work"]
    _fit_checks(made, chance)
    waiting = Housing.objects.filter(campaign=campaign, status="planned").order_by("pk")
    _holds(list(waiting[:100]), chance, now)


def _codes(campaign: Campaign, chance: random.Random) -> None:
    boxes = list(Housing.objects.filter(campaign=campaign))
    for box in boxes:
        box.code = new_code(chance)
    Housing.objects.bulk_update(boxes, ["code"], batch_size=500)


def _day_of(campaign: Campaign, week: int, number: int) -> datetime:
    """A moment on a working day of a week."""
    day = first_day(campaign.work_from, week) + timedelta(days=number % 5)
    return timezone.make_aware(datetime.combine(day, datetime.min.time())) + timedelta(hours=9 + number % 8)


def _events(rows: Iterable[tuple[Housing, str, datetime]]) -> None:
    at = HousingEvent._meta.get_field("at")
    at.auto_now_add = False  # the trail of years, not of now
    HousingEvent.objects.bulk_create(
        (HousingEvent(housing=box, status=status, at=at) for box, status, at in rows), batch_size=AT_ONCE
    )
    at.auto_now_add = True


def _fit_checks(boxes, chance: random.Random) -> None:
    """Nine in ten fit; the others were adjusted or are to be made again."""

    def check(box: Housing, at: datetime) -> FitCheck:
        if chance.random() < 0.9:
            return FitCheck(housing=box, fits=True, lid_closes=True, nothing_touches=True, at=at)
        return FitCheck(
            housing=box, fits=False, lid_closes=True, nothing_touches=True, at=at, note="Tight at one end.",
            cause=chance.choice(FitCheck.Cause.values), side=chance.choice(FitCheck.Side.values),
            short_mm=2, remedy=chance.choice(("adjust", "adjust", "remake")), minutes=15, work_cost=6,
        )  # fmt: skip

    FitCheck.objects.bulk_create((check(box, at) for box, at in boxes), batch_size=AT_ONCE)


def _holds(boxes: list[Housing], chance: random.Random, now: datetime) -> None:
    """Questions about boxes, every second one answered."""
    Hold.objects.bulk_create(
        (
            Hold(
                housing=box, reason=chance.choice(Hold.Reason.values), question="May it lie on its side?",
                asked_at=now - timedelta(days=i % 40), answer="Yes." if i % 2 else "",
                answered_at=now if i % 2 else None,
            )
            for i, box in enumerate(boxes)
        ),
        batch_size=AT_ONCE,
    )  # fmt: skip


def _moves(things: list[CatalogueObject], shelves: list[Location], chance: random.Random, now) -> None:
    """One object in five was moved once."""
    ObjectMove.objects.bulk_create(
        (
            ObjectMove(
                object=thing, place=thing.location, path=thing.location.path, place_before=before,
                path_before=before.path, at=now - timedelta(days=i % 900),
            )
            for i, thing in enumerate(things[::5])
            for before in (chance.choice(shelves),)
        ),
        batch_size=AT_ONCE,
    )  # fmt: skip


def _supplies(chance: random.Random) -> None:
    """Boards and supplies that are not used in the campaign, each with a long ledger."""
    for number in range(40):
        size = make_sheet_size(board=make_board(code=f"X{number:02d}"), reorder_level=10)
        _ledger(StockMovement, "sheet_size", size, chance)
        supply = Supply.objects.create(name=f"Supply {number:02d}", kind="other", unit="piece", price=3)
        _ledger(SupplyMovement, "supply", supply, chance)


def _ledger(model, field: str, of, chance: random.Random, entries: int = 200) -> None:
    balance, rows = 0, []
    for sequence in range(1, entries + 1):
        goes_in = balance < 5 or chance.random() < 0.3
        quantity = chance.randint(5, 20) if goes_in else -chance.randint(1, 4)
        balance += quantity
        kind = "receipt" if goes_in else "use"
        rows.append(model(**{field: of}, sequence=sequence, kind=kind, quantity=quantity, balance=balance))
    model.objects.bulk_create(rows)
