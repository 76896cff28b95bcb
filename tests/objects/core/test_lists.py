"""Delimited lists: every cell as it stands, every line counted, and each bad file refused with a sentence."""

import codecs
import csv
import io
import zipfile

import pytest
from hypothesis import given
from hypothesis import strategies as st

from objects.core.lists import ListError, match_columns, read_list

HEADER = ("Number", "Name", "Size")
CELL = st.text(st.characters(exclude_categories=["Cs", "Cc"]) | st.sampled_from('\n",;\t|'), max_size=12)
ROWS = st.lists(st.tuples(st.integers(1, 999).map(str), CELL, CELL), min_size=1, max_size=12)


def zipped() -> bytes:
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w") as archive:
        archive.writestr("xl/workbook.xml", "<workbook/>")
    return held.getvalue()


def columns(count: int) -> bytes:
    return (",".join(f"c{place}" for place in range(count)) + "\n" + "1," * count + "\n").encode()


def test_every_cell_is_kept_as_it_stands():
    read = read_list(b"Number,Name,Size\n007.10,NA,1e5\n  1.50 ,null,\n")

    assert read.header == HEADER
    assert read.rows == (("007.10", "NA", "1e5"), ("  1.50 ", "null", ""))
    assert (read.line_numbers, read.encoding, read.delimiter, read.notes) == ((2, 3), "UTF-8", "comma", ())


@given(rows=ROWS, delimiter=st.sampled_from(",;\t|"), line_end=st.sampled_from(["\n", "\r\n", "\r"]))
def test_what_the_standard_library_writes_is_read_back(rows, delimiter, line_end):
    held = io.StringIO(newline="")
    csv.writer(held, delimiter=delimiter, lineterminator=line_end).writerows([HEADER, *rows])

    read = read_list(held.getvalue().encode())

    assert (read.header, read.rows) == (HEADER, tuple(rows))


@given(st.binary(max_size=200) | st.text(max_size=200).map(str.encode))
def test_any_bytes_are_a_list_or_refused_with_a_sentence(data):
    try:
        read = read_list(data)
    except ListError as refused:
        assert str(refused).endswith(".")
    else:
        assert {len(row) for row in read.rows} == {len(read.header)}
        assert len(read.rows) == len(read.line_numbers)


@pytest.mark.parametrize(
    "delimiter, name", [(",", "comma"), (";", "semicolon"), ("\t", "tab"), ("|", "vertical bar")]
)
@pytest.mark.parametrize(
    "encoding, told, mark",
    [
        ("utf-8", "UTF-8", b""),
        ("utf-8", "UTF-8", codecs.BOM_UTF8),
        ("utf-16-le", "UTF-16", codecs.BOM_UTF16_LE),
        ("utf-16-be", "UTF-16", codecs.BOM_UTF16_BE),
        ("cp1252", "Windows-1252", b""),
    ],
)
def test_encoding_and_delimiter_are_found_and_told(delimiter, name, encoding, told, mark):
    text = "Number,Name,Size\n1,Schüssel,8½\n2,Krug,9\n".replace(",", delimiter)

    read = read_list(mark + text.encode(encoding))

    assert read.rows == (("1", "Schüssel", "8½"), ("2", "Krug", "9"))
    assert (read.encoding, read.delimiter) == (told, name)


def test_letters_that_had_to_be_guessed_are_told():
    # 0x81 is one of the five bytes that Windows-1252 leaves open (Unicode mapping table CP1252.TXT)
    texts = ["1;Krügé".encode("cp1252"), "1;Krü".encode("cp1252") + b"\x81" + b"g" * 150]

    read = [read_list(b"Number;Name\n" + text) for text in texts]

    assert [each.encoding for each in read] == ["Windows-1252", "Latin-1"]
    assert [each.notes for each in read] == [
        (f"The letters were read as {name}. If accented letters look wrong, save the list in UTF-8.",)
        for name in ("Windows-1252", "Latin-1")
    ]


def test_lines_are_counted_as_an_editor_shows_them():
    # 1 heading, 2-4 one row with two line breaks in its quotes, 5 blank, 6 and 7 one row, 8 the last
    data = b'Number,Name,Size\r\n1,"a\r\nb\r\nc",x\r\n\r\n2,"d\re",y\r\n3,f,z\r\n'

    assert read_list(data).line_numbers == (2, 6, 8)


def test_decimal_commas_do_not_pass_for_columns():
    data = b"Number;Size\n1;10,5 x 8,0 x 2,5\n2;11,5 x 8,2 x 2,5\n3;9 x 8 x 2\n"

    assert read_list(data).rows[0] == ("1", "10,5 x 8,0 x 2,5")


def test_a_quoted_delimiter_does_not_pass_for_columns():
    data = b'"Number";"Name, and more"\n"1";"Bowl, blue, chipped"\n"2";"Jug; green"\n'

    assert read_list(data).rows == (("1", "Bowl, blue, chipped"), ("2", "Jug; green"))


def test_inch_marks_within_a_cell_are_kept():
    assert read_list(b'Number,Size\n1,10" x 8"\n2,"9"" x 8"""\n').rows == (
        ("1", '10" x 8"'),
        ("2", '9" x 8"'),
    )


def test_a_first_line_that_announces_the_delimiter_is_obeyed():
    read = read_list(b"sep=;\nNumber;Name\n1;Bowl, blue\n")

    assert (read.header, read.rows, read.line_numbers) == (("Number", "Name"), (("1", "Bowl, blue"),), (3,))


