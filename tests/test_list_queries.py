"""Every list page makes as many queries with 10,000 rows as with 10.

Objects, boxes, tasks, questions and fit checks are 10,000. What a museum has only hundreds of, and pages show
without leafing through them, is 200: campaigns, people, boards, designs, supplies, places.
"""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import connection, transaction
from django.db.models import Model
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from boards.models import Board, SheetSize, Supply
from housing.models import (
    Campaign,
    CampaignObject,
    Design,
    FitCheck,
    Hold,
    HousedObject,
    Housing,
    HousingEvent,
    Person,
    Task,
)
from objects.models import CatalogueObject, Location
from tests.factories import make_user

FEW, MANY, HUNDREDS = 10, 10_000, 200
LISTS = (
    "/",
    "/progress/places/",
    "/objects/",
    "/objects/?page=2&sort=-score",
    "/objects/?status=still_unhoused&sort=status",
    "/objects/?q=bowl&location={place}",
    "/objects/?campaign={campaign}&sort=batch",
    "/objects/?blocks=conservator",
    "/objects/?blocks=board",
    "/objects/?reached=made",
    "/need/",
    "/need/?by=score",
    "/figures/",
    "/search/?q=bowl",
    "/work/",
    "/work/?person=&state=&begin=now",
    "/work/?person=&begin=waits",
    "/questions/",
    "/fit/",
    "/campaigns/",
    "/campaigns/{campaign}/",
    "/campaigns/{campaign}/progress/",
    "/campaigns/{campaign}/rules/",
    "/campaigns/{campaign}/phases/",
    "/campaigns/{campaign}/scenarios/",
    "/campaigns/{campaign}/purchases/",
    "/designs/",
    "/people/",
    "/people/away/",
    "/boards/",
    "/boards/supplies/",
    "/stock/",
    "/catalogue/locations/",
    "/export/",
    "/prints/",
)
# Each after what it belongs to.
MANY_OF = (
    CatalogueObject,
    CampaignObject,
    Housing,
    HousedObject,
    HousingEvent,
    Task,
    Hold,
    FitCheck,
)
SIDES = {f"{which}_{side}_mm": 200 for which in ("inner", "outside") for side in "xyz"}

pytestmark = [pytest.mark.django_db, pytest.mark.xdist_group("list_queries")]


@pytest.fixture(scope="module")
def queries(django_db_setup, django_db_blocker):
    """Queries of each page with few and with many rows; the records are gone afterwards."""
    with django_db_blocker.unblock(), transaction.atomic():
        client = Client()
        client.force_login(make_user("manager"))
        keys = fill(0, FEW)
        few = {name: queries_of(client, name.format(**keys)) for name in LISTS}
        fill(FEW, HUNDREDS)
        for model in MANY_OF:
            multiply(model)
        assert {model.objects.count() for model in MANY_OF} == {MANY}
        many = {name: queries_of(client, name.format(**keys)) for name in LISTS}
        yield {name: (few[name], many[name]) for name in LISTS}
        transaction.set_rollback(True)


def queries_of(client: Client, address: str) -> int:
    with CaptureQueriesContext(connection) as asked:
        answer = client.get(address)
    assert answer.status_code == 200, address
    return len(asked)


