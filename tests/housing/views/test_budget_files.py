"""A budget as page, PDF, workbook and purchase list: the same figures to the cent on all of them."""

import csv
import re
from collections import Counter
from datetime import date
from decimal import Decimal
from io import BytesIO, StringIO

import pytest
from django.urls import reverse
from lxml import html
from pypdf import PdfReader

from boards.models import PriceBreak, Supplier, Supply
from boards.services import receive_sheets
from housing.core.budget.lines import GOODS, SECTION_NAMES, Section
from housing.models import Budget, BudgetTerms, Grade
from housing.queries.budgets import live_budget, read_budget
from housing.services.budgets import freeze_budget
from housing.services.campaigns import plan_campaign
from tests.factories import make_campaign, make_design, make_object, make_person, make_sheet_size
from tests.housing.printing.budgets import LINES, stored_budget
from tests.office import opened, recalculated

pytestmark = [pytest.mark.django_db, pytest.mark.xdist_group("office")]

ON_HAND = SECTION_NAMES[Section.ON_HAND]
MONEY = re.compile(r"(?<![\d.,])\d{1,3}(?:,\d{3})*\.\d{2}(?!\d)")


@pytest.fixture
def campaign():
    """A campaign with everything that a budget can have, at odd prices."""
    works = Supplier.objects.create(
        name="Works & Sons", freight_each=Decimal("38.17"), freight_share=Decimal("0.0375"), lead_days=14
    )
    size = make_sheet_size(supplier=works, price=Decimal("17.37"), pack=3)
    receive_sheets(sheet_size=size, count=1)
    PriceBreak.objects.create(sheet_size=size, least=30, price=Decimal("16.03"))
    for kind, name, unit, price in (
        ("label", "=Label", "piece", "0.07"), ("glue", "Stick", "stick", "0.31"),
        ("foam", "6 mm foam", "m2", "1.13"),
    ):  # fmt: skip
        Supply.objects.create(
            name=name, kind=kind, unit=unit, price=Decimal(price), pack=7, is_usual=True, supplier=works,
            grams_each=Decimal("23.4"), spoilage_share=Decimal("0.07"),
            on_hand=Decimal("0.01"),
        )  # fmt: skip
    objects = [make_object(), make_object(height_mm=Decimal("101.6"))]
    campaign = make_campaign(*objects, name="“Odd” <move>", starts_on=date(2030, 1, 21), search_seconds=1)
    campaign.rules.create(position=1, design=make_design(board=size.board, padding="6 mm foam"))
    grade = Grade.objects.create(
        name="Technician", rate_per_hour=Decimal("23.17"), on_cost_share=Decimal("0.2853"), source="Pay scale"
    )
    lead = make_person(grade=grade, rate_per_hour=0, skills="cut; fold", hours_per_week=Decimal("0.4"))
    volunteer = make_person(kind="volunteer", in_kind_rate=Decimal("19.99"), skills="fit; return")
    campaign.people.add(lead, volunteer)
    BudgetTerms.objects.create(
        campaign=campaign, indirect_share=Decimal("0.1025"), supervision_share=Decimal("0.15"),
        supervisor=lead,
    )  # fmt: skip
    plan_campaign(campaign=campaign)
    return campaign


def address(kind: str, stored: Budget) -> str:
    return reverse(f"housing:campaign-budget-{kind}", args=[stored.campaign_id, stored.pk])


def on_page(client, campaign) -> set[tuple[str, str]]:
    """What each row of lines on the page is for, with its amount; what is on hand has rows of its own."""
    page = html.fromstring(client.get(reverse("housing:campaign-budget", args=[campaign.pk])).content)
    rows = page.xpath("//table[contains(@class, 'budget-lines')]//tr[td[@class='row-name']]")
    return {
        (metric(row.xpath("string(td[1])")), row.xpath("string(td[@data-label='USD'])").strip())
        for row in rows
    }


def metric(words: str) -> str:
    """The name of the sheet as the budget keeps it, where a reader of inches sees them."""
    return words.strip().replace("60 × 40 in", "1524 × 1016 mm")


def in_purchases(client, campaign) -> dict[str, str]:
    response = client.get(reverse("housing:campaign-purchases-csv", args=[campaign.pk]))
    table = csv.DictReader(StringIO(response.content.decode("utf-8-sig")))
    return {row["What"].removeprefix("'"): row["Amount"] for row in table}


def in_pdf(client, stored) -> list[str]:
    reader = PdfReader(BytesIO(client.get(address("pdf", stored)).content))
    return [page.extract_text() for page in reader.pages]


