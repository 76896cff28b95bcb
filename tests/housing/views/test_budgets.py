"""The page of a budget, its terms, its contingency and its baselines; what is refused is said."""

from decimal import Decimal

import pytest

from boards.models import Supply
from housing.models import Budget, BudgetTerms, Job
from housing.queries.budgets import live_budget, terms_of
from housing.services.budgets import freeze_budget, make_budget
from housing.services.campaigns import plan_campaign
from housing.views import budgets as views
from tests.factories import make_campaign, make_design, make_object, make_person, make_sheet_size
from tests.housing.forms.test_budget_terms import terms_data

pytestmark = pytest.mark.django_db


@pytest.fixture
def size():
    return make_sheet_size()


@pytest.fixture
def campaign(size):
    """One bowl in a lidded tray that nothing is missing for."""
    Supply.objects.create(
        name="Label", kind="label", unit="piece", price=Decimal("4"), pack=100, is_usual=True
    )
    Supply.objects.create(
        name="Tissue", kind="tissue", unit="sheet", price=Decimal("20"), pack=100, is_usual=True,
        fills_litres=Decimal("0.5"),
    )  # fmt: skip
    campaign = make_campaign(make_object(number="2001.1"))
    campaign.rules.create(position=1, design=make_design(board=size.board))
    campaign.people.add(make_person())
    return campaign


@pytest.fixture
def planned(campaign):
    plan_campaign(campaign=campaign)
    return campaign


def page(client, campaign, rest: str = ""):
    return client.get(f"/campaigns/{campaign.pk}/budget/{rest}")


def text_of(answer) -> str:
    return " ".join(answer.content.decode().split())


# ---- The page --------------------------------------------------------------------------------------------


def test_it_shows_money_contingency_and_what_is_asked_for_together(manager, planned):
    budget = live_budget(planned)

    shown = text_of(page(manager, planned))

    for money in (budget.money, budget.contingency, budget.asked_for):
        assert f"{money:,.2f} USD" in shown
    assert budget.is_complete and "Incomplete" not in shown


def test_every_line_adds_up_to_its_section_and_the_sections_to_the_money(manager, planned):
    shown = page(manager, planned).context

    for _, _, lines, total in shown["sections"]:
        assert sum(line.amount for line in lines) == total
    assert sum(total for *_, total in shown["sections"]) == live_budget(planned).money
    for _, _, rows in shown["breakdowns"]:
        assert sum(Decimal(row["total"]) for row in rows) == live_budget(planned).money


def test_a_line_links_to_what_it_was_computed_from(manager, planned, size):
    shown = text_of(page(manager, planned))

    assert f'<a href="/boards/{size.board_id}/">' in shown
    assert f'<a href="/people/{planned.people.get().pk}/edit/">' in shown


def test_an_incomplete_one_says_so_in_place_of_a_bare_total(manager, planned, size):
    size.price = 0
    size.save()
    make_budget(campaign=planned)

    shown = text_of(page(manager, planned))

    assert "Incomplete: the sum is too low" in shown
    assert f"more than {live_budget(planned).money:,.2f} USD" in shown
    assert "asked for</a>" not in shown  # no tile with a figure to be copied


def test_it_says_what_has_changed_since(manager, planned, size):
    size.price = 99
    size.save()

    shown = text_of(page(manager, planned))

    assert "Out of date." in shown and "a price of board, or a supplier" in shown


def test_the_address_of_before_leads_to_it(manager, planned):
    assert manager.get(f"/campaigns/{planned.pk}/estimate/").url == f"/campaigns/{planned.pk}/budget/"


def test_before_the_plan_it_says_what_to_do(manager, campaign):
    assert "Plan the campaign first" in text_of(page(manager, campaign))


def test_a_plan_without_a_budget_can_be_given_one(manager, planned):
    Budget.objects.all().delete()
    assert "its budget is not worked out yet" in text_of(page(manager, planned))

    manager.post(f"/campaigns/{planned.pk}/budget/make/")

    assert live_budget(planned).money > 0


# ---- Working it out again --------------------------------------------------------------------------------


def test_it_is_worked_out_again_with_the_prices_of_now(manager, planned, size):
    before = live_budget(planned).money
    size.price *= 2
    size.save()

    answer = manager.post(f"/campaigns/{planned.pk}/budget/make/", follow=True)

    # one sheet for the blanks and one for the 3 % that are spoiled, at 12.50 more each
    assert live_budget(planned).money == before + 25
    assert "worked out again" in text_of(answer)


