"""Choosing layouts of sheets, looking at them and taking them as PDF."""

import pytest
from django.urls import reverse

from housing.models import Job
from tests.factories import make_campaign, make_design, make_object, make_person, make_user
from tests.housing.printing.boxes import make_box
from tests.housing.printing.sheets import lay_out

pytestmark = pytest.mark.django_db
URL = reverse("housing:print-sheet-layouts")


@pytest.fixture
def maker(client):
    client.force_login(make_user("maker"))
    return client


@pytest.fixture
def sheets():
    """Two sheets, each too small for more than a base or two lids: cut by Ada in week 1, by Ben in week 2."""
    design = make_design(drawn="nominal")
    found = lay_out(
        *(make_box(make_object(number=f"7.{i}"), design=design) for i in range(2)),
        along_mm=900,
        across_mm=850,
    )
    for number, sheet in enumerate(found):
        sheet.week, sheet.person = number + 1, make_person(name=f"Person {number + 1}")
        sheet.save()
    assert len(found) >= 2
    return found


def titles(response) -> list[str]:
    return [layout.title for layout in response.context["layouts"]]


def test_a_whole_plan_is_printed_sheet_after_sheet(maker, sheets):
    response = maker.get(URL, {"campaign": sheets[0].plan.campaign_id})

    assert response.status_code == 200
    assert titles(response) == [f"Sheet {i} of {len(sheets)}" for i in range(1, len(sheets) + 1)]
    assert response.content.count(b'class="page sheet-layout') >= len(sheets)


@pytest.mark.parametrize(("name", "value"), [("week", lambda s: s.week), ("person", lambda s: s.person_id)])
def test_sheets_of_a_week_or_of_a_person_alone_are_printed(maker, sheets, name, value):
    second = sheets[1]

    response = maker.get(URL, {"campaign": second.plan.campaign_id, name: value(second)})

    assert titles(response) == [f"Sheet 2 of {len(sheets)}"]


def test_single_sheets_are_printed(maker, sheets):
    response = maker.get(URL, {"sheet": [sheets[1].pk]})

    assert titles(response) == [f"Sheet 2 of {len(sheets)}"]


def test_the_left_hand_is_taken_from_the_address(maker, sheets):
    response = maker.get(URL, {"sheet": [sheets[0].pk], "hand": "left"})

    assert response.context["layouts"][0].is_mirrored


@pytest.mark.pango
def test_the_pdf_has_as_many_pages_as_the_page_shows(maker, sheets):
    address = {"campaign": sheets[0].plan.campaign_id}
    shown = sum(len(layout.pages) for layout in maker.get(URL, address).context["layouts"])

    response = maker.get(URL, {**address, "format": "pdf"})

    from io import BytesIO

    from pypdf import PdfReader

    assert response["Content-Type"] == "application/pdf"
    assert len(PdfReader(BytesIO(response.content)).pages) == shown


@pytest.mark.pango
def test_a_big_print_is_made_in_the_background(maker, sheets, monkeypatch):
    monkeypatch.setitem(__import__("housing.views.prints", fromlist=["x"]).AT_ONCE, "sheet_layouts", 1)
    address = f"{URL}?campaign={sheets[0].plan.campaign_id}"

    asked = maker.get(address)
    begun = maker.post(address)

    assert asked.templates[0].name == "housing/print_large.html"
    job = Job.objects.get(kind=Job.Kind.PRINT)
    assert begun.headers["Location"] == reverse("housing:job-detail", args=[job.pk])
    assert job.parameters["keys"] == [sheet.pk for sheet in sheets]


def test_without_a_choice_a_campaign_is_asked_for(maker, sheets):
    response = maker.get(URL)

    assert response.status_code == 200
    assert response.templates[0].name == "housing/sheet_layouts_choose.html"


def test_back_leads_to_the_choice_as_it_was(maker, sheets):
    response = maker.get(URL, {"campaign": sheets[0].plan.campaign_id, "week": 2})

    chosen = maker.get(response.context["back_url"])

    assert chosen.templates[0].name == "housing/sheet_layouts_choose.html"
    assert chosen.context["form"]["week"].value() == "2"


@pytest.mark.parametrize(
    "wrong",
    [
        {"sheet": "999"},
        {"sheet": "x"},
        {"sheet": "9" * 30},
        {"week": "99"},
        {"paper": "A9"},
        {"hand": "both"},
    ],
)
def test_what_cannot_be_is_refused_with_a_sentence(maker, sheets, wrong):
    response = maker.get(URL, {"campaign": sheets[0].plan.campaign_id, **wrong})

    # a key longer than any is passed over, which leaves the campaign's sheets
    assert response.status_code == (200 if wrong.get("sheet") == "9" * 30 else 400)


def test_where_no_sheet_is_like_that_the_page_says_so(maker, sheets):
    for sheet in sheets:
        sheet.cut_at = sheet.plan.made_at
        sheet.save()

    response = maker.get(URL, {"campaign": sheets[0].plan.campaign_id, "uncut": "on"})

    assert response.status_code == 404
    assert "No sheet of this plan is like that" in response.content.decode()


def test_a_campaign_without_a_plan_is_no_choice(maker):
    assert maker.get(URL, {"campaign": make_campaign().pk}).status_code == 400


def test_nobody_prints_without_signing_in(client, sheets):
    assert client.get(URL).status_code == 302


def test_pages_lead_to_the_layouts(maker, sheets):
    plan = maker.get(reverse("housing:campaign-plan", args=[sheets[0].plan.campaign_id])).content.decode()
    bench = maker.get(reverse("housing:bench-sheet", args=[sheets[0].pk])).content.decode()

    assert f"{URL}?campaign={sheets[0].plan.campaign_id}" in plan
    assert f"{URL}?sheet={sheets[0].pk}" in bench
