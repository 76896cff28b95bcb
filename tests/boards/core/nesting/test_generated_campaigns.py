"""Campaigns made up for measuring are those of the kept instances, in any size."""

import json

import pytest

from tests.benchmarks.campaigns import FAMILIES, blanks_of, make_campaign
from tests.boards.core.nesting.made import INSTANCES


@pytest.mark.parametrize(("objects", "seed", "sizes"), [(50, 1, 3), (50, 2, 1), (500, 1, 1), (500, 1, 3)])
def test_a_kept_instance_comes_out_again(objects: int, seed: int, sizes: int):
    kept = json.loads((INSTANCES / f"campaign_{objects}_s{seed}_{sizes}sheet.json").read_text("utf-8"))

    made = make_campaign(objects, seed, sizes)

    assert made == kept


def test_the_blanks_of_a_vessel_by_hand():
    # 170 x 150 x 160 mm, clearance 20 on each side and above: W 210, D 190, H 180, caliper 3, lip 50.
    # base 210 + 2*180 + 2*3 = 576, 190 + 366 = 556, corner 180 by 180 - 25
    # lid 210 + 2 + 2*50 + 4*3 = 324, 190 + 114 = 304, corner 50 by 50 - 20
    base, lid = blanks_of(FAMILIES[1], 170, 150, 160, number=7, may_turn=1)

    assert base == {"id": "b7", "w": 576, "h": 556, "rot": 1, "corner": [180, 155]}
    assert lid == {"id": "l7", "w": 324, "h": 304, "rot": 1, "corner": [50, 30]}


def test_a_low_flat_work_has_corners_of_half_its_wall():
    # 20 mm tall with 12 above: H 32, and 32 div 2 = 16 is less than 25: base 32 by 16. Lip 25: 25 - 12 = 13.
    base, lid = blanks_of(FAMILIES[3], 420, 320, 20, number=0, may_turn=0)

    assert (base["corner"], lid["corner"]) == ([32, 16], [25, 13])


@pytest.mark.parametrize("seed", [1, 2])
def test_every_blank_fits_a_sheet_in_a_way_it_may_lie(seed: int):
    # 1524 x 1016 mm less 5 mm trim on each side: 1514 x 1006
    parts = make_campaign(2000, seed)["parts"]

    assert [
        part["id"]
        for part in parts
        if not (part["w"] <= 1514 and part["h"] <= 1006)
        and not (part["rot"] and part["h"] <= 1514 and part["w"] <= 1006)
    ] == []


def test_corners_never_take_more_than_half_of_a_side():
    parts = make_campaign(2000, 3)["parts"]

    assert [part["id"] for part in parts if 2 * max(part["corner"]) > min(part["w"], part["h"])] == []


def test_both_blanks_of_an_object_are_bound_to_the_flutes_or_neither():
    parts = make_campaign(200, 1)["parts"]

    assert [base["rot"] for base in parts[::2]] == [lid["rot"] for lid in parts[1::2]]


def test_sizes_differ_in_their_sheets_alone():
    one, three = make_campaign(300, 4), make_campaign(300, 4, 3)

    assert one["parts"] == three["parts"]
    assert [sheet["id"] for sheet in three["sheets"]] == ["A", "B", "C"]


def test_another_seed_makes_other_blanks():
    assert make_campaign(50, 1)["parts"] != make_campaign(50, 2)["parts"]
