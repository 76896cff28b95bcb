"""Tables that people shape: their columns, and what is seen as a file."""

import csv
from decimal import Decimal
from io import StringIO

import pytest
from django.utils import timezone

from boards.models import Supplier, Supply
from housing.models import FitCheck, Hold
from housing.tables.objects import ObjectTable
from objects.models import Preferences, TableColumns
from tests.factories import (
    make_board,
    make_campaign,
    make_housing,
    make_location,
    make_object,
    make_person,
    make_sheet_size,
    make_tasks,
    make_user,
)

pytestmark = pytest.mark.django_db
LISTS = (
    "/objects/", "/need/", "/work/?person=", "/questions/", "/fit/", "/campaigns/", "/designs/", "/people/",
    "/boards/", "/boards/supplies/",
)  # fmt: skip


@pytest.fixture
def reader(client):
    client.force_login(make_user("manager"))
    return client


def headings(client, page: str) -> list[str]:
    return [column.name for column in client.get(page).context["table"].columns]


def rows_of(answer) -> list[list[str]]:
    return list(csv.reader(StringIO(b"".join(answer.streaming_content).decode("utf-8-sig"))))


def choose(client, table: str, order: list[str], ticked: list[str], **more):
    given = {"column": order, "shown": ticked, "back": f"/{table}/?q=bowl", **more}
    return client.post(f"/catalogue/columns/{table}/", given)


def only(client, *names: str, **more):
    """The object list with these columns only, in this order."""
    rest = [name for name in ObjectTable.offers().names if name not in names]
    return choose(client, "objects", [*names, *rest], list(names), **more)


@pytest.mark.parametrize("page", LISTS)
def test_every_list_offers_its_columns_and_its_rows_as_a_file(reader, page):
    box = make_housing(make_object(), campaign=make_campaign())
    make_tasks(box, "cut")
    make_person()
    Hold.objects.create(housing=box, reason="conservator", question="Which way up?", asked_at=timezone.now())
    FitCheck.objects.create(
        housing=box, fits=False, lid_closes=True, nothing_touches=True, cause="cutting", side="depth",
        remedy="adjust", at=timezone.now(),
    )  # fmt: skip
    Supplier.objects.create(name="Mill")
    Supply.objects.create(name="Glue", kind="glue", unit="g")

    text = reader.get(page).text

    assert 'class="columns-choice"' in text
    assert "as=csv" in text
    assert reader.get(page, {"as": "csv"}).headers["content-type"] == "text/csv; charset=utf-8"


def test_columns_are_kept_per_reader_and_table(reader, client):
    only(reader, "number", "name", "weight")

    assert headings(reader, "/objects/") == ["tick", "number", "name", "weight"]
    assert headings(reader, "/people/")[0] == "name"
    client.force_login(make_user("viewer"))
    assert "size" in headings(client, "/objects/")


def test_number_and_name_stay_whatever_is_sent(reader):
    choose(reader, "objects", ["size"], [])

    assert headings(reader, "/objects/")[:3] == ["tick", "number", "name"]


def test_a_button_moves_a_column_and_leads_back_to_the_list_with_its_filters(reader):
    answer = only(reader, "number", "name", "size", earlier="size")

    assert answer.headers["location"] == "/objects/?q=bowl#columns-objects"
    assert headings(reader, "/objects/") == ["tick", "number", "size", "name"]


def test_one_can_go_back_to_the_usual_columns(reader):
    before = headings(reader, "/objects/")
    choose(reader, "objects", ["number", "name"], [])

    choose(reader, "objects", [], [], usual="1")

    assert headings(reader, "/objects/") == before
    assert not TableColumns.objects.exists()


def test_the_way_back_leads_nowhere_else(reader):
    answer = reader.post("/catalogue/columns/objects/", {"back": "https://elsewhere.example/"})

    assert answer.headers["location"] == "/#columns-objects"


def test_columns_of_a_table_that_cannot_be_are_refused(reader):
    assert reader.post("/catalogue/columns/a-b/", {}).status_code == 400
    assert reader.get("/catalogue/columns/objects/").status_code == 405


@pytest.mark.parametrize("kept", [{"a": 1}, "x", [1, None], ["--"], [""]])
def test_a_choice_that_makes_no_sense_shows_the_usual_columns(client, kept):
    user = make_user("viewer")
    client.force_login(user)
    before = headings(client, "/objects/")

    TableColumns.objects.create(user=user, table="objects", columns=kept)

    assert headings(client, "/objects/") == before