def multiply(model: type[Model]) -> None:
    """MANY rows out of the HUNDREDS there are, copied by the database: quicker than by bulk_create.

    Copies belong to the copies of what the rows belong to, and else to the same; texts that are used once are
    told apart by the number of the copy.
    """
    columns = []
    for field in model._meta.concrete_fields:
        column = connection.ops.quote_name(field.column)
        if field.primary_key or field.related_model in MANY_OF:
            column = f"{column} + %(after)s"
        elif field.unique and not field.null:
            column = f"{column} || %(copy)s"
        columns.append(column)
    names = ", ".join(connection.ops.quote_name(field.column) for field in model._meta.concrete_fields)
    table, key = connection.ops.quote_name(model._meta.db_table), model._meta.pk.column
    last = model.objects.order_by("pk").values_list("pk", flat=True).last()
    copied = f"SELECT {', '.join(columns)} FROM {table} WHERE {key} <= %(last)s"
    with connection.cursor() as cursor:
        for copy in range(1, MANY // HUNDREDS):
            cursor.execute(
                f"INSERT INTO {table} ({names}) {copied}",
                {"after": copy * HUNDREDS, "copy": f"-{copy}", "last": last},
            )


def fill(first: int, last: int) -> dict[str, int]:
    """Records from a number up to another; keys of the campaign and the place that all belong to."""
    numbers = range(first, last)
    now = timezone.now()
    house, _ = Location.objects.get_or_create(name="House", path="House", kind="building")
    places = Location.objects.bulk_create(
        Location(parent=house, name=f"Bay {i}", path=f"House / Bay {i}", kind="bay") for i in numbers
    )
    boards = Board.objects.bulk_create(
        Board(code=f"B{i}", name=f"Board {i}", caliper_mm=Decimal("1.5")) for i in numbers
    )
    SheetSize.objects.bulk_create(
        SheetSize(board=board, along_mm=1500, across_mm=1000, price=9) for board in boards
    )
    Supply.objects.bulk_create(Supply(name=f"Supply {i}", kind="glue", unit="g") for i in numbers)
    designs = Design.objects.bulk_create(
        Design(name=f"Box {i}", board=board) for i, board in zip(numbers, boards, strict=True)
    )
    people = Person.objects.bulk_create(
        Person(name=f"Person {i}", hours_per_week=20, rate_per_hour=24, skills="cut; fold") for i in numbers
    )
    Campaign.objects.bulk_create(Campaign(name=f"Campaign {i}") for i in numbers)
    campaign = Campaign.objects.get(name="Campaign 0")
    campaign.people.add(*people)
    things = CatalogueObject.objects.bulk_create(
        CatalogueObject(
            number=f"1990.{i}", number_key=f"{i:08d}", name=f"Bowl {i}", classification=f"Class {i % 9}",
            location=places[i % len(places)], height_mm=100, width_mm=200, depth_mm=150, size_state="known",
        )
        for i in numbers
    )  # fmt: skip
    CampaignObject.objects.bulk_create(
        CampaignObject(campaign=campaign, object=thing, batch=1 + thing.pk % 3) for thing in things
    )
    statuses = ("planned", "in_work", "made", "housed", "waiting")
    boxes = Housing.objects.bulk_create(
        Housing(
            campaign=campaign, design=designs[i % len(designs)], status=statuses[i % 5],
            problem="no_design" if i % 5 == 4 else "", **SIDES,
        )
        for i in numbers
    )  # fmt: skip
    HousedObject.objects.bulk_create(
        HousedObject(housing=box, object=thing) for box, thing in zip(boxes, things, strict=True)
    )
    HousingEvent.objects.bulk_create(HousingEvent(housing=box, status=box.status) for box in boxes)
    Task.objects.bulk_create(
        Task(
            housing=box, step="score" if i % 2 else "glue", sequence=4, planned_minutes=10,
            person=people[i % len(people)] if i % 3 else None,
            **({"state": "done", "done_at": now, "spent_minutes": 9} if i % 5 == 0 else {}),
        )
        for i, box in zip(numbers, boxes, strict=True)
    )  # fmt: skip
    Hold.objects.bulk_create(
        Hold(
            housing=box, reason=("conservator", "measurement")[i % 2], question="Which way up?", asked_at=now
        )
        for i, box in zip(numbers, boxes, strict=True)
    )
    FitCheck.objects.bulk_create(
        FitCheck(
            housing=box, fits=False, lid_closes=True, nothing_touches=True, cause="cutting", side="depth",
            remedy="adjust", at=now - timedelta(hours=i),
        )
        for i, box in zip(numbers, boxes, strict=True)
    )  # fmt: skip
    return {"campaign": campaign.pk, "place": house.pk}


@pytest.mark.parametrize("name", LISTS)
def test_many_rows_take_as_many_queries_as_few(queries, name):
    few, many = queries[name]

    assert many == few
