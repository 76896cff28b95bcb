"""How far one campaign is: every figure leads to its list, and money is what boxes and hours come to."""

from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone

from housing.models import FitCheck
from housing.services.sheets import cut_sheet
from tests.factories import make_campaign, make_housing, make_person, make_sheet, make_tasks, make_user
from tests.housing.views.test_home import fill_every_part, listed, numbered_links

pytestmark = pytest.mark.django_db


@pytest.fixture
def manager(client):
    client.force_login(make_user("manager"))
    return client


def page_of(client, campaign):
    return client.get(reverse("housing:campaign-progress", args=[campaign.pk]))


def test_the_number_on_every_link_is_that_of_the_list_behind_it(manager):
    campaign = fill_every_part()

    links = numbered_links(page_of(manager, campaign))

    assert len(links) >= 15
    assert [(url, listed(manager, url)) for url, _ in links] == links


def test_only_what_is_the_campaigns_own_is_counted(manager):
    campaign = make_campaign()
    fill_every_part()

    shown = page_of(manager, campaign).context

    assert (shown["total"], shown["blocks"], shown["questions"], shown["no_board"]) == (0, [], 0, 0)
    assert not shown["done"].is_any


def test_money_used_is_board_cut_and_paid_work(manager):
    campaign = make_campaign(rate_per_hour=Decimal("30"))
    box = make_housing(campaign=campaign)
    done = {"state": "done", "done_at": timezone.now()}
    paid = make_person(rate_per_hour=Decimal("24"), on_cost_share=Decimal("0.25"))
    make_tasks(box, "score", person=paid, spent_minutes=30, **done)
    make_tasks(box, "glue", person=make_person(kind="volunteer", rate_per_hour=0), spent_minutes=600, **done)
    make_tasks(box, "lid", planned_minutes=20, **done)
    make_tasks(box, "fit", person=paid, planned_minutes=60)
    cut_sheet(sheet=make_sheet(box, price=Decimal("12.50")))

    (used,) = page_of(manager, campaign).context["used"]

    # Half an hour at 24 x 1.25 is 15.00; 20 planned minutes of nobody at 30 an hour are 10.00; volunteers
    # cost nothing, open steps nothing yet; the sheet is 12.50.
    assert (used.paid, used.money_used) == (Decimal("25.00"), Decimal("37.50"))


def test_what_misfits_cost_is_told(manager):
    box = make_housing(campaign=make_campaign())
    FitCheck.objects.create(
        housing=box,
        fits=False,
        lid_closes=True,
        nothing_touches=True,
        cause="cutting",
        remedy="remake",
        board_cost=Decimal("4.20"),
        work_cost=Decimal("8.00"),
        at=timezone.now(),
    )

    page = page_of(manager, box.campaign)

    assert page.context["remakes"].total == Decimal("12.20")
    assert "1: board 4.20, work 8.00 USD" in page.text


def test_a_campaign_that_is_not_there_is_said_so(manager):
    assert manager.get("/campaigns/999/progress/").status_code == 404
