"""The page of what is needed, where entries of a ledger lead, and labels of offcuts."""

from datetime import timedelta
from io import BytesIO

import pikepdf
import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from boards.models import Offcut, Supply
from boards.services import keep_offcut, receive_sheets, use_sheets
from housing.printing.offcut_labels import PICTURE_MM, offcut_label
from housing.services.sheets import cut_sheet, issue_sheet
from objects.readers import Reader
from tests.factories import balance_of, make_board, make_campaign, make_housing, make_sheet, make_sheet_size

pytestmark = pytest.mark.django_db


def words(answer) -> list[str]:
    return [str(message) for message in answer.context["messages"]]


def queries_of(client, address: str) -> int:
    client.get(address)
    with CaptureQueriesContext(connection) as made:
        assert client.get(address).status_code == 200
    return len(made)


def plan_sheet(**given):
    return make_sheet(make_housing(campaign=make_campaign()), **given)


# ---- What is needed --------------------------------------------------------------------------------------


def test_the_page_says_what_is_short_what_waits_and_what_is_there(viewer):
    short, there = plan_sheet(stock=0), plan_sheet(stock=2)
    Supply.objects.create(name="Washed cotton", kind="other", unit="m2", reorder_level=4)

    page = viewer.get("/stock/")

    assert {need.thing for need in page.context["to_order"]} == {
        short.sheet_size, Supply.objects.get(),
    }  # fmt: skip
    assert [need.thing for need in page.context["enough"]] == [there.sheet_size]
    assert list(page.context["waiting"]) == [short]
    assert "Supplier not entered" in page.text


def test_the_page_asks_as_often_for_three_needs_as_for_one(viewer):
    plan_sheet(stock=0)
    once = queries_of(viewer, "/stock/")
    plan_sheet(stock=0)
    plan_sheet(stock=3)

    assert queries_of(viewer, "/stock/") == once


def test_with_nothing_planned_nothing_is_needed(viewer):
    page = viewer.get("/stock/").text

    assert "No planned sheet waits for board." in page
    assert "Nothing: all that the running campaigns need is in stock" in page


# ---- Entries made for planned sheets ---------------------------------------------------------------------


def test_an_entry_leads_to_its_sheet_in_the_plan(viewer):
    sheet = plan_sheet()

    answer = viewer.get(f"/stock/sheets/{sheet.pk}/")

    assert answer.url == f"/campaigns/{sheet.plan.campaign_id}/plan/#sheet-1"


def test_an_issue_is_reversed_and_the_sheet_can_be_taken_again(maker):
    sheet = plan_sheet(stock=1)
    issue_sheet(sheet=sheet)

    maker.post(f"/stock/movements/{sheet.sheet_size.movements.last().pk}/undo/")

    assert balance_of(sheet.sheet_size) == 1
    issue_sheet(sheet=sheet)
    assert balance_of(sheet.sheet_size) == 0


def test_an_issue_for_a_sheet_of_an_earlier_plan_is_reversed(maker):
    size = make_sheet_size()
    receive_sheets(sheet_size=size, count=1)
    issued = use_sheets(sheet_size=size, count=1, reference="planned_sheet:999")

    maker.post(f"/stock/movements/{issued.pk}/undo/")

    assert balance_of(size) == 1


def test_the_issue_of_a_sheet_that_is_cut_stays(maker):
    sheet = plan_sheet(stock=1)
    cut_sheet(sheet=sheet)

    answer = maker.post(f"/stock/movements/{sheet.sheet_size.movements.last().pk}/undo/", follow=True)

    assert words(answer) == ["Sheet 1 is noted as cut. Undo that at the bench, and the stock follows."]
    assert balance_of(sheet.sheet_size) == 0


def test_an_entry_of_a_plan_that_is_gone_leads_to_the_boards(viewer):
    answer = viewer.get("/stock/sheets/999/", follow=True)

    assert answer.redirect_chain[-1][0] == "/boards/"
    assert words(answer) == ["That sheet is not in any plan now: its campaign was planned again since."]


def test_a_viewer_reverses_nothing(viewer):
    sheet = plan_sheet(stock=1)
    issue_sheet(sheet=sheet)

    assert viewer.post(f"/stock/movements/{sheet.sheet_size.movements.last().pk}/undo/").status_code == 403


# ---- Labels of offcuts -----------------------------------------------------------------------------------


@pytest.mark.pango
def test_the_label_of_an_offcut_is_a_page_of_its_own_size(viewer):
    offcut = keep_offcut(board=make_board(), along_mm=508, across_mm=203.2)

    answer = viewer.get(f"/offcuts/{offcut.pk}/label.pdf")

    with pikepdf.open(BytesIO(answer.content)) as pdf:
        sizes = [[float(side) for side in page.mediabox[2:]] for page in pdf.pages]
    # 62 and 29 mm in points: 62 / 25.4 x 72 and 29 / 25.4 x 72
    assert sizes == [[pytest.approx(175.75, abs=0.01), pytest.approx(82.20, abs=0.01)]]


def test_a_label_tells_number_board_size_and_how_the_flutes_run():
    offcut = keep_offcut(board=make_board(code="B32"), along_mm=508, across_mm=203.2)

    label = offcut_label(Offcut.objects.get(), Reader("in", "A4"), "http://store.example/")

    assert (label.number, label.board, label.size) == (offcut.pk, "B32", "20 × 8 in")  # 508 and 203.2 / 25.4
    assert label.wide / label.high == pytest.approx(508 / 203.2, rel=0.01)  # x runs along the flutes
    assert label.wide <= PICTURE_MM[0] and label.high <= PICTURE_MM[1]


def test_labels_of_new_offcuts_are_those_kept_today_or_yesterday_and_still_there(viewer):
    board = make_board()
    new, old, gone = (keep_offcut(board=board, along_mm=400, across_mm=300) for _ in range(3))
    other = keep_offcut(board=make_board(), along_mm=400, across_mm=300)
    Offcut.objects.filter(pk=old.pk).update(kept_at=timezone.now() - timedelta(days=3))
    Offcut.objects.filter(pk=gone.pk).update(gone_at=timezone.now())

    def numbers(address: str) -> list[int]:
        return [label.number for label in viewer.get(address).context["labels"]]

    assert numbers(f"/offcuts/labels/?board={board.pk}") == [new.pk]
    assert numbers("/offcuts/labels/") == [new.pk, other.pk]


def test_without_new_offcuts_there_are_no_labels(viewer):
    board = make_board()

    answer = viewer.get(f"/offcuts/labels/?board={board.pk}", follow=True)

    assert words(answer)[0].startswith("No offcut came onto the rack today or yesterday.")


@pytest.mark.parametrize("address", ["/offcuts/999/label.pdf", "/offcuts/labels/?board=999"])
def test_a_label_of_nothing_is_missing(viewer, address):
    assert viewer.get(address).status_code == 404


@pytest.mark.parametrize("address", ["/stock/", "/offcuts/labels/"])
def test_who_is_not_signed_in_is_asked_to(client, address):
    assert client.get(address).status_code == 302
