"""Pictures where people would rather look, each with its numbers as a table and as a file."""

import csv
from datetime import datetime
from io import StringIO
from xml.etree import ElementTree

import pytest
from django.utils import timezone

from housing.models import HousingEvent, PlannedSheet, ReadyMadeBox
from housing.queries.figures import housed_by_month
from housing.services.campaigns import plan_campaign
from tests.factories import (
    make_campaign,
    make_design,
    make_housing,
    make_object,
    make_person,
    make_sheet,
    make_sheet_size,
    make_user,
)

pytestmark = pytest.mark.django_db
PAGE = "/figures/"


@pytest.fixture
def reader(client):
    client.force_login(make_user("viewer"))
    return client


def file_of(client, address: str) -> list[list[str]]:
    answer = client.get(address)
    assert answer.headers["content-type"] == "text/csv; charset=utf-8"
    return list(csv.reader(StringIO(b"".join(answer.streaming_content).decode("utf-8-sig"))))


def measured(*sides_mm, **given):
    height, width, depth = sides_mm
    return make_object(height_mm=height, width_mm=width, depth_mm=depth, size_state="known", **given)


def test_an_empty_museum_is_told_so(reader):
    page = reader.get(PAGE).text

    assert "No object is measured yet." in page
    assert "No object is housed yet." in page
    assert "No sheet is planned yet." in page


def test_objects_are_counted_by_size_and_by_what_would_fit(reader):
    # 76.2 mm is 3 in, 203.2 mm is 8 in, 254 mm is 10 in.
    for sides in ((76.2, 76.2, 76.2), (203.2, 50, 50), (254, 254, 254)):
        measured(*sides)
    make_object(size_state="missing", height_mm=None, width_mm=None, depth_mm=None)
    ReadyMadeBox.objects.create(name="Cube", inner_x_mm=210, inner_y_mm=210, inner_z_mm=210, price=9)

    rows = file_of(reader, f"{PAGE}?chart=sizes")
    page = reader.get(PAGE).text

    assert rows[:4] == [
        ["", "Would fit a standard size", "Would fit none"],
        ["up to 4 in", "1", "0"],
        ["above 4 to 8 in", "1", "0"],
        ["above 8 to 12 in", "0", "1"],
    ]
    assert "2 of 3 measured objects (67%) would fit the one standard size there is." in page
    assert "1 object is not in this picture" in page


def test_months_between_have_a_row_of_their_own():
    def housed(month: int):
        box = make_housing(make_object(), status="housed")
        HousingEvent.objects.create(housing=box, status="housed")
        box.events.update(at=timezone.make_aware(datetime(2026, month, 15)))

    for month in (3, 3, 6):
        housed(month)

    assert [(month.month, before, new) for month, before, new in housed_by_month()] == [
        (3, 0, 2), (4, 2, 0), (5, 2, 0), (6, 2, 1),
    ]  # fmt: skip


def sheet_with_offcut(**given) -> PlannedSheet:
    """A sheet of 1,000 by 1,000 mm with an offcut of 500 by 500 mm: a quarter of it."""
    sheet = make_sheet(make_housing(make_object(), campaign=make_campaign(name="Attic")), **given)
    PlannedSheet.objects.filter(pk=sheet.pk).update(
        along_mm=1000, across_mm=1000, offcuts=[{"x_mm": 0, "y_mm": 0, "along_mm": 500, "across_mm": 500}]
    )
    sheet.placements.update(along_mm=400, across_mm=500)  # a fifth of it
    return sheet


def test_what_becomes_of_board_is_told_by_campaign_and_by_sheet(reader):
    sheet = sheet_with_offcut()

    assert file_of(reader, f"{PAGE}?chart=board")[1:] == [["Attic", "20.0", "25.0", "55.0"]]
    plan = f"/campaigns/{sheet.plan.campaign_id}/plan/"
    assert file_of(reader, f"{plan}?chart=use")[1:] == [
        ["All sheets", "20.0", "25.0", "55.0"],
        [str(sheet), "20.0", "25.0", "55.0"],
    ]


def test_a_budget_shows_what_its_money_is_for(client):
    client.force_login(make_user("manager"))
    campaign = make_campaign(make_object())
    campaign.rules.create(position=1, design=make_design(board=make_sheet_size().board))
    campaign.people.add(make_person())
    plan_campaign(campaign=campaign)

    page = client.get(f"/campaigns/{campaign.pk}/budget/")
    rows = file_of(client, f"/campaigns/{campaign.pk}/budget/?chart=cost")

    assert "What the money is for" in page.text
    assert rows[0][1].startswith("Cost, ")
    shown = sum(float(amount) for _label, amount in rows[1:])
    assert shown == pytest.approx(float(sum(total for _w, _a, _l, total in page.context["sections"])))


def test_charts_are_told_to_those_who_do_not_see_them(reader):
    measured(100, 100, 100)
    charts = reader.get(PAGE).context["charts"].values()

    for chart in charts:
        drawing = ElementTree.fromstring(chart.svg)
        names = [child.tag.rpartition("}")[2] for child in drawing]
        assert names[:2] == ["title", "desc"]
        assert drawing.get("role") in ("img", "group")


def test_parts_of_a_chart_differ_in_grey_as_well(reader):
    sheet_with_offcut()
    charts = reader.get(PAGE).context["charts"].values()

    for chart in charts:
        greys = [part.grey for part in chart.series]
        assert len(set(greys)) == len(greys)
