"""Sheets at the bench: the stock, the rack, the boxes and their tasks always agree."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from boards.models import RackEntry, StockMovement
from boards.services import StockRefused, keep_offcut, receive_sheets, use_offcut
from housing.queries.sheets import issue_of, sheets_at_bench
from housing.services.campaigns import CampaignRefused, plan_campaign
from housing.services.nesting import PlanRefused
from housing.services.sheets import (
    cut,
    cut_sheet,
    issue_sheet,
    take_back_cut,
    take_back_issue,
)
from housing.services.spoiled_sheets import spoil_sheet, take_back_spoiling
from housing.services.tasks import finish_task
from tests.examples import few
from tests.factories import (
    balance_of,
    make_board,
    make_campaign,
    make_housing,
    make_object,
    make_person,
    make_sheet,
    make_sheet_size,
    make_tasks,
    make_user,
)

pytestmark = [pytest.mark.django_db, pytest.mark.any_database]
OFFCUT = {"x_mm": 0, "y_mm": 700, "along_mm": 1500.0, "across_mm": 300.0}


OTHER_ORDER = [(0, 1), (1, 0)]


@pytest.fixture
def boxes():
    """Two boxes of one campaign, with the tasks of a lidded box each."""
    campaign = make_campaign()
    boxes = [make_housing(campaign=campaign) for _ in range(2)]
    for box in boxes:
        make_tasks(box)
    return boxes


def states(box) -> dict[str, str]:
    return dict(box.tasks.values_list("step", "state"))


def test_a_sheet_that_is_issued_leaves_the_stock_once(boxes):
    sheet = make_sheet(*boxes, stock=3)

    for _ in range(2):
        issue_sheet(sheet=sheet)

    assert balance_of(sheet.sheet_size) == 2
    assert issue_of(sheet).kind == StockMovement.Kind.USE
    assert sheets_at_bench(boxes[0].campaign) == [sheet]


def test_an_issued_sheet_that_is_cut_counts_once(boxes):
    sheet = make_sheet(*boxes, stock=3, offcuts=[OFFCUT])
    issue_sheet(sheet=sheet)

    cut_sheet(sheet=sheet)

    assert balance_of(sheet.sheet_size) == 2
    assert sheets_at_bench(boxes[0].campaign) == []
    assert [offcut.along_mm for offcut in sheet.board.offcuts.filter(gone_at=None)] == [1500]


def test_no_sheet_is_issued_that_is_not_there(boxes):
    sheet = make_sheet(*boxes, stock=0)

    with pytest.raises(StockRefused, match="Only 0 sheets of .* are in stock, and 1 would go out"):
        cut_sheet(sheet=sheet)

    sheet.refresh_from_db()
    assert sheet.cut_at is None
    assert states(boxes[0])["cut"] == "to_do"


def test_cutting_fetches_and_cuts_every_box_all_of_whose_blanks_are_cut(boxes):
    whole, in_two = boxes
    first = make_sheet(whole, in_two)
    second = make_sheet(in_two, part="lid")

    cut_sheet(sheet=first)

    assert (states(whole)["fetch"], states(whole)["cut"]) == ("done", "done")
    assert (states(in_two)["fetch"], states(in_two)["cut"]) == ("started", "started")

    cut_sheet(sheet=second)

    assert (states(in_two)["fetch"], states(in_two)["cut"]) == ("done", "done")


def test_the_minutes_of_a_sheet_are_shared_by_the_blanks_on_it_and_add_up(boxes):
    person = make_person()
    sheet = make_sheet(*boxes)

    cut_sheet(sheet=sheet, person=person, minutes=Decimal("25.01"))

    spent = [task.spent_minutes for box in boxes for task in box.tasks.filter(step__in=["fetch", "cut"])]
    # two boxes with blanks alike, fetching and cutting planned alike: a quarter each, 1 hundredth left over
    assert sorted(spent) == [Decimal("6.25")] * 3 + [Decimal("6.26")]
    assert set(boxes[0].tasks.filter(state="done").values_list("person", flat=True)) == {person.pk}


def test_minutes_that_cannot_be_right_are_refused_with_nothing_cut(boxes):
    sheet = make_sheet(*boxes)

    with pytest.raises(Exception, match="cannot be right"):
        cut_sheet(sheet=sheet, minutes=Decimal(2000))

    assert balance_of(sheet.sheet_size) == 5


def test_a_sheet_is_cut_once(boxes):
    sheet = make_sheet(*boxes)
    cut_sheet(sheet=sheet)

    with pytest.raises(PlanRefused, match="was cut already"):
        cut_sheet(sheet=sheet)

    assert balance_of(sheet.sheet_size) == 4


def test_a_cut_that_is_undone_leaves_all_as_it_was(boxes):
    sheet = make_sheet(*boxes, offcuts=[OFFCUT])
    before = [(box.status, states(box)) for box in boxes]

    done = cut(sheet=sheet, minutes=Decimal(30))
    take_back_cut(sheet=sheet, memory=done.memory)

    for box in boxes:
        box.refresh_from_db()
    assert [(box.status, states(box)) for box in boxes] == before
    assert not any(box.tasks.exclude(spent_minutes=None).exists() for box in boxes)
    assert (balance_of(sheet.sheet_size), sheet.board.offcuts.filter(gone_at=None).count()) == (5, 0)
    kinds = list(sheet.sheet_size.movements.order_by("sequence").values_list("kind", flat=True))
    assert kinds == ["receipt", "use", "reversal"]  # nothing is deleted
    assert list(boxes[0].events.values_list("status", flat=True)) == ["planned", "in_work", "planned"]


def test_a_cut_stays_once_work_went_on(boxes):
    sheet = make_sheet(*boxes)
    done = cut(sheet=sheet)
    finish_task(task=boxes[1].tasks.get(step="score"))

    with pytest.raises(PlanRefused, match="Mark out and score: .* was begun since Sheet 1 was cut"):
        take_back_cut(sheet=sheet, memory=done.memory)


def test_a_cut_stays_once_its_offcut_was_used(boxes):
    sheet = make_sheet(*boxes, offcuts=[OFFCUT])
    done = cut(sheet=sheet)
    use_offcut(offcut=sheet.board.offcuts.get(), note="For a lid")

    with pytest.raises(StockRefused, match="has gone on since"):
        take_back_cut(sheet=sheet, memory=done.memory)

    sheet.refresh_from_db()
    assert sheet.cut_at is not None


def test_a_spoiled_sheet_is_written_off_and_another_is_taken(boxes):
    sheet = make_sheet(*boxes, stock=2)
    issue_sheet(sheet=sheet)

    spoilt = spoil_sheet(sheet=sheet, reason="miscut", note="knife slipped", by=make_user("maker"))
    cut_sheet(sheet=sheet)

    assert spoilt.lost == Decimal("12.50")
    assert balance_of(sheet.sheet_size) == 0
    written_off = sheet.sheet_size.movements.get(kind="write_off")
    assert (written_off.reason, "knife slipped" in written_off.note) == ("miscut", True)


@pytest.mark.parametrize("was_issued", [True, False])
def test_a_sheet_spoiled_by_mistake_is_back_where_it_was(boxes, was_issued):
    sheet = make_sheet(*boxes, stock=2)
    if was_issued:
        issue_sheet(sheet=sheet)
    before = balance_of(sheet.sheet_size)

    spoilt = spoil_sheet(sheet=sheet)
    take_back_spoiling(sheet=sheet, memory=spoilt.memory)

    assert (balance_of(sheet.sheet_size), issue_of(sheet) is not None) == (before, was_issued)
    assert not sheet.sheet_size.movements.filter(kind="write_off", reversed_by=None).exists()


@pytest.mark.parametrize("was_issued", [True, False])
def test_an_offcut_spoiled_by_mistake_is_back_where_it_was(boxes, was_issued):
    offcut = keep_offcut(board=boxes[0].design.board, along_mm=700, across_mm=500)
    sheet = make_sheet(boxes[0], offcut=offcut)
    if was_issued:
        issue_sheet(sheet=sheet)

    spoilt = spoil_sheet(sheet=sheet)
    take_back_spoiling(sheet=sheet, memory=spoilt.memory)

    offcut.refresh_from_db()
    assert (offcut.gone_at is not None, issue_of(sheet) is not None) == (was_issued, was_issued)


def test_a_spoiled_sheet_stays_so_once_another_was_taken(boxes):
    sheet = make_sheet(*boxes, stock=3)
    spoilt = spoil_sheet(sheet=sheet)
    cut_sheet(sheet=sheet)

    with pytest.raises(PlanRefused, match="Another sheet was cut for Sheet 1 since"):
        take_back_spoiling(sheet=sheet, memory=spoilt.memory)

    assert balance_of(sheet.sheet_size) == 1


def test_who_lacks_a_sheet_is_told_what_is_there(boxes):
    sheet = make_sheet(*boxes, stock=0)
    other = make_sheet_size(board=sheet.board, along_mm=2000)
    receive_sheets(sheet_size=other, count=4)

    with pytest.raises(StockRefused, match=f"In stock are 4 of {other}. Or plan the campaign again"):
        spoil_sheet(sheet=sheet)


@pytest.mark.parametrize("order", OTHER_ORDER)
def test_two_cuts_are_undone_in_either_order(boxes, order):
    box = boxes[0]
    box.tasks.update(person=make_person())
    first = make_sheet(box)
    sheets = first, make_sheet(box, part="lid", sheet_size=first.sheet_size)
    before = list(box.tasks.order_by("pk").values("step", "state", "started_at", "done_at", "spent_minutes"))

    made = [cut(sheet=sheet, minutes=Decimal(10), person=make_person()) for sheet in sheets]
    halfway = []
    for place in order:
        take_back_cut(sheet=sheets[place], memory=made[place].memory)
        halfway.append((states(box)["cut"], sum(t.spent_minutes or 0 for t in box.tasks.all())))

    assert halfway == [("started", 10), ("to_do", 0)]
    assert list(box.tasks.order_by("pk").values(*before[0])) == before
    box.refresh_from_db()
    assert box.status == "planned"


def test_the_last_sheet_spoiled_leaves_none_to_take(boxes):
    sheet = make_sheet(*boxes, stock=1)
    issue_sheet(sheet=sheet)
    spoil_sheet(sheet=sheet)

    with pytest.raises(StockRefused, match="Only 0 sheets"):
        issue_sheet(sheet=sheet)


def test_a_sheet_put_back_is_in_stock_again(boxes):
    sheet = make_sheet(*boxes, stock=1)
    issue_sheet(sheet=sheet)

    assert take_back_issue(sheet=sheet) is True
    assert (balance_of(sheet.sheet_size), issue_of(sheet)) == (1, None)
    assert take_back_issue(sheet=sheet) is False


def test_an_offcut_is_taken_off_the_rack_and_put_back(boxes):
    offcut = keep_offcut(board=boxes[0].design.board, along_mm=700, across_mm=500)
    sheet = make_sheet(boxes[0], offcut=offcut)

    issue_sheet(sheet=sheet)
    offcut.refresh_from_db()
    taken = offcut.gone_at is not None
    take_back_issue(sheet=sheet)
    offcut.refresh_from_db()

    assert (taken, offcut.gone_at) == (True, None)
    assert list(offcut.entries.values_list("kind", flat=True)) == ["kept", "taken", "reversal"]


def test_a_spoiled_offcut_is_gone(boxes):
    offcut = keep_offcut(board=boxes[0].design.board, along_mm=700, across_mm=500)
    sheet = make_sheet(boxes[0], offcut=offcut)
    issue_sheet(sheet=sheet)

    spoil_sheet(sheet=sheet)

    assert offcut.entries.last().kind == RackEntry.Kind.THROWN
    with pytest.raises(PlanRefused, match="Plan the campaign again"):
        cut_sheet(sheet=sheet)


def test_nothing_is_planned_while_a_sheet_lies_at_the_bench(boxes):
    sheet = make_sheet(*boxes)
    boxes[0].campaign.objects_in_it.add(make_object())
    issue_sheet(sheet=sheet)

    with pytest.raises(CampaignRefused, match="Sheet 1 of .* was taken out of stock and is not cut yet"):
        plan_campaign(campaign=boxes[0].campaign)


class AnyWay(TestCase):
    """Issued, cut, undone, spoiled and put back in any order: what is in stock is what the acts left."""

    @few(25)
    @given(acts=st.lists(st.sampled_from(["issue", "cut", "undo", "spoil", "back"]), max_size=8))
    def test_the_stock_is_what_a_tally_says(self, acts):
        box = make_housing(campaign=make_campaign(), design=None)
        make_tasks(box)
        sheet = make_sheet(box, stock=4)
        there, is_out, memory = 4, False, None
        for act in acts:
            try:
                if act == "issue":
                    issue_sheet(sheet=sheet)
                    there, is_out = (there, True) if is_out else (there - 1, True)
                elif act == "cut":
                    memory = cut(sheet=sheet).memory
                    there, is_out = (there, True) if is_out else (there - 1, True)
                elif act == "undo" and memory is not None:
                    take_back_cut(sheet=sheet, memory=memory)
                    there, is_out = (there, True) if memory["was_issued"] else (there + 1, False)
                elif act == "spoil":
                    spoil_sheet(sheet=sheet)
                    there, is_out = (there, False) if is_out else (there - 1, False)
                elif act == "back" and take_back_issue(sheet=sheet):
                    there, is_out = there + 1, False
            except (StockRefused, PlanRefused):
                pass
            assert balance_of(sheet.sheet_size) == there
            assert (issue_of(sheet) is not None) == is_out


def test_boards_of_boxes_are_those_of_their_sheets():
    # the factory's own promise, on which the tests above rest
    box = make_housing(campaign=make_campaign())

    assert make_sheet(box).board == box.design.board != make_board()
