"""The page on which ranges are entered, and how a budget's range is shown."""

import re

import pytest

from housing.core.budget.causes import with_ranges
from housing.core.budget.simulation import Simulation
from housing.models import BudgetTerms
from housing.queries.budgets import live_budget, terms_of
from housing.services.budgets import make_budget
from housing.services.campaigns import plan_campaign
from housing.services.ranges import causes_of_terms
from tests.factories import make_campaign, make_design, make_object, make_person, make_sheet_size

pytestmark = pytest.mark.django_db


@pytest.fixture
def campaign():
    size = make_sheet_size()
    campaign = make_campaign(make_object())
    campaign.rules.create(position=1, design=make_design(board=size.board))
    campaign.people.add(make_person())
    return campaign


def address(campaign) -> str:
    return f"/campaigns/{campaign.pk}/budget/ranges/"


def entered(**changed: str) -> dict[str, str]:
    """The shipped ranges as the form sends them, but for what is given as cause__end."""
    sent = {
        f"{key}-{end}": f"{getattr(cause.range, end) * 100:.1f}"
        for key, cause in with_ranges({}).items()
        for end in ("low", "likely", "high")
    }
    return sent | {key.replace("__", "-"): value for key, value in changed.items()}


def text_of(answer) -> str:
    return " ".join(re.sub("<[^>]+>", " ", answer.content.decode()).split())


def test_it_shows_every_cause_with_its_three_figures_and_its_source(manager, campaign):
    shown = manager.get(address(campaign))

    form = shown.context["form"]
    assert [cause.key for cause, _ in form.rows()] == list(with_ranges({}))
    for cause in with_ranges({}).values():
        assert f"{cause.name} {cause.words}" in text_of(shown)


def test_what_is_entered_is_kept_as_multiples(manager, campaign):
    answer = manager.post(address(campaign), entered(freight__high="300"))

    assert answer.url == f"/campaigns/{campaign.pk}/budget/"
    assert BudgetTerms.objects.get(campaign=campaign).ranges == {"freight": [0.9, 1, 3]}


def test_saving_what_is_shipped_keeps_nothing(manager, campaign):
    manager.post(address(campaign), entered())

    assert BudgetTerms.objects.get(campaign=campaign).ranges == {}


@pytest.mark.parametrize(
    ("changed", "field", "words"),
    [
        ({"freight__likely": "200"}, "freight-likely",
         "200 % does not lie between 90 % at best and 150 %"),
        ({"freight__low": "120"}, "freight-likely", "does not lie between 120 % at best"),
        ({"freight__low": "-1"}, "freight-low", "greater than or equal to 0"),
        ({"freight__high": "2000"}, "freight-high", "less than or equal to 1000"),
        ({"freight__high": ""}, "freight-high", "required"),
        ({"freight__high": "lots"}, "freight-high", "Enter a number"),
    ],
)  # fmt: skip
def test_what_will_not_do_is_refused_beside_its_field_and_nothing_is_lost(
    manager, campaign, changed, field, words
):
    answer = manager.post(address(campaign), entered(wages__high="140", **changed))

    form = answer.context["form"]
    assert list(form.errors) == [field]
    assert words in str(form.errors[field])
    assert form["wages-high"].value() == "140"
    assert not BudgetTerms.objects.filter(campaign=campaign).exists()


def test_the_shipped_ranges_can_be_put_back(manager, campaign):
    manager.post(address(campaign), entered(freight__high="300"))

    manager.post(address(campaign), {"reset": "1"})

    assert causes_of_terms(terms_of(campaign)) == with_ranges({})


@pytest.mark.parametrize("method", ["get", "post"])
def test_only_managers_change_ranges(viewer, campaign, method):
    assert getattr(viewer, method)(address(campaign)).status_code == 403


def test_a_campaign_that_is_not_there_is_not_found(manager):
    assert manager.get("/campaigns/999/budget/ranges/").status_code == 404


# ---- How it is shown -------------------------------------------------------------------------------------


@pytest.fixture
def budgeted(campaign):
    plan_campaign(campaign=campaign)
    make_budget(campaign=campaign)
    return campaign


def test_the_budget_tells_in_words_what_it_may_come_to(manager, budgeted):
    stored = Simulation.from_json(live_budget(budgeted).content["range"])

    shown = text_of(manager.get(f"/campaigns/{budgeted.pk}/budget/"))

    for percent in (50, 80, 95):
        assert f"In {percent} of 100 cases not more than {stored.at(percent):,.2f}" in shown
    assert f"The stated figures add up to {stored.base:,.2f}" in shown
    assert f"enough in {stored.cases_within(stored.base)} of 100 cases" in shown


def test_each_input_that_matters_leads_to_where_it_is_changed(manager, budgeted):
    page = manager.get(f"/campaigns/{budgeted.pk}/budget/").content.decode()

    assert f'href="{address(budgeted)}#board_prices"' in page
    assert 'id="board_prices"' in manager.get(address(budgeted)).content.decode()


def test_a_budget_without_a_range_says_so(manager, campaign):
    plan_campaign(campaign=campaign)
    make_budget(campaign=campaign, with_range=False)

    assert "The range is not worked out yet" in text_of(manager.get(f"/campaigns/{campaign.pk}/budget/"))
