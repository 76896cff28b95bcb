"""The list of forms and the one way to make an enclosure."""

import ast
from pathlib import Path

import pytest

import housing.core.enclosures
from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures import ENCLOSURES, make_enclosure
from housing.core.errors import SizeRefused, UnknownForm
from housing.core.marking_out import MarkingOut

INNER = InnerSize(300, 200, 150)
BOARD = BoardSpec(caliper_mm=3)


@pytest.mark.parametrize(
    ("form", "folds", "joints"),
    # common practice, no source: counts that drive labour and glue
    [("tray", 8, 4), ("lidded_tray", 16, 8), ("drop_front", 16, 6), ("clamshell", 12, 4), ("four_flap", 8, 0),
     ("folder", 2, 0), ("portfolio", 8, 0), ("slipcase", 6, 4)],
)  # fmt: skip
def test_form_has_the_trades_counts(form, folds, joints):
    inner = InnerSize(300, 200, 20) if form in ("four_flap", "folder", "portfolio", "slipcase") else INNER
    parts = make_enclosure(form, inner, BOARD).parts

    assert sum(part.blank.folds for part in parts) == folds
    assert sum(part.blank.glue_joints for part in parts) == joints


@pytest.mark.parametrize("form", ENCLOSURES)
def test_form_is_one_file_of_under_80_lines(form):
    # So that adding a form stays a small thing: its file, a line in the list and a test.
    folder = Path(housing.core.enclosures.__file__).parent
    source = (folder / f"{form}.py").read_text(encoding="utf-8")

    assert len(source.splitlines()) < 80
    assert ast.get_docstring(ast.parse(source))
    assert (Path(__file__).parent / f"test_{form}.py").exists() or form == "tray"


@pytest.mark.parametrize("form", ENCLOSURES.values(), ids=ENCLOSURES)
def test_form_says_whom_it_suits_and_up_to_what_and_why(form):
    assert form.suits.endswith(".")
    assert form.limits.startswith("Up to ") and ", because " in form.limits


def test_open_tray_is_as_high_as_its_walls():
    # By hand: 150 + 3; a lid would rest one caliper higher.
    assert make_enclosure("tray", INNER, BOARD).outside.z_mm == pytest.approx(153)


def test_box_longer_than_its_form_is_meant_for_says_so():
    [note] = make_enclosure("tray", InnerSize(950, 200, 150), BOARD).notes

    assert note == "It is 950 mm long inside; this form is meant for up to 900 mm."


def test_unknown_form_is_refused_with_the_forms_there_are():
    with pytest.raises(UnknownForm) as refused:
        make_enclosure("hat box", INNER, BOARD)

    assert str(refused.value).startswith(
        "There is no enclosure form “hat box”. Choose one of: carrying_tray, "
    )


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ({"drawn": "by eye"}, "A blank is drawn “compensated” or “nominal”, not “by eye”."),
        ({"step_mm": -1}, "The rounding step is -1 mm; it must be 0 (none) or above."),
    ],
)
def test_impossible_way_of_marking_out_is_refused(given, says):
    with pytest.raises(SizeRefused) as refused:
        MarkingOut(**given)

    assert str(refused.value) == says
