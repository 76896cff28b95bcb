"""The page with the sheets of a plan: sheets alike drawn once, their cuts in words, order and filters."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from boards.services import keep_offcut, receive_sheets
from housing.models import Blank, BoardPlan, CuttingPlan, PlannedBlank, PlannedSheet
from tests.factories import make_board, make_campaign, make_housing, make_object, make_sheet_size, make_user

pytestmark = pytest.mark.django_db
# From sheet to sheet the same: one base on the left, cut off at 400 mm, and the rest for the rack.
CUTS = [
    {
        "x0_mm": 400.0, "y0_mm": 0.0, "x1_mm": 400.0, "y1_mm": 600.0, "is_trim": False, "part": 1,
        "mark_mm": 400.0, "stage": 0, "host": None,
    }
]  # fmt: skip
OFFCUTS = [{"x_mm": 400.0, "y_mm": 0.0, "along_mm": 600.0, "across_mm": 600.0}]


@pytest.fixture
def manager(client):
    client.force_login(make_user("manager", username="mo"))
    return client


@pytest.fixture
def size():
    size = make_sheet_size(board=make_board(code="B1"), along_mm=Decimal(1000), across_mm=Decimal(600))
    receive_sheets(sheet_size=size, count=9)
    return size


@pytest.fixture
def plan(size):
    """A plan with its first board and no sheet yet."""
    plan = CuttingPlan.objects.create(campaign=make_campaign(), kerf_mm=0, trim_mm=0)
    add_board(plan, size.board)
    return plan


def add_board(plan, board) -> None:
    BoardPlan.objects.create(
        plan=plan, board=board, cost=10, least_cost=8, sheets=1, least_sheets=1, used_share=0.4
    )


def add_sheet(plan, size, number: str, *, along: int = 400, **given) -> PlannedSheet:
    """A sheet with one base, 600 mm across, for the object of that number."""
    sheet = PlannedSheet.objects.create(
        plan=plan,
        position=plan.sheets.count() + 1,
        board=size.board,
        sheet_size=size,
        along_mm=1000,
        across_mm=600,
        price=size.price,
        **{"cuts": CUTS, "offcuts": OFFCUTS, **given},
    )
    place(sheet, number, "base", 0, 0, along, 600)
    return sheet


def place(
    sheet, number: str, part: str, x_mm, y_mm, along_mm, across_mm, waste=(), host=None
) -> PlannedBlank:
    """A blank on a sheet. waste: near left corner and sides of what falls off it."""
    names = ("x_mm", "y_mm", "width_mm", "height_mm")
    blank = Blank.objects.create(
        housing=make_housing(make_object(number=number), campaign=sheet.plan.campaign),
        part=part,
        x_mm=along_mm,
        y_mm=across_mm,
        flute_along="x",
        geometry={"waste": [dict(zip(names, row, strict=True)) for row in waste]},
    )
    return PlannedBlank.objects.create(
        sheet=sheet, blank=blank, x_mm=x_mm, y_mm=y_mm, along_mm=along_mm, across_mm=across_mm, host=host
    )


def address(plan, rest: str = "") -> str:
    return f"/campaigns/{plan.campaign_id}/plan/{rest}"


def drawn(client, plan, rest: str = "") -> list:
    return client.get(address(plan, rest)).context["drawn"]


def positions(client, plan, rest: str) -> list[int]:
    """The numbers of the sheets as they are shown."""
    return [sheet.position for made in drawn(client, plan, rest) for sheet, _ in made.sheets]


def test_sheets_that_are_alike_are_drawn_once_each_with_its_own_objects(manager, plan, size):
    add_sheet(plan, size, "L-1")
    add_sheet(plan, size, "L-2", along=390)
    add_sheet(plan, size, "L-3")

    alike, other = drawn(manager, plan)

    assert (alike.title, other.title) == ("2 sheets alike: 1, 3", "Sheet 2")
    assert [[(p.letter, p.name) for p in pieces] for _, pieces in alike.sheets] == [
        [("A", "L-1 base")], [("A", "L-3 base")],
    ]  # fmt: skip
    assert "A base" in alike.svg and "L-1" not in alike.svg
    assert "L-2 base" in other.svg


def test_each_of_the_sheets_alike_has_its_button_and_its_place(manager, plan, size):
    first, second = add_sheet(plan, size, "L-1"), add_sheet(plan, size, "L-2")

    page = manager.get(address(plan)).content.decode()

    for sheet in (first, second):
        assert f'id="sheet-{sheet.position}"' in page
        assert f'action="/sheets/{sheet.pk}/cut/?"' in page


def test_many_sheets_in_a_row_are_told_by_the_first_and_the_last(manager, plan, size):
    for number in range(4):
        add_sheet(plan, size, f"L-{number}")

    assert [made.title for made in drawn(manager, plan)] == ["4 sheets alike: 1 to 4"]


@pytest.mark.parametrize(
    "given",
    [
        {"along": 390}, {"cuts": []}, {"offcuts": []}, {"batch": 2},
        {"cuts": [{**CUTS[0], "x0_mm": 401.0, "x1_mm": 401.0}]},
    ],
)  # fmt: skip
def test_sheets_that_differ_in_one_thing_are_not_alike(manager, plan, size, given):
    add_sheet(plan, size, "L-1")
    add_sheet(plan, size, "L-2", **given)

    assert [len(made.sheets) for made in drawn(manager, plan)] == [1, 1]


def test_cuts_are_told_in_the_unit_of_the_reader(manager, plan, size):
    add_sheet(plan, size, "L-1")

    ((step,),) = (made.steps for made in drawn(manager, plan))

    # 400 / 25.4 = 15.748 in, which is 15 24/32; 600 / 25.4 = 23.622, which is 23 10/16
    assert step.what.replace("\xa0", " ") == "From the sheet, mark from the left edge: 15 3/4 in."
    assert [gift.replace("\xa0", " ") for gift in step.gives] == [
        "L-1 base", "to the rack, 23 5/8 × 23 5/8 in",
    ]  # fmt: skip


def test_a_blank_in_a_corner_is_told_and_counted(manager, plan, size):
    sheet = add_sheet(plan, size, "L-1")
    host = sheet.placements.get()
    # The far right 100 x 80 of the base falls off: from 300 along and 520 across.
    host.blank.geometry["waste"] = [{"x_mm": 300.0, "y_mm": 520.0, "width_mm": 100.0, "height_mm": 80.0}]
    host.blank.save()
    place(sheet, "L-2", "tag", 300, 520, 50, 80, host=host)
    sheet.cuts = [
        *CUTS,
        {**CUTS[0], "x0_mm": 350.0, "x1_mm": 350.0, "y0_mm": 520.0, "part": 2, "mark_mm": 50.0,
         "host": str(host.pk)},
    ]  # fmt: skip
    sheet.save()

    answer = manager.get(address(plan))

    (made,) = answer.context["drawn"]
    assert made.steps[-1].what.startswith(
        "Cut out L-1 base first and trim its corners; then from its far right corner, mark from the left edge"
    )
    assert "L-2 tag" in made.steps[-1].gives
    # One blank from a corner; to the rack 0.6 x 0.6 m.
    assert [(row.in_corners, row.rack_m2) for row in answer.context["board_rows"]] == [(1, 0.36)]


def test_what_goes_to_the_rack_is_told_with_the_sheet(manager, plan, size):
    add_sheet(plan, size, "L-1")

    assert [made.rack for made in drawn(manager, plan)] == [["23\xa05/8\xa0×\xa023\xa05/8\xa0in"]]


def test_corners_and_rack_are_those_of_this_plan(manager, plan, size):
    add_sheet(plan, size, "L-1", cut_at=plan.made_at - timedelta(days=1))

    (row,) = manager.get(address(plan)).context["board_rows"]

    assert (row.cut, row.rack_m2) == (1, 0)


def test_sheets_come_in_the_order_that_is_asked_for_and_as_far_as_they_are(manager, plan, size):
    other = make_sheet_size(board=make_board(code="A1"))
    add_board(plan, other.board)
    add_sheet(plan, size, "L-1", batch=2)
    add_sheet(plan, size, "L-2", along=390, cut_at=timezone.now())
    add_sheet(plan, other, "L-3", along=380, batch=2)

    assert positions(manager, plan, "") == [1, 2, 3]
    assert positions(manager, plan, "?order=batch") == [2, 1, 3]
    assert positions(manager, plan, "?order=board") == [3, 1, 2]  # A1, then B1
    assert positions(manager, plan, "?batch=2") == [1, 3]
    assert positions(manager, plan, "?cut=no") == [1, 3]
    assert positions(manager, plan, "?cut=yes") == [2]
    assert positions(manager, plan, f"?board={other.board_id}&order=batch") == [3]


def test_a_plan_of_one_batch_does_not_speak_of_batches(manager, plan, size):
    add_sheet(plan, size, "L-1")

    assert "Batch" not in manager.get(address(plan)).content.decode()


def test_pages_go_by_what_is_drawn(manager, plan, size):
    for number in range(13):
        add_sheet(plan, size, f"L-{number}", along=400 - number)
        add_sheet(plan, size, f"M-{number}", along=400 - number)

    assert [len(drawn(manager, plan, f"?page={page}")) for page in (1, 2)] == [12, 1]


def test_the_page_asks_as_often_for_many_sheets_as_for_one(manager, plan, size):
    def asked() -> int:
        manager.get(address(plan))
        with CaptureQueriesContext(connection) as made:
            manager.get(address(plan))
        return len(made)

    add_sheet(plan, size, "L-1")
    once = asked()
    for number in range(3):
        add_sheet(plan, size, f"M-{number}", along=400 - number)

    assert asked() == once


def test_noting_a_sheet_as_cut_comes_back_to_what_was_shown(manager, plan, size):
    sheet = add_sheet(plan, size, "L-1")

    answer = manager.post(f"/sheets/{sheet.pk}/cut/?order=board&page=2")

    assert answer.url == address(plan, "?order=board&page=2#sheet-1")


def test_the_page_leads_to_the_comparison_and_warns_of_the_knife(manager, plan, size):
    add_sheet(plan, size, "L-1")

    page = manager.get(address(plan)).content.decode()

    assert f'href="/campaigns/{plan.campaign_id}/plan/compare/"' in page
    assert "cut away from the hand that holds it. Local rules go first." in page


# ---- Refused ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("rest", ["?order=price", "?board=999", "?board=x", "?cut=perhaps", "?page=99"])
def test_what_cannot_be_chosen_shows_all_sheets(manager, plan, size, rest):
    add_sheet(plan, size, "L-1")

    assert positions(manager, plan, rest) == [1]


def test_a_choice_that_no_sheet_meets_says_so(manager, plan, size):
    add_sheet(plan, size, "L-1")

    page = manager.get(address(plan, "?cut=yes")).content.decode()

    assert "No sheet of this plan is like that." in page


def test_a_viewer_sees_the_cuts_and_no_button(client, plan, size):
    add_sheet(plan, size, "L-1")
    client.force_login(make_user("viewer"))

    page = client.get(address(plan)).content.decode()

    assert "Cuts in their order" in page and "This sheet is cut" not in page


def test_who_is_not_signed_in_sees_no_sheets(client, plan):
    assert client.get(address(plan)).status_code == 302


def test_a_campaign_that_is_not_there_has_no_sheets(manager):
    assert manager.get("/campaigns/999/plan/").status_code == 404


@pytest.mark.parametrize(
    ("offcuts", "rack"),
    [
        ([], ""),
        (OFFCUTS, " 1 offcut is on the rack now; the page of B1 tells its number."),
        (OFFCUTS * 2, " 2 offcuts are on the rack now; the page of B1 tells their numbers."),
    ],
)
def test_cutting_a_sheet_says_what_it_changed(manager, plan, size, offcuts, rack):
    sheet = add_sheet(plan, size, "L-1", offcuts=offcuts)

    assert said_on_cutting(manager, sheet) == (
        f"Sheet 1 is cut. The stock is one less, and the boxes on it are now in work.{rack}"
    )


def test_cutting_an_offcut_says_that_it_is_used_up(manager, plan, size):
    offcut = keep_offcut(board=size.board, along_mm=1000, across_mm=600)
    sheet = add_sheet(plan, size, "L-1", offcuts=[])
    PlannedSheet.objects.filter(pk=sheet.pk).update(sheet_size=None, offcut=offcut)

    assert said_on_cutting(manager, sheet) == (
        f"Sheet 1 is cut. Offcut {offcut.pk} is used up, and the boxes on it are now in work."
    )


def said_on_cutting(client, sheet: PlannedSheet) -> str:
    (message,) = client.post(f"/sheets/{sheet.pk}/cut/", follow=True).context["messages"]
    return str(message)


@pytest.mark.parametrize(
    ("cost", "least", "words"),
    [
        (10, 8, "at\xa0most\xa025.0\xa0%"),  # 10 / 8 = 1.25
        (0, 0, "nothing: all from offcuts"),
        (10, 0, "not known: offcuts might do"),
    ],
)
def test_how_good_a_plan_is_is_told_only_where_it_is_known(manager, plan, cost, least, words):
    plan.board_plans.update(cost=cost, least_cost=least)

    page = manager.get(address(plan)).content.decode().replace("&nbsp;", "\xa0")

    assert f'<td data-label="Above the least">{words}</td>' in page


def test_a_sheet_of_an_earlier_plan_is_said_to_be_gone(manager, plan):
    answer = manager.post("/sheets/999/cut/", {"campaign": plan.campaign_id}, follow=True)

    assert answer.redirect_chain == [(address(plan), 302)]
    (message,) = answer.context["messages"]
    assert str(message).startswith("That sheet is not in the plan any more: the campaign was planned again")


@pytest.mark.parametrize("campaign", ["", "999", "-1", "x", "9" * 30])
def test_a_sheet_that_never_was_is_missing(manager, campaign):
    assert manager.post("/sheets/999/cut/", {"campaign": campaign}).status_code == 404


def test_what_is_counted_under_the_drawings_is_drawings(manager, plan, size):
    add_sheet(plan, size, "L-1")
    one = manager.get(address(plan)).content.decode()
    for along in range(300, 312):
        add_sheet(plan, size, f"L-{along}", along=along)
    many = manager.get(address(plan)).content.decode()

    assert "<p>1 drawing</p>" in one
    assert "<p>Drawings 1 to 12 of 13</p>" in many
