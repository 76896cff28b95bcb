"""Objects as LIDO 1.1 records. Elements and order are those of the schema lido-v1.1.xsd, CIDOC, 2021."""

import io
from decimal import Decimal

import pytest
from lxml import etree

from housing.printing.exports import ListRefused, Wanted, write_export
from objects.core.dimensions import read_dimensions
from objects.intake import location_for
from objects.intake.lido_records import read_lido
from tests.factories import make_object

pytestmark = pytest.mark.django_db
LIDO = "{http://www.lido-schema.org}"
NAMES = {"lido": "http://www.lido-schema.org"}


def written() -> bytes:
    file = io.BytesIO()
    write_export(Wanted("xml"), file)
    return file.getvalue()


def tags(element) -> list[str]:
    return [child.tag.removeprefix(LIDO) for child in element]


def read_back() -> list[dict[str, str]]:
    read = read_lido(written())
    return [dict(zip(read.header, cells, strict=True)) for cells in read.rows]


def test_a_record_has_the_elements_that_the_schema_asks_for_in_its_order():
    make_object(description="Blue", weight_g=Decimal("850"), location=location_for("Store / Bay 1"))

    root = etree.fromstring(written())

    assert (root.tag, tags(root)) == (f"{LIDO}lidoWrap", ["lido"])
    (record,) = root
    assert tags(record) == ["lidoRecID", "descriptiveMetadata", "administrativeMetadata"]
    told, kept = record[1], record[2]
    language = "{http://www.w3.org/XML/1998/namespace}lang"
    assert (told.get(language), kept.get(language)) == ("und", "und")
    assert tags(told) == ["objectClassificationWrap", "objectIdentificationWrap"]
    assert tags(told[0]) == ["objectWorkTypeWrap", "classificationWrap"]
    assert tags(told[1]) == [
        "titleWrap", "repositoryWrap", "objectDescriptionWrap", "objectMeasurementsWrap",
        "objectMaterialsTechWrap",
    ]  # fmt: skip
    assert tags(kept[0]) == ["recordID", "recordType", "recordSource"]
    assert record[0].get(f"{LIDO}type") == "local"


def test_sizes_are_told_in_millimetres_of_the_whole_object():
    make_object()  # 254 x 222.25 x 180.975 mm

    (measured,) = etree.fromstring(written()).iterfind(".//lido:objectMeasurements", NAMES)

    assert tags(measured) == ["measurementsSet"] * 3 + ["extentMeasurements"]
    assert [[part.text for part in one] for one in measured[:3]] == [
        ["height", "mm", "254"], ["width", "mm", "222.25"], ["depth", "mm", "180.975"],
    ]  # fmt: skip
    assert tags(measured[0]) == ["measurementType", "measurementUnit", "measurementValue"]
    assert measured[3].text == "overall"


@pytest.mark.parametrize(
    "sides",
    [
        ("254", "222.25", "180.975"),
        ("0.0001", "20000", None),  # the smallest and the largest that are kept
        (None, None, "7.5"),
        ("140", "90", None),
        (None, None, None),
    ],
)
def test_a_record_reads_back_to_the_same_size(sides):
    height, width, depth = (Decimal(side) if side else None for side in sides)
    make_object(height_mm=height, width_mm=width, depth_mm=depth)

    (row,) = read_back()

    assert read_dimensions(row["Dimensions"]).dimensions.sides == (height, width, depth)


def test_a_record_reads_back_to_what_the_object_is_and_where():
    make_object(
        number="<1995>.10", name="Bowl & cover", classification="Ceramics", materials="earthenware, glaze",
        description="Blue, with a lid", weight_g=Decimal("850.5"), quantity=2,
        location=location_for("Store / Bay 1"),
    )  # fmt: skip

    (row,) = read_back()

    del row["Dimensions"]
    assert row == {
        "Object number": "<1995>.10",
        "Name": "Bowl & cover",
        "Description": "Blue, with a lid",
        "Classification": "Ceramics",
        "Materials": "earthenware, glaze",
        "Weight": "850.5 g",
        "Quantity": "2",
        "Location": "Store / Bay 1",
    }


def test_signs_that_xml_has_no_place_for_are_left_out():
    make_object(number="1", name="Bowl\x07\x00 cover".replace("\x00", ""))

    assert read_back()[0]["Name"] == "Bowl cover"


def test_a_size_to_be_checked_is_told_as_one_and_read_as_one():
    make_object(size_state="check")

    (measured,) = etree.fromstring(written()).iterfind(".//lido:objectMeasurements", NAMES)

    assert (measured[-1].tag, measured[-1].text) == (f"{LIDO}qualifierMeasurements", "to be checked")
    assert read_dimensions(read_back()[0]["Dimensions"]).status == "check"


def test_records_follow_each_other_in_the_order_of_their_numbers():
    for number in ("10", "9", "1"):
        make_object(number=number)

    assert [row["Object number"] for row in read_back()] == ["1", "9", "10"]


def test_a_file_without_a_record_is_refused_since_the_schema_asks_for_one():
    with pytest.raises(ListRefused, match="a LIDO file holds one record at least"):
        written()
