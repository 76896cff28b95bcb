"""Standard sizes against brute force and by hand."""

from itertools import combinations, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.standard_sizes import Need, Size, SizesRefused, choose_sizes
from housing.core.standard_sizes.needs import candidate_sizes, group_needs, holds
from tests.examples import few


def litres(size: Size) -> float:
    return size.litres


def area(size: Size) -> float:
    """A price that follows the surface, as board does; m2."""
    return 2 * (size.x * size.y + size.x * size.z + size.y * size.z) / 1e6


def needs(*sides) -> list[Need]:
    return [Need(str(n), *map(float, one)) for n, one in enumerate(sides)]


def test_two_sizes_for_two_kinds_of_objects():
    # Cubes of about 100 and of about 200 mm: the best two sizes are the larger of each kind.
    asked = needs((100, 100, 100), (98, 99, 97), (200, 200, 200), (195, 198, 200))

    found = choose_sizes(asked, litres, most_sizes=2, slack_mm=20)

    assert [one.size for one in found.sizes] == [(100, 100, 100), (200, 200, 200)]
    assert [set(one.keys) for one in found.sizes] == [{"0", "1"}, {"2", "3"}]
    assert found.point.money == pytest.approx(1 + 1 + 8 + 8)  # litres
    assert (found.custom, found.point.gap) == ((), pytest.approx(0, abs=1e-9))


def test_a_box_may_be_turned_about_but_not_laid_down():
    asked = needs((100, 200, 50), (200, 100, 50), (200, 50, 100))

    found = choose_sizes(asked, litres, most_sizes=1, slack_mm=10)

    assert [one.size for one in found.sizes] == [(200, 100, 50)]
    assert set(found.sizes[0].keys) == {"0", "1"}
    assert found.custom == ("2",)


def test_the_slack_keeps_a_small_object_out_of_a_large_box():
    asked = needs((100, 100, 100), (150, 100, 100))

    narrow, wide = (choose_sizes(asked, litres, most_sizes=1, slack_mm=slack) for slack in (49, 50))

    assert len(narrow.custom) == 1
    assert wide.custom == ()
    assert wide.sizes[0].size == (150, 100, 100)


def test_the_best_size_may_be_none_of_the_objects_own():
    asked = needs((120, 80, 50), (100, 100, 50))

    found = choose_sizes(asked, litres, most_sizes=1, slack_mm=40)

    assert found.sizes[0].size == (120, 100, 50)


SIDES = st.sampled_from([60, 80, 90, 110, 140])
FEW_NEEDS = st.lists(st.tuples(SIDES, SIDES, SIDES), min_size=1, max_size=5)


@few(40)
@given(FEW_NEEDS, st.integers(1, 3), st.sampled_from([10, 30, 60]))
def test_no_sizes_serve_more_objects_or_cost_less(sides, number, slack):
    asked = needs(*sides)
    values = [sorted({need.size[axis] for need in asked}) for axis in range(3)]
    every_size = [Size(*one) for one in product(*values)]

    def outcome(sizes):
        alone, money = 0, 0.0
        for need in asked:
            there = [area(s) for s in sizes if holds(s, need.size, need.size, slack)]
            alone += not there
            money += min(there) if there else area(need.size)
        return alone, round(money, 9)

    best = min(
        outcome(chosen)
        for n in range(1, min(number, len(every_size)) + 1)
        for chosen in combinations(every_size, n)
    )

    found = choose_sizes(asked, area, most_sizes=number, slack_mm=slack)

    assert (len(found.custom), found.point.money) == (best[0], pytest.approx(best[1], abs=1e-6))
    assert found.point.bound <= best[1] + 1e-6


@few(25)
@given(st.lists(st.tuples(*[st.integers(50, 400)] * 3), min_size=2, max_size=25), st.integers(20, 120))
def test_every_object_is_in_a_size_that_holds_it_or_in_its_own(sides, slack):
    asked = needs(*sides)

    found = choose_sizes(asked, area, most_sizes=3, slack_mm=slack, seconds=2)

    of = {key: one.size for one in found.sizes for key in one.keys}
    assert {*of, *found.custom} == {need.key for need in asked}
    assert len(of) + len(found.custom) == len(asked)
    for need in asked:
        if need.key in of:
            assert holds(of[need.key], need.size, need.size, slack)


def test_more_sizes_never_serve_fewer_or_cost_more_for_as_many():
    asked = needs(*((80 + 37 * n % 190, 70 + 53 * n % 130, 40 + 29 * n % 110) for n in range(30)))

    curve = choose_sizes(asked, area, most_sizes=4, slack_mm=60).curve

    assert [point.number for point in curve] == [1, 2, 3, 4]
    steps = list(zip(curve, curve[1:], strict=False))
    assert all(
        after.custom < before.custom or after.money <= before.money * (1 + 1e-6) for before, after in steps
    )
    assert all(point.bound <= point.money + 1e-9 for point in curve)


def test_many_objects_are_grouped_by_rounding_up():
    many = needs(*((50 + 7 * n % 311, 50 + 11 * n % 293, 50 + 13 * n % 307) for n in range(1000)))

    groups, step = group_needs(many, 120)

    assert len(groups) <= 120
    assert step > 0
    members = {key: group for group in groups for key in group.keys}
    for need in many:
        group = members[need.key]
        assert all(mine >= its for mine, its in zip(group.size, need.size, strict=True))
        assert all(smallest <= its for smallest, its in zip(group.least, need.size, strict=True))


def test_candidates_are_the_largest_sides_of_those_served_together():
    groups, _ = group_needs(needs((100, 80, 50), (120, 60, 50)), 10)

    assert candidate_sizes(groups, 100, 50) == [(100, 80, 50), (120, 60, 50), (120, 80, 50)]


@pytest.mark.parametrize(
    ("asked", "number", "words"),
    [
        ([], 3, "no measured object"),
        (needs((1, 1, 1)), 0, "At least one size"),
        (needs((0, 5, 5)), 1, "a side of 0 mm"),
    ],
)
def test_what_cannot_be_asked_is_refused(asked, number, words):
    with pytest.raises(SizesRefused, match=words):
        choose_sizes(asked, litres, most_sizes=number, slack_mm=20)
