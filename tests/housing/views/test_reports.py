"""The page of a report and its files: what is asked for, by whom, and what is refused."""

from datetime import date
from io import BytesIO

import pytest
from django.urls import reverse
from django.utils import timezone
from lxml import html
from openpyxl import load_workbook

from housing.queries.periods import month_of
from tests.factories import make_campaign, make_design, make_housing, make_person
from tests.housing.queries.test_reports import done, on

pytestmark = pytest.mark.django_db

REPORT, PDF, XLSX = (reverse(f"housing:{name}") for name in ("report", "report-pdf", "report-xlsx"))
MAY = {"from": "2026-05-01", "to": "2026-05-31"}


@pytest.fixture
def campaign():
    """An hour of May, paid at 24."""
    campaign = make_campaign(name="Move")
    box = make_housing(design=make_design(), campaign=campaign)
    done(box, "cut", person=make_person(rate_per_hour=24), minutes="60", at=on(9))
    return campaign


def test_it_tells_of_the_days_and_the_campaign_asked_for(viewer, campaign):
    page = viewer.get(REPORT, {**MAY, "campaign": campaign.pk})

    report = page.context["report"]
    assert (report.campaign, report.period.first, report.period.last) == (
        campaign, date(2026, 5, 1), date(2026, 5, 31),
    )  # fmt: skip
    assert f"{PDF}?from=2026-05-01&amp;to=2026-05-31&amp;campaign={campaign.pk}" in page.content.decode()


def test_its_objects_are_counted_by_classification_priority_and_room(viewer, campaign):
    page = viewer.get(REPORT, MAY)

    tables = html.fromstring(page.content).xpath("//section[@id='objects']//table")
    assert [[cell.text for cell in table.xpath(".//th[1] | .//tbody//td")] for table in tables] == [
        ["Classification", "Ceramics", "1", "0", "0", "1"],
        ["Priority", "B: next", "1", "0", "0", "1"],
        ["Room", "No location", "1", "0", "0", "1"],
    ]


def test_without_days_it_tells_of_this_month_and_of_all(viewer, campaign):
    report = viewer.get(REPORT).context["report"]

    assert report.campaign is None
    assert report.period == month_of(timezone.localdate())


def test_managers_read_what_people_cost_others_their_hours(client, manager, campaign):
    page = manager.get(REPORT, MAY)

    assert "at a cost of 24.00 USD" in page.content.decode()


def test_others_read_hours_only_on_the_page_and_in_the_workbook(viewer, campaign):
    page, file = viewer.get(REPORT, MAY).content.decode(), viewer.get(XLSX, MAY).content

    assert "1.0 paid" in page
    assert "24.00" not in page
    work = load_workbook(BytesIO(file))["Work"]
    assert [cell.value for cell in work[1]] == [
        "Who or what", "Paid or given", "Steps done", "Of these without minutes", "Hours", None,
    ]  # fmt: skip


def test_the_workbook_is_named_by_its_days(viewer, campaign):
    file = viewer.get(XLSX, {**MAY, "campaign": campaign.pk})

    assert file["Content-Disposition"] == (
        f'attachment; filename="report-{campaign.pk}-2026-05-01-2026-05-31.xlsx"'
    )


@pytest.mark.pango
def test_the_pdf_is_one(viewer, campaign):
    file = viewer.get(PDF, MAY)

    assert (file.status_code, file["Content-Type"], file.content[:5]) == (200, "application/pdf", b"%PDF-")


def test_where_no_pdf_can_be_made_it_says_why(viewer, monkeypatch):
    monkeypatch.setattr("housing.views.reports.pdf_problem", lambda: "Install Pango")

    page = viewer.get(PDF, MAY)

    assert page.status_code == 503
    assert "Install Pango" in page.content.decode()


# ---- Refused ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("address", [REPORT, PDF, XLSX])
@pytest.mark.parametrize(
    ("asked", "errors"),
    [
        ({"from": "soon", "to": "2026-05-31"}, {"from": ["Enter a day such as 2026-05-31."]}),
        ({"from": "2026-05-01", "to": "2026-02-30"}, {"to": ["Enter a day such as 2026-05-31."]}),
        (
            {"from": "2026-05-02", "to": "2026-05-01"},
            {"to": ["The last day lies before the first. Exchange the two."]},
        ),
        ({"campaign": "7000"}, {"campaign": ["There is no such campaign. Choose one of the list."]}),
        ({"campaign": "x"}, {"campaign": ["There is no such campaign. Choose one of the list."]}),
        ({"from": "0001-01-01", "to": "9999-12-31"}, {
            "from": ["Enter a day between 1900-01-01 and 2199-12-31."],
            "to": ["Enter a day between 1900-01-01 and 2199-12-31."],
        }),
    ],
)  # fmt: skip
def test_what_cannot_be_asked_is_said_beside_its_field(viewer, address, asked, errors):
    page = viewer.get(address, asked)

    assert page.status_code == 400
    assert page.context["form"].errors == errors
    assert "report" not in page.context


@pytest.mark.parametrize("address", [REPORT, PDF, XLSX])
def test_whoever_has_not_signed_in_is_asked_to(client, db, address):
    answer = client.get(address)

    assert answer.status_code == 302
    assert reverse("login") in answer["Location"]


def test_it_only_reads(viewer):
    assert viewer.post(REPORT).status_code == 405