def test_of_many_boxes_a_job_works_it_out(manager, planned, monkeypatch, django_capture_on_commit_callbacks):
    monkeypatch.setattr(views, "MOST_AT_ONCE", 0)
    Budget.objects.all().delete()

    with django_capture_on_commit_callbacks(execute=True):
        answer = manager.post(f"/campaigns/{planned.pk}/budget/make/")

    job = Job.objects.get(kind=Job.Kind.BUDGET)
    assert answer.url == f"/jobs/{job.pk}/"
    assert job.result_url == f"/campaigns/{planned.pk}/budget/"
    assert job.state == Job.State.DONE and live_budget(planned).money > 0


# ---- Terms and contingency -------------------------------------------------------------------------------


def test_terms_are_entered_and_outdate_the_budget(manager, planned):
    answer = manager.post(
        f"/campaigns/{planned.pk}/budget/terms/", terms_data(indirect_share="15"), follow=True
    )

    assert terms_of(planned).indirect_share == Decimal("0.15")
    assert "the terms or the campaign&#x27;s own figures" in text_of(answer)


def test_terms_refused_are_shown_with_what_is_wrong(manager, planned):
    answer = manager.post(f"/campaigns/{planned.pk}/budget/terms/", terms_data(allowance_share="120"))

    assert "Enter 0 to less than 100 per cent." in text_of(answer)
    assert not BudgetTerms.objects.exists()


def test_the_contingency_reaches_up_to_the_chosen_figure(manager, planned):
    manager.post(f"/campaigns/{planned.pk}/budget/contingency/", {"contingency_percent": "95"})

    budget = live_budget(planned)
    figure = budget.content["range"]["quantiles"][94]  # the 95th of 1 to 99
    assert budget.asked_for == Decimal(f"{figure:.2f}")
    assert budget.content["asked_for"] == str(budget.asked_for)
    assert terms_of(planned).contingency_percent == 95
    assert not page(manager, planned).context["changes"]


@pytest.mark.parametrize("percent", ["0", "100", "half", ""])
def test_a_contingency_that_is_none_is_refused(manager, planned, percent):
    before = live_budget(planned).contingency

    answer = manager.post(f"/campaigns/{planned.pk}/budget/contingency/", {"contingency_percent": percent})

    assert "Enter a whole number from 1 to 99." in text_of(answer)
    assert live_budget(planned).contingency == before


def test_without_a_range_there_is_no_contingency_to_choose(manager, planned):
    make_budget(campaign=planned, with_range=False)
    assert "The range is not worked out yet" in text_of(page(manager, planned))

    answer = manager.post(
        f"/campaigns/{planned.pk}/budget/contingency/", {"contingency_percent": "80"}, follow=True
    )

    assert "was not worked out yet" in text_of(answer)


# ---- Baselines -------------------------------------------------------------------------------------------


def test_a_budget_is_frozen_under_a_name_and_compared_with_the_one_of_now(manager, planned, size):
    answer = manager.post(f"/campaigns/{planned.pk}/budget/freeze/", {"name": "The grant"})
    frozen = Budget.objects.get(name="The grant")
    assert answer.url == f"/campaigns/{planned.pk}/budget/{frozen.pk}/"
    size.price *= 2
    size.save()
    make_budget(campaign=planned)

    shown = page(manager, planned, f"{frozen.pk}/")

    (board,) = [row for row in shown.context["differences"] if row.name == "Board"]
    assert (board.before, board.now, board.change) == (25, 50, 25)  # two sheets at 12.50, then at 25
    assert f"{frozen.money:,.2f} USD" in text_of(shown)


@pytest.mark.parametrize(
    ("name", "words"), [("", "Enter a name"), ("the grant", "There is a baseline “the grant” already")]
)
def test_a_name_that_will_not_do_is_refused(manager, planned, name, words):
    freeze_budget(campaign=planned, name="The grant")

    answer = manager.post(f"/campaigns/{planned.pk}/budget/freeze/", {"name": name})

    assert words in text_of(answer)
    assert Budget.objects.exclude(frozen_at=None).count() == 1


def test_the_live_budget_is_no_baseline(manager, planned):
    assert page(manager, planned, f"{live_budget(planned).pk}/").status_code == 404


# ---- Refused ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("part", ["make/", "freeze/", "contingency/", "terms/"])
def test_only_managers_change_a_budget(maker, planned, part):
    assert maker.post(f"/campaigns/{planned.pk}/budget/{part}").status_code == 403


@pytest.mark.parametrize("part", ["", "terms/", "9/"])
def test_a_campaign_that_is_not_there_has_no_budget(manager, part):
    assert manager.get(f"/campaigns/999/budget/{part}").status_code == 404
