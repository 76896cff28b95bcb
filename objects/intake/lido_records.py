"""LIDO records as rows of a list, read with every outside thing left unopened."""

import re
from collections.abc import Iterator
from typing import Any

from objects.core.list_rows import ReadList
from objects.core.list_text import ListError
from objects.core.lists import plain_heading
from objects.core.words import noted, say
from objects.intake.lido import (
    CLASS,
    DESCRIPTION,
    LANGUAGE,
    MATERIAL_SETS,
    MEASUREMENT_SETS,
    NAMESPACES,
    PREFERRED,
    RECORD,
    RECORD_ID,
    REPOSITORIES,
    TITLE,
    TYPE,
    TYPE_OF,
    UNIT_OF,
    WORK_TYPE,
)
from objects.intake.safe_xml import events, forget
from objects.models.locations import SEPARATOR

_LAST_LINE = 65_535  # that the XML parser knows for certain: it keeps lines in 16 bits
_RECORD_START = re.compile(rb"<(?:[\w.-]+:)?lido[\s>]")
MOST_ELEMENTS = 20_000  # in one record; large ones have some hundreds; assumed

# Our headings, in the order of the columns.
HEADER = (
    "Object number",
    "Name",
    "Description",
    "Classification",
    "Materials",
    "Dimensions",
    "Weight",
    "Quantity",
    "Location",
)


_LABELS = {
    "height": "H",
    "width": "W",
    "depth": "D",
    "thickness": "Th",
    "length": "L",
    "diameter": "Diam",
    "circumference": "Circum",
}
_WHOLE = frozenset({"overall", "total", "gesamt", "gesamtmass", "hors tout", "totaal", "total general"})


def read_lido(data: bytes, *, max_rows: int = 200_000) -> ReadList:
    """Read LIDO records, alone, in a lidoWrap, or inside another envelope; one row each.

    Line numbers are those on which the records begin; where several begin on one line, records are counted.
    Raises ListError for a document type, for malformed XML with its line and column, and for other XML.
    """
    rows: list[tuple[str, ...]] = []
    lines: list[int] = []
    encoding = "UTF-8"
    for record in _records(data):
        if len(rows) == max_rows:
            raise ListError(
                say(
                    "The file has more than {max_rows} records. Split it and take in the parts.",
                    max_rows=max_rows,
                )
            )
        if not rows:
            encoding = record.getroottree().docinfo.encoding or encoding
        rows.append(row_of(record))
        lines.append(record.sourceline)
    if not rows:
        raise ListError(
            say(
                "The XML file holds no LIDO records. Export the objects as LIDO 1.1, or save the list as CSV."
            )
        )
    if lines[-1] >= _LAST_LINE:
        lines = _counted_lines(data, lines)
    notes = []
    if len(set(lines)) < len(lines):
        lines = list(range(1, len(rows) + 1))
        notes.append(noted("Several records stand on one line, so records are counted instead of lines."))
    return ReadList(HEADER, tuple(rows), tuple(lines), encoding, "", tuple(notes), "lido")


def _counted_lines(data: bytes, lines: list[int]) -> list[int]:
    """The lines of the records, counted; as they were where not every record can be found in the bytes."""
    found, line, at = [], 1, 0
    for start in _RECORD_START.finditer(data):
        line += data.count(b"\n", at, start.start())
        at = start.start()
        found.append(line)
    return found if len(found) == len(lines) else lines


def _records(data: bytes) -> Iterator[Any]:
    """Each record once it is complete; freed when the next is asked for."""
    inside, count = False, 0
    for event, element in events(data, "XML file"):
        count += event == "start"
        if count > MOST_ELEMENTS:
            raise ListError(
                say(
                    "The XML file has more than {most_elements:,} elements in or before the record on "
                    "line {sourceline}; no record needs as many. Check what wrote the file.",
                    most_elements=MOST_ELEMENTS,
                    sourceline=element.sourceline,
                )
            )
        if event == "start":
            inside = inside or element.tag == RECORD
        elif element.tag == RECORD:
            yield element
            inside, count = False, 0
            forget(element)
        elif not inside:
            forget(element)


def row_of(record: Any) -> tuple[str, ...]:
    """The cells of a record under the headings of HEADER."""
    types = _terms(record, WORK_TYPE)
    name = _first(_texts(record, TITLE)) or _first(types)
    classes = [*_terms(record, CLASS), *(kind for kind in types if kind != name)]
    sets = [
        measured
        for group in record.iterfind(MEASUREMENT_SETS, NAMESPACES)
        for measured in group.iterfind("lido:objectMeasurements", NAMESPACES)
    ]
    return (
        _number(record),
        name,
        "\n".join(_texts(record, DESCRIPTION)),
        _first(classes),
        _materials(record),
        _dimensions(record, sets),
        _first(_values(sets, "weight")),
        _first(_values(sets, "quantity")).split(" ")[0],
        _location(record),
    )


