"""Cutting plans worked by hand: what is cut from what, what is left out and why, and what is refused."""

from dataclasses import replace
from decimal import Decimal

import pytest

from boards.core.nesting import (
    Cut,
    CutSheet,
    KeyRepeated,
    Layout,
    NoSheets,
    Offcut,
    Piece,
    Placement,
    Rules,
    RulesRefused,
    Sheet,
    Unplaced,
    check,
    layout_cost,
    nest,
)
from tests.boards.core.nesting.made import CLASSES, IN, make_pieces, make_sheet, published, twice


def sheets_cut(layout: Layout) -> list[str]:
    """Keys of the sheets cut up, in their order."""
    return [cut_sheet.sheet_key for cut_sheet in layout.sheets]


def test_one_blank_is_cut_from_the_near_corner_inside_the_trim():
    layout = nest(make_pieces((50, 30)), [make_sheet(100, 60)], Rules(kerf_mm=2, trim_mm=5))

    # By hand: inside the trim lie 90 x 50. Cutting across first leaves 90 - 50 - 2 = 38 x 50 = 1900 mm2,
    # cutting along first 90 x (50 - 30 - 2) = 1620 mm2; the larger offcut decides.
    assert layout == Layout(
        sheets=(
            CutSheet(
                "S",
                placements=(Placement("A", 5, 5, 50, 30, turned=False),),
                cuts=(
                    Cut(0, 5, 100, 5, is_trim=True, mark_mm=5),
                    Cut(0, 55, 100, 55, is_trim=True, mark_mm=55),
                    Cut(5, 5, 5, 55, is_trim=True, mark_mm=5),
                    Cut(95, 5, 95, 55, is_trim=True, mark_mm=95),
                    Cut(55, 5, 55, 55, part=1, mark_mm=50, stage=0),
                    Cut(5, 35, 55, 35, part=2, mark_mm=30, stage=1),
                ),
                offcuts=(Offcut(57, 5, 38, 50), Offcut(5, 37, 50, 18)),
            ),
        ),
        unplaced=(),
    )


def test_offcuts_too_narrow_to_keep_are_not_listed():
    rules = Rules(kerf_mm=2, trim_mm=5, least_offcut_mm=20)

    layout = nest(make_pieces((50, 30)), [make_sheet(100, 60)], rules)

    assert layout.sheets[0].offcuts == (Offcut(57, 5, 38, 50),)


def test_base_and_two_lids_come_from_one_sheet_along_the_flutes():
    # By hand, in inches, flutes along 60: base 31 1/8 along and 32 3/4 across (of 40); the rest, 28 7/8 x 40,
    # takes two lids of 16 1/2 along side by side, 2 x 18 3/8 = 36 3/4 across.
    base, lid = (31.125 * IN, 32.75 * IN), (16.5 * IN, 18.375 * IN)
    pieces = make_pieces(base, lid, lid)

    layout = nest(pieces, [make_sheet(60 * IN, 40 * IN)], Rules())

    assert sheets_cut(layout) == ["S"]
    assert [placed.turned for placed in layout.sheets[0].placements] == [False, False, False]


def test_blank_that_fits_turned_only_is_turned_if_its_flutes_allow_it():
    layout = nest(make_pieces((60, 100), may_turn=True), [make_sheet(100, 60)], Rules())

    assert layout.sheets[0].placements == (Placement("A", 0, 0, 100, 60, turned=True),)


def test_blanks_that_fill_a_sheet_to_the_last_sixteenth_fit_it():
    # Three thirds of 40 1/8 in; in binary fractions the sum misses by less than a nanometre.
    third = 40.125 * IN / 3
    pieces = make_pieces(*[(third, 20 * IN)] * 6)

    layout = nest(pieces, [make_sheet(40.125 * IN, 40 * IN)], Rules())

    assert sheets_cut(layout) == ["S"]


