"""Walls with glued corner flaps: which walls bear them, how wide they are, and what is refused."""

import pytest

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures import make_enclosure
from housing.core.enclosures.corners import CORNERS, flap_width
from housing.core.enclosures.form import Brief
from housing.core.enclosures.options import read_choices
from housing.core.errors import FlapTooNarrow, FlapTooWide, OptionRefused
from tests.housing.core.made import IN, inches, make_tray

BOARD = BoardSpec(caliper_mm=3)
BRIEF = Brief(InnerSize(300, 200, 150), BOARD, read_choices(CORNERS, {}))


def bearing_walls(inner, **options) -> list[str]:
    part = make_enclosure("tray", InnerSize(*inner), BOARD, options).parts[0]
    return list(dict.fromkeys(score.parent for score in part.blank.scores if score.is_flap))


@pytest.mark.parametrize(
    ("inner", "on_long_walls", "bearing"),
    [
        ((300, 200, 150), True, ["near wall", "far wall"]),  # long walls are near and far
        ((200, 300, 150), True, ["left wall", "right wall"]),  # turned by a quarter
        ((300, 200, 150), False, ["left wall", "right wall"]),
        ((200, 200, 150), True, ["near wall", "far wall"]),  # square: as if the front were the long side
    ],
)
def test_flaps_grow_from_the_walls_asked_for(inner, on_long_walls, bearing):
    assert bearing_walls(inner, flaps_on_long_walls=on_long_walls) == bearing


@pytest.mark.parametrize(("inner", "along"), [((300, 200, 150), "y"), ((200, 300, 150), "x")])
def test_flutes_run_along_the_short_side_of_the_floor(inner, along):
    # Upright flutes in the long walls carry a stack (box-strength texts assume vertical flutes).
    assert make_tray(inner).blank.flute_along == along


def test_every_flap_is_glued_to_the_wall_it_wraps():
    assert [(joint.flap, joint.to) for joint in make_tray().joints] == [
        ("near left flap", "left wall"),
        ("near right flap", "right wall"),
        ("far left flap", "left wall"),
        ("far right flap", "right wall"),
    ]


def test_worked_tray_keeping_its_full_padding_is_drawn_larger():
    # By hand: to keep 11 x 10 3/4 x 9 1/8 clear with creased 1/8 in board: scores 10 7/8, 9 1/4 and 11 1/16.
    blank = make_tray((10.75 * IN, 9.125 * IN, 11 * IN), IN / 8).blank

    floor, wall = blank.panels[0], blank.panels[1]
    assert inches(floor.width_mm, floor.height_mm, wall.width_mm) == [10.875, 9.25, 11.062]
    assert inches(blank.x_mm, blank.y_mm) == [33, 31.375]


@pytest.mark.parametrize(
    ("rise", "receiving", "width"),
    [
        (200, 400, 63.5),  # 2 1/2 in, the trade's width, where there is room
        (63.5, 400, 63.5),  # limiting case: the wall is just as high
        (40, 400, 40),  # a low wall: the flap is the whole corner
        (200, 100, 50),  # a short receiving wall takes two flaps that just meet
    ],
)
def test_default_flap_is_the_trades_width_or_what_there_is_room_for(rise, receiving, width):
    assert flap_width(None, rise, receiving, BRIEF) == width


def test_flap_wider_than_the_wall_is_refused_with_value_limit_and_way_out():
    with pytest.raises(FlapTooWide) as refused:
        flap_width(63.5, 50, 200, BRIEF)

    assert str(refused.value) == (
        "The flap is 63.5 mm wide, but the corner is 50.0 mm and half the wall it is glued to is 100.0 mm. "
        "Make the flap at most 50.0 mm, or leave it blank."
    )


def test_flaps_that_would_overlap_on_their_wall_are_refused():
    with pytest.raises(FlapTooWide, match="Make the flap at most 40.0 mm"):
        flap_width(50, 200, 80, BRIEF)


@pytest.mark.parametrize("asked", [5.9, 3.0, 2.0])
def test_flap_lost_in_the_thickness_of_the_board_is_refused(asked):
    # By hand, creased 3 mm board: 3 to the hinge, 1.5 taken up by its fold, and as much to glue: 6.
    with pytest.raises(FlapTooNarrow) as refused:
        flap_width(asked, 200, 400, BRIEF)

    assert str(refused.value) == (
        f"The flap is {asked:.1f} mm wide; on a board 3.0 mm thick it needs at least 6.0 mm, or too little "
        "is left to glue. Use a higher wall, a wider flap, a thinner board or a finer rounding."
    )


def test_flap_of_nothing_is_refused():
    with pytest.raises(OptionRefused) as refused:
        make_enclosure("tray", InnerSize(300, 200, 150), BOARD, {"flap_width": 0.0})

    assert str(refused.value) == "Flap width is 0 mm; it must be above 0 mm."
