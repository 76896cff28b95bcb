"""Objects as LIDO 1.1 records: what each is, where it is kept, and its size in millimetres.

Which elements there are and their order is that of the schema lido-v1.1.xsd (CIDOC, 20 December 2021), looked
up element by element; the records were not run through a validator. Events are left out, the schema asks for
none.
"""

import re
from collections.abc import Iterable
from decimal import Decimal
from typing import IO

from lxml import etree

from objects.core.dimensions import Dimensions, format_dimensions
from objects.models import CatalogueObject

NAMESPACE = "http://www.lido-schema.org"
XML = "http://www.w3.org/XML/1998/namespace"
SCHEMA = "http://www.lido-schema.org/schema/v1.1/lido-v1.1.xsd"
XSI = "http://www.w3.org/2001/XMLSchema-instance"
SOURCE = "Collection Housing Planner"
LANGUAGE = "und"  # BCP 47: not determined; a catalogue may be in any language
_NOT_IN_XML = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")  # XML 1.0, production 2


def write_lido(objects: Iterable[CatalogueObject], file: IO[bytes]) -> None:
    """Write a document with one record an object, one after the other, so that none need be kept."""
    spaces = {"lido": NAMESPACE, "xsi": XSI}
    where = {f"{{{XSI}}}schemaLocation": f"{NAMESPACE} {SCHEMA}"}
    with etree.xmlfile(file, encoding="utf-8") as document:
        document.write_declaration()
        with document.element(_name("lidoWrap"), where, nsmap=spaces):
            for thing in objects:
                document.write("\n")
                document.write(_record(thing))


def _name(tag: str) -> str:
    return f"{{{NAMESPACE}}}{tag}"


def _put(parent: etree._Element, path: str, text: str = "", **attributes: str) -> etree._Element:
    """Elements one in the other, such as titleWrap/titleSet; the innermost gets the text and attributes."""
    for tag in path.split("/"):
        parent = etree.SubElement(parent, _name(tag))
    if text:
        parent.text = _NOT_IN_XML.sub("", text)
    for key, value in attributes.items():
        parent.set(_name(key), value)
    return parent


def _record(thing: CatalogueObject) -> etree._Element:
    record = etree.Element(_name("lido"), nsmap={"lido": NAMESPACE})
    _put(record, "lidoRecID", thing.number, type="local")
    told = _put(record, "descriptiveMetadata")
    told.set(f"{{{XML}}}lang", LANGUAGE)
    _classify(_put(told, "objectClassificationWrap"), thing)
    _identify(_put(told, "objectIdentificationWrap"), thing)
    kept = _put(record, "administrativeMetadata")
    kept.set(f"{{{XML}}}lang", LANGUAGE)
    _put_record(_put(kept, "recordWrap"), thing)
    return record


def _classify(wrap: etree._Element, thing: CatalogueObject) -> None:
    _put(wrap, "objectWorkTypeWrap/objectWorkType/term", thing.name)
    if thing.classification:
        _put(wrap, "classificationWrap/classification/term", thing.classification)


def _identify(wrap: etree._Element, thing: CatalogueObject) -> None:
    _put(wrap, "titleWrap/titleSet/appellationValue", thing.name)
    repository = _put(wrap, "repositoryWrap/repositorySet", type="current")
    _put(repository, "workID", thing.number, type="inventory number")
    if thing.location:
        _put(repository, "repositoryLocation/namePlaceSet/appellationValue", thing.location.path)
    if thing.description:
        _put(wrap, "objectDescriptionWrap/objectDescriptionSet/descriptiveNoteValue", thing.description)
    if any(thing.sides_mm) or thing.weight_g or thing.quantity > 1:
        _measure(_put(wrap, "objectMeasurementsWrap/objectMeasurementsSet"), thing)
    if thing.materials:
        materials = _put(wrap, "objectMaterialsTechWrap/objectMaterialsTechSet")
        _put(materials, "displayMaterialsTech", thing.materials)
        _put(materials, "materialsTech/termMaterialsTech/term", thing.materials)


def _measure(told: etree._Element, thing: CatalogueObject) -> None:
    if size := format_dimensions(Dimensions(*thing.sides_mm)):
        _put(told, "displayObjectMeasurements", size)
    measured = _put(told, "objectMeasurements")
    sides = zip(("height", "width", "depth"), thing.sides_mm, strict=True)
    values = [(side, "mm", value) for side, value in sides]
    values += [("weight", "g", thing.weight_g)]
    values += [("count", "pieces", Decimal(thing.quantity))] if thing.quantity > 1 else []
    for kind, unit, value in values:
        if value is not None:
            one = _put(measured, "measurementsSet")
            _put(one, "measurementType", kind)
            _put(one, "measurementUnit", unit)
            _put(one, "measurementValue", f"{value.normalize():f}")
    _put(measured, "extentMeasurements", "overall")
    if thing.size_state == CatalogueObject.SizeState.CHECK:
        _put(measured, "qualifierMeasurements", "to be checked")


def _put_record(wrap: etree._Element, thing: CatalogueObject) -> None:
    _put(wrap, "recordID", thing.number, type="local")
    _put(wrap, "recordType/term", "item" if thing.quantity == 1 else "set")
    _put(wrap, "recordSource/legalBodyName/appellationValue", SOURCE)
