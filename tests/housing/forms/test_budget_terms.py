"""The terms of a budget: per cent become shares, and what cannot be so is refused in words."""

from datetime import date
from decimal import Decimal

import pytest

from housing.forms.budget_terms import BudgetTermsForm
from housing.models import BudgetTerms
from housing.queries.budgets import terms_of
from tests.factories import make_campaign, make_design, make_person

pytestmark = pytest.mark.django_db


def terms_data(**given) -> dict:
    return {
        "allowance_share": "11", "allowance_of": "work", "learning": "unit", "learning_rate": "90",
        "learning_reference": "20", "alike_share": "50", "uses_logged_times": "on", "supervision_share": "0",
        "indirect_share": "15", "board_spoilage_share": "3", "glue_bead_mm": "3 mm", "beads_per_joint": "2",
        "labels_each": "1", "gap_filled_share": "50", "contingency_percent": "80", **given,
    }  # fmt: skip


def filled(campaign, **given) -> BudgetTermsForm:
    return BudgetTermsForm(terms_data(**given), instance=terms_of(campaign), unit="in")


def test_per_cent_are_kept_as_shares():
    make_design(form="tray")
    campaign = make_campaign()

    form = filled(campaign, rate_tray="85 %", indirect_share="12.5")

    assert form.is_valid(), form.errors
    form.save()
    terms = BudgetTerms.objects.get(campaign=campaign)
    assert (terms.allowance_share, terms.indirect_share) == (Decimal("0.11"), Decimal("0.125"))
    assert (terms.learning_rate, terms.learning_rates) == (Decimal("0.9"), {"tray": 0.85})


def test_shares_come_back_as_per_cent():
    make_design(form="tray")
    campaign = make_campaign()
    BudgetTerms.objects.create(
        campaign=campaign, indirect_share=Decimal("0.1250"), learning_rates={"tray": 0.85}
    )

    form = BudgetTermsForm(instance=terms_of(campaign), unit="in")

    assert (form["indirect_share"].value(), form["rate_tray"].value()) == ("12.5 %", "85 %")


def test_saving_again_changes_the_same_terms_and_keeps_their_ranges():
    campaign = make_campaign()
    first, second = filled(campaign), filled(campaign, labels_each="2")  # both begun before either is saved
    assert first.is_valid() and second.is_valid()
    first.save()
    BudgetTerms.objects.update(ranges={"everyone": [0.9, 1, 1.3]})

    second.save()

    terms = BudgetTerms.objects.get()
    assert (terms.labels_each, terms.ranges) == (2, {"everyone": [0.9, 1, 1.3]})


@pytest.mark.parametrize(
    ("field", "value", "words"),
    [
        ("allowance_share", "100", "Enter 0 to less than 100 per cent."),
        ("allowance_share", "-1", "Enter 0 to less than 100 per cent."),
        ("learning_rate", "49", "Enter 50 to 100 per cent."),
        ("learning_rate", "a lot", "Enter 50 to 100 per cent."),
        ("rate_tray", "101", "Enter 50 to 100 per cent."),
        ("indirect_share", "101", "Enter 0 to 100 per cent."),
        ("learning_reference", "0", "Enter 1 to 10,000."),
        ("beads_per_joint", "0", "Enter 1 to 20."),
        ("contingency_percent", "100", "Enter 1 to 99."),
        ("glue_bead_mm", "60 mm", "A bead of 60 mm is too wide; at most 50 mm."),
        (
            "supervision_share",
            "10",
            "Choose who supervises, so that the hours can be paid; or enter 0 for supervision.",
        ),
    ],
)
def test_what_cannot_be_so_is_said(field, value, words):
    make_design(form="tray")

    form = filled(make_campaign(), **{field: value})

    assert not form.is_valid()
    assert [words] in form.errors.values()


def test_a_campaign_does_not_end_before_it_starts():
    campaign = make_campaign(starts_on=date(2026, 5, 1))

    form = filled(campaign, ends_on="2026-04-30")

    assert "starts on 01 May 2026" in form.errors["ends_on"][0]


def test_supervision_takes_somebody_who_works_at_present():
    gone = make_person(is_active=False)

    assert "supervisor" in filled(make_campaign(), supervision_share="5", supervisor=gone.pk).errors
