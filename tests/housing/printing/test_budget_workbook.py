"""The workbook of a budget, worked out by LibreOffice: to the cent as stored, and following changes."""

from datetime import UTC, datetime
from decimal import ROUND_HALF_UP, Decimal

import pytest
from openpyxl import Workbook

from housing.core.budget.lines import SECTION_NAMES, Problem, Section, Target
from housing.printing.budget_lines_sheets import lines_in_order
from housing.printing.budget_workbook import budget_workbook
from housing.queries.budgets import read_budget
from objects.readers import Reader
from tests.housing.printing.budgets import LINES, MONEY, hours, line, stored_budget
from tests.office import opened, recalculated

pytestmark = pytest.mark.xdist_group("office")  # one process, since starting it takes longest

CENT = Decimal("0.01")


def value(book: Workbook, name: str):
    """What a named cell holds."""
    sheet, place = book.defined_names[name].attr_text.split("!")
    return book[sheet.strip("'$")][place.replace("$", "")].value


def money(book: Workbook, name: str) -> Decimal:
    return round(Decimal(repr(value(book, name))), 8)


def amounts(book: Workbook, number: int) -> list[Decimal]:
    """Amounts of the lines, whole hundredths whatever a double makes of them."""
    found = [Decimal(repr(book["Lines"].cell(row, 7).value)) for row in range(2, number + 2)]
    assert all(abs(one - one.quantize(CENT)) < Decimal("1e-9") for one in found)
    return [one.quantize(CENT) for one in found]


def half_up(amount: Decimal) -> Decimal:
    return amount.quantize(CENT, ROUND_HALF_UP)


def odd_lines():
    """Prices and quantities of which many come to just a half of a cent: quantity × price ends in 5."""
    for n in range(300):
        quantity, price = Decimal(2 * n + 1) / 2, Decimal(2 * n + 13) / 100
        yield line(f"supply:{n}", Section.SUPPLIES, str(quantity), str(price))
        yield hours(f"{n}", "cut", str(Decimal(37 * n + 5) / 100), str(Decimal(11 * n + 7) / 100), "1.2850")


@pytest.fixture(scope="module")
def files() -> dict[str, bytes]:
    """Workbooks of the same odd budget, of one with many odd lines, and of one beside a baseline."""
    frozen = stored_budget(
        LINES[:3], name="As asked for", frozen_at=datetime(2030, 1, 1, tzinfo=UTC), pk=7, contingency="0.00"
    )
    return {
        "plain": budget_workbook(stored_budget(), Reader()),
        "odd": budget_workbook(stored_budget(list(odd_lines())), Reader()),
        "beside": budget_workbook(stored_budget(), Reader(), [frozen]),
    }


@pytest.fixture(scope="module")
def worked(files, tmp_path_factory) -> dict[str, Workbook]:
    """As LibreOffice works them out, and the first with a rate, a price and the indirect share changed."""
    changed = opened(files["plain"])
    changed["Rates"]["C2"] = 25  # Person 1, in place of 23.17
    changed["Lines"]["E2"] = 60  # a sheet of board, in place of 17.35
    changed["Rates"].cell(row_of(changed["Rates"], "Indirect costs"), 3).value = 0.2
    books = {name: opened(data) for name, data in files.items()} | {"changed": changed}
    return dict(
        zip(books, recalculated(list(books.values()), tmp_path_factory.mktemp("office")), strict=True)
    )


def row_of(sheet, words: str) -> int:
    return next(row for row in range(1, sheet.max_row + 1) if sheet.cell(row, 1).value == words)


@pytest.mark.office
@pytest.mark.parametrize("name", ["plain", "odd", "beside"])
def test_every_formula_comes_to_the_value_that_stands_beside_it(files, worked, name):
    formulas, carried = opened(files[name]), opened(files[name], values=True)

    off = [
        (sheet.title, cell.coordinate, kept, come)
        for sheet in formulas
        for cells in sheet.iter_rows()
        for cell in cells
        if cell.data_type == "f"
        for kept in [carried[sheet.title][cell.coordinate].value]
        for come in [worked[name][sheet.title][cell.coordinate].value]
        if not isinstance(come, (int, float)) or abs(come - kept) > 1e-9
    ]

    assert off == []


@pytest.mark.office
def test_lines_and_sums_are_those_of_the_stored_budget_to_the_cent(worked):
    stored = stored_budget()
    budget = read_budget(stored)

    assert amounts(worked["plain"], len(budget.lines)) == [one.amount for one in lines_in_order(budget)]
    assert money(worked["plain"], "Money") == stored.money == MONEY
    assert money(worked["plain"], "Contingency") == Decimal("123.45")
    assert money(worked["plain"], "Asked_for") == Decimal("1218.45")  # 1095.00 + 123.45
    for section, total in budget.section_totals().items():
        assert money(worked["plain"], f"Sum_{section.value}") == total


@pytest.mark.office
def test_halves_of_a_cent_round_as_in_the_planner(worked):
    lines = list(odd_lines())

    # apart from the code: exact decimals
    expected = [half_up(one.quantity * one.price * one.factor) for one in lines]
    by_key = {one.key: amount for one, amount in zip(lines, expected, strict=True)}
    in_order = lines_in_order(read_budget(stored_budget(lines)))
    assert amounts(worked["odd"], len(lines)) == [by_key[one.key] for one in in_order]
    assert sum((one.quantity * one.price * 1000) % 10 == 5 for one in lines) > 100


