"""Priority scores. Scales: Michalski and Pedersoli, The ABC Method, CCI/ICCROM 2016; points: assumed."""

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.factors import FACTORS, hazard_answer
from housing.core.priority import (
    BANDS,
    PriorityRefused,
    advice,
    collection_worth,
    expected_loss,
    loss_a_year,
    ordinary_share,
    score,
)

FULL = {
    "housing": "none", "use": "monthly", "fragility": "delicate", "projecting_parts": "yes",
    "condition": "poor", "significance": "high", "hazards": "severe",
}  # fmt: skip
# From the answer that is least worrying to the most, as a person would rank them; common practice, no source.
RANKED = {
    "housing": ["good", "adequate", "poor", "none"],
    "use": ["never", "years", "yearly", "monthly", "weekly"],
    "fragility": ["robust", "ordinary", "delicate", "very_delicate"],
    "projecting_parts": ["no", "yes"],
    "condition": ["good", "fair", "poor", "fragile"],
    "significance": ["low", "ordinary", "high", "key"],
    "hazards": ["none", "some", "severe"],
}
answers = st.fixed_dictionaries(
    {key: st.sampled_from(["", *factor.points]) for key, factor in FACTORS.items()}
)
weights = st.fixed_dictionaries(
    {}, optional={key: st.integers(0, 30).map(lambda tenths: tenths / 10) for key in FACTORS}
)
worths = st.floats(100, 1e6)  # a key object alone is worth 100 ordinary ones


def sums(**given_answers: str) -> dict[str, float]:
    """A, B, C, the magnitude and the total in points, in a collection worth 100 ordinary objects."""
    scored = score(given_answers, 100)
    scales = {key: value / 100 for key, value in scored.scales.items()}
    return {**scales, "magnitude": scored.magnitude / 100, "total": scored.total / 100}


def test_three_scales_make_a_magnitude_and_a_yearly_loss():
    # A 3, B 4.5, C 4: 3 + 4.5 + 4 = 11.5; 10^(11.5 - 15) = 10^-3.5 = 1 / (1000 x 3.1623) = 3.16e-4 a year.
    assert loss_a_year(3 + 4.5 + 4) == pytest.approx(3.16e-4, abs=5e-7)


def test_all_of_the_collection_lost_within_a_year_is_the_end_of_the_scale():
    assert loss_a_year(15) == 1
    with pytest.raises(PriorityRefused, match=r"15.5 is beyond the scale"):
        loss_a_year(15.5)


def test_the_points_of_every_answer_add_up():
    # A: 4 (none) + 0.5 (monthly) = 4.5. B: 3.5 (delicate) + 0.5 (parts) + 0.5 (poor) = 4.5.
    # C: one of 100 ordinary ones is 5 - log10 100 = 3, high + 1 = 4. 4.5 + 4.5 + 4 = 13; people + 1 = 14.
    assert sums(**FULL) == {"A": 4.5, "B": 4.5, "C": 4, "magnitude": 13, "total": 14}


def test_a_hazard_adds_urgency_but_no_loss_of_value():
    with_it, without = (score({**FULL, "hazards": hazard}, 100) for hazard in ("severe", "none"))

    assert with_it.total - without.total == 100  # one point in hundredths
    assert with_it.loss_a_year == without.loss_a_year


def test_what_is_not_recorded_takes_the_middle_points_and_says_so():
    scored = score({**FULL, "fragility": ""}, 100)

    part = scored.unknown[0]
    assert [part.factor.key for part in scored.unknown] == ["fragility"]
    assert (part.points, part.sentence) == (3.0, "Not recorded: taken as ordinary.")


def test_the_range_tries_the_best_and_the_worst_of_what_is_not_recorded():
    scored = score({**FULL, "fragility": "", "use": ""}, 100)

    # As above, 13 without 0.5 for use and with 3 instead of 3.5 for fragility: 12. Fragility may be 2 to 4,
    # use -1 to 1: from 12 - 1 - 1 = 10 to 12 + 1 + 1 = 14.
    assert (scored.magnitude, scored.low, scored.high) == (1200, 1000, 1400)


