"""Files of lists: told apart by what is in them, and each harmful or broken one refused with a sentence."""

import codecs
import csv
import io
import zipfile

import pytest
from hypothesis import given
from hypothesis import strategies as st

from objects.core.cells import neutral_cell
from objects.core.list_text import ListError
from objects.intake.files import read_file
from tests.examples import few
from tests.objects.intake.lido import record, wrapped
from tests.objects.intake.workbooks import (
    LIST_ROWS,
    MAIN,
    handmade,
    package,
    parts_of,
    with_lying_size,
    workbook,
)

HEADER = ("Number", "Name", "Size")
CELL = st.text(
    st.characters(exclude_categories=["Cs", "Cc"]) | st.sampled_from("\n\t\",;|'=+-@"), max_size=12
)
ROWS = st.lists(st.tuples(st.integers(1, 999).map("no {}".format), CELL, CELL), min_size=1, max_size=8)
OLD_OFFICE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(504)  # [MS-CFB] 2.2


def refusal(data: bytes, name: str = "") -> str:
    with pytest.raises(ListError) as refused:
        read_file(data, name)
    return str(refused.value)


@given(
    rows=ROWS,
    delimiter=st.sampled_from(",;\t|"),
    quoting=st.sampled_from([csv.QUOTE_ALL, csv.QUOTE_MINIMAL, csv.QUOTE_NONNUMERIC]),
    encoding=st.sampled_from(["utf-8", "utf-8-sig", "utf-16"]),
)
def test_a_table_of_text_written_as_csv_is_read_back(rows, delimiter, quoting, encoding):
    held = io.StringIO(newline="")
    written = [[neutral_cell(cell) for cell in row] for row in rows]
    csv.writer(held, delimiter=delimiter, quoting=quoting).writerows([HEADER, *written])

    read = read_file(held.getvalue().encode(encoding))

    assert (read.header, read.rows) == (HEADER, tuple(rows))


@pytest.mark.parametrize(
    "data, format",
    [
        (b"Number,Name\n1,Bowl\n", "delimited"),
        (b"Number\tName\r\n1\tBowl\r\n", "delimited"),  # as copied from a spreadsheet
        (workbook(Store=[("Number", "Name"), ("1", "Bowl")]), "xlsx"),
        (wrapped(record(number="1", title="Bowl")), "lido"),
        (codecs.BOM_UTF8 + b"\n" + wrapped(record(number="1")).partition(b"?>")[2], "lido"),
    ],
)
@pytest.mark.parametrize("name", ["", "list.csv", "list.xlsx", "list.jpg", "../../etc/list", "C:\\list.xml"])
def test_a_file_is_what_its_content_says_whatever_its_name(data, format, name):
    assert read_file(data, name).format == format


def test_a_file_name_is_never_opened(tmp_path):
    secret = tmp_path / "secret.csv"
    secret.write_bytes(b"Number,Name\n9,Secret\n")

    assert read_file(b"Number,Name\n1,Bowl\n", str(secret)).rows == (("1", "Bowl"),)


# ---- Spreadsheet files -----------------------------------------------------------------------------------

BOMB = (
    "The spreadsheet unpacks to far more than any list holds ({}). Delete the sheets that are not needed, or "
    "save the list as CSV."
)
DAMAGED = (
    "The spreadsheet file is damaged or incomplete ({}). Open it, save it again, and choose the new file."
)
PROTECTED = "The spreadsheet is protected by a password. Open it, take the password off, and save it again."
TOO_FAR = (
    "The sheet “Store” reaches to the cell {}, much too far for a list. Delete the cells that lie apart from "
    "it, or copy the list into a new file."
)


def test_a_part_that_unpacks_to_a_thousand_times_as_much_is_refused():
    # deflate packs a run of blanks about 1,030 to 1 (RFC 1951): 40 MB into 40 kB
    data = handmade(**{"xl/styles.xml": " " * 40_000_000})

    assert len(data) < 50_000
    assert refusal(data) == BOMB.format("“xl/styles.xml” alone has more than 10 MB")


def test_a_part_that_lies_about_its_size_is_counted_all_the_same():
    assert refusal(with_lying_size("xl/styles.xml", unpacked_bytes=40_000_000, told=100)) == BOMB.format(
        "“xl/styles.xml” alone has more than 10 MB"
    )


def test_a_part_that_is_longer_than_it_says_is_refused():
    assert refusal(with_lying_size("xl/styles.xml", unpacked_bytes=4_321_987, told=100)) == DAMAGED.format(
        "“xl/styles.xml” is not what the table of contents says"
    )


def test_many_parts_are_counted_together():
    parts = {f"xl/part{place}.xml": " " * 4_000_000 for place in range(5)}

    assert refusal(handmade(**parts)) == BOMB.format("“xl/part2.xml” alone has more than 2 MB")