def test_a_file_has_the_rows_that_match_in_their_order_on_all_pages(reader):
    for number in range(60):
        make_object(number=f"A.{number}", name="Bowl")
    make_object(number="B.1", name="Jug")

    rows = rows_of(reader.get("/objects/", {"q": "bowl", "sort": "-number", "page": 2, "as": "csv"}))

    assert [row[0] for row in rows] == ["Number", *(f"A.{number}" for number in range(59, -1, -1))]


def test_a_file_has_the_columns_chosen_with_plain_numbers_in_the_unit_of_the_reader(reader):
    # 254 mm = 10 in and 88.9 mm = 3.5 in, by the definition of the inch, 25.4 mm.
    make_object(
        number="A.1", name="=2+3", height_mm=254, width_mm=Decimal("88.9"), depth_mm=None, size_state="check",
        weight_g=1250, location=make_location("Mill, loft"),
    )  # fmt: skip
    only(reader, "number", "name", "location", "size", "weight")

    assert rows_of(reader.get("/objects/?as=csv")) == [
        ["Number", "Name", "Location", "Height (in)", "Width (in)", "Depth (in)", "Size is", "Weight (g)"],
        ["A.1", "'=2+3", "Mill, loft", "10", "3.5", "", "To be checked", "1250.0"],
    ]


def test_a_file_speaks_the_readers_language_and_unit(client):
    user = make_user("viewer")
    Preferences.objects.create(user=user, length_unit="mm", language="fr")
    client.force_login(user)
    make_object(height_mm=254)

    rows = rows_of(client.get("/objects/?as=csv"))

    assert any(heading.endswith("(mm)") for heading in rows[0])
    assert "254" in rows[1]


def test_money_and_hours_are_plain_numbers(reader):
    make_person(name="Ann", hours_per_week=Decimal("12.5"), rate_per_hour=1200)

    rows = rows_of(reader.get("/people/?as=csv"))
    row = dict(zip(*rows, strict=True))

    assert (row["Name"], row["Hours a week"], row["An hour costs"]) == ("Ann", "12.5", "1200.00")


def test_campaigns_of_objects_are_a_column_of_their_own_and_shown_as_they_are(reader):
    for number in range(3):
        make_campaign(make_object(number=f"A.{number}"), name=f"Campaign {number}")
    only(reader, "number", "name", "campaigns")

    page = reader.get("/objects/")
    rows = rows_of(reader.get("/objects/?as=csv"))

    assert [row[2] for row in rows] == ["Campaigns", "Campaign 0", "Campaign 1", "Campaign 2"]
    assert "Campaign 2" in page.text


def test_work_of_others_is_in_nobodys_file(client):
    client.force_login(make_user("viewer"))
    make_housing(make_object())

    assert rows_of(client.get("/work/?as=csv"))[1:] == []


def test_filters_and_sorting_survive_choosing_columns(reader):
    make_object(name="Bowl")

    page = reader.get("/objects/?q=bowl&sort=-score&page=1").text

    assert 'name="back" value="/objects/?q=bowl&amp;sort=-score&amp;page=1"' in page


def test_a_list_of_boards_has_a_row_for_each_sheet_size(reader):
    # 1,524 mm is 60 in, 1,016 mm is 40 in, by the definition of the inch.
    board = make_board(code="B15", name="Grey board", caliper_mm=Decimal("2.54"))
    make_sheet_size(board=board, along_mm=1524, across_mm=1016, price=Decimal("9.5"))

    rows = rows_of(reader.get("/boards/?as=csv"))
    row = dict(zip(*rows, strict=True))

    assert (row["Board"], row["Caliper (in)"]) == ("B15 Grey board", "0.1")
    assert (row["Along (in)"], row["Across (in)"], row["Price"]) == ("60", "40", "9.50")


def test_a_page_of_two_tables_gives_the_file_of_each(reader):
    Supplier.objects.create(name="Mill", lead_days=12)
    Supply.objects.create(name="Glue", kind="glue", unit="g", pack=1000)

    supplies = rows_of(reader.get("/boards/supplies/?as=csv&table=supplies"))
    suppliers = rows_of(reader.get("/boards/supplies/?as=csv&table=suppliers"))

    assert (supplies[1][0], suppliers[1][0]) == ("Glue", "Mill")
    assert dict(zip(*suppliers, strict=True))["Days until it comes"] == "12"
