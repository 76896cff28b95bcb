"""The fit check: what it finds is counted and costed, and a box made again doubts what went wrong."""

from decimal import Decimal
from uuid import uuid4

import pytest
from django.utils import timezone

from housing.models import FitCheck, Hold, Housing
from housing.services.bench_entries import Ask, BenchRefused, record, undo
from housing.services.campaigns import plan_campaign
from housing.services.fitting import good_check
from housing.services.sheets import cut_sheet
from housing.services.tasks import TaskRefused
from tests.factories import (
    make_campaign,
    make_design,
    make_housing,
    make_location,
    make_object,
    make_person,
    make_sheet,
    make_sheet_size,
    make_tasks,
    make_user,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def maker():
    return make_user("maker")


@pytest.fixture
def made():
    """A made box of one object on shelf 3, with its last three steps open; its board cost 6.40."""
    thing = make_object(number="T.7", classification="Textiles", location=make_location("Shelf 3"))
    campaign = make_campaign(thing)
    box = make_housing(thing, campaign=campaign, status="made", board_cost=Decimal("6.40"))
    make_tasks(box, "fit", "label", "return")
    return box


def act(maker, what: str, box, *, person=None, minutes=None, **detail):
    ask = Ask(what, maker, timezone.now(), person=person, housing=box, minutes=minutes, detail=detail)
    return record(entry_id=uuid4(), ask=ask).entry


def too_short(**more):
    return {
        "fits": "no", "lid_closes": "no", "nothing_touches": "yes", "cause": "measurement", "side": "depth",
        "short": "9", "unit": "mm", **more,
    }  # fmt: skip


def test_a_box_that_fits_is_noted_so(maker, made):
    act(maker, "fits", made)

    check = good_check(made)
    assert (check.is_good, check.by) == (True, maker)


@pytest.mark.parametrize("status", ["planned", "in_work", "housed"])
def test_only_a_made_box_is_tried(maker, status):
    with pytest.raises(BenchRefused, match="a box is tried when it is made"):
        act(maker, "fits", make_housing(status=status))


def test_adjusting_costs_the_minutes_of_whoever_did_it(maker, made):
    paid = make_person(rate_per_hour=Decimal(24), on_cost_share=Decimal("0.25"))

    act(maker, "adjust", made, person=paid, minutes=Decimal(10), **too_short())

    check = good_check(made)
    # 10 / 60 of an hour at 24 x 1.25 = 30
    assert (check.remedy, check.work_cost, check.board_cost) == ("adjust", Decimal("5.00"), 0)
    assert (check.cause, check.side, check.short_mm) == ("measurement", "depth", 9)


def test_a_remake_costs_its_board_and_the_work_done(maker, made):
    paid, given = make_person(rate_per_hour=Decimal(24)), make_person(kind="volunteer")
    make_tasks(made, "cut", state="done", done_at=timezone.now(), person=paid, spent_minutes=Decimal(30))
    make_tasks(made, "glue", state="done", done_at=timezone.now(), person=given, spent_minutes=Decimal(45))

    entry = act(maker, "remake", made, **too_short())

    check = made.fit_checks.get()
    assert (check.board_cost, check.work_cost) == (Decimal("6.40"), Decimal("12.00"))  # half an hour at 24
    assert "18.40 USD of board and work are lost" in entry.message


def test_board_of_a_cut_box_costs_its_part_of_the_sheet(maker):
    campaign = make_campaign()
    box, other, third = (make_housing(campaign=campaign, status="planned") for _ in range(3))
    cut_sheet(sheet=make_sheet(box, other, third, price=Decimal("15.00")))
    Housing.objects.filter(pk=box.pk).update(status="made")

    act(maker, "remake", box, **too_short(cause="cutting"))

    assert box.fit_checks.get().board_cost == 5  # one of three blanks alike on a sheet of 15


def test_a_remake_has_a_new_box_wait_for_the_same_object_and_its_size_doubted(maker, made):
    act(maker, "remake", made, **too_short())

    made.refresh_from_db()
    again = Housing.objects.get(remake_of=made)
    thing = again.contents.get().object
    assert (made.status, again.status, again.problem) == ("dropped", "waiting", "remake")
    assert made.events.last().note == "To be made again: the object was measured wrongly, depth, 9 mm short"
    assert thing.size_state == "check"
    assert thing.dimensions_note.startswith(f"Measure again: {made} did not fit")


def test_another_cause_leaves_the_size_as_it_is(maker, made):
    act(maker, "remake", made, **too_short(cause="cutting", short=""))

    assert Housing.objects.get(remake_of=made).contents.get().object.size_state == "known"


def test_planning_again_makes_the_box_that_waits(maker):
    thing = make_object()
    campaign = make_campaign(thing)
    campaign.rules.create(position=1, design=make_design(board=make_sheet_size().board))
    plan_campaign(campaign=campaign)
    first = Housing.objects.get()
    Housing.objects.update(status="made")
    act(maker, "remake", first, **too_short(cause="cutting"))

    plan_campaign(campaign=campaign)

    again = Housing.objects.get(remake_of=first)
    assert (again.status, again.problem, again.contents.get().object) == ("planned", "", thing)
    assert again.blanks.exists()
    assert Housing.objects.count() == 2


@pytest.mark.parametrize(
    ("answers", "problem"),
    [
        (too_short(cause=""), "Say what was wrong"),
        (too_short(cause="bad luck"), "Say what was wrong"),
        (too_short(side="front"), "is no side of an object"),
        (too_short(short="a bit"), "By how much"),
        (too_short(short="30 m"), "By how much"),
        (too_short(fits="yes", lid_closes="yes"), "Nothing is wrong by these answers"),
    ],
)
def test_answers_that_cannot_be_are_refused_with_nothing_stored(maker, made, answers, problem):
    with pytest.raises(BenchRefused, match=problem):
        act(maker, "remake", made, **answers)

    made.refresh_from_db()
    assert (made.status, FitCheck.objects.count()) == ("made", 0)


def test_a_remake_that_is_undone_leaves_the_box_and_its_work_as_they_were(maker, made):
    before = list(made.tasks.order_by("sequence").values_list("step", "state", "planned_minutes"))
    entry = act(maker, "remake", made, **too_short())

    undo(entry=entry, by=maker)

    made.refresh_from_db()
    thing = made.contents.get()
    assert (made.status, thing.is_live, thing.object.size_state) == ("made", True, "known")
    assert list(made.tasks.order_by("sequence").values_list("step", "state", "planned_minutes")) == before
    assert good_check(made) is None
    assert Housing.objects.get(remake_of=made).status == "dropped"


def test_a_remake_stays_once_its_box_is_planned(maker, made):
    entry = act(maker, "remake", made, **too_short())
    Housing.objects.filter(remake_of=made).update(
        status="planned", problem="", design=make_design(), inner_x_mm=1, inner_y_mm=1, inner_z_mm=1
    )

    with pytest.raises(BenchRefused, match="which takes its place, is “Planned” by now"):
        undo(entry=entry, by=maker)


@pytest.mark.parametrize(
    ("typed", "unit", "direction", "short_mm"),
    [
        ("3/8", "in", "short", Decimal("9.525")),  # 0.375 x 25.4
        ("1 cm", "in", "short", 10),
        ("4", "mm", "large", -4),
        ("", "mm", "short", None),
    ],
)
def test_how_much_was_missing_is_told_in_the_readers_unit(maker, made, typed, unit, direction, short_mm):
    act(maker, "adjust", made, **too_short(short=typed, unit=unit, direction=direction))

    assert made.fit_checks.get().short_mm == short_mm


def test_a_check_of_a_box_with_an_open_question_waits(maker, made):
    Hold.objects.create(housing=made, question="Is this mould?", asked_at=timezone.now())

    with pytest.raises(TaskRefused, match="waits for a conservator"):
        act(maker, "fits", made)