def test_a_package_of_very_many_parts_is_refused():
    parts = {f"xl/part{place}.xml": "" for place in range(2_001)}

    assert refusal(handmade(**parts)) == BOMB.format("more than 2,000 parts")


def test_what_is_packed_inside_the_package_stays_packed():
    inner = package({"bomb.xml": " " * 100_000_000})
    outside = {
        "xl/embeddings/inner.zip": inner,
        "../../evil.xml": "<evil/>",
        "C:\\evil.xml": "<",
        "/e.xml": "<",
    }

    assert read_file(package({**parts_of(), **outside})).rows == (("7", "Bowl"),)


def test_a_far_cell_that_would_need_a_huge_table_is_refused():
    far = '<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>'

    assert refusal(handmade(LIST_ROWS + far)) == TOO_FAR.format("XFD1048576")


@pytest.mark.parametrize(
    "cell",
    [
        '<c r="A1" r="XFD1048576"><v>1</v></c>',
        '<c r="A1" s="1" r="XFD1048576"><v>1</v></c>',
    ],
)
def test_a_far_cell_cannot_hide_behind_a_near_one(cell):
    assert refusal(handmade(f"{LIST_ROWS}<row>{cell}</row>")).startswith(
        "The spreadsheet is damaged or breaks off: it cannot be read from line 1, column "
    )


@pytest.mark.parametrize(
    "cell",
    [
        "<c r='XFD1048576'><v>1</v></c>",
        '<c\tr = "XFD1048576"><v>1</v></c>',
        '<c r="&#88;FD1048576"><v>1</v></c>',
        f'<x:c xmlns:x="{MAIN}" r="XFD1048576"><x:v>1</x:v></x:c>',
    ],
)
def test_a_far_cell_is_found_however_it_is_written(cell):
    assert refusal(handmade(f"{LIST_ROWS}<row>{cell}</row>")) == TOO_FAR.format("XFD1048576")


def test_one_long_text_shared_by_many_cells_is_held_once():
    text = "x" * 30_000
    shared = (
        f'<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><si><t>{text}</t></si></sst>'
    )
    header = '<row r="1"><c r="A1" t="str"><v>Number</v></c><c r="B1" t="str"><v>Name</v></c></row>'
    rows = "".join(
        f'<row r="{row}"><c r="A{row}" t="s"><v>0</v></c><c r="B{row}" t="s"><v>0</v></c></row>'
        for row in range(2, 2_000)
    )

    read = read_file(handmade(header + rows, **{"xl/sharedStrings.xml": shared}))

    assert {id(cell) for row in read.rows for cell in row} == {id(read.rows[0][0])}
    assert read.rows[0][0] == text


@pytest.mark.parametrize(
    "data, sentence",
    [
        (workbook(Store=[("Number", "Name"), ("1", "Bowl")])[:3000], "its table of contents cannot be read"),
        (handmade() + b"PK\x05\x06", "its table of contents cannot be read"),
        (handmade(**{"XL/workbook.xml": "<workbook/>"}), "it holds “XL/workbook.xml” twice"),
        (
            package({**parts_of(), "xl/styles.xml": "<x/>".encode("utf-16")}),
            "it is not written in UTF-8",
        ),
        (
            handmade(**{"xl/styles.xml": "<?xml version='1.0' encoding='UTF-7'?><x/>"}),
            "it is not written in UTF-8",
        ),
        (
            package(parts_of(), zipfile.ZIP_LZMA),
            "“[Content_Types].xml” is packed in an unusual way",
        ),
        (handmade('<row r="1"><c r="A1" t="s"><v>9</v></c></row>'), "the sheet “Store” cannot be read"),
    ],
)
def test_a_damaged_spreadsheet_is_refused_with_what_is_wrong(data, sentence):
    assert refusal(data) == DAMAGED.format(sentence)


@pytest.mark.parametrize(
    "data, what",
    [
        (package({"xl/workbook.bin": b""}), "a binary spreadsheet (XLSB)"),
        (
            package({"mimetype": "application/vnd.oasis.opendocument.spreadsheet", "content.xml": ""}),
            "an OpenDocument file",
        ),
        (package({"word/document.xml": ""}), "a text document"),
        (package({"list.csv": "Number,Name\n1,Bowl\n"}), "a ZIP file"),
    ],
)
def test_other_packages_are_refused_by_name(data, what):
    assert refusal(data) == (
        f"This is {what}, not a list. Save the list as XLSX or CSV and choose that file."
    )


def test_a_spreadsheet_behind_a_password_is_refused():
    assert refusal(OLD_OFFICE + "EncryptedPackage".encode("utf-16-le")) == PROTECTED


