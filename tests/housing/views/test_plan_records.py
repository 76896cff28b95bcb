"""Comparing two plans of a campaign: what the page tells, and whom and what it refuses."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from housing.models import PlanRecord
from tests.factories import make_campaign

pytestmark = pytest.mark.django_db
RULES = {"Gap kept between blanks": "1 mm", "Blanks turned against the flutes": "not allowed"}


@pytest.fixture
def campaign():
    return make_campaign(currency="EUR")


def make_record(campaign, *sheets: tuple[str, ...], rules=RULES, **given) -> PlanRecord:
    """A plan with one sheet of 1524 x 1016 mm of board B7 for each tuple of blanks; figures of the board."""
    return PlanRecord.objects.create(
        campaign=campaign,
        rules=rules,
        boards=[
            {
                "board": "B7", "cost": "0.00", "least_cost": "0.00", "sheets": len(sheets), "least_sheets": 0,
                "cut_cost": "0.00", "cut_sheets": 0, "blanks": sum(map(len, sheets)), "used_share": 0.0,
                "offcut_mm2": 0.0, "in_corners": 0, **given,
            }
        ],
        sheets=[
            {
                "board": "B7", "source": "1524 × 1016 mm", "along_mm": 1524.0, "across_mm": 1016.0,
                "is_cut": False, "blanks": blanks,
            }
            for blanks in sheets
        ],
    )  # fmt: skip


def page_of(campaign, **chosen) -> str:
    query = "&".join(f"{name}={getattr(record, 'pk', record)}" for name, record in chosen.items())
    return f"/campaigns/{campaign.pk}/plan/compare/?{query}"


def told(response) -> dict[str, tuple]:
    rows = [row for _, _, rows in response.context["tables"] for row in rows]
    return {row.label: (row.first, row.second, row.difference, row.is_better) for row in rows}


def test_both_plans_stand_side_by_side_with_what_the_second_has_more_or_less(viewer, campaign):
    make_record(
        campaign, ("1 base",), ("2 base",), ("1 lid", "2 lid"),
        cost="1250.00", least_cost="1000.00", used_share=0.7, offcut_mm2=500_000.0,
    )  # fmt: skip
    make_record(
        campaign, ("1 base", "1 lid"), ("2 base", "2 lid"),
        cost="1237.50", least_cost="1100.00", used_share=0.75, offcut_mm2=250_000.0, in_corners=2,
    )  # fmt: skip

    assert told(viewer.get(page_of(campaign))) == {
        "Cost of all sheets": ("1,250.00 EUR", "1,237.50 EUR", "12.50 EUR less", True),
        "Least possible cost of sheets still to cut, at least": (
            "1,000.00 EUR", "1,100.00 EUR", "100.00 EUR more", None,
        ),
        # 1250 / 1000 = 1.25 and 1237.50 / 1100 = 1.125
        "Above the least possible, at most": ("25.0 %", "12.5 %", "12.5 percentage points less", True),
        "Blanks": ("4", "4", "the same", None),
        "Share of the board used": ("70.0 %", "75.0 %", "5.0 percentage points more", True),
        "Kept as offcuts": ("0.50 m²", "0.25 m²", "0.25 m² less", None),
        "Blanks cut from the corners of others": ("0", "2", "2 more", None),
        "B7, 60 × 40 in": ("3", "2", "1 fewer", None),
        "In all": ("3", "2", "1 fewer", None),
    }  # fmt: skip


def test_the_last_two_plans_are_shown_unless_others_are_chosen(viewer, campaign):
    first, second, third = (make_record(campaign, cost=f"{cost}.00") for cost in (1, 2, 4))

    usual = told(viewer.get(page_of(campaign)))["Cost of all sheets"]
    chosen = told(viewer.get(page_of(campaign, first=third, second=first)))["Cost of all sheets"]

    assert usual == ("2.00 EUR", "4.00 EUR", "2.00 EUR more", False)
    assert chosen == ("4.00 EUR", "1.00 EUR", "3.00 EUR less", True)


def test_a_dearer_plan_is_told_in_words_and_in_colour(viewer, campaign):
    make_record(campaign, cost="1.00")
    make_record(campaign, cost="2.00")

    assert (
        '<span class="tag tag-check">1.00 EUR more</span>' in viewer.get(page_of(campaign)).content.decode()
    )


def test_what_differs_too_little_to_be_written_is_the_same(viewer, campaign):
    make_record(campaign, ("1 base",), used_share=0.7)
    make_record(campaign, ("1 base",), used_share=0.7001)

    assert told(viewer.get(page_of(campaign)))["Share of the board used"] == (
        "70.0 %",
        "70.0 %",
        "the same",
        None,
    )


def test_a_plan_from_offcuts_alone_has_no_share_above_the_least(viewer, campaign):
    make_record(campaign, cost="5.00", least_cost="4.00")
    make_record(campaign)

    # 5 / 4 = 1.25
    assert told(viewer.get(page_of(campaign)))["Above the least possible, at most"] == (
        "25.0 %",
        "—",
        "—",
        None,
    )


def test_sheets_cut_between_the_plans_still_count_in_the_cost_of_all(viewer, campaign):
    make_record(campaign, cost="25.00")
    make_record(campaign, cost="12.50", cut_cost="12.50", cut_sheets=1)

    found = told(viewer.get(page_of(campaign)))

    assert found["Cost of all sheets"] == ("25.00 EUR", "25.00 EUR", "the same", None)
    assert found["For sheets cut before the plan was made"][:3] == ("0.00 EUR", "12.50 EUR", "12.50 EUR more")
    assert found["For sheets still to cut"][:3] == ("25.00 EUR", "12.50 EUR", "12.50 EUR less")


def test_the_rules_that_differ_are_told_in_the_unit_of_the_reader_and_exactly(viewer, campaign):
    make_record(campaign, rules=RULES | {"Corners": "used"})
    make_record(campaign, rules=RULES | {"Gap kept between blanks": "3.175 mm"})

    assert viewer.get(page_of(campaign)).context["rules"] == [
        ("Gap kept between blanks", "1/16 in (1 mm)", "1/8 in (3.175 mm)"),  # 1 mm is 0.63 of 1/16 in
        ("Corners", "used", "—"),
    ]


def test_sheets_and_blanks_that_changed_are_told_and_the_others_counted(viewer, campaign):
    make_record(campaign, ("1 base",), ("2 base", "2 lid"), ("9 lid",))
    make_record(campaign, ("1 base",), ("2 base",), ("2 lid", "3 lid"))

    response = viewer.get(page_of(campaign))

    assert response.context["sheets_alike"] == 1
    assert [(change.sentence, list(change.lines)) for change in response.context["changes"]] == [
        ("2 sheets only in the first plan", ["B7, 60 × 40 in: 2 base, 2 lid", "B7, 60 × 40 in: 9 lid"]),
        ("1 blank only in the first plan", ["9 lid"]),
        ("2 sheets only in the second plan", ["B7, 60 × 40 in: 2 base", "B7, 60 × 40 in: 2 lid, 3 lid"]),
        ("1 blank only in the second plan", ["3 lid"]),
        ("2 blanks on a sheet with other blanks than before", ["2 base", "2 lid"]),
    ]
    assert "1 sheet is alike in both plans" in response.content.decode()


def test_a_long_list_of_changes_is_folded_away(viewer, campaign):
    make_record(campaign)
    make_record(campaign, tuple(f"{number} lid" for number in range(1, 8)))

    page = viewer.get(page_of(campaign)).content.decode()

    assert "<details><summary>7 blanks only in the second plan</summary>" in page
    assert "<h3>1 sheet only in the second plan</h3>" in page


def test_two_plans_alike_are_said_to_be(viewer, campaign):
    make_record(campaign, ("1 base",))
    make_record(campaign, ("1 base",))

    page = viewer.get(page_of(campaign)).content.decode()

    assert "Both plans cut the same blanks from the same sheets." in page
    assert "Both plans went by the same rules." in page


def test_the_same_plan_chosen_twice_is_pointed_out(viewer, campaign):
    record, _ = make_record(campaign), make_record(campaign)

    assert (
        "This is the same plan twice"
        in viewer.get(page_of(campaign, first=record, second=record)).content.decode()
    )


def test_a_sentence_stands_for_a_campaign_with_one_plan_or_none(viewer, campaign):
    none = viewer.get(page_of(campaign)).content.decode()
    make_record(campaign)
    one = viewer.get(page_of(campaign)).content.decode()

    assert "No plan to compare yet" in none
    assert "Only one plan yet" in one


def test_the_page_asks_as_often_for_five_plans_and_three_sheets_as_for_two_and_one(viewer, campaign):
    def queries() -> int:
        viewer.get(page_of(campaign))
        with CaptureQueriesContext(connection) as made:
            assert viewer.get(page_of(campaign)).status_code == 200
        return len(made)

    make_record(campaign, ("1 base",)), make_record(campaign, ("2 base",))
    once = queries()
    for _ in range(3):
        make_record(campaign, ("1 base",), ("2 base",), ("3 base",))

    assert queries() == once


def test_a_plan_that_is_not_kept_is_not_found(viewer, campaign):
    _, record = make_record(campaign), make_record(campaign)

    assert viewer.get(page_of(campaign, first=record.pk + 1)).status_code == 404
    assert viewer.get(page_of(campaign, second="newest")).status_code == 404


def test_a_plan_of_another_campaign_is_not_found(viewer, campaign):
    make_record(campaign), make_record(campaign)
    other = make_record(make_campaign())

    assert viewer.get(page_of(campaign, first=other)).status_code == 404
    assert viewer.get(page_of(campaign, second=other)).status_code == 404


def test_a_campaign_there_is_not_is_not_found(viewer, campaign):
    assert viewer.get(f"/campaigns/{campaign.pk + 1}/plan/compare/").status_code == 404


def test_nobody_compares_plans_without_signing_in(client, campaign):
    page = f"/campaigns/{campaign.pk}/plan/compare/"

    assert client.get(page).url == f"/accounts/login/?next={page}"


def test_plans_are_compared_by_reading_alone(viewer, campaign):
    assert viewer.post(page_of(campaign)).status_code == 405