def test_kerf_is_lost_between_neighbours_but_not_at_the_edge():
    # By hand: 3 x 32 + 2 x 2 = 100 fits, 3 x 32 + 2 x 2.1 does not.
    pieces = make_pieces(*[(32, 60)] * 3)

    assert sheets_cut(nest(pieces, [make_sheet(100, 60)], Rules(kerf_mm=2))) == ["S"]
    assert sheets_cut(nest(pieces, [make_sheet(100, 60)], Rules(kerf_mm=2.1))) == ["S", "S"]


def test_offcut_on_the_rack_is_used_before_a_sheet_is_bought():
    offcut = make_sheet(50, 30, price=0, stock=1, key="offcut")

    layout = nest(make_pieces((45, 25)), [make_sheet(100, 60, price=9), offcut], Rules())

    assert sheets_cut(layout) == ["offcut"]


def test_offcuts_spare_the_sheet_that_the_rest_would_need():
    # By hand: the bought sheet takes the blank of 90 x 50 and nothing beside it; each offcut takes one blank.
    offcuts = [make_sheet(50, 30, price=0, stock=1, key=key) for key in ("rack 1", "rack 2")]
    pieces = make_pieces((90, 50), (45, 25), (45, 25))

    layout = nest(pieces, [make_sheet(100, 60, price=9), *offcuts], Rules())

    assert sorted(sheets_cut(layout)) == ["S", "rack 1", "rack 2"]
    assert layout_cost(layout, [make_sheet(100, 60, price=9), *offcuts]) == 9


def test_fewer_sheets_decide_between_plans_of_equal_price():
    # Two small sheets cost as much as a large one; both ways take both blanks.
    small, large = make_sheet(50, 60, price=5, key="small"), make_sheet(100, 60, price=10, key="large")

    assert sheets_cut(nest(make_pieces((50, 60), (50, 60)), [small, large], Rules())) == ["large"]


def test_cheapest_mix_of_sheet_sizes_is_found():
    # By hand: one large and one small, 10 + 4, beat two large, 20; small ones cannot take the long blanks.
    small, large = make_sheet(50, 60, price=4, key="small"), make_sheet(100, 60, price=10, key="large")
    pieces = make_pieces((100, 30), (100, 30), (50, 60))

    assert sorted(sheets_cut(nest(pieces, [small, large], Rules()))) == ["large", "small"]


def test_leftover_is_kept_in_one_piece():
    # By hand: four blanks of 25 x 60 fill 100 of the 200 mm; together they leave 100 x 60.
    layout = nest(make_pieces(*[(25, 60)] * 4), [make_sheet(200, 60)], Rules())

    assert layout.sheets[0].offcuts == (Offcut(100, 0, 100, 60),)


def test_sheets_come_by_size_and_the_fullest_first():
    sizes = [make_sheet(100, 60, key="large", price=6, stock=1), make_sheet(50, 60, key="small", price=4)]
    pieces = make_pieces((20, 60), (50, 60), (100, 60))

    layout = nest(pieces, sizes, Rules())

    assert [(s.sheet_key, s.placements[0].key) for s in layout.sheets] == [
        ("large", "C"),
        ("small", "B"),
        ("small", "A"),
    ]


def test_nothing_to_cut_needs_no_sheet():
    assert nest([], [make_sheet()], Rules()) == Layout((), ())


def test_sheets_on_hand_are_used_up_by_the_first_batch_that_needs_them():
    # One sheet A is on hand for 5, further ones come ten at a time for 50; B costs 8 and comes singly.
    sheets = [Sheet("A", 100, 60, Decimal(5), pack=10, on_hand=1), make_sheet(100, 60, price=8, key="B")]
    pieces = [Piece(f"p{batch}", 100, 60, batch=batch) for batch in (2, 1)]

    layout = nest(pieces, sheets, Rules(mix_batches=False))

    assert [(s.sheet_key, s.placements[0].key) for s in layout.sheets] == [("A", "p1"), ("B", "p2")]
    assert layout_cost(layout, sheets) == 13


