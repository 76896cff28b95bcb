"""Lists as files: every text comes back as it was, and nothing in them is ever run as a formula."""

import csv
import io
import zipfile
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from python_calamine import CalamineWorkbook

from housing.printing.list_files import ListRefused, delimited, spreadsheet
from objects.core.cells import plain_cell
from objects.core.lists import read_list

# What a database can hold and a person can type; NUL and halves of letters are neither.
TEXT = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\x00"), max_size=60)
ODD = [
    "=1+1", "+44 20", "-", "@home", "'=quoted", "''=", "\tx", "#N/A", "TRUE", "0012", "1995.10", "4/5",
    "2026-03-02", "1E5", "_x0041_", "a\nb", "a\r\nb", "<&>\"'", " led and ended ", "Ålesund 漆", "\x07bell",
]  # fmt: skip


def text_file(rows, **given) -> bytes:
    return b"".join(delimited(rows, **given))


def sheet(rows) -> list[list]:
    file = io.BytesIO()
    spreadsheet(rows, file, [10] * len(rows[0]))
    file.seek(0)
    return CalamineWorkbook.from_filelike(file).get_sheet_by_index(0).to_python(skip_empty_area=False)


def read_back(data: bytes) -> list[list[str]]:
    """Independent of our own reading: the standard library's, with the apostrophes taken off."""
    rows = csv.reader(io.StringIO(data.decode("utf-8-sig"), newline=""))
    return [[plain_cell(cell) for cell in row] for row in rows]


@given(st.lists(TEXT, min_size=2, max_size=2))
def test_any_text_written_as_csv_comes_back_as_it_was(cells):
    assert read_back(text_file([["Number", "Name"], cells])) == [["Number", "Name"], cells]


@given(TEXT.filter(bool))
def test_any_text_written_to_a_spreadsheet_comes_back_as_it_was(text):
    # line ends inside a cell are one sign in a spreadsheet: XML 1.0, 2.11
    assert sheet([["Number"], [text]]) == [["Number"], [text]]


@pytest.mark.parametrize("text", ODD)
def test_odd_texts_come_back_from_both_kinds_of_file(text):
    assert read_back(text_file([["Number", "Name"], [text, "x"]]))[1] == [text, "x"]
    assert sheet([["Number", "Name"], [text, "x"]])[1] == [text, "x"]


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@a", "\t=1", "\r=1"])  # OWASP, "CSV Injection"
def test_no_cell_of_a_text_file_begins_as_a_formula(text):
    (_, row) = csv.reader(io.StringIO(text_file([["A", "B"], [text, "x"]]).decode("utf-8-sig"), newline=""))

    assert row == [f"'{text}", "x"]


def test_a_spreadsheet_holds_no_formula_and_its_numbers_are_numbers():
    file = io.BytesIO()
    spreadsheet([["A", "B", "C"], ["=1+1", Decimal("292.4"), 3]], file, [3, 3, 3])

    page = zipfile.ZipFile(file).read("xl/worksheets/sheet1.xml").decode()
    assert "<f>" not in page and 't="inlineStr"><is><t>=1+1</t>' in page
    assert 't="n"><v>292.4</v>' in page and 't="n"><v>3</v>' in page


def test_a_number_of_more_digits_than_a_spreadsheet_keeps_is_text():
    # a double keeps 15 decimal digits: IEEE 754
    assert sheet([["A"], [Decimal("1234567890.1234567")]]) == [["A"], ["1234567890.1234567"]]


def test_the_headings_of_a_spreadsheet_are_bold_and_stay_in_sight():
    file = io.BytesIO()
    spreadsheet([["Object number"], ["1"]], file, [200])

    parts = zipfile.ZipFile(file)
    page, styles = (parts.read(f"xl/{name}.xml").decode() for name in ("worksheets/sheet1", "styles"))
    assert (
        'ySplit="1"' in page and 'state="frozen"' in page and '<b val="1" />' in styles.replace('"/>', '" />')
    )
    assert 'width="50"' in page  # no wider than a screen shows


def test_text_that_no_cell_can_hold_is_refused_with_where_and_what_to_do():
    with pytest.raises(ListRefused) as refused:
        sheet([["A"], ["x" * 32_768]])  # ECMA-376 programs keep 32,767

    assert str(refused.value) == (
        f"The text “{'x' * 40}…” on line 2 has 32,768 characters, and a cell of a spreadsheet holds 32,767. "
        "Take the list out as CSV, or shorten the text."
    )


def test_a_text_file_begins_with_the_mark_unless_it_is_not_wanted():
    assert text_file([["A", "B"]]) == b"\xef\xbb\xbfA,B\r\n"  # RFC 3629: the mark is EF BB BF in UTF-8
    assert text_file([["A", "B"]], mark=False, delimiter="\t") == b"A\tB\r\n"


def test_a_long_list_comes_in_pieces_that_make_the_whole():
    rows = [["Number", "Name"], *([str(number), "Bowl"] for number in range(1200))]

    pieces = list(delimited(rows))

    assert len(pieces) == 3  # of 500 rows, 500 and the rest
    assert len(read_list(b"".join(pieces)).rows) == 1200
