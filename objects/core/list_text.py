"""The bytes of a list turned into text: which encoding they are in, or why they are no text at all."""

import re

from objects.core.refusals import Refusal
from objects.core.words import noted, say

_SIGNATURES = {
    b"PK\x03\x04": noted("a spreadsheet or ZIP file"),
    b"PK\x05\x06": noted("an empty ZIP file"),
    b"\xd0\xcf\x11\xe0": noted("an old spreadsheet or document file"),
    b"%PDF": "a PDF",
    b"\x89PNG": "a picture",
    b"\xff\xd8\xff": "a picture",
    b"GIF8": "a picture",
    b"II*\x00": "a picture",
    b"MM\x00*": "a picture",
    b"\x1f\x8b": "a compressed file",
    b"{\\rtf": "a document",
    b"<?xml": "an XML file",
    b"<!DOCTYPE": "a web page",
    b"<html": "a web page",
}
_MARKS_OF_UTF_32 = (b"\xff\xfe\x00\x00", b"\x00\x00\xfe\xff")
_MARKS_OF_UTF_16 = (b"\xff\xfe", b"\xfe\xff")
_CONTROL = re.compile(r"[\x01-\x08\x0e-\x1f\x7f-\x9f]")
_MOST_CONTROL_SHARE = 0.01  # assumed; text has next to none


class ListError(Refusal):
    """What was handed in is not a usable list; the message is a sentence for the reader."""


def decode(data: bytes) -> tuple[str, str, list[str]]:
    """The text of a file, the name of its encoding, and notes about what had to be assumed.

    data: the whole file. Tried are UTF-16 where its mark stands in front, UTF-8, then Windows-1252 and
    its forerunner Latin-1.
    Raises ListError when the file is empty or holds no text.
    Source: the byte order marks and the form of UTF-8 are those of The Unicode Standard, chapter 3.
    """
    for signature, what in _SIGNATURES.items():
        if data.startswith(signature):
            raise ListError(
                say(
                    "This is {what}, not a list. Open it, save it as CSV, and choose that file.",
                    what=say(what),
                )
            )
    text, encoding, notes = _decoded(data)
    if not text.strip():
        raise ListError(say("The file is empty. Choose a list with a line of headings and at least one row."))
    if "\x00" in text:
        raise ListError(say("The file holds NUL bytes, so it is no text. Save the list as CSV in UTF-8."))
    if len(text) - len(_CONTROL.sub("", text)) > _MOST_CONTROL_SHARE * len(text):
        raise ListError(say("This does not look like a list. Save the list as CSV and choose that file."))
    return text, encoding, notes


def _decoded(data: bytes) -> tuple[str, str, list[str]]:
    if data.startswith(_MARKS_OF_UTF_16) and not data.startswith(_MARKS_OF_UTF_32):
        try:
            return data.decode("utf-16"), "UTF-16", []
        except UnicodeDecodeError as error:
            raise ListError(
                say("The file begins as UTF-16 text but is damaged. Save it as CSV again.")
            ) from error
    try:
        return data.decode("utf-8-sig"), "UTF-8", []
    except UnicodeDecodeError:
        encoding = "Windows-1252"
    try:
        text = data.decode("cp1252")
    except UnicodeDecodeError:  # one of the five bytes that it leaves open
        text, encoding = data.decode("latin-1"), "Latin-1"
    note = say(
        "The letters were read as {encoding}. If accented letters look wrong, save the list in UTF-8.",
        encoding=encoding,
    )
    return text, encoding, [note]
