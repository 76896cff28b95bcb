"""The buttons that plan a campaign again, and what they ask of the job."""

from decimal import Decimal

import pytest

from housing.models import Campaign, CuttingPlan, Job
from tests.factories import make_campaign, make_sheet_size

pytestmark = pytest.mark.django_db


@pytest.fixture
def campaign() -> Campaign:
    return make_campaign()


def add_sheet(campaign: Campaign, **given) -> None:
    size = make_sheet_size()
    plan = CuttingPlan.objects.create(campaign=campaign, kerf_mm=1, trim_mm=5)
    plan.sheets.create(
        position=1, board=size.board, sheet_size=size, along_mm=1524, across_mm=1016,
        price=Decimal("12.50"), **given,
    )  # fmt: skip


def buttons(client, campaign: Campaign) -> list[str]:
    page = client.get(f"/campaigns/{campaign.pk}/").text
    form = page.split(f'action="/campaigns/{campaign.pk}/make-plan/"')[1].split("</form>")[0]
    return [part.split("</button>")[0] for part in form.split("<button ")[1:]]


def test_a_plan_with_sheets_not_yet_cut_offers_to_keep_them(manager, campaign):
    add_sheet(campaign)

    keep, anew = buttons(manager, campaign)

    assert keep == (
        'class="btn btn-primary" name="keep" value="on" aria-describedby="keep-help">'
        "Plan again, keep sheets that can stay"
    )
    assert anew == 'class="btn btn-plain" aria-describedby="anew-help">Plan anew from scratch'


def test_without_a_plan_there_is_one_button(manager, campaign):
    assert buttons(manager, campaign) == ['class="btn btn-primary">Plan the campaign']


def test_a_plan_of_which_all_is_cut_has_nothing_to_keep(manager, campaign):
    add_sheet(campaign, cut_at="2026-03-02T10:00Z")

    assert buttons(manager, campaign) == ['class="btn btn-primary">Plan anew from scratch']


@pytest.mark.parametrize(
    ("posted", "asked"), [({"keep": "on"}, {"keep": True}), ({}, {}), ({"keep": "perhaps"}, {})]
)
def test_the_job_is_told_whether_to_keep_sheets(manager, campaign, posted, asked):
    manager.post(f"/campaigns/{campaign.pk}/make-plan/", posted)

    assert Job.objects.get().parameters == {"campaign": campaign.pk, **asked}