@pytest.mark.office
def test_a_changed_rate_price_and_share_change_the_sum_as_by_hand(worked):
    book = worked["changed"]

    # By hand. Board 17 × 60 = 1020.00, with the glue 1021.01, which is sent free of freight (from 900.00).
    board, glue, foam, freight = Decimal("1020.00"), Decimal("1.01"), Decimal("30.05"), Decimal()
    # 12.35 × 25 × 1.285 = 396.74375 and 7.05 × 25 × 1.285 = 226.48125; the others stay.
    labour = Decimal("396.74") + Decimal("226.48") + Decimal("0.03")
    supervision = Decimal("41.47")
    direct = board + glue + foam + freight + labour + supervision
    indirect = half_up(direct * Decimal("0.2"))
    assert (direct, indirect) == (Decimal("1715.78"), Decimal("343.16"))
    assert money(book, "Sum_board") == board
    assert money(book, "Sum_freight") == freight
    assert money(book, "Sum_labour") == labour
    assert money(book, "Sum_indirect") == indirect
    assert money(book, "Money") == direct + indirect
    extra = half_up((direct + indirect) * Decimal("123.45") / MONEY)  # keeps its share
    assert money(book, "Contingency") == extra
    assert money(book, "Asked_for") == direct + indirect + extra
    assert money(book, "Sum_in_kind") == half_up(Decimal("8.33") * Decimal("19.99"))  # nothing of it changed


@pytest.mark.office
@pytest.mark.parametrize("name", ["plain", "changed"])
def test_months_add_up_to_what_has_to_be_paid_whatever_is_changed(worked, name):
    sheet = worked[name]["Months"]
    paid = next(cell.column for cell in sheet[1] if cell.value == "To be paid")

    months = [round(Decimal(repr(sheet.cell(row, paid).value)), 8) for row in range(2, sheet.max_row)]

    assert sum(months) == money(worked[name], "Money")
    assert [sheet.cell(row, 1).value for row in range(2, 5)] == ["2030-01", "2030-02", "2030-03"]


@pytest.mark.office
def test_a_baseline_stands_beside_it_with_the_difference(worked):
    sheet = worked["beside"]["Baselines"]
    row = row_of(sheet, "To be paid")

    here, then, more = (sheet.cell(row, column).value for column in (2, 3, 4))

    # by hand: 294.95 + 1.01 + 30.05 = 326.01, and 1095.00 - 326.01
    assert (here, then, round(more, 2)) == (1095.00, 326.01, 768.99)
    assert sheet.cell(1, 3).value == "As asked for"


# ---- Without working it out ------------------------------------------------------------------------------


def test_no_text_is_ever_a_formula(files):
    book = opened(files["plain"])

    texts = {
        cell.value for sheet in book for cells in sheet.iter_rows() for cell in cells if cell.data_type == "s"
    }

    assert {"=Board & <co>", "@Works", "=Move", "+1", "-Payroll"} <= texts


def test_sheets_are_set_up_to_be_read_and_printed(files):
    book = opened(files["plain"])

    assert book.sheetnames == [
        "Summary", "Lines", "Rates", "Labour", "Assumptions", "Months", "Sources",
    ]  # fmt: skip
    for sheet in book:
        assert (sheet.freeze_panes, sheet.print_title_rows) == ("A2", "$1:$1")
        assert (sheet.page_setup.orientation, int(sheet.page_setup.paperSize)) == ("landscape", 9)  # A4
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
    assert book["Lines"]["G2"].number_format == '#,##0.00\\ "USD"'
    letter = opened(budget_workbook(stored_budget(), Reader(paper="letter")))
    assert int(letter["Lines"].page_setup.paperSize) == 1


def test_what_is_given_in_kind_stands_apart_from_what_is_paid(files):
    sheet = opened(files["plain"], values=True)["Labour"]

    row = next(row for row in range(2, sheet.max_row) if sheet.cell(row, 1).value == "Person 2")
    assert (sheet.cell(row, 6).value, sheet.cell(row, 7).value) == (None, 166.52)  # 8.33 × 19.99 = 166.5167


def test_an_incomplete_budget_says_so_on_every_page_and_what_is_missing():
    problem = Problem("Foam has no price", "3 m² count as nothing", "Enter its price", Target("supplies"))

    book = opened(budget_workbook(stored_budget(problems=(problem,)), Reader(), changes=["a price"]))

    assert {sheet.oddHeader.right.text for sheet in book} == {"INCOMPLETE, OUT OF DATE"}
    cells = [cell.value for cells in book["Summary"].iter_rows() for cell in cells]
    assert "INCOMPLETE" in cells and "Foam has no price" in cells


def test_a_budget_without_lines_is_a_workbook_too():
    book = opened(budget_workbook(stored_budget((), contingency="0.00"), Reader()), values=True)

    assert (value(book, "Money"), value(book, "Asked_for")) == (0, 0)


def test_sections_are_named_as_on_the_page(files):
    groups = {row[0].value for row in opened(files["plain"])["Lines"].iter_rows(min_row=2) if row[0].value}

    assert groups == {SECTION_NAMES[one.section] for one in read_budget(stored_budget()).lines}