def test_a_package_with_encrypted_parts_is_refused():
    data = bytearray(handmade())
    for signature, flags in (
        (b"PK\x03\x04", 6),
        (b"PK\x01\x02", 8),
    ):  # APPNOTE.TXT 4.4.4: bit 0 is encryption
        at = data.find(signature)
        while at >= 0:
            data[at + flags] |= 1
            at = data.find(signature, at + 1)

    assert refusal(bytes(data)) == PROTECTED


def test_an_old_spreadsheet_is_refused():
    assert refusal(OLD_OFFICE) == (
        "This is an old spreadsheet (XLS) or document. Open it, save it as XLSX or CSV, and choose that file."
    )


@pytest.mark.parametrize(
    "data, sentence",
    [
        (workbook(Store=[]), "The spreadsheet is empty. Choose a file with a list in one of its sheets."),
        (
            workbook(Store=[("Number", "Name")]),
            "The list holds only headings and no rows. Check that the right file was chosen.",
        ),
        (
            workbook(Store=[("Number", "number"), ("1", "2")]),
            "Several columns have the same heading: “Number”, “number”. Give each its own.",
        ),
        (
            workbook(Store=[("1995.4", "Bowl", "10 x 8 cm"), ("1995.5", "Jug", "9 x 9 cm")]),
            "The first row holds values such as “1995.4” and “10 x 8 cm” and no headings. Put a row above it "
            "that names the columns.",
        ),
        (
            workbook(Store=[[f"c{place}" for place in range(501)], ["x"] * 501]),
            "The list has 501 columns; at most 500 can be read. Leave some out.",
        ),
    ],
    ids=range(5),
)
def test_a_spreadsheet_without_a_usable_list_is_refused(data, sentence):
    assert refusal(data) == sentence


# ---- XML -------------------------------------------------------------------------------------------------

HAS_DOCTYPE = (
    "The {} declares a document type (DOCTYPE), which no list needs and which can do harm. Leave the "
    "declaration out and choose the file again."
)
LAUGHS = '<!DOCTYPE lido [<!ENTITY a "ha">{}]>'.format(
    "".join(
        f'<!ENTITY {after} "{f"&{before};" * 10}">'
        for before, after in zip("abcdefgh", "bcdefghi", strict=True)
    )
)


def with_doctype(doctype: str, encoding: str = "utf-8") -> bytes:
    body = wrapped(record(number="&i;")).decode().partition("?>")[2]
    return f'<?xml version="1.0" encoding="{encoding}"?>{doctype}{body}'.encode(encoding)


def test_entities_that_grow_when_they_are_put_in_are_refused():
    assert refusal(with_doctype(LAUGHS)) == HAS_DOCTYPE.format("XML file")


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16", "iso-8859-1"])
def test_entities_that_read_other_files_are_refused(encoding, tmp_path):
    secret = tmp_path / "secret.txt"
    secret.write_text("secret")
    doctype = f'<!DOCTYPE lido [<!ENTITY i SYSTEM "{secret.as_uri()}">]>'

    assert refusal(with_doctype(doctype, encoding)) == HAS_DOCTYPE.format("XML file")


def test_a_document_type_in_a_spreadsheet_is_refused():
    assert refusal(handmade(**{"xl/sharedStrings.xml": f"{LAUGHS}<sst>&i;</sst>"})) == HAS_DOCTYPE.format(
        "spreadsheet"
    )


def test_elements_very_deep_within_each_other_are_refused():
    assert refusal(wrapped("<a>" * 100_000)) == (
        "The XML file has more than 100 elements within each other on line 3; no list needs as many. Check "
        "what wrote the file."
    )


def test_a_record_of_very_many_elements_is_refused():
    assert refusal(wrapped("<lido:lido>" + "<a/>" * 30_000)) == (
        "The XML file has more than 20,000 elements in or before the record on line 3; no record needs as "
        "many. Check what wrote the file."
    )


def test_a_huge_text_is_refused():
    assert refusal(wrapped(f"<a>{'x' * 11_000_000}</a>")).startswith(
        "The XML file holds a text or a tag of more than 10 MB before line 3, column "
    )


def test_xml_that_breaks_off_is_refused_with_line_and_column():
    data = wrapped(record(number="1"))

    assert refusal(data[: data.index(b"</lido:workID>") + 4]).startswith(
        "The XML file is damaged or breaks off: it cannot be read from line "
    )
    # line 3 is "<a></b>": the end tag that does not fit is read up to column 8
    assert refusal(wrapped("<a></b>")) == (
        "The XML file is damaged or breaks off: it cannot be read from line 3, column 8 on. Write it again "
        "and choose the new file."
    )