@pytest.mark.parametrize(
    ("unknown", "is_sure"),
    [
        ((), True),
        (("use",), True),  # -1 to 1: two steps from low to high
        (("use", "projecting_parts"), False),
        (("significance",), False),  # -1 to 2
    ],
)
def test_a_magnitude_is_well_known_within_two_steps(unknown, is_sure):
    assert score({**FULL, **dict.fromkeys(unknown, "")}, 100).is_sure is is_sure


@pytest.mark.parametrize(
    ("is_high", "is_sure", "words"),
    [
        (True, True, "High and well known: house it soon."),
        (True, False, "High, but little is known: look at it first."),
        (False, True, "Low and well known: it can wait."),
        (False, False, "Low, but little is known: look at it when there is time."),
    ],
)
def test_what_to_do_follows_from_magnitude_and_uncertainty(is_high, is_sure, words):
    # The four fields of the manual's table 22: treat, review first, no action, review later.
    assert advice(is_high, is_sure) == words


# ---- The share of the collection -------------------------------------------------------------------------


def test_the_worth_of_a_collection_is_counted_in_ordinary_objects():
    # 10 x 0.1 + 60 + 5 not recorded + 2 x 10 + 1 x 100 = 186.
    assert collection_worth({"low": 10, "ordinary": 60, "": 5, "high": 2, "key": 1}) == pytest.approx(186)


@pytest.mark.parametrize(("objects", "share"), [(1, 500), (10, 400), (1000, 200), (264, 258)])
def test_an_ordinary_object_among_many_has_its_share(objects, share):
    # 5 - log10 of 1, 10, 1000 are 5, 4, 2; log10 264 = 2.4216, so 2.58.
    assert ordinary_share(collection_worth({"ordinary": objects})) == share


def test_a_collection_worth_nothing_is_refused():
    with pytest.raises(PriorityRefused, match=r"cannot be worth 0 objects"):
        ordinary_share(0)


@given(st.fixed_dictionaries({key: st.integers(1, 5000) for key in FACTORS["significance"].points}))
def test_the_shares_of_all_objects_together_are_the_whole(counts):
    worth = collection_worth(counts)

    shares = (
        number * 10 ** (score({"significance": answer}, worth).scales["C"] / 100 - 5)
        for answer, number in counts.items()
    )

    assert sum(shares) == pytest.approx(1, rel=0.012)  # C is kept to 0.01: 10^0.005 = 1.0116


def test_no_answers_go_beyond_the_scales():
    keys = [factor.key for factor in FACTORS.values() if factor.scale in ("A", "B")]
    combinations = [dict(zip(keys, row, strict=True)) for row in product(*(FACTORS[k].points for k in keys))]

    highest = {scale: max(score(each, 100).scales[scale] for each in combinations) for scale in "AB"}

    # Worked: none 4 + weekly 1 = 5; very delicate 4 + parts 0.5 + fragile 0.5 = 5; so nothing is cut off.
    assert highest == {"A": 500, "B": 500}


# ---- Weights ---------------------------------------------------------------------------------------------


def test_a_weight_moves_points_away_from_their_middle():
    # Housing: middle 2.5 (adequate), none 4. Twice: 2.5 + 2 x 1.5 = 5.5, more than the scale holds: 5.
    # Half: 2.5 + 0.5 x 1.5 = 3.25. Nothing: 2.5. With monthly use 0.5 more each, but never above 5.
    found = [score(FULL, 100, {"housing": weight}).scales["A"] for weight in (2, 0.5, 0)]

    assert found == [500, 375, 300]


@given(answers, worths)
def test_weights_of_one_are_the_published_scale(given_answers, worth):
    plain, weighed = (score(given_answers, worth, w) for w in (None, dict.fromkeys(FACTORS, 1)))

    assert plain == weighed
    assert plain.is_published_scale


def test_scores_weighed_otherwise_are_told_apart():
    assert not score(FULL, 100, {"use": 1.1}).is_published_scale


@given(answers, worths, st.sampled_from(list(FACTORS)), st.data())
def test_a_question_of_weight_nothing_changes_nothing(given_answers, worth, key, data):
    other = data.draw(st.sampled_from(list(FACTORS[key].points)))

    one, two = (score(each, worth, {key: 0}) for each in (given_answers, {**given_answers, key: other}))

    assert one.total == two.total


