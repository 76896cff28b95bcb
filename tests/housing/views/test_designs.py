"""The pages of the designs: list, entering one, and trying it on a size at once."""

from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils.html import strip_tags

from housing.core.enclosures import ENCLOSURES
from housing.models import Design
from tests.factories import make_board, make_design, make_sheet_size, make_user

pytestmark = pytest.mark.django_db
BOWL = {"height": "10", "width": "8 3/4", "depth": "7 1/8"}


def design_data(**given) -> dict:
    return {
        "name": "Small box", "form": "lidded_tray", "board": given.get("board") or make_board().pk,
        "drawn": "nominal", "height_allowance_mm": "1 in", "side_allowance_mm": "25.4 mm",
        "lining_mm": "0", "option_flap_width": "", "option_flaps_on_long_walls": "on",
        "option_lid_depth": "3 1/2", "option_lid_clearance": "1/16", "padding_price_m2": "0",
        **given,
    }  # fmt: skip


def text_of(answer) -> str:
    """A page without its marks, in one line."""
    return " ".join(strip_tags(answer.text).split())


def tried(client, design: Design, **size):
    sent = {**BOWL, "drawn": design.drawn, "option_flaps_on_long_walls": "on", **size}
    return client.get(f"/designs/{design.pk}/try/", sent).context["trial"]


def test_a_trial_gives_the_blank_of_the_common_worked_example(manager):
    trial = tried(manager, make_design(drawn="nominal", board=make_board(grammage_g_m2=600)))

    # Common practice, no source: an object 10 x 8 3/4 x 7 1/8 in wants 11 x 10 3/4 x 9 1/8 in inside; along
    # one edge the marks are 0, 11, 21 3/4 and 32 3/4 in, and the other side of the blank is 31 1/8 in.
    base = trial.parts[0]
    assert base.marks_x == "0 in · 11 in · 21 3/4 in · 32 3/4 in"
    assert base.sides_mm == pytest.approx((831.85, 790.575))  # 32 3/4 and 31 1/8 in x 25.4
    assert trial.refusal == "" and trial.weight_g > 0


def test_the_first_look_at_a_design_shows_an_example(manager):
    answer = manager.get(f"/designs/{make_design().pk}/")

    assert len(answer.context["trial"].parts) == 2


def test_a_trial_for_htmx_is_only_the_piece_that_changes(manager):
    answer = manager.get(f"/designs/{make_design().pk}/try/", BOWL, headers={"HX-Request": "true"})

    assert answer.content.decode().strip().startswith('<div id="trial"')


def test_a_design_is_entered_with_lengths_in_either_unit(manager):
    manager.post("/designs/new/", design_data())

    made = Design.objects.get()
    assert made.side_allowance_mm == Decimal("25.4")
    assert made.options == {"lid_clearance": 1.5875}  # 1/16 x 25.4; 3 1/2 in is the form's own lid depth


def test_a_design_of_another_form_keeps_that_forms_choices_only(manager):
    design = make_design(options={"lid_depth": 40.0})

    manager.post(
        f"/designs/{design.pk}/edit/",
        design_data(form="divided_tray", option_cells_x="5", board=design.board_id),
    )

    design.refresh_from_db()
    assert (design.form, design.options) == ("divided_tray", {"cells_x": 5})


def test_choosing_another_form_brings_its_options(manager):
    answer = manager.get("/designs/options/", {"form": "sleeve"}).content.decode()

    assert "Width of the glue flap" in answer
    assert "Lid depth" not in answer


@pytest.mark.parametrize("form", ENCLOSURES)
def test_every_form_can_be_tried_at_its_example_and_is_proven(manager, form):
    answer = manager.get(f"/designs/{make_design(form=form).pk}/")

    trial = answer.context["trial"]
    assert (trial.refusal, trial.faults) == ("", ())
    assert trial.parts and trial.steps


def test_board_drawing_and_options_can_be_changed_while_trying(manager):
    thick = make_board(caliper_mm=Decimal("6"))
    design = make_design()

    trial = tried(manager, design, board=thick.pk, rounding="1 mm", option_lid_depth="50 mm")

    lid = trial.enclosure.parts[1]
    assert trial.enclosure.board.caliper_mm == 6
    assert 50 <= lid.inside.z_mm <= 52
    assert all(mark == pytest.approx(round(mark)) for mark in lid.blank.marks_x)


