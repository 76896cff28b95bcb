"""Choices within limits made from a planned campaign."""

from datetime import date
from decimal import Decimal

import pytest

from housing.core.selecting import SelectionRefused
from housing.models import CampaignObject, Housing, Selection
from housing.queries.priority import scores_in
from housing.queries.selections import candidates_of, offers_of, workers_until
from housing.services.campaigns import plan_campaign
from housing.services.selections import find_selection, give_batches, scenario_of_selection
from tests.factories import make_campaign, make_design, make_object, make_person, make_sheet_size

pytestmark = pytest.mark.django_db


@pytest.fixture
def campaign():
    """Four bowls on one board; the fragile one is the most urgent."""
    size = make_sheet_size(price=10)
    things = [
        make_object(number=f"T{n}", condition=c) for n, c in enumerate(("good", "fair", "fragile", "good"))
    ]
    campaign = make_campaign(*things, rate_per_hour=Decimal("20"))
    campaign.rules.create(position=1, design=make_design(board=size.board))
    campaign.people.add(make_person(name="Tovi", hours_per_week=10))
    plan_campaign(campaign=campaign)
    return campaign


def make_selection(campaign, **given) -> Selection:
    return Selection.objects.create(**{"campaign": campaign, "name": "Spring grant", **given})


def numbers(campaign, result) -> list[str]:
    of = dict(campaign.objects_in_it.values_list("pk", "number"))
    return sorted(of[pk] for pk in result["chosen"])


def test_a_candidate_takes_what_its_box_costs_besides_board(campaign):
    candidates, objects = candidates_of(campaign)

    box = Housing.objects.get(contents__object__number="T2")
    (candidate,) = (one for one in candidates if one.key == str(box.pk))
    assert Decimal(f"{candidate.money:.2f}") == box.cost - box.board_cost
    assert sum(candidate.minutes.values()) == pytest.approx(
        float(sum(box.tasks.values_list("planned_minutes", flat=True)))
    )
    assert candidate.board_m2 == pytest.approx(
        float(sum(blank.x_mm * blank.y_mm for blank in box.blanks.all())) / 1e6
    )
    assert objects[candidate.key] == [box.contents.get().object_id]


def test_everything_is_chosen_where_the_money_is_enough(campaign):
    found = find_selection(selection=make_selection(campaign, money=100_000)).result

    assert numbers(campaign, found) == ["T0", "T1", "T2", "T3"]
    assert found["gap"] == pytest.approx(0, abs=1e-4)
    assert found["left"] == []


def test_with_little_money_the_most_urgent_object_is_chosen(campaign):
    everything = find_selection(selection=make_selection(campaign, money=100_000)).result
    little = round(Decimal(str(everything["money"])) * 6 / 10, 2)

    found = find_selection(selection=make_selection(campaign, name="Half", money=little)).result

    best = max(scores_in(campaign).items(), key=lambda one: one[1])[0]
    assert best in found["chosen"]
    assert 0 < len(found["chosen"]) < 4
    assert found["money"] <= little
    assert found["next"][0]["what"] == "money"
    assert found["left_number"] == 4 - len(found["chosen"])


def test_hours_until_a_date_are_those_of_the_people(campaign):
    # 10 h a week from 1 to 14 March: two weeks, 20 h.
    campaign.starts_on = date(2027, 3, 1)
    campaign.save()

    (worker,) = workers_until(campaign, date(2027, 3, 14), date(2027, 1, 5))

    assert worker.minutes == 20 * 60
    assert "cut" in worker.skills


def test_board_is_offered_in_packs_at_the_share_that_the_plan_uses(campaign):
    (offer,) = offers_of(campaign)

    share = campaign.plan.board_plans.get().used_share
    assert (offer.usable_m2, offer.price) == (pytest.approx(1.524 * 1.016 * share), 10)


def test_an_object_that_must_be_in_needs_a_planned_box(campaign):
    stranger = make_object(number="Z9")

    with pytest.raises(SelectionRefused, match="Z9 must be in"):
        find_selection(selection=make_selection(campaign, money=500, must=[stranger.pk]))


def test_limits_too_small_leave_what_was_chosen_before(campaign):
    chosen = find_selection(selection=make_selection(campaign, money=100_000))
    chosen.money = 1
    chosen.save()

    with pytest.raises(SelectionRefused, match="too small for a single box"):
        find_selection(selection=chosen)

    assert len(Selection.objects.get().result["chosen"]) == 4


def test_the_chosen_objects_become_a_scenario_or_a_batch(campaign):
    chosen = find_selection(selection=make_selection(campaign, money=100_000, must_not=[]))

    scenario = scenario_of_selection(selection=chosen)
    number = give_batches(selection=chosen, batch=3)

    assert set(scenario.differences["only_objects"]) == set(chosen.result["chosen"])
    assert number == 4
    assert set(CampaignObject.objects.values_list("batch", flat=True)) == {3}


def test_limits_changed_meanwhile_are_not_answered_by_the_old_ones(campaign):
    selection = make_selection(campaign, money=100_000)
    Selection.objects.update(money=5)

    with pytest.raises(SelectionRefused, match="changed or deleted meanwhile"):
        find_selection(selection=selection)

    assert Selection.objects.get().result == {}
