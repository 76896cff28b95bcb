"""Spreadsheets: the right sheet, cells as people see them, and notes on what may not be as it was typed."""

import io
from datetime import date, datetime, time

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from objects.core.cells import neutral_cell
from objects.core.list_text import ListError
from objects.intake.files import read_file
from objects.intake.shared_texts import shared_texts
from tests.examples import few
from tests.objects.intake.workbooks import MAIN, handmade, saved, workbook

HEADER = ("Number", "Name", "Size")
# What XML 1.0 can hold (Char, section 2.2), without the carriage return, which XML reads as a line feed
# (2.11), and without _x...., by which spreadsheets write what XML cannot hold (ISO/IEC 29500-1, 22.9.2.19).
CELL = st.text(
    st.characters(exclude_categories=["Cs", "Cc"], exclude_characters="\ufffe\uffff_")
    | st.sampled_from("\n\t"),
    max_size=12,
)
ROWS = st.lists(st.tuples(st.integers(1, 999).map("no {}".format), CELL, CELL), min_size=1, max_size=8)


@given(rows=ROWS)
@few(50)
def test_what_openpyxl_writes_is_read_back(rows):
    written = [HEADER, *([neutral_cell(cell) for cell in row] for row in rows)]

    read = read_file(workbook(Store=written))

    assert (read.header, read.rows) == (HEADER, tuple(rows))


def test_a_spreadsheet_is_read_with_its_sheet_and_row_numbers():
    read = read_file(workbook(Store=[HEADER, ("1", "Bowl", "9 cm"), (), ("2", "Jug", "8 cm")]), "x.csv")

    assert read.header == HEADER
    assert read.rows == (("1", "Bowl", "9 cm"), ("2", "Jug", "8 cm"))
    assert read.line_numbers == (2, 4)
    assert (read.format, read.sheet, read.sheets, read.notes) == ("xlsx", "Store", ("Store",), ())


@pytest.mark.parametrize(
    "value, seen",
    [
        (12, "12"),
        (12.5, "12.5"),
        (0.1 + 0.2, "0.3"),  # 15 digits, as spreadsheets keep them
        (20010004, "20010004"),
        (1e-7, "0.0000001"),
        (True, "yes"),
        (False, "no"),
        (date(1995, 4, 10), "1995-04-10"),
        (datetime(1995, 4, 10, 14, 5), "1995-04-10 14:05"),
        (time(9, 30), "09:30"),
        ("  as it stands ", "  as it stands "),
        ("'=1+1", "=1+1"),
    ],
)
def test_cells_are_read_as_people_see_them(value, seen):
    read = read_file(workbook(Store=[("Name", "Value"), ("Bowl", value)]))

    assert read.rows == (("Bowl", seen),)


def test_texts_that_cells_share_are_read_once_and_without_how_they_are_spoken():
    texts = "<si><t>Number</t></si><si><t>Name</t></si><si><r><t>Blue </t></r><r><t>bowl</t></r></si>"
    spoken = "<si><t>茶碗</t><rPh sb='0' eb='2'><t>チャワン</t></rPh></si><si><t>a_x000A_b_xD83D_</t></si>"
    rows = [("A1", 0), ("B1", 1), ("A2", 2), ("B2", 2), ("A3", 3), ("B3", 4)]
    cells = "".join(
        f'<row r="{name[1]}"><c r="{name}" t="s"><v>{place}</v></c></row>'.replace("</row><row", "")
        for name, place in rows
    )

    read = read_file(
        handmade(cells, **{"xl/sharedStrings.xml": f'<sst xmlns="{MAIN}">{texts}{spoken}</sst>'})
    )

    assert read.header == ("Number", "Name")
    # _x000A_ is a line feed; half of a surrogate pair is no sign of its own and stays as it is written
    assert read.rows == (("Blue bowl", "Blue bowl"), ("茶碗", "a\nb_xD83D_"))


def test_shared_texts_are_read_whatever_way_they_are_written():
    usual = "<si><t>A &amp; B &lt;1&gt;</t></si><si><t xml:space='preserve'> x </t></si>"
    numbered = '<si><t>&#233;</t></si><si><t xml:space="preserve"> y </t></si><si><t/></si>'
    shared = f'<sst xmlns="{MAIN}">{usual}{numbered}</sst>'
    prefixed = shared.replace("<", "<x:").replace("<x:/", "</x:").replace("xmlns=", "xmlns:x=")

    texts = [shared_texts(part.encode()) for part in (shared, prefixed)]

    assert texts == [["A & B <1>", " x ", "é", " y ", ""]] * 2


def test_a_list_both_wide_and_long_is_measured_cell_by_cell():
    # from A to AD are 30 columns; with 10,001 rows that is more than is seen to be small at a glance
    rows = "".join(
        f'<row r="{row}"><c r="A{row}"><v>{row}</v></c><c r="AD{row}" s="1"><v>{row}</v></c></row>'
        for row in range(2, 10_002)
    )
    first = '<row r="1"><c r="A1" t="str"><v>Number</v></c><c r="AD1" t="str"><v>Name</v></c></row>'

    read = read_file(handmade(first + rows))

    assert read.header == ("Number", "Name")
    assert (len(read.rows), read.rows[-1]) == (10_000, ("10001", "10001"))


