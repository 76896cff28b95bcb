"""Who does what in which week."""

from collections import defaultdict

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.assignment import SKILL_OF_STEP, Assigned, AssignmentRefused, Work, Worker, assign


def make_work(key, skill="cut", minutes=60.0, priority="B", location="Bay 1", **rest) -> Work:
    return Work(key, skill, minutes, priority, location, **rest)


def make_worker(key, minutes=600.0, skills=("cut",), hazards=False) -> Worker:
    return Worker(key, minutes, frozenset(skills), hazards)


def given_out(work, people) -> dict[str, tuple[str | None, int]]:
    return {item.key: (item.worker_key, item.week) for item in assign(work, people)}


def test_answer_comes_in_the_order_of_the_work():
    work = [make_work("2", priority="C"), make_work("1", priority="A")]

    assert assign(work, [make_worker("Ann")]) == (Assigned("2", "Ann", 1), Assigned("1", "Ann", 1))


def test_urgent_work_comes_first():
    # By hand: Ann has room for one step a week.
    work = [make_work("c", priority="C"), make_work("a", priority="A"), make_work("b", priority="B")]

    assert given_out(work, [make_worker("Ann", minutes=60)]) == {
        "a": ("Ann", 1), "b": ("Ann", 2), "c": ("Ann", 3),
    }  # fmt: skip


def test_work_at_one_place_comes_together():
    # By hand: two steps fill a week; both of Bay 1 come before both of Bay 2.
    work = [make_work(key, location=place) for key, place in zip("pqrs", ["Bay 2", "Bay 1"] * 2, strict=True)]

    assert given_out(work, [make_worker("Ann", minutes=120)]) == {
        "q": ("Ann", 1), "s": ("Ann", 1), "p": ("Ann", 2), "r": ("Ann", 2),
    }  # fmt: skip


def test_within_a_priority_the_higher_score_comes_first():
    # By hand: Ann has room for one step a week; the class goes before the score.
    work = [
        make_work("low", score=8.0), make_work("high", score=11.5),
        make_work("urgent", priority="A", score=7.0),
    ]  # fmt: skip

    assert given_out(work, [make_worker("Ann", minutes=60)]) == {
        "low": ("Ann", 3), "high": ("Ann", 2), "urgent": ("Ann", 1),
    }  # fmt: skip


def test_scores_within_half_a_step_leave_work_at_one_place_together():
    # By hand: 9.1 and 9.4 lie in the same half step, so Bay 1 comes first; 9.5 is the next half step.
    work = [
        make_work("near", location="Bay 2", score=9.4), make_work("here", location="Bay 1", score=9.1),
        make_work("above", location="Bay 3", score=9.5),
    ]  # fmt: skip

    assert given_out(work, [make_worker("Ann", minutes=60)]) == {
        "above": ("Ann", 1), "here": ("Ann", 2), "near": ("Ann", 3),
    }  # fmt: skip


def test_step_goes_to_the_person_whose_load_in_weeks_is_then_least():
    # By hand, an hour each: Ann has 10 h a week, Bob 5 h. Loads in weeks after each: Ann 0.1, then Ann or Bob
    # at 0.2 (Ann is listed first), then Bob 0.2 against Ann's 0.3, then Ann 0.3 against Bob's 0.4.
    work = [make_work(str(i)) for i in range(4)]
    people = [make_worker("Ann", 600), make_worker("Bob", 300)]

    assert [item.worker_key for item in assign(work, people)] == ["Ann", "Ann", "Bob", "Ann"]


def test_step_goes_only_to_somebody_with_its_skill():
    people = [make_worker("Ann", skills=["cut"]), make_worker("Bob", 60, skills=["fold"])]

    assert given_out([make_work("1", skill="fold"), make_work("2", skill="fold")], people) == {
        "1": ("Bob", 1), "2": ("Bob", 2),
    }  # fmt: skip


def test_hazardous_objects_go_only_to_those_who_may_handle_them():
    people = [make_worker("Ann"), make_worker("Bob", 60, hazards=True)]
    work = [make_work("1", is_hazardous=True), make_work("2", is_hazardous=True)]

    assert given_out(work, people) == {"1": ("Bob", 1), "2": ("Bob", 2)}


def test_later_step_is_never_in_an_earlier_week():
    # By hand: Ann cuts the second housing in week 2; Bob is free in week 1 but must wait for the blank.
    people = [make_worker("Ann", 60), make_worker("Bob", skills=["fold"])]
    work = [
        make_work("cut 1"), make_work("glue 1", "fold", sequence_after="cut 1"),
        make_work("cut 2"), make_work("glue 2", "fold", sequence_after="cut 2"),
    ]  # fmt: skip

    assert given_out(work, people) == {
        "cut 1": ("Ann", 1), "glue 1": ("Bob", 1), "cut 2": ("Ann", 2), "glue 2": ("Bob", 2),
    }  # fmt: skip


def test_steps_are_put_in_order_however_they_are_listed():
    work = [make_work("second", sequence_after="first"), make_work("first")]

    assert given_out(work, [make_worker("Ann", 60)]) == {"first": ("Ann", 1), "second": ("Ann", 2)}


def test_step_after_one_that_is_already_done_need_not_wait():
    assert given_out([make_work("2", sequence_after="1")], [make_worker("Ann")]) == {"2": ("Ann", 1)}