def test_a_title_above_the_headings_is_left_out_and_told():
    read = read_list(b"Store list,,\n,,\nNumber,Name,Size\n1,Bowl,9 in\n")

    assert (read.header, read.line_numbers) == (HEADER, (4,))
    assert read.notes == ("Line 1, “Store list”, was taken as a title and left out.",)


def test_rows_of_another_length_are_kept_and_told_with_their_line():
    read = read_list(b"Number,Name,Size\n1,Bowl\n2,Jug,9 in,blue\n3,Cup,8 in,,\n")

    assert read.rows == (("1", "Bowl", ""), ("2", "Jug", "9 in"), ("3", "Cup", "8 in"))
    assert read.notes == (
        "Line 2 has 2 cells instead of 3; the missing ones were left blank.",
        "Line 3 has 4 cells instead of 3; what is beyond was left out.",
    )


def test_many_rows_of_another_length_are_counted_in_the_end():
    read = read_list(b"Number,Name,Size\n" + b"1,Bowl\n" * 60)

    assert (len(read.rows), len(read.notes)) == (60, 51)
    assert read.notes[-1] == "10 more lines have too many or too few cells."


def test_odd_headings_are_told():
    read = read_list(b"Number,,1995.4\n1,2,3\n")

    assert read.notes == (
        "The heading “1995.4” looks like a value. Check that the list names its columns.",
        "Columns without a heading cannot be used: 2.",
    )


def test_a_hundred_columns_are_read():
    assert len(read_list(columns(100)).header) == 100


EMPTY = "The file is empty. Choose a list with a line of headings and at least one row."
ONLY_HEADINGS = "The list holds only headings and no rows. Check that the right file was chosen."
ONE_COLUMN = (
    "Only one column was found. Separate the columns by commas, semicolons, tabs or vertical bars; saving "
    "the list as CSV does so."
)
NOT_A_LIST = "This is {}, not a list. Open it, save it as CSV, and choose that file."
NUL_BYTES = "The file holds NUL bytes, so it is no text. Save the list as CSV in UTF-8."
NEVER_CLOSED = (
    "A quotation mark opens a cell in the row on line {} and is never closed. Close it, or save the list "
    "again as CSV."
)


@pytest.mark.parametrize(
    "data, sentence",
    [
        (b"", EMPTY),
        (b" \r\n\n", EMPTY),
        (codecs.BOM_UTF8, EMPTY),
        (b"Number,Name\n", ONLY_HEADINGS),
        (b"Number,Name\n,\n \n", ONLY_HEADINGS),
        (b"Number\n1\n2\n", ONE_COLUMN),
        (zipped(), NOT_A_LIST.format("a spreadsheet or ZIP file")),
        (b"%PDF-1.7 a,b", NOT_A_LIST.format("a PDF")),
        (b"\x89PNG\r\n\x1a\n", NOT_A_LIST.format("a picture")),
        (b"<?xml version='1.0'?>", NOT_A_LIST.format("an XML file")),
        (b"a,b\n1,\x002\n", NUL_BYTES),
        ("a,b\n1,2\n".encode("utf-16-le"), NUL_BYTES),
        ("a,b\n1,2\n".encode("utf-32"), NUL_BYTES),
        (b"\xff\xfea", "The file begins as UTF-16 text but is damaged. Save it as CSV again."),
        (
            b"a,b\n\x01\x02,\x03\x04\n",
            "This does not look like a list. Save the list as CSV and choose that file.",
        ),
        (
            b"Name,Size,name,Size,Note\n1,2,3,4,5\n",
            "Several columns have the same heading: “Name”, “Size”, “name”. Give each its own.",
        ),
        (columns(501), "The list has 501 columns; at most 500 can be read. Leave some out."),
        (b'a,b\n1,2\n3,"4\n5,6\n', NEVER_CLOSED.format(3)),
        (b'a,b\n1,"' + b"x" * 200_000 + b"\n", NEVER_CLOSED.format(2)),
        (
            b'a,b\n1,"big" bowl\n',
            "The row on line 2 has a quotation mark inside a cell that is in quotation marks. Save the list "
            "again as CSV, so that such marks are doubled.",
        ),
    ],
    ids=range(20),
)
def test_a_file_that_is_no_list_is_refused_with_what_to_do(data, sentence):
    with pytest.raises(ListError) as refused:
        read_list(data)

    assert str(refused.value) == sentence


def test_a_list_longer_than_allowed_is_refused():
    with pytest.raises(ListError, match="^The list has more than 2 rows. Split it and take in the parts.$"):
        read_list(b"a,b\n1,1\n2,2\n3,3\n", max_rows=2)


FIELDS = {
    "number": ("Object number", "Accession number", "No."),
    "name": ("Name", "Title", "Object"),
    "size": ("Dimensions", "Größe"),
}


@pytest.mark.parametrize(
    "header, matched",
    [
        (("Name", "Dimensions"), {"name": "Name", "size": "Dimensions"}),
        (("DIMENSIONS (cm)", "object_number"), {"number": "object_number", "size": "DIMENSIONS (cm)"}),
        (("grosse", "GRÖSSE", "no"), {"number": "no", "size": "grosse"}),
        (("Dimensions (cm)", "Dimensions"), {"size": "Dimensions"}),
        (("Object", "Name"), {"name": "Name"}),
        (("Colour", ""), {}),
    ],
)  # fmt: skip
def test_columns_are_matched_to_fields_by_name(header, matched):
    assert match_columns(header, FIELDS) == matched


def test_a_fields_own_name_beats_another_fields_synonym():
    fields = {"object": ("thing", "name"), "maker": ("name",)}

    assert match_columns(("name", "thing"), fields) == {"object": "thing", "maker": "name"}
