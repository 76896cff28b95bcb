"""XML from elsewhere, read piece by piece: no document type, no entities, no network, nothing too deep."""

import io
import re
from collections.abc import Iterator
from typing import Any

from lxml import etree

from objects.core.list_text import ListError
from objects.core.words import noted, say

DEEPEST = 100  # elements within each other; records of museums reach about 20; assumed

_TOO_LARGE = (etree.ErrorTypes.ERR_RESOURCE_LIMIT, etree.ErrorTypes.ERR_NAME_TOO_LONG)
_DOCTYPE = re.compile(rb"<\x00?!\x00?D\x00?O\x00?C\x00?T\x00?Y\x00?P\x00?E", re.IGNORECASE)
_HAS_DOCTYPE = noted(
    "The {what} declares a document type (DOCTYPE), which no list needs and which can do harm. Leave the "
    "declaration out and choose the file again."
)


def events(data: bytes, what: str) -> Iterator[tuple[str, Any]]:
    """Start and end of each element. what: the file's name in sentences, such as “XML file”.

    The reader clears an element once it is done with it, by forget().
    Raises ListError for a document type, for what is malformed (with line and column), too deep or too large.
    """
    if _DOCTYPE.search(data):
        raise ListError(say(_HAS_DOCTYPE, what=what))
    reader = etree.iterparse(
        io.BytesIO(data),
        events=("start", "end"),
        resolve_entities=False,
        no_network=True,
        load_dtd=False,
        huge_tree=False,
        remove_comments=True,
        remove_pis=True,
    )
    depth = 0
    try:
        for event, element in reader:
            depth += 1 if event == "start" else -1
            if depth == 1 and event == "start" and element.getroottree().docinfo.doctype:
                raise ListError(say(_HAS_DOCTYPE, what=what))
            if depth > DEEPEST:
                raise ListError(
                    say(
                        "The {what} has more than {deepest} elements within each other on line {sourceline}; "
                        "no list needs as many. Check what wrote the file.",
                        what=what,
                        deepest=DEEPEST,
                        sourceline=element.sourceline,
                    )
                )
            yield event, element
    except etree.XMLSyntaxError as error:
        line, column = error.position
        if error.code in _TOO_LARGE:
            raise ListError(
                say(
                    "The {what} holds a text or a tag of more than 10 MB before line {line}, column "
                    "{column}; no list needs as much. Check what wrote the file.",
                    what=what,
                    line=line,
                    column=column,
                )
            ) from error
        raise ListError(
            say(
                "The {what} is damaged or breaks off: it cannot be read from line {line}, column "
                "{column} on. Write it again and choose the new file.",
                what=what,
                line=line,
                column=column,
            )
        ) from error


def forget(element: Any) -> None:
    """Free an element and what stands before it."""
    element.clear()
    parent = element.getparent()
    while parent is not None and element.getprevious() is not None:
        del parent[0]