def test_begun_step_stays_with_whoever_began_it_and_comes_first():
    # By hand: Bob has room for one step a week. The begun step is his in week 1 although the other is urgent,
    # and although Ann, listed first, has no more to do than he.
    work = [make_work("1", priority="A"), make_work("2", priority="C", kept_with="Bob")]

    assert given_out(work, [make_worker("Bob", 60)]) == {"1": ("Bob", 2), "2": ("Bob", 1)}
    assert given_out(work, [make_worker("Ann", 60), make_worker("Bob", 60)])["2"] == ("Bob", 1)


def test_begun_step_stays_even_with_somebody_who_takes_no_more_work():
    assert assign([make_work("1", kept_with="Cleo")], []) == (Assigned("1", "Cleo", 1),)


def test_step_longer_than_a_week_begins_in_an_empty_one_and_holds_up_what_follows():
    # By hand: 150 minutes at 60 a week fill weeks 2, 3 and half of 4, after half of week 1.
    people = [make_worker("Ann", 60, skills=["cut", "fold"])]
    work = [
        make_work("short", minutes=30, priority="A"),
        make_work("long", minutes=150),
        make_work("after", "fold", minutes=30, sequence_after="long"),
    ]

    assert given_out(work, people) == {"short": ("Ann", 1), "long": ("Ann", 2), "after": ("Ann", 4)}


def test_room_left_in_an_early_week_is_used():
    # By hand: 40 + 40 do not fit in one week of 60, but the 20 do beside the first.
    work = [make_work("1", minutes=40), make_work("2", minutes=40), make_work("3", minutes=20)]

    assert given_out(work, [make_worker("Ann", 60)]) == {"1": ("Ann", 1), "2": ("Ann", 2), "3": ("Ann", 1)}


@pytest.mark.parametrize(
    ("people", "reason"),
    [
        ([], "Nobody has the skill “fold”."),
        ([make_worker("Ann", skills=["cut"], hazards=True)], "Nobody has the skill “fold”."),
        (
            [make_worker("Ann", skills=["fold"]), make_worker("Bob", skills=["cut"], hazards=True)],
            "Nobody has the skill “fold” and may handle hazardous objects.",
        ),
        (
            [make_worker("Ann", 0, skills=["fold"], hazards=True)],
            "Nobody with the skill “fold” has any hours to give.",
        ),
    ],
)
def test_step_nobody_can_do_says_why(people, reason):
    work = [make_work("1", skill="fold", is_hazardous=True)]

    assert assign(work, people) == (Assigned("1", None, 1, reason),)


@pytest.mark.parametrize(
    ("work", "says"),
    [
        ([make_work("1"), make_work("1")], "Step 1 is listed twice."),
        ([make_work("1", minutes=-5)], "Step 1 takes -5 minutes; it must be 0 or more."),
        (
            [make_work("1", sequence_after="2"), make_work("2", sequence_after="1")],
            "Step 1 waits for a step that waits for it in turn.",
        ),
        ([make_work("1", sequence_after="1")], "Step 1 waits for a step that waits for it in turn."),
    ],
)
def test_impossible_list_is_refused(work, says):
    with pytest.raises(AssignmentRefused) as refused:
        assign(work, [make_worker("Ann")])

    assert str(refused.value) == says


def test_every_step_of_the_bench_has_a_skill():
    assert SKILL_OF_STEP == {
        "measure": "measure", "cut": "cut", "glue": "fold", "fit": "fit", "return": "return",
    }  # fmt: skip


@st.composite
def campaigns(draw):
    people = [
        Worker(str(i), draw(st.floats(0, 900)), draw(st.frozensets(st.sampled_from(["cut", "fold", "fit"]))),
               draw(st.booleans()))
        for i in range(draw(st.integers(0, 4)))
    ]  # fmt: skip
    work = []
    for housing in range(draw(st.integers(0, 6))):
        place, hazard = draw(st.sampled_from(["Bay 1", "Bay 2"])), draw(st.booleans())
        before = None
        for skill in ("cut", "fold", "fit"):
            key = f"{housing} {skill}"
            minutes = draw(st.floats(0, 700))
            work.append(Work(key, skill, minutes, draw(st.sampled_from("ABC")), place, hazard, before))
            before = key
    return work, people


@given(campaigns())
def test_what_is_given_out_keeps_every_rule(campaign):
    work, people = campaign
    by_key = {person.key: person for person in people}

    out = {item.key: item for item in assign(work, people)}

    assert list(out) == [item.key for item in work]
    for item in work:
        given_to = by_key.get(out[item.key].worker_key)
        able = [
            p for p in people if item.skill in p.skills and (p.may_handle_hazards or not item.is_hazardous)
        ]
        assert (given_to in able) if given_to else out[item.key].reason
        assert bool(given_to) == any(p.minutes_per_week >= 1 for p in able)
        if item.sequence_after:
            assert out[item.key].week >= out[item.sequence_after].week


@given(campaigns())
def test_no_week_holds_more_than_a_person_gives(campaign):
    work, people = campaign
    by_key = {person.key: person for person in people}
    weeks = defaultdict(float)

    for item, out in zip(work, assign(work, people), strict=True):
        if out.worker_key and item.minutes <= by_key[out.worker_key].minutes_per_week:
            weeks[out.worker_key, out.week] += item.minutes

    assert all(minutes <= by_key[who].minutes_per_week + 1e-3 for (who, _), minutes in weeks.items())
