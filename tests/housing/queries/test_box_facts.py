"""How the texts by which forms ask for more than board are read into what is bought."""

import pytest

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures import ENCLOSURES, make_enclosure
from housing.queries.box_facts import _supply


@pytest.mark.parametrize(
    ("text", "name", "size"),
    [
        # lengths in m and areas in m²: 900 mm = 0.9 m; 900 x 600 mm = 0.54 m²
        ("flat cotton tape 12 mm wide, 900 mm long", "flat cotton tape 12 mm wide", 0.9),
        ("webbing tape 25 mm wide, 900 mm long, around the tray", "webbing tape 25 mm wide", 0.9),
        ("acid-free tube, 80 mm across and 900 mm long", "acid-free tube, 80 mm across", 0.9),
        ("interleaving tissue, 900 x 600 mm", "interleaving tissue", 0.54),
        ("soft pad, 900 x 600 mm, 5 mm thick", "soft pad", 0.54),
        ("acid-free tissue, a pad for every fold", "acid-free tissue, a pad for every fold", 0),
        ("polyester film, 20 mm larger all round", "polyester film, 20 mm larger all round", 0),
    ],
)
def test_a_size_is_parted_from_the_name(text, name, size):
    assert _supply(text, 2) == (name, 2, pytest.approx(size))


BOARD = BoardSpec(caliper_mm=3.175, fold_share=0.5)


@pytest.mark.parametrize("form", ENCLOSURES)
def test_boxes_of_any_size_ask_for_supplies_of_the_same_names(form):
    """Otherwise each size would need a supply of its own on the list."""
    heights = (15, 18) if form == "rolled_tube" else (120, 140)  # of a roll: one layer
    small, large = (
        {_supply(one.what, 1)[0] for one in make_enclosure(form, InnerSize(*sides), BOARD).supplies}
        for sides in ((300, 240, heights[0]), (420, 310, heights[1]))
    )

    assert small == large
