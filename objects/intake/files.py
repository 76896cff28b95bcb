"""Files with lists, whatever they are: told apart by what is in them, never by their name."""

import re

from objects.core.list_rows import ReadList
from objects.core.list_text import ListError
from objects.core.lists import read_list
from objects.core.words import noted, say
from objects.intake.lido_records import read_lido
from objects.intake.packages import PROTECTED
from objects.intake.spreadsheets import read_spreadsheet

LARGEST_FILE = 100_000_000  # bytes; uploads are kept far below it, files named to a command are not; assumed

_PACKAGE = b"PK\x03\x04"
_OLD_OFFICE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"  # [MS-CFB], the compound file of old office programs
_ENCRYPTED = "EncryptedPackage".encode("utf-16-le")  # [MS-OFFCRYPTO], a protected workbook
_XML = re.compile(r"\s*<(?:\?xml\b|!--|!DOCTYPE(?!\s+html)|(?!html\b)[a-z_][\w.-]*(?::[\w.-]+)?[\s/>])", re.I)


def read_file(data: bytes, file_name: str = "", *, sheet: str = "", max_rows: int = 200_000) -> ReadList:
    """Read a list: text with delimiters, a spreadsheet (XLSX) or LIDO records.

    data: the file. file_name: as the person's computer calls it; it is never believed and never used as a
    path. sheet: the sheet of a spreadsheet to read; blank takes the first one that holds a list.
    Raises ListError, with a sentence for the reader, for everything that cannot be used.
    """
    if len(data) > LARGEST_FILE:
        raise ListError(
            say(
                "The file has {data:,.0f} MB; at most {largest_file:,.0f} MB can be read. Split it "
                "and take in the parts.",
                data=len(data) / 1e6,
                largest_file=LARGEST_FILE / 1e6,
            )
        )
    if data.startswith(_PACKAGE):
        return read_spreadsheet(data, sheet=sheet, max_rows=max_rows)
    if data.startswith(_OLD_OFFICE):
        raise ListError(PROTECTED if _ENCRYPTED in data else _OLD_SPREADSHEET)
    if _XML.match(_beginning(data)):
        return read_lido(data, max_rows=max_rows)
    return read_list(data, max_rows=max_rows)


_OLD_SPREADSHEET = noted(
    "This is an old spreadsheet (XLS) or document. Open it, save it as XLSX or CSV, and choose that file."
)


def _beginning(data: bytes) -> str:
    """The first signs of a text, whatever Unicode encoding it is in."""
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return data[:2000].decode("utf-16", "ignore")
    return data[:1000].decode("utf-8-sig", "ignore")
