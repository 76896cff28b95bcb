"""Workbooks for tests: as openpyxl writes them, and as nobody should."""

import io
import struct
import zipfile
import zlib
from collections.abc import Sequence
from typing import Any

import openpyxl

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
CONTENT = "http://schemas.openxmlformats.org/package/2006/content-types"
PACKAGE = "http://schemas.openxmlformats.org/package/2006/relationships"
LIST_ROWS = (
    '<row r="1"><c r="A1" t="inlineStr"><is><t>Number</t></is></c>'
    '<c r="B1" t="inlineStr"><is><t>Name</t></is></c></row>'
    '<row r="2"><c r="A2"><v>7</v></c><c r="B2" t="inlineStr"><is><t>Bowl</t></is></c></row>'
)


def saved(book: openpyxl.Workbook) -> bytes:
    held = io.BytesIO()
    book.save(held)
    return held.getvalue()


def workbook(**sheets: Sequence[Sequence[Any]]) -> bytes:
    """A workbook of sheets by name, each a list of rows."""
    book = openpyxl.Workbook()
    book.remove(book.active)
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(list(row))
    return saved(book)


def parts_of(rows: str = LIST_ROWS, **others: str) -> dict[str, str]:
    """The parts of the smallest workbook. rows: the XML within its sheet data."""
    return {
        "[Content_Types].xml": f'<Types xmlns="{CONTENT}"/>',
        "_rels/.rels": f'<Relationships xmlns="{PACKAGE}"><Relationship Id="r1" '
        f'Type="{OFFICE}/officeDocument" Target="xl/workbook.xml"/></Relationships>',
        "xl/workbook.xml": f'<workbook xmlns="{MAIN}" xmlns:r="{OFFICE}"><sheets>'
        '<sheet name="Store" sheetId="1" r:id="r1"/></sheets></workbook>',
        "xl/_rels/workbook.xml.rels": f'<Relationships xmlns="{PACKAGE}"><Relationship Id="r1" '
        f'Type="{OFFICE}/worksheet" Target="worksheets/sheet1.xml"/></Relationships>',
        "xl/worksheets/sheet1.xml": f'<worksheet xmlns="{MAIN}"><sheetData>{rows}</sheetData></worksheet>',
        **others,
    }


def package(parts: dict[str, str | bytes], compression: int = zipfile.ZIP_DEFLATED) -> bytes:
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", compression) as archive:
        for name, part in parts.items():
            archive.writestr(name, part)
    return held.getvalue()


def handmade(rows: str = LIST_ROWS, **others: str) -> bytes:
    return package(parts_of(rows, **others))


def with_lying_size(name: str, unpacked_bytes: int, told: int) -> bytes:
    """A workbook in which one part says it has far fewer bytes than it unpacks to."""
    data = bytearray(package({**parts_of(), name: b" " * unpacked_bytes}))
    sizes = struct.pack("<I", unpacked_bytes)
    assert data.count(sizes) == 2  # in front of the part and in the table of contents
    crc = struct.pack("<I", zlib.crc32(b" " * told))
    at = data.find(sizes)
    while at >= 0:
        data[at : at + 4] = struct.pack("<I", told)
        data[at - 8 : at - 4] = crc
        at = data.find(sizes)
    return bytes(data)
