"""Which way up an object goes into its box."""

from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.clearances import ObjectSize
from housing.core.orientation import Measured, Orientation, best_orientation, is_slender, orientations
from objects.core.lying import MayLie, MeasuredWith

BOTTLE = ObjectSize(height_mm=650, width_mm=150, depth_mm=120)
UPRIGHT = Orientation(BOTTLE)

sizes = st.builds(ObjectSize, *[st.floats(1, 3000)] * 3)
things = st.builds(Measured, sizes, st.sampled_from(MayLie), st.sampled_from(MeasuredWith))


def tray_area(size: ObjectSize) -> float:
    """Cross-shaped blank of an open tray of thin board: floor and a wall on each side, as a rectangle."""
    return (size.width_mm + 2 * size.height_mm) * (size.depth_mm + 2 * size.height_mm)


def lies(thing: Measured, **how) -> list[tuple[float, float, float]]:
    return [(way.size.height_mm, way.size.width_mm, way.size.depth_mm) for way in orientations(thing, **how)]


@pytest.mark.parametrize(
    ("may_lie", "alone", "beside_others"),
    [
        (MayLie.NOT_RECORDED, [(650, 150, 120)], [(650, 150, 120)]),
        (MayLie.UPRIGHT, [(650, 150, 120)], [(650, 150, 120)]),
        (MayLie.TURNED, [(650, 150, 120)], [(650, 150, 120), (650, 120, 150)]),
        (
            MayLie.LAID_DOWN,
            [(650, 150, 120), (120, 650, 150), (150, 650, 120)],
            [
                (650, 150, 120), (650, 120, 150), (120, 650, 150),
                (120, 150, 650), (150, 650, 120), (150, 120, 650),
            ],
        ),
    ],
)  # fmt: skip
def test_a_bottle_lies_in_the_ways_that_its_record_allows(may_lie, alone, beside_others):
    # By hand: on its back the depth of 120 points up, on its side the width of 150.
    thing = Measured(BOTTLE, may_lie)

    assert lies(thing) == alone
    assert lies(thing, with_turns=True) == beside_others


def test_a_plate_that_may_be_laid_down_is_not_set_on_its_edge():
    plate = ObjectSize(height_mm=30, width_mm=260, depth_mm=240)

    assert lies(Measured(plate, MayLie.LAID_DOWN)) == [(30, 260, 240)]
    assert lies(Measured(plate, MayLie.ANY_SIDE)) == [(30, 260, 240), (240, 260, 30), (260, 240, 30)]


@pytest.mark.parametrize("included", [MeasuredWith.STAND, MeasuredWith.HANDLE, MeasuredWith.LID])
def test_what_was_measured_with_a_stand_or_the_like_stays_upright(included):
    assert lies(Measured(BOTTLE, MayLie.ANY_SIDE, included)) == [(650, 150, 120)]


def test_a_cube_lies_in_one_way_only():
    assert lies(Measured(ObjectSize(90, 90, 90), MayLie.ANY_SIDE), with_turns=True) == [(90, 90, 90)]


@given(thing=things, with_turns=st.booleans())
def test_every_way_is_a_turn_of_the_object_and_comes_once(thing, with_turns):
    ways = lies(thing, with_turns=with_turns)

    assert ways[0] == (thing.size.height_mm, thing.size.width_mm, thing.size.depth_mm)
    assert len(ways) == len(set(ways))
    assert set(ways) <= set(permutations(ways[0]))


@given(size=sizes)
def test_on_any_side_with_turns_means_all_six_permutations(size):
    ways = lies(Measured(size, MayLie.ANY_SIDE), with_turns=True)

    assert set(ways) == set(permutations((size.height_mm, size.width_mm, size.depth_mm)))


def test_a_bottle_that_may_be_laid_down_is_laid_where_that_takes_less_board():
    # By hand: standing (150 + 1300) x (120 + 1300) = 1450 x 1420 = 2.059 m²; on its back
    # (650 + 240) x (150 + 240) = 890 x 390 = 0.347 m²; on its side 950 x 420 = 0.399 m².
    choice = best_orientation(Measured(BOTTLE, MayLie.LAID_DOWN), tray_area)

    assert [area for _, area in choice.tried] == [2_059_000, 347_100, 399_000]
    assert choice.chosen.size == ObjectSize(120, 650, 150)
    assert choice.reason == "Laid down on its back: 0.35 m² of board instead of 2.06 m² standing."
    assert choice.warnings == ()