def _number(record: Any) -> str:
    """The number in the register, else the record's own."""
    numbers = list(record.iterfind(f"{REPOSITORIES}/lido:workID", NAMESPACES))
    numbers.sort(
        key=lambda each: ("former" in _type_words(each.getparent()), "invent" not in _type_words(each))
    )
    for path in (RECORD_ID, "lido:lidoRecID"):
        numbers += record.iterfind(path, NAMESPACES)
    return _first([_text(each) for each in numbers])


def _type_words(element: Any) -> str:
    return element.get(TYPE, "").casefold()


def _materials(record: Any) -> str:
    """Terms of materials, without techniques; else the words for display."""
    for path in MATERIAL_SETS:
        terms = [
            term
            for each in record.iterfind(f"{path}/lido:materialsTech/lido:termMaterialsTech", NAMESPACES)
            if "techni" not in _type_words(each)
            for term in _concept(each)[:1]
        ]
        if terms := list(dict.fromkeys(terms)):
            return ", ".join(terms)
        if shown := _texts(record, f"{path}/lido:displayMaterialsTech"):
            return shown[0]
    return ""


def _location(record: Any) -> str:
    """Where the object is, from the largest place to the smallest."""
    places = list(record.iterfind(f"{REPOSITORIES}/lido:repositoryLocation", NAMESPACES))
    current = [each for each in places if "current" in _type_words(each.getparent())]
    for place in current or places:
        names: list[str] = []
        while place is not None:
            names += _texts(place, "lido:namePlaceSet/lido:appellationValue")[:1]
            place = place.find("lido:partOfPlace", NAMESPACES)
        if names:
            return SEPARATOR.join(reversed(names))
    return ""


# ---- Measurements ----------------------------------------------------------------------------------------


def _dimensions(record: Any, sets: list[Any]) -> str:
    """What was measured as labelled text, such as H 20 cm; W 15 cm; else the words for display."""
    told = [text for each in sets if (text := _labelled(each))]
    if told:
        return "; ".join(told)
    return "; ".join(_texts(record, f"{MEASUREMENT_SETS}/lido:displayObjectMeasurements"))


def _labelled(measured: Any) -> str:
    """One set; what it says of the part measured stays in front, so that a person looks where it is none."""
    sides = []
    for each in measured.iterfind("lido:measurementsSet", NAMESPACES):
        kind, value = _measurement(each)
        if value and kind not in ("weight", "quantity"):
            sides.append(f"{_LABELS.get(kind, kind)} {value}".strip())
    if not sides:
        return ""
    parts = [
        word
        for name in ("extentMeasurements", "qualifierMeasurements")
        for each in measured.iterfind(f"lido:{name}", NAMESPACES)
        for word in _concept(each)
        if plain_heading(word) not in _WHOLE
    ]
    return f"{', '.join(parts)}: {'; '.join(sides)}" if parts else "; ".join(sides)


def _values(sets: list[Any], wanted: str) -> list[str]:
    """The values with unit of all measurements of one type."""
    read = [_measurement(each) for one in sets for each in one.iterfind("lido:measurementsSet", NAMESPACES)]
    return [value for kind, value in read if kind == wanted and value]


def _measurement(measurement: Any) -> tuple[str, str]:
    """The type, ours or else as it stands, and the value with its unit."""
    kind, unit, value = (
        _first(
            [
                text
                for each in measurement.iterfind(f"lido:measurement{name}", NAMESPACES)
                for text in _concept(each)
            ]
        )
        for name in ("Type", "Unit", "Value")
    )
    unit = UNIT_OF.get(plain_heading(unit), unit)
    return TYPE_OF.get(plain_heading(kind), kind), f"{value} {unit}".strip() if value else ""


# ---- Text ------------------------------------------------------------------------------------------------


def _terms(record: Any, path: str) -> list[str]:
    return [term for each in record.iterfind(path, NAMESPACES) for term in _concept(each)[:1]]


def _concept(element: Any) -> list[str]:
    """The words of a concept, the preferred first: a SKOS label, a term, or plain text."""
    for path in ("skos:Concept/skos:prefLabel", "lido:term"):
        found = _preferred(element.iterfind(path, NAMESPACES))
        if found:
            return found
    return [text] if (text := _text(element)) else []


def _texts(element: Any, path: str) -> list[str]:
    return _preferred(element.iterfind(path, NAMESPACES))


def _preferred(elements: Any) -> list[str]:
    """Their texts: those marked as preferred, else those in English where there are several languages."""
    found = [(each, text) for each in elements if (text := _text(each))]
    for is_better in (_is_preferred, _is_english):
        better = [pair for pair in found if is_better(pair[0])]
        found = better or found
    return list(dict.fromkeys(text for _, text in found))


def _is_preferred(element: Any) -> bool:
    return element.get(PREFERRED, "").casefold().startswith("pref")


def _is_english(element: Any) -> bool:
    while element is not None and element.tag != RECORD:
        if language := element.get(LANGUAGE):
            return language.casefold().startswith("en")
        element = element.getparent()
    return False


def _text(element: Any) -> str:
    return " ".join((element.text or "").split())


def _first(texts: list[str]) -> str:
    return next(filter(None, texts), "")
