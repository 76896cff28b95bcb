"""The pages of the designs: list, entering one, and trying it on a size at once."""

from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from housing.models import Design
from tests.factories import make_board, make_design, make_user

pytestmark = pytest.mark.django_db
BOWL = {"height": "10", "width": "8 3/4", "depth": "7 1/8"}


@pytest.fixture
def manager(client):
    client.force_login(make_user("manager"))
    return client


def design_data(**given) -> dict:
    return {
        "name": "Small box", "form": "lidded_tray", "board": given.get("board") or make_board().pk,
        "drawn": "nominal", "height_allowance_mm": "1 in", "side_allowance_mm": "25.4 mm",
        "flap_width_mm": "", "lid_depth_mm": "3 1/2", "lid_clearance_mm": "1/8", "padding_price_m2": "0",
        "setup_minutes": "8", "score_minutes_m": "1", "cut_minutes_m": "1", "joint_minutes": "1",
        "padding_minutes": "3", "fit_minutes": "6", "return_minutes": "4", **given,
    }  # fmt: skip


def tried(client, design: Design, **size):
    return client.get(f"/designs/{design.pk}/try/", {**BOWL, **size}).context["trial"]


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
    assert made.lid_depth_mm == Decimal("88.9")  # 3 1/2 x 25.4


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
    design = make_design(flap_width_mm=Decimal("500"))

    assert tried(manager, design).refusal.startswith("The flap is 500.0 mm wide, but the corner is")


@pytest.mark.parametrize("height", ["", "0", "-3", "a lot", "40 m"])
def test_a_size_that_cannot_be_is_refused_by_name(manager, height):
    assert tried(manager, make_design(), height=height).refusal.startswith("Height: ")


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("side_allowance_mm", "-1"), ("lid_depth_mm", "0"), ("setup_minutes", "-5"), ("name", ""),
        ("form", "balloon"),
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
    answer = manager.post("/designs/new/", design_data(flap_width_mm="20 in"), follow=True)

    [message] = answer.context["messages"]
    # by hand: 20 x 25.4 = 508
    assert (message.level_tag, Design.objects.count()) == ("warning", 1)
    assert str(message).startswith("Saved, but the example object cannot be boxed with it: The flap is ")
