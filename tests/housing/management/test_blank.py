"""The blank command: worked examples as JSON and in words, its drawings, and a sentence for each mistake."""

import json
from decimal import Decimal
from io import StringIO
from xml.etree import ElementTree

import pytest
from django.core.management import CommandError, call_command

from housing.core.enclosures import ENCLOSURES
from tests.factories import make_board

IN = 25.4
TRAY = ("tray", "--inner", "300x200x150", "--caliper", "3")


def told(*words: str) -> str:
    out = StringIO()
    call_command("blank", *words, stdout=out)
    return out.getvalue()


def figures(*words: str) -> dict:
    return json.loads(told(*words, "--json"))


def test_worked_tray_in_inches_drawn_nominally():
    # Common practice, no source: 10 3/4 x 9 1/8 x 11 wanted: blank 32 3/4 x 31 1/8, outside 11 1/8 x 9 1/4;
    # by hand the true inside is a caliper of 1/8 in less across and half of it less in height.
    made = figures(
        "tray", "--inner", "10-3/4x9-1/8x11", "--unit", "in", "--caliper", "1/8", "--drawn", "nominal",
        "--option", "flap_width=2 1/2",
    )  # fmt: skip

    [tray] = made["parts"]
    assert tray["blank"] == pytest.approx([32.75 * IN, 31.125 * IN])
    assert [mark / IN for mark in tray["marks_x"]] == pytest.approx([0, 11, 21.75, 32.75])
    assert [mark / IN for mark in tray["flap_marks"]["x"]] == pytest.approx([10.875, 21.875])
    assert [side / IN for side in tray["inside"]] == pytest.approx([10.625, 9, 10.9375])
    assert [side / IN for side in tray["outside"][:2]] == pytest.approx([11.125, 9.25])
    assert tray["board_area_mm2"] / IN**2 == pytest.approx(645.34375)


@pytest.mark.parametrize(
    ("fold", "blank"),
    [("inside", [600, 500]), ("middle", [606, 506]), ("outside", [612, 512])],
)
def test_metric_tray_however_it_is_folded(fold, blank):
    # By hand: L + 2H + 4kt by W + 2H + 4kt for k = 0, 1/2, 1; outside 312 x 206 x 153 each time.
    [tray] = figures(*TRAY, "--fold", fold)["parts"]

    assert tray["blank"] == pytest.approx(blank)
    assert tray["outside"] == pytest.approx([312, 206, 153])
    assert tray["inside"] == pytest.approx([300, 200, 150])


def test_json_has_every_figure_of_a_part():
    # By hand for 300 x 200 x 150 in creased 3 mm board, flaps 63.5: scores 303, 203, 151.5;
    # 2 x 506 + 4 x 151.5 scored, 8 x 151.5 cut inside, four corners 88 x 151.5 fall off.
    made = figures(*TRAY)

    assert list(made)[:3] == ["form", "parts", "warnings"]
    [tray] = made["parts"]
    assert list(tray)[:14] == [
        "name", "blank", "marks_x", "marks_y", "flap_marks", "inside", "outside", "board_area_mm2",
        "score_length_mm", "cut_length_mm", "folds", "glue_joints", "corner_waste", "flute_along",
    ]  # fmt: skip
    assert (tray["score_length_mm"], tray["cut_length_mm"]) == (1618, 1212)
    assert (tray["folds"], tray["glue_joints"], tray["flute_along"]) == (8, 4, "y")
    assert tray["corner_waste"] == [[88, 151.5, 4]]
    assert (made["warnings"], made["faults"]) == ([], [])


@pytest.mark.django_db
def test_board_is_found_by_its_code():
    make_board(code="B32", caliper_mm=Decimal("3"))

    assert figures("tray", "--inner", "300x200x150", "--board", "b32") == figures(*TRAY)


def test_words_are_in_the_unit_asked():
    text = told(
        "tray", "--inner", "10-3/4x9-1/8x11", "--unit", "in", "--caliper", "1/8", "--drawn", "nominal"
    )

    assert "tray: blank 32 3/4 × 31 1/8 in" in text
    assert " mm" not in text


