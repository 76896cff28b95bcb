"""The order of cuts and the offcuts they leave, by hand on a sheet of 100 x 60 mm without trim or kerf."""

from boards.core.nesting import Cut, Offcut, Rules
from boards.core.nesting.cutting import cut_up
from boards.core.nesting.guillotine import Laid, LaidSheet
from boards.core.nesting.job import grow
from boards.core.nesting.tidying import tidiest
from tests.boards.core.nesting.made import make_pieces, make_sheet

RULES = Rules()


def lay_out(pieces, *laid):
    """A question about one sheet, and the blanks as they lie on it."""
    sheet = make_sheet(100, 60)
    job = grow(pieces, [sheet], RULES)
    return job, LaidSheet(job.kinds[0], list(laid)), lambda laid: cut_up(laid, pieces, sheet, RULES)


def test_near_strip_is_finished_before_the_rest():
    # Two strips of 50: three blanks in the near one, two in the other.
    pieces = make_pieces((50, 30), (50, 20), (50, 10), (50, 40), (50, 20))
    _, laid_sheet, cut = lay_out(
        pieces,
        Laid(0, 0, 0, 50, 30, False, 100, 60),
        Laid(1, 0, 30, 50, 20, False, 50, 30),
        Laid(2, 0, 50, 50, 10, False, 50, 10),
        Laid(3, 50, 0, 50, 40, False, 50, 60),
        Laid(4, 50, 40, 50, 20, False, 50, 20),
    )

    assert cut(laid_sheet).cuts == (
        Cut(50, 0, 50, 60),
        Cut(0, 30, 50, 30),
        Cut(0, 50, 50, 50),
        Cut(50, 40, 100, 40),
    )


def test_first_cut_runs_as_the_blank_beyond_needs_it():
    # B lies beyond A and is longer, so the cut along has to come first.
    pieces = make_pieces((50, 30), (80, 30))
    _, laid_sheet, cut = lay_out(
        pieces, Laid(0, 0, 0, 50, 30, False, 100, 60), Laid(1, 0, 30, 80, 30, False, 100, 30)
    )

    assert cut(laid_sheet).cuts == (Cut(0, 30, 100, 30), Cut(50, 0, 50, 30), Cut(80, 30, 80, 60))


def test_finished_sheet_is_laid_once_more_for_a_larger_offcut():
    # Side by side the two blanks leave 100 x 30 at most; one beyond the other they leave 60 x 60.
    pieces = make_pieces((40, 30), (40, 30))
    job, side_by_side, cut = lay_out(
        pieces, Laid(0, 0, 0, 40, 30, False, 100, 60), Laid(1, 40, 0, 40, 30, False, 60, 30)
    )

    assert cut(side_by_side).offcuts[0] == Offcut(0, 30, 100, 30)
    assert tidiest(job, side_by_side, cut, until=None).offcuts == (Offcut(40, 0, 60, 60),)