@pytest.mark.office
@pytest.mark.pango
def test_page_pdf_workbook_and_purchase_list_agree_to_the_cent(viewer, campaign, tmp_path):
    stored = live_budget(campaign)
    budget = read_budget(stored)
    lines = {line.what: line for line in budget.lines if line.section is not Section.ON_HAND}
    amounts = {what: f"{line.amount:,.2f}" for what, line in lines.items()}
    assert {line.section for line in lines.values()} >= set(GOODS) - {Section.READY_MADE}
    assert len(lines) == len(budget.lines) - len(budget.of(Section.ON_HAND))

    page, csv_amounts = on_page(viewer, campaign), in_purchases(viewer, campaign)
    (book,) = recalculated([opened(viewer.get(address("xlsx", stored)).content)], tmp_path)
    first, *others = in_pdf(viewer, stored)

    assert set(amounts.items()) <= page
    goods = {
        what: amount.replace(",", "") for what, amount in amounts.items() if lines[what].section in GOODS
    }
    bought = {metric(name): amount for name, amount in csv_amounts.items()}
    assert bought == goods
    in_book = {
        metric(row[1].value): f"{row[6].value:,.2f}"
        for row in book["Lines"].iter_rows(min_row=2)
        if row[0].value and row[0].value != ON_HAND
    }
    assert in_book == amounts
    on_paper = Counter(MONEY.findall(" ".join(others)))
    assert not Counter(amounts.values()) - on_paper  # as often as there are lines of that amount
    for name, money in (
        ("Money", stored.money), ("Contingency", stored.contingency), ("Asked_for", stored.asked_for)
    ):  # fmt: skip
        sheet, place = book.defined_names[name].attr_text.replace("$", "").split("!")
        assert round(Decimal(repr(book[sheet][place].value)), 6) == money
        assert f"{money:,.2f} USD" in first
    assert stored.money == sum(line.amount for line in lines.values() if line.section is not Section.IN_KIND)


@pytest.fixture
def stored() -> Budget:
    """A live budget as it was worked out one day, of a campaign that has nothing else."""
    budget = stored_budget(campaign=make_campaign())
    budget.save()
    return budget


def test_files_are_named_and_may_be_read_by_everybody_who_has_signed_in(viewer, client, stored):
    response = viewer.get(address("xlsx", stored))

    name = f"budget-{stored.campaign_id}-{stored.pk}.xlsx"
    assert response.headers["Content-Disposition"] == f'attachment; filename="{name}"'
    client.logout()
    assert client.get(address("xlsx", stored)).status_code == 302
    assert client.get(address("pdf", stored)).status_code == 302


def test_a_budget_of_another_campaign_is_not_found(viewer, stored):
    other = make_campaign()

    for kind in ("pdf", "xlsx"):
        wrong = reverse(f"housing:campaign-budget-{kind}", args=[other.pk, stored.pk])
        assert viewer.get(wrong).status_code == 404


def test_a_frozen_workbook_stays_as_it_was_and_the_live_one_is_compared_with_it(viewer, stored):
    frozen = freeze_budget(campaign=stored.campaign, name="As asked for")
    before = cells(viewer, frozen)
    changed = stored_budget(LINES[:2])
    Budget.objects.filter(pk=stored.pk).update(money=changed.money, content=changed.content)

    assert cells(viewer, frozen)["Lines"] == before["Lines"]
    live = cells(viewer, live_budget(stored.campaign))
    assert live["Lines"] != before["Lines"]
    assert "As asked for" in live["Baselines"][0]


@pytest.mark.pango
def test_a_frozen_budget_is_printed_under_its_name(viewer, stored):
    frozen = freeze_budget(campaign=stored.campaign, name="As asked for")

    text = in_pdf(viewer, frozen)[0]

    assert "As asked for: budget of =Move" in " ".join(text.split())


def test_where_no_pdf_can_be_made_the_page_says_what_to_install(viewer, stored, monkeypatch):
    monkeypatch.setattr("housing.views.budget_files.pdf_problem", lambda: "Install Pango.")

    response = viewer.get(address("pdf", stored))

    assert response.status_code == 503
    assert "Install Pango." in response.content.decode()


def cells(client, stored) -> dict[str, list[list]]:
    """All cells of a workbook by sheet, formulas as they are written."""
    book = opened(client.get(address("xlsx", stored)).content)
    return {sheet.title: [[cell.value for cell in row] for row in sheet.iter_rows()] for sheet in book}
