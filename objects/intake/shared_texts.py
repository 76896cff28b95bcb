"""The texts that the cells of a workbook share: read once, and kept from being copied cell by cell."""

import re
from xml.sax.saxutils import unescape

from objects.core.list_text import ListError
from objects.core.words import noted, say
from objects.intake.packages import DAMAGED
from objects.intake.safe_xml import events, forget

TEXTS = "xl/sharedStrings.xml"
MOST_TEXTS = 2_000_000  # ten to each of the most rows; assumed
_TOO_MANY = noted(
    "The spreadsheet has more than {most_texts:,} different texts. Split it and take in the parts."
)
_FEW = 10_000  # texts with fonts of their own that are parsed one by one; assumed
_SPACE = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_UNUSUAL = (b":si", b"<!", b"\x00")  # an element with a prefix, a comment or its like, no text
_ITEM = re.compile(rb"<si>(.*?)</si>", re.DOTALL)
_PLAIN = re.compile(r'<t(?: xml:space="preserve")?>([^<]*)</t>')
_ODD = re.compile(r"&(?!(?:amp|lt|gt|quot|apos);)|\r")
_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")


def take_texts(parts: dict[str, bytes]) -> dict[str, str]:
    """The shared texts by the marks that are put in their place: a long one used often is held only once."""
    if TEXTS not in parts:
        return {}
    texts = shared_texts(parts[TEXTS])
    marks = [f"\ue000{number}" for number in range(len(texts))]
    items = "".join(f"<si><t>{mark}</t></si>" for mark in marks)
    parts[TEXTS] = f'<sst xmlns="{_SPACE}">{items}</sst>'.encode()
    return dict(zip(marks, texts, strict=True))


def shared_texts(part: bytes) -> list[str]:
    """The texts in order; how Asian words are spoken is left out."""
    count = part.count(b"<si")
    if count > MOST_TEXTS:
        raise ListError(say(_TOO_MANY, most_texts=MOST_TEXTS))
    plain = part.count(b"<si><t")
    is_usual = 0 < count == part.count(b"<si>") and not any(sign in part for sign in _UNUSUAL)
    items = _ITEM.findall(part) if is_usual and count - plain <= _FEW else []
    if not items or len(items) != count:
        return _parsed(part)
    try:
        return [_text(item.decode()) for item in items]
    except UnicodeDecodeError as error:
        raise ListError(say(DAMAGED, why=say("its texts are not written in UTF-8"))) from error


def _text(item: str) -> str:
    """One text, the usual way of writing it read without a parser, which would take ten times as long."""
    plain = _PLAIN.fullmatch(item)
    if not plain or _ODD.search(item):
        return _parsed(f"<sst><si>{item}</si></sst>".encode())[0]
    text = plain[1]
    if "&" in text:
        text = unescape(text, {"&quot;": '"', "&apos;": "'"})
    return _ESCAPED.sub(_unescaped, text) if "_x" in text else text


def _parsed(part: bytes) -> list[str]:
    texts = []
    for event, element in events(part, "spreadsheet"):
        if event == "end" and element.tag.rpartition("}")[2] == "si":
            pieces = [each.text or "" for each in element.iter("{*}t") if not _is_spoken(each)]
            texts.append(_ESCAPED.sub(_unescaped, "".join(pieces)))
            forget(element)
            if len(texts) > MOST_TEXTS:
                raise ListError(say(_TOO_MANY, most_texts=MOST_TEXTS))
    return texts


def _is_spoken(element) -> bool:
    return element.getparent().tag.rpartition("}")[2] == "rPh"


def _unescaped(found: re.Match) -> str:
    """A sign that XML cannot hold; NUL and half of a pair are no signs and stay as written."""
    code = int(found[1], 16)
    return found[0] if code == 0 or 0xD800 <= code <= 0xDFFF else chr(code)