def test_small_blank_is_cut_from_a_corner_rather_than_from_a_further_sheet():
    # The host fills the sheet; its far right corner begins at 100 - 20 = 80 and 60 - 20 = 40.
    pieces = [Piece("host", 100, 60, corners=((0, 0), (0, 0), (0, 0), (20, 20))), Piece("guest", 20, 20)]

    with_corners = nest(pieces, [make_sheet()], Rules(use_corners=True))

    assert with_corners.sheets[0].placements[1] == Placement("guest", 80, 40, 20, 20, False, host="host")
    assert sheets_cut(with_corners) == ["S"]
    assert sheets_cut(nest(pieces, [make_sheet()], Rules())) == ["S", "S"]


# ---- Left out --------------------------------------------------------------------------------------------


def test_blank_larger_than_every_sheet_is_left_out_with_the_reason():
    sizes = [make_sheet(1016, 813, key="A"), make_sheet(700, 500, key="B")]

    layout = nest(make_pieces((1200, 300), (300, 200)), sizes, Rules(trim_mm=5))

    assert layout.unplaced == (
        Unplaced(
            "A",
            "Blank 1200 x 300 mm fits no sheet; the largest is 1016 x 813 mm, 1006 x 803 mm inside its trim.",
        ),
    )
    assert [placed.key for placed in layout.sheets[0].placements] == ["B"]


def test_reader_is_told_when_turning_would_help():
    # By hand: flutes along the 40 in side of a 32 x 40 in sheet; the base is 32 3/4 across and so too wide
    # for 32, but turned it lies 32 3/4 along 40 and 31 1/8 across 32.
    base = Piece("base", 31.125 * IN, 32.75 * IN)

    layout = nest([base], [make_sheet(40 * IN, 32 * IN, key="E")], Rules())

    assert layout.unplaced == (
        Unplaced(
            "base",
            "Blank 790.575 x 831.85 mm fits no sheet; the largest is 1016 x 812.8 mm; "
            "turned 90 degrees it would fit the 1016 x 812.8 mm sheet.",
        ),
    )


def test_blanks_for_which_the_stock_does_not_reach_are_left_out_with_the_reason():
    sizes = [make_sheet(100, 60, stock=1, key="A"), make_sheet(50, 60, stock=0, key="B")]

    layout = nest(make_pieces((100, 60), (50, 60), may_turn=True), sizes, Rules())

    assert layout.unplaced == (
        Unplaced(
            "B",
            "Blank 50 x 60 mm finds no room; the sheets it fits are used up "
            "(100 x 60 mm: 1 of 1, 50 x 60 mm: 0 of 0).",
        ),
    )


def test_short_stock_takes_as_much_board_as_it_can():
    # By hand: the one sheet holds the blanks of 60 x 60 and 40 x 60 together, or the one of 70 x 60 alone.
    layout = nest(make_pieces((70, 60), (60, 60), (40, 60)), [make_sheet(100, 60, stock=1)], Rules())

    assert [unplaced.key for unplaced in layout.unplaced] == ["A"]


def test_sheet_no_wider_than_its_trim_holds_nothing():
    layout = nest(make_pieces((50, 5)), [make_sheet(100, 20)], Rules(kerf_mm=3, trim_mm=10))

    assert layout.unplaced == (
        Unplaced(
            "A", "Blank 50 x 5 mm fits no sheet; the largest is 100 x 20 mm, 80 x 0 mm inside its trim."
        ),
    )


# ---- Repeatable, and never worse than twice ---------------------------------------------------------------


def test_same_seed_gives_the_same_plan():
    question = published(CLASSES[3], may_turn=True)

    assert nest(*question, seed=7) == nest(*question, seed=7)


def test_twice_the_blanks_take_at_most_twice_the_sheets():
    pieces, sheets, rules = published(CLASSES[0], may_turn=False)

    once, double = nest(pieces, sheets, rules), nest(twice(pieces), sheets, rules)

    assert check(double, twice(pieces), sheets, rules) == ()
    assert len(double.sheets) <= 2 * len(once.sheets)


