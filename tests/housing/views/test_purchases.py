"""The purchase list of a campaign: what is ordered from whom, on the page, as a table and on paper."""

import csv
from decimal import Decimal
from io import BytesIO, StringIO

import pikepdf
import pytest
from django.urls import reverse

from boards.models import Supplier, Supply
from housing.core.budget.lines import GOODS, total
from housing.queries.budgets import live_budget, read_budget
from housing.queries.purchases import orders_of
from housing.services.budgets import make_budget
from housing.services.campaigns import plan_campaign
from tests.factories import make_campaign, make_design, make_object, make_person, make_sheet_size

pytestmark = pytest.mark.django_db


@pytest.fixture
def campaign():
    """Two boxes from one board; board and labels from the same supplier, glue from nobody."""
    works = Supplier.objects.create(
        name="Works", freight_each=Decimal("38"), freight_share=Decimal("0.04"), lead_days=14
    )
    size = make_sheet_size(supplier=works)
    Supply.objects.create(
        name="=Label", kind="label", unit="piece", pack=100, price=Decimal("7.77"), is_usual=True,
        supplier=works,
    )  # fmt: skip
    Supply.objects.create(
        name="Stick", kind="glue", unit="stick", price=Decimal("0.31"), grams_each=Decimal("23.4"),
        is_usual=True,
    )  # fmt: skip
    campaign = make_campaign(make_object(), make_object())
    campaign.rules.create(position=1, design=make_design(board=size.board))
    campaign.people.add(make_person())
    plan_campaign(campaign=campaign)
    make_budget(campaign=campaign)
    return campaign


def address(name: str, campaign) -> str:
    return reverse(f"housing:campaign-purchases{name}", args=[campaign.pk])


def table(response) -> list[dict[str, str]]:
    return list(csv.DictReader(StringIO(response.content.decode("utf-8-sig"))))


def test_the_orders_are_the_goods_and_the_freight_of_the_budget_to_the_cent(campaign):
    stored = live_budget(campaign)
    budget = read_budget(stored)

    orders = orders_of(stored)

    assert [order.name for order in orders] == ["Works", ""]  # nobody stands last
    of_budget = total(line for section in GOODS for line in budget.of(section))
    assert sum(order.total for order in orders) == of_budget > 0
    works = orders[0]
    # by hand: 38 an order and 4 % of the goods, halves upward
    assert works.freight_total == round(Decimal("38") + works.goods_total * Decimal("0.04"), 2)


def test_the_page_shows_each_order_with_its_sum_and_when_it_comes(viewer, campaign):
    page = viewer.get(address("", campaign))

    text = page.content.decode()
    assert [order.name for order, _ in page.context["orders"]] == ["Works", ""]
    assert f"{page.context['total']:,.2f}" in text
    assert "Comes 14 days after the order" in text
    assert "No supplier entered" in text


def test_the_table_adds_up_to_the_page_and_runs_no_formula(viewer, campaign):
    on_the_page = viewer.get(address("", campaign)).context["total"]

    rows = table(viewer.get(address("-csv", campaign)))

    assert sum(Decimal(row["Amount"]) for row in rows) == on_the_page
    # an apostrophe in front keeps a spreadsheet from running it; OWASP, "CSV Injection"
    assert "'=Label" in [row["What"] for row in rows]


def test_a_table_of_one_supplier_holds_only_what_is_ordered_there(viewer, campaign):
    works = Supplier.objects.get()

    rows = table(viewer.get(address("-csv", campaign), {"supplier": works.pk}))

    assert {row["Supplier"] for row in rows} == {"Works"}
    assert {row["Group"] for row in rows} == {"Board", "Tape, ties, labels and the like", "Freight"}


@pytest.mark.pango
def test_each_order_is_printed_on_a_page_of_its_own(viewer, campaign):
    response = viewer.get(address("-pdf", campaign))

    assert response["Content-Type"] == "application/pdf"
    assert len(pikepdf.open(BytesIO(response.content)).pages) == 2


def test_without_a_budget_the_page_says_what_to_do_and_there_is_no_file(viewer):
    campaign = make_campaign()

    assert "Nothing to order yet" in viewer.get(address("", campaign)).content.decode()
    assert viewer.get(address("-csv", campaign)).status_code == 404


def test_there_is_no_file_of_a_supplier_from_whom_nothing_is_ordered(viewer, campaign):
    assert viewer.get(address("-csv", campaign), {"supplier": "999"}).status_code == 404


def test_who_has_not_signed_in_is_asked_to(client, campaign):
    assert client.get(address("", campaign)).status_code == 302


def test_a_price_that_changed_makes_the_list_out_of_date(viewer, campaign):
    Supply.objects.filter(name="Stick").update(price=Decimal("0.40"))

    assert "Out of date" in viewer.get(address("", campaign)).content.decode()


def test_a_supply_is_ordered_by_the_name_it_is_sold_under_whatever_the_reader_s_unit(viewer, campaign):
    Supply.objects.filter(name="Stick").update(name="Stick 11 mm")
    make_budget(campaign=campaign)

    rows = table(viewer.get(address("-csv", campaign)))

    assert "Stick 11 mm" in [row["What"] for row in rows]  # not 7/16 in, which nobody sells
    assert "Stick 11 mm" in viewer.get(address("", campaign)).content.decode()
