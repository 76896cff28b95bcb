"""A budget under way beside the frozen one: sums worked by hand."""

from decimal import Decimal

from housing.core.budget.lines import Section
from housing.core.budget.tracking import track


def test_what_was_spent_and_what_is_to_come_make_the_end():
    found = track(
        planned={Section.BOARD: Decimal(500), Section.LABOUR: Decimal(1200)},
        spent={Section.BOARD: Decimal(450), Section.LABOUR: Decimal(300)},
        to_come={Section.BOARD: Decimal(100), Section.LABOUR: Decimal(850)},
    )

    board, labour = found.sections
    assert (board.name, board.forecast, board.over) == ("Board", 550, 50)
    assert (labour.name, labour.forecast, labour.over) == ("Labour", 1150, -50)
    # 1,700 planned; 750 spent and 950 to come
    assert (found.in_all.planned, found.in_all.forecast, found.in_all.over) == (1700, 1700, 0)
    assert found.spent_share == Decimal(750) / Decimal(1700)


def test_what_is_given_or_on_hand_is_no_money():
    found = track(
        planned={Section.IN_KIND: Decimal(80), Section.ON_HAND: Decimal(40)},
        spent={Section.IN_KIND: Decimal(20)},
        to_come={Section.IN_KIND: Decimal(50), Section.ON_HAND: Decimal(40)},
    )

    assert found.sections == ()
    assert (found.in_kind.over, found.in_all.forecast, found.spent_share) == (-10, 0, None)


def test_a_section_that_was_never_planned_is_over_as_a_whole():
    (row,) = track({}, {Section.FREIGHT: Decimal(30)}, {}).sections

    assert (row.planned, row.over) == (0, 30)