def test_plan_under_a_time_limit_is_valid_too():
    question = published(CLASSES[4], may_turn=True)

    layout = nest(*question, time_limit_s=0.05)

    assert check(layout, *question) == ()


# ---- Refused ---------------------------------------------------------------------------------------------


def test_no_sheet_at_all_is_refused():
    with pytest.raises(NoSheets) as refused:
        nest(make_pieces((50, 30)), [], Rules())

    assert str(refused.value) == "There is no sheet size to cut from; add at least one."


def test_blanks_of_the_same_key_are_refused():
    with pytest.raises(KeyRepeated) as refused:
        nest([Piece("base 12", 50, 30), Piece("base 12", 60, 30)], [make_sheet()], Rules())

    assert str(refused.value) == "2 blanks go by the key base 12; each needs its own."


def test_sheets_of_the_same_key_are_refused():
    with pytest.raises(KeyRepeated) as refused:
        nest([], [Sheet("A", 100, 60, Decimal(1)), Sheet("A", 50, 60, Decimal(1))], Rules())

    assert str(refused.value) == "2 sheet sizes go by the key A; each needs its own."


@pytest.mark.parametrize("limit", [0, -1, float("nan")])
def test_time_limit_that_is_not_above_0_is_refused(limit):
    with pytest.raises(RulesRefused) as refused:
        nest([], [make_sheet()], Rules(), time_limit_s=limit)

    assert str(refused.value) == f"The time limit is {limit:g} s; it must be above 0."


# ---- Limiting cases --------------------------------------------------------------------------------------


def test_nothing_to_cut_within_a_time_limit_needs_no_sheet():
    assert nest([], [make_sheet()], Rules(), time_limit_s=1) == Layout((), ())


CORNERED = Piece("host", 100, 60, corners=((20, 20),) * 4)


@pytest.mark.parametrize("stock", [0, 1])
def test_guests_of_a_host_left_out_are_placed_or_left_out_too(stock):
    # Each host fills a sheet and takes four guests; there is one host and there are five guests more than
    # the stock takes.
    hosts = [replace(CORNERED, key=f"host {number}") for number in range(stock + 1)]
    guests = [Piece(f"guest {number}", 15, 15) for number in range(4 * stock + 1)]
    sheets, rules = [make_sheet(stock=stock)], Rules(use_corners=True)

    layout = nest([*hosts, *guests], sheets, rules)

    assert check(layout, [*hosts, *guests], sheets, rules) == ()


def test_guest_does_not_keep_its_host_from_the_one_sheet_in_stock():
    # The host fits the sheet in stock turned alone; the guest may not turn. It can lie beside or in a corner.
    pieces = [Piece("host", 50, 100, True, ((20, 20),) * 4), Piece("guest", 15, 10)]
    sheets, rules = [make_sheet(100, 60), make_sheet(60, 100, stock=0, key="T")], Rules(use_corners=True)

    layout = nest(pieces, sheets, rules)

    assert check(layout, pieces, sheets, rules) == ()
    assert layout.unplaced == ()


def test_three_thirds_of_a_sheet_take_two_cuts():
    layout = nest(make_pieces(*[(100 / 3, 60)] * 3), [make_sheet(100, 60)], Rules())

    assert len(layout.sheets[0].cuts) == 2


def test_six_sixths_of_a_sheet_fit_it():
    layout = nest(make_pieces(*[(100 / 6, 60)] * 6), [make_sheet(100, 60)], Rules())

    assert sheets_cut(layout) == ["S"]


def test_watch_hears_of_all_batches_together():
    # Two batches of two sheets each.
    pieces = [Piece(f"p{number}", 100, 60, batch=number // 2) for number in range(4)]
    told = []

    nest(pieces, [make_sheet()], Rules(mix_batches=False), watch=lambda standing: bool(told.append(standing)))

    assert (told[-1].sheets, told[-1].cost) == (4, 4)