def test_titles_and_merged_groups_above_the_headings_are_left_out_and_told():
    book = openpyxl.Workbook()
    sheet = book.active
    for row in (
        ["Store list"],
        ["Object", None, "Place", None],
        ["Number", "Name", "Room", "Shelf"],
        ["1", "Bowl", "2", "B"],
    ):
        sheet.append(row)
    sheet.merge_cells("A1:D1")
    sheet.merge_cells("A2:B2")
    sheet.merge_cells("C2:D2")

    read = read_file(saved(book))

    assert read.header == ("Number", "Name", "Room", "Shelf")
    assert (read.rows, read.line_numbers) == ((("1", "Bowl", "2", "B"),), (4,))
    assert read.notes == (
        "Row 1, “Store list”, was taken as a title and left out.",
        "Row 2 groups the headings in row 3 below it and was left out.",
    )


def test_a_list_that_begins_further_in_is_found_and_its_blank_columns_left_out():
    book = openpyxl.Workbook()
    for name, value in {"C5": "Number", "E5": "Name", "C6": "1", "E6": "Bowl", "F6": "blue"}.items():
        book.active[name] = value

    read = read_file(saved(book))

    assert (read.header, read.rows, read.line_numbers) == (
        ("Number", "Name", ""),
        (("1", "Bowl", "blue"),),
        (6,),
    )
    assert read.notes == ("Columns without a heading cannot be used: F.",)


LIST = [("Number", "Name"), ("1", "Bowl")]


def test_the_first_visible_sheet_with_a_list_is_read_and_the_others_are_named():
    book = openpyxl.load_workbook(io.BytesIO(workbook(Old=LIST, Read=[["Only words"]], New=LIST)))
    book["Old"].sheet_state = "hidden"
    book.create_sheet("Empty")

    read = read_file(saved(book))

    assert (read.sheet, read.sheets) == ("New", ("Old", "Read", "New"))
    assert read.notes == ("The sheet “New” was read. Other sheets with rows: “Old”, “Read”.",)


def test_a_sheet_can_be_chosen():
    data = workbook(Old=LIST, New=[("Number", "Name"), ("2", "Jug")])

    assert (read_file(data, sheet="New").rows, read_file(data, sheet="New").notes) == ((("2", "Jug"),), ())


def test_a_sheet_that_is_not_there_is_refused_with_those_that_are():
    with pytest.raises(ListError) as refused:
        read_file(workbook(Old=LIST, New=LIST), sheet="Newer")

    assert str(refused.value) == (
        "There is no sheet “Newer” with rows in it. Choose one of these: “Old”, “New”."
    )


def test_formulas_that_no_spreadsheet_has_worked_out_are_told():
    read = read_file(workbook(Store=[("Number", "Sum"), ("1", "=1+1"), ("2", "=A2")]))

    assert read.rows == (("1", ""), ("2", ""))
    assert read.notes == (
        "Column B: 2 formulas have no stored result, read as blank. Open the file in a spreadsheet program, "
        "save it there, and choose it again.",
    )


def test_a_formula_gives_the_result_that_is_stored_with_it():
    read = read_file(handmade(
        '<row r="1"><c r="A1" t="str"><v>Number</v></c><c r="B1" t="str"><v>Sum</v></c></row>'
        '<row r="2"><c r="A2"><v>1</v></c><c r="B2"><f>A2+1</f><v>2</v></c></row>'
        '<row r="3"><c r="A3"><v>2</v></c><c r="B3" t="e"><f>1/0</f><v>#DIV/0!</v></c></row>'
    ))  # fmt: skip

    assert read.rows == (("1", "2"), ("2", ""))
    assert read.notes == (
        "1 cell holds an error such as #N/A, read as blank. Put right what the formula refers to.",
    )


def test_object_numbers_kept_as_decimals_are_told():
    read = read_file(workbook(Store=[("Inventory number", "Name"), ("1995.4.1", "Bowl"), (1995.1, "Jug")]))

    assert read.rows == (("1995.4.1", "Bowl"), ("1995.1", "Jug"))
    assert read.notes == (
        "Inventory number: 1 cell is stored as a number, such as 1995.1. A zero typed at the end of one is "
        "lost (1995.10 becomes 1995.1): compare them with the register, and format the column as text before "
        "typing such.",
    )


def test_sizes_that_a_spreadsheet_has_made_dates_of_are_told():
    rows = [("Name", "Size"), ("Bowl", "10 x 8"), ("Jug", date(2026, 3, 4)), ("Cup", "3/8"), ("Pan", "9")]

    assert read_file(workbook(Store=rows)).notes == (
        "Size: 1 cell is a date, the first in row 3. If a number or a size was typed there, the spreadsheet "
        "has changed it: format the column as text and type it again.",
    )


def test_a_column_of_dates_is_taken_for_one():
    rows = [("Name", "Found"), *[("Bowl", date(2026, 3, day)) for day in range(1, 4)]]

    assert read_file(workbook(Store=rows)).notes == ()


def test_cells_that_do_not_say_where_they_are_follow_each_other():
    text = '<c t="str"><v>{}</v></c>'
    rows = "".join(f"<row>{text.format(first)}{text.format(second)}</row>" for first, second in LIST)

    assert read_file(handmade(rows)).rows == (("1", "Bowl"),)


def test_cells_that_are_only_formatted_make_no_sheet_too_large():
    far = '<row r="1048576"><c r="XFD1048576" s="1"/></row>'
    rows = '<row r="1"><c r="A1" t="str"><v>Number</v></c><c r="B1" t="str"><v>Name</v></c></row>' + (
        '<row r="2"><c r="A2"><v>1</v></c><c r="B2" t="str"><v>Bowl</v></c></row>'
    )

    assert read_file(handmade(rows + far)).rows == (("1", "Bowl"),)
