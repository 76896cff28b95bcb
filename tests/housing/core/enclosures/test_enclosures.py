"""The list of forms and the one way to make an enclosure."""

import pytest

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures import ENCLOSURES, make_enclosure
from housing.core.enclosures.form import FormOptions
from housing.core.errors import UnknownForm

INNER = InnerSize(300, 200, 150)
BOARD = BoardSpec(caliper_mm=3)


@pytest.mark.parametrize(("form", "parts"), [("tray", ["tray"]), ("lidded_tray", ["base", "lid"])])
def test_form_gives_its_parts_the_one_that_holds_the_object_first(form, parts):
    made = make_enclosure(form, INNER, BOARD, FormOptions())

    assert [part.name for part in made.parts] == parts


@pytest.mark.parametrize(
    ("form", "folds", "joints"),
    [("tray", 8, 4), ("lidded_tray", 16, 8)],  # common practice, no source: counts that drive labour and glue
)
def test_form_has_the_trades_counts(form, folds, joints):
    parts = make_enclosure(form, INNER, BOARD, FormOptions()).parts

    assert sum(part.blank.folds for part in parts) == folds
    assert sum(part.blank.glue_joints for part in parts) == joints


@pytest.mark.parametrize("form", ENCLOSURES)
def test_form_gives_the_inside_asked_for(form):
    inside = make_enclosure(form, INNER, BOARD, FormOptions()).inside

    assert (inside.x_mm, inside.y_mm, inside.z_mm) == pytest.approx((300, 200, 150))


@pytest.mark.parametrize("form", ENCLOSURES)
def test_form_says_whether_it_has_a_lid(form):
    parts = make_enclosure(form, INNER, BOARD, FormOptions()).parts

    assert ENCLOSURES[form].has_lid == ("lid" in [part.name for part in parts])


def test_open_tray_is_as_high_as_its_walls():
    # By hand: 150 + 3; a lid would rest one caliper higher.
    outside = make_enclosure("tray", INNER, BOARD, FormOptions()).outside

    assert outside.z_mm == pytest.approx(153)


def test_unknown_form_is_refused_with_the_forms_there_are():
    with pytest.raises(UnknownForm) as refused:
        make_enclosure("hat box", INNER, BOARD, FormOptions())

    assert str(refused.value) == ("There is no enclosure form “hat box”. Choose one of: lidded_tray, tray.")