def test_xml_without_records_is_refused():
    assert refusal(b"<?xml version='1.0'?><catalogue><object/></catalogue>") == (
        "The XML file holds no LIDO records. Export the objects as LIDO 1.1, or save the list as CSV."
    )


# ---- Text ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "data, sentence",
    [
        (
            b"Number,Name\n1,\x00Bowl\n",
            "The file holds NUL bytes, so it is no text. Save the list as CSV in UTF-8.",
        ),
        (
            b"Number,Name\n1," + b"x" * 1_000_000,
            "A cell in the row on line 2 has more than 131,072 characters. Shorten it, or check that the "
            "file is a list.",
        ),
        (
            b"Number,Name\n1" + b"," * 1_000_000,
            "Line 2 is split into more than 131,072 cells; no list has as many. Save the list as CSV again.",
        ),
        (
            b'Number,Name\n1,"Bowl\n' + b"2,Jug\n" * 50_000,
            "A quotation mark opens a cell in the row on line 2 and is never closed. Close it, or save the "
            "list again as CSV.",
        ),
        (
            b"Number,Name\n1,Bowl\n" + b"\n" * 2_000_001,
            "The file has more than 2,000,000 lines. Take the blank ones out, or split the list.",
        ),
        (
            b",a\n" * 100,
            "No line with column headings was found. The first line must name the columns.",
        ),
        (
            ",".join(f"c{place}" for place in range(400)).encode() + b"\n" + b"1,1\n" * 12_501,
            "The list has 400 columns and so many rows that it holds more than 5,000,000 cells. Leave "
            "columns out, or split it and take in the parts.",
        ),
        (
            b"1995.4,Bowl,300 g\n1995.5,Jug,200 g\n",
            "The first row holds values such as “1995.4” and “300 g” and no headings. Put a row above it "
            "that names the columns.",
        ),
        (
            b"<!DOCTYPE html><html>",
            "This is a web page, not a list. Open it, save it as CSV, and choose that file.",
        ),
    ],
    ids=range(9),
)  # fmt: skip
def test_text_that_is_no_usable_list_is_refused(data, sentence):
    assert refusal(data) == sentence


def test_a_file_of_a_gigabyte_is_refused_unread():
    class Gigabyte(bytes):
        def __len__(self) -> int:
            return 1_000_000_000

    assert refusal(Gigabyte()) == (
        "The file has 1,000 MB; at most 100 MB can be read. Split it and take in the parts."
    )


# ---- Anything at all -------------------------------------------------------------------------------------

SEEDS = [
    b"Number,Name\n1,Bowl\n",
    workbook(Store=[("Number", "Name"), ("1", "Bowl"), (2.5, True)]),
    handmade(),
    package(parts_of(), zipfile.ZIP_STORED),
    wrapped(record(number="1", title="Bowl"), record(number="2", sides={"height": "20 cm"})),
]


def read_or_refused(data: bytes) -> None:
    """A list whose rows fit its header, or a sentence; anything else is a fault."""
    try:
        read = read_file(data)
    except ListError as refused:
        assert str(refused).endswith(".")
    else:
        assert {len(row) for row in read.rows} == {len(read.header)}
        assert sorted(set(read.line_numbers)) == list(read.line_numbers)
        assert len(read.rows) == len(read.line_numbers)


@given(
    st.sampled_from([b"", b"PK\x03\x04", b"<?xml version='1.0'?>", OLD_OFFICE[:8], b"\xff\xfe"]), st.binary()
)
def test_any_bytes_are_a_list_or_refused(beginning, data):
    read_or_refused(beginning + data)


@given(
    seed=st.sampled_from(SEEDS),
    changes=st.lists(st.tuples(st.floats(0, 1, exclude_max=True), st.integers(0, 255)), max_size=4),
    cut=st.floats(0, 1) | st.none(),
)
@few(300)
def test_a_file_with_some_bytes_changed_or_its_end_cut_off_is_a_list_or_refused(seed, changes, cut):
    data = bytearray(seed)
    for place, byte in changes:
        data[int(place * len(data))] = byte

    read_or_refused(bytes(data[: int(cut * len(data))] if cut is not None else data))


@given(
    part=st.sampled_from(list(parts_of())),
    changes=st.lists(st.tuples(st.floats(0, 1, exclude_max=True), st.text(max_size=3)), max_size=3),
)
@few(300)
def test_a_workbook_with_changed_parts_is_a_list_or_refused(part, changes):
    parts = parts_of()
    for place, text in changes:
        at = int(place * len(parts[part]))
        parts[part] = parts[part][:at] + text + parts[part][at + len(text) :]

    read_or_refused(package({name: value.encode("utf-8", "ignore") for name, value in parts.items()}))