def test_positions_can_be_rounded_to_a_step_of_the_rule():
    [tray] = figures(*TRAY, "--step", "1 mm")["parts"]

    assert tray["marks_x"] == [round(mark) for mark in tray["marks_x"]]


def test_list_names_every_form_with_its_options():
    listed = json.loads(told("--list", "--json"))

    assert [form["form"] for form in listed] == list(ENCLOSURES)
    assert all(form["suits"] and form["limits"] for form in listed)
    text = told("--list")
    assert all(f"{key}: {form.name}" in text for key, form in ENCLOSURES.items())
    assert "lid_depth: Lid depth (88.9 mm, 0 to 20000 mm)" in text


@pytest.mark.parametrize("form", ENCLOSURES)
def test_every_form_works_from_the_command_line(form):
    high = "2" if form == "rolled_tube" else "90"

    made = figures(form, "--inner", f"300x200x{high}", "--caliper", "1.6")

    assert made["parts"] and made["faults"] == []


def test_each_part_is_drawn_into_a_file_of_its_own(tmp_path):
    told("lidded_tray", *TRAY[1:], "--svg", str(tmp_path / "box.svg"))

    drawn = sorted(tmp_path.iterdir())
    assert [path.name for path in drawn] == ["box-base.svg", "box-lid.svg"]
    assert all(ElementTree.parse(path).getroot().tag.endswith("svg") for path in drawn)


# ---- Refused ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ((), "Which form? Give its name first; --list shows all of them."),
        (("sleev", *TRAY[1:]), "There is no form “sleev”. Did you mean sleeve?"),
        (("tray", "--caliper", "3"), "--inner is “”; give length, width and height, such as"),
        (("tray", "--inner", "300x200", "--caliper", "3"), "--inner is “300x200”; give length, width"),
        (("tray", "--inner", "300x2oox150", "--caliper", "3"), "“2oo” is not a length."),
        (("tray", "--inner", "300x0x150", "--caliper", "3"), "“0” is"),
        (TRAY[:3], "Give either --board CODE or --caliper T, one of the two."),
        ((*TRAY, "--board", "B"), "Give either --board CODE or --caliper T, one of the two."),
        ((*TRAY[:4], "0"), "The board's caliper is 0 mm; it must be above 0."),
        ((*TRAY[:4], "-3"), "“-3” is negative"),
        ((*TRAY, "--option", "wings=3"), "This form has no option “wings”. It has: "),
        ((*TRAY, "--option", "flap_width"), "--option “flap_width” has no value; write flap_width=VALUE."),
        ((*TRAY, "--option", "flap_width=wide"), "“wide” is not a length."),
        ((*TRAY, "--option", "flap_width=400"), "The flap is 400.0 mm wide, but the corner is 151.5 mm"),
        ((*TRAY, "--option", "double_wall=perhaps"), "Double end walls, rolled over: “perhaps” is neither"),
        (("lid", *TRAY[1:], "--option", "lid_clearance=-3"), "Lid clearance on each side is -3 mm; it"),
        (("divided_tray", *TRAY[1:], "--option", "cells_x=many"), "Cells from left to right: “many”"),
        (("divided_tray", *TRAY[1:], "--option", "cells_x=24"), "24 cells from left to right in 300 mm"),
    ],
)  # fmt: skip
def test_mistake_gets_one_sentence_and_exit_code_2(words, says):
    with pytest.raises(CommandError) as refused:
        told(*words)

    assert str(refused.value).startswith(says)
    assert refused.value.returncode == 2


@pytest.mark.django_db
def test_unknown_board_is_told_with_those_there_are():
    make_board(code="B32")

    with pytest.raises(CommandError, match="There is no board “X9”. Boards here: B32."):
        told("tray", "--inner", "300x200x150", "--board", "X9")


def test_folder_that_is_missing_is_named(tmp_path):
    with pytest.raises(CommandError, match="There is no folder .*gone. Make it, or write elsewhere."):
        told(*TRAY, "--svg", str(tmp_path / "gone" / "box.svg"))


def test_refusal_is_in_the_unit_asked():
    with pytest.raises(CommandError, match="The flap is 16 in wide, but the corner is 6"):
        told(
            "tray", "--inner", "12x8x6", "--unit", "in", "--caliper", "1/8", "--option", "flap_width=16",
        )  # fmt: skip