def test_an_object_stands_where_laying_it_down_takes_more_board():
    # A cost that grows with the floor alone: standing 150 x 120 = 0.018 m²; laid at least 650 x 120 = 0.078.
    choice = best_orientation(Measured(BOTTLE, MayLie.LAID_DOWN), lambda s: s.width_mm * s.depth_mm)

    assert choice.chosen == UPRIGHT
    assert choice.reason == "Stands: 0.02 m² of board; otherwise it would take 0.08 m²."
    assert choice.warnings == (
        "At 650.0 mm high on a base 120.0 mm wide it tips easily. Hold it on all sides, and keep the box "
        "level when it is carried.",
    )


def test_of_equal_costs_the_object_stays_as_it_was_measured():
    choice = best_orientation(Measured(BOTTLE, MayLie.LAID_DOWN), lambda size: 500_000.0)

    assert (choice.chosen, choice.reason) == (
        UPRIGHT,
        "Stands: 0.50 m² of board; otherwise it would take the same.",
    )


@pytest.mark.parametrize(
    ("may_lie", "measured_with", "reason"),
    [
        (MayLie.NOT_RECORDED, MeasuredWith.NOTHING, "nobody has recorded that it may be laid down"),
        (MayLie.UPRIGHT, MeasuredWith.NOTHING, "it is recorded as upright only"),
        (MayLie.TURNED, MeasuredWith.NOTHING, "it is recorded as upright only"),
        (MayLie.LAID_DOWN, MeasuredWith.STAND, "it was measured with its stand"),
        (MayLie.NOT_RECORDED, MeasuredWith.HANDLE, "it was measured with its handle"),
    ],
)
def test_why_an_object_stands_is_told(may_lie, measured_with, reason):
    choice = best_orientation(Measured(BOTTLE, may_lie, measured_with), tray_area)

    assert (choice.chosen, choice.reason) == (UPRIGHT, f"Stands: {reason}.")


def test_a_flat_object_lies_as_measured():
    choice = best_orientation(Measured(ObjectSize(30, 260, 240)), tray_area)

    assert choice.reason == "Lies as measured: nobody has recorded that it may be laid down."


def test_what_laying_a_tall_object_down_would_save_is_told_where_nobody_has_allowed_it():
    # The areas of the bottle above.
    choice = best_orientation(Measured(BOTTLE), tray_area, looks_further=True)

    assert choice.warnings == (
        "At 650.0 mm high on a base 120.0 mm wide it tips easily. Ask a conservator whether it may be laid "
        "down, and record the answer.",
        "Laid down on its back it would take 0.35 m² of board instead of 2.06 m².",
    )
    assert len(choice.tried) == 1


def test_what_was_measured_with_its_stand_may_perhaps_be_boxed_without():
    choice = best_orientation(
        Measured(BOTTLE, measured_with=MeasuredWith.STAND), tray_area, looks_further=True
    )

    assert choice.warnings[-1] == (
        "Laid down on its back it would take 0.35 m² of board instead of 2.06 m²; ask whether it may be "
        "boxed without its stand."
    )


def test_nothing_is_told_where_laying_down_saves_nothing():
    choice = best_orientation(Measured(BOTTLE), lambda size: 500_000.0, looks_further=True)

    assert len(choice.warnings) == 1


def test_a_way_that_cannot_be_made_is_passed_over():
    def only_low(size: ObjectSize) -> float | None:
        return tray_area(size) if size.height_mm < 200 else None

    choice = best_orientation(Measured(BOTTLE, MayLie.LAID_DOWN), only_low)

    assert choice.reason == "Laid down on its back: no enclosure can be made for it standing."


def test_an_object_that_no_way_can_be_made_for_has_none():
    choice = best_orientation(Measured(BOTTLE, MayLie.LAID_DOWN), lambda size: None)

    assert (choice.chosen, choice.reason) == (
        None,
        "No enclosure can be made for it, whichever allowed side is underneath.",
    )


@given(thing=things)
def test_no_allowed_way_takes_less_board_than_the_one_chosen(thing):
    choice = best_orientation(thing, tray_area)

    least = min(tray_area(ObjectSize(*way)) for way in lies(thing))
    assert tray_area(choice.chosen.size) == pytest.approx(least, rel=1e-8)


@pytest.mark.parametrize(
    ("size", "slender"),
    [
        (ObjectSize(361, 150, 120), True),
        (ObjectSize(360, 150, 120), False),  # exactly three times the smaller side
    ],
)
def test_higher_than_three_times_its_smaller_side_tips_easily(size, slender):
    assert is_slender(size) is slender