def test_box_larger_than_every_sheet_is_drawn_and_counted_in_joined_parts(manager):
    board = make_board()
    make_sheet_size(board=board, along_mm=Decimal("1016"), across_mm=Decimal("1524"))

    trial = tried(manager, make_design(board=board, form="tray"), width="2 m")

    [join] = trial.joined
    # By hand: 2000 + 2 x 25.4 + 2 walls is more than one sheet and less than two less an overlap.
    assert join.sentence.startswith(
        f"The tray is larger than every sheet of {board.code}. Make it of 2 parts"
    )
    assert len(join.parts) == 2


def test_box_that_fits_a_sheet_is_not_parted(manager):
    board = make_board()
    make_sheet_size(board=board, along_mm=Decimal("1016"), across_mm=Decimal("1524"))

    assert tried(manager, make_design(board=board)).joined == ()


def test_trying_saves_nothing_and_keeping_does(manager):
    design = make_design()
    sent = {**BOWL, "drawn": "nominal", "option_lid_depth": "50 mm", "option_flaps_on_long_walls": "on"}

    manager.get(f"/designs/{design.pk}/try/", sent)
    before = Design.objects.get().options
    manager.post(f"/designs/{design.pk}/keep/", sent)

    kept = Design.objects.get()
    assert (before, kept.options, kept.drawn) == ({}, {"lid_depth": 50.0}, "nominal")


def test_keeping_what_is_refused_changes_nothing(manager):
    design = make_design()

    answer = manager.post(f"/designs/{design.pk}/keep/", {**BOWL, "option_lid_depth": "-3"}, follow=True)

    [message] = answer.context["messages"]
    assert (message.level_tag, Design.objects.get().options) == ("error", {})


def test_a_viewer_may_try_but_not_keep(client):
    client.force_login(make_user("viewer"))
    design = make_design()

    assert client.get(f"/designs/{design.pk}/try/", BOWL).status_code == 200
    assert client.post(f"/designs/{design.pk}/keep/", BOWL).status_code == 403


def test_a_design_shows_the_standard_times_of_its_own(manager):
    own, plain = make_design(), make_design()
    own.standard_times.create(element="glue", low=2, likely="2.5", high=4, source="Timed")

    texts = [text_of(manager.get(f"/designs/{design.pk}/")) for design in (own, plain)]

    assert "Glue a joint: 2.5 min; all else by the standard times of every design" in texts[0]
    assert "By the standard times of every design" in texts[1]


def test_the_list_asks_as_often_for_three_designs_as_for_one(manager):
    counts = []
    for _ in range(3):
        make_design()
        with CaptureQueriesContext(connection) as made:
            manager.get("/designs/")
        counts.append(len(made))

    assert counts[1] == counts[2]


# ---- Refused ---------------------------------------------------------------------------------------------


def test_a_flap_wider_than_the_wall_is_refused_with_the_limit(manager):
    trial = tried(manager, make_design(), option_flap_width="500 mm")

    assert trial.refusal.startswith("The flap is 500.0 mm wide, but the corner is")


@pytest.mark.parametrize("height", ["", "0", "-3", "a lot", "40 m"])
def test_a_size_that_cannot_be_is_refused_by_name(manager, height):
    assert tried(manager, make_design(), height=height).refusal.startswith("Height: ")


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("side_allowance_mm", "-1"), ("option_lid_depth", "0"), ("lining_mm", "-1"),
        ("name", ""), ("form", "balloon"),
    ],
)  # fmt: skip
def test_a_figure_that_cannot_be_is_refused_beside_its_field(manager, field, value):
    answer = manager.post("/designs/new/", design_data(**{field: value}))

    assert list(answer.context["form"].errors) == [field]


def test_a_maker_changes_no_design(client):
    client.force_login(make_user("maker"))

    assert client.post(f"/designs/{make_design().pk}/edit/", design_data()).status_code == 403


def test_who_is_not_signed_in_is_asked_to(client):
    assert client.get("/designs/").status_code == 302


def test_a_design_that_is_not_there_is_missing(manager):
    assert manager.get("/designs/999/").status_code == 404


def test_a_flap_too_wide_for_the_example_is_saved_with_a_warning(manager):
    answer = manager.post("/designs/new/", design_data(option_flap_width="20 in"), follow=True)

    [message] = answer.context["messages"]
    # by hand: 20 x 25.4 = 508
    assert (message.level_tag, Design.objects.count()) == ("warning", 1)
    assert str(message).startswith("Saved, but the example object cannot be boxed with it: The flap is ")
