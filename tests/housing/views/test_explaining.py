"""The page that explains a finished box, and the correction of a board it leads to."""

from decimal import Decimal

import pytest

from boards.models import Board
from housing.services.housings import design_enclosure
from tests.factories import make_board, make_design, make_object, make_user
from tests.housing.printing.boxes import make_box
from tests.housing.printing.test_cut_sheets import sheet_of

pytestmark = pytest.mark.django_db
# Common practice, no source: drawn 10 3/4 x 9 1/8, finished 11 1/8 x 9 1/4 in.
WORKED = {"drawn_x": "10 3/4", "drawn_y": "9 1/8", "outside_x": "11 1/8", "outside_y": "9 1/4"}


def test_worked_tray_is_explained_by_an_eighth_of_an_inch_creased(manager):
    found = manager.get("/boxes/explain/", {"board": make_board().pk, **WORKED}).context["found"]

    # By hand: the gains 3/8 and 1/8 differ by two calipers; the smaller is one caliper in two folds.
    assert (found.caliper_mm, found.fold_share, found.flaps) == (
        pytest.approx(3.175),
        pytest.approx(0.5),
        "x",
    )


def test_correction_goes_before_what_was_stated_and_can_be_forgotten(manager):
    board = make_board(caliper_mm=Decimal("4"), fold_share="1")
    design = make_design(board=board)

    manager.post("/boxes/explain/keep/", {"board": board.pk, **WORKED})
    corrected = Board.objects.get().to_core()
    made = design_enclosure(design=type(design).objects.get(), contents=[make_object()])
    manager.post(f"/boxes/boards/{board.pk}/forget/", {"confirmed": "yes"})

    assert (corrected.caliper_mm, corrected.fold_share) == (3.175, 0.5)
    assert made.board.caliper_mm == 3.175
    assert Board.objects.get().to_core().caliper_mm == 4


def test_board_page_says_which_figures_are_in_force(manager):
    board = make_board(measured_caliper_mm=Decimal("3.1"), measured_fold_share=Decimal("0.4"))

    assert "In force instead: measured" in manager.get(f"/boards/{board.pk}/").content.decode()


def test_cut_sheet_says_the_caliper_in_force():
    board = make_board(
        caliper_mm=Decimal("4"), measured_caliper_mm=Decimal("3.175"), measured_fold_share=Decimal("0.5")
    )

    facts = dict(sheet_of(make_box(design=make_design(board=board))).facts)

    assert facts["Board"] == f"{board.code}, caliper 1/8 in"


def test_page_is_empty_at_first(manager):
    answer = manager.get("/boxes/explain/", {"board": make_board().pk})

    assert answer.context["found"] is None


@pytest.mark.parametrize(
    ("changed", "field"),
    [({"outside_x": "9"}, "__all__"), ({"drawn_x": "wide"}, "drawn_x"), ({"outside_y": ""}, "outside_y")],
)
def test_what_cannot_be_is_refused_and_nothing_is_kept(manager, changed, field):
    answer = manager.post("/boxes/explain/keep/", {"board": make_board().pk, **WORKED, **changed})

    assert list(answer.context["form"].errors) == [field]
    assert not Board.objects.get().is_corrected


def test_a_maker_may_look_but_not_keep(client):
    client.force_login(make_user("maker"))
    sent = {"board": make_board().pk, **WORKED}

    assert client.get("/boxes/explain/", sent).status_code == 200
    assert client.post("/boxes/explain/keep/", sent).status_code == 403