@pytest.mark.parametrize(
    ("weights", "sentence"),
    [
        ({"beauty": 1}, "There is no factor called beauty."),
        ({"use": 3.1}, "How often it is used: a weight of 3.1 is not from 0 to 3."),
        ({"use": -0.1}, "How often it is used: a weight of -0.1 is not from 0 to 3."),
        ({"use": float("nan")}, "How often it is used: a weight of nan is not from 0 to 3."),
    ],
)
def test_weights_that_cannot_be_are_refused(weights, sentence):
    with pytest.raises(PriorityRefused) as refused:
        score(FULL, 100, weights)

    assert str(refused.value) == sentence


def test_an_answer_that_is_none_is_refused():
    with pytest.raises(PriorityRefused, match="Condition: “superb” is no answer"):
        score({"condition": "superb"}, 100)


# ---- What holds for every object -------------------------------------------------------------------------


@given(answers, worths, weights, st.sampled_from(list(RANKED)), st.data())
def test_a_worse_answer_never_lowers_the_score(given_answers, worth, given_weights, key, data):
    worse, better = sorted(
        data.draw(st.tuples(*[st.sampled_from(RANKED[key])] * 2)), key=RANKED[key].index, reverse=True
    )

    higher, lower = (
        score({**given_answers, key: answer}, worth, given_weights).total for answer in (worse, better)
    )

    assert higher >= lower


@given(answers, worths, weights)
def test_a_score_lies_in_its_range_and_the_range_of_harm_lies_in_that(given_answers, worth, given_weights):
    scored = score(given_answers, worth, given_weights)

    assert scored.low <= scored.harm_low <= scored.magnitude <= scored.harm_high <= scored.high <= 1500
    assert (scored.low == scored.high) or scored.unknown


@given(answers, worths, st.sampled_from(list(FACTORS)), st.data())
def test_learning_an_answer_never_widens_the_range(given_answers, worth, key, data):
    learned = data.draw(st.sampled_from(list(FACTORS[key].points)))

    before, after = (score({**given_answers, key: answer}, worth) for answer in ("", learned))

    assert before.low <= after.low <= after.high <= before.high


# ---- Several objects -------------------------------------------------------------------------------------


def test_expected_losses_add_up():
    # MR 13 of the full example is 10^-2 a year; with a significance of low, 11, it is 10^-4.
    full, low = score(FULL, 100), score({**FULL, "significance": "low"}, 100)

    assert expected_loss([(full, 2), (low, 5)]).estimate == pytest.approx(2 * 1e-2 + 5 * 1e-4)


def test_a_sum_of_what_is_fully_known_has_no_range():
    loss = expected_loss([(score(FULL, 100), 3)])

    assert loss.low == loss.estimate == loss.high


def test_the_range_of_a_sum_grows_with_the_root_of_the_number():
    unsure = score({**FULL, "fragility": "", "significance": "ordinary"}, 10_000)
    one, four = (expected_loss([(unsure, number)]) for number in (1, 4))

    # Independent ranges of one size: the root of 4 is 2.
    assert four.high - four.estimate == pytest.approx(2 * (one.high - one.estimate))


def test_what_an_object_is_worth_does_not_widen_the_range_of_a_sum():
    loss = expected_loss([(score({**FULL, "significance": ""}, 1000), 1000)])

    assert loss.low == loss.estimate == loss.high


# ---- Bands and hazards -----------------------------------------------------------------------------------


@given(st.integers(-500, 2000))
def test_every_score_is_in_the_one_band_whose_bounds_hold_it(total):
    inside = [
        key
        for key, _, least, below in BANDS
        if (least is None or total >= least) and (below is None or total < below)
    ]

    assert len(inside) == 1


@pytest.mark.parametrize(
    ("hazards", "answer"),
    [
        ("", "none"),
        ("sharp", "some"),
        ("sharp; arsenic", "severe"),  # the worst counts
        ("Arsenic soap", "severe"),  # as a list may call it
        ("smells odd", "some"),
    ],
)
def test_the_worst_hazard_counts(hazards, answer):
    assert hazard_answer(hazards) == answer
