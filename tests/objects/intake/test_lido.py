"""LIDO records as rows: names, numbers and places found, measurements as text that our own grammar reads.

Source of the element names: LIDO v1.1 schema, lido-schema.org; written down from memory, not copied from it.
"""

from decimal import Decimal

import pytest

from objects.core.dimensions import read_dimensions
from objects.core.list_text import ListError
from objects.intake.files import read_file
from objects.intake.lido_records import HEADER
from tests.objects.intake.lido import measured, measurement, record, wrapped

FULL = """<lido:lido>
<lido:lidoRecID lido:type="local">x-77</lido:lidoRecID>
<lido:descriptiveMetadata xml:lang="en">
 <lido:objectClassificationWrap>
  <lido:objectWorkTypeWrap><lido:objectWorkType><lido:term>tureen</lido:term>
  </lido:objectWorkType></lido:objectWorkTypeWrap>
  <lido:classificationWrap><lido:classification><lido:term>ceramics</lido:term>
  </lido:classification></lido:classificationWrap>
 </lido:objectClassificationWrap>
 <lido:objectIdentificationWrap>
  <lido:titleWrap><lido:titleSet>
   <lido:appellationValue xml:lang="de">Terrine mit Deckel</lido:appellationValue>
   <lido:appellationValue xml:lang="en">Tureen with lid</lido:appellationValue>
  </lido:titleSet></lido:titleWrap>
  <lido:repositoryWrap>
   <lido:repositorySet lido:type="former"><lido:workID lido:type="inventory number">old 5</lido:workID>
    <lido:repositoryLocation><lido:namePlaceSet><lido:appellationValue>Old store</lido:appellationValue>
    </lido:namePlaceSet></lido:repositoryLocation>
   </lido:repositorySet>
   <lido:repositorySet lido:type="current"><lido:workID lido:type="barcode">000123</lido:workID>
    <lido:workID lido:type="inventory number">1995.4.10</lido:workID>
    <lido:repositoryLocation>
     <lido:namePlaceSet><lido:appellationValue>Shelf 3</lido:appellationValue></lido:namePlaceSet>
     <lido:partOfPlace>
      <lido:namePlaceSet><lido:appellationValue>Room 2</lido:appellationValue></lido:namePlaceSet>
      <lido:partOfPlace>
       <lido:namePlaceSet><lido:appellationValue>Main store</lido:appellationValue></lido:namePlaceSet>
      </lido:partOfPlace>
     </lido:partOfPlace>
    </lido:repositoryLocation>
   </lido:repositorySet>
  </lido:repositoryWrap>
  <lido:objectDescriptionWrap><lido:objectDescriptionSet><lido:descriptiveNoteValue>Blue glaze,
    one handle mended.</lido:descriptiveNoteValue></lido:objectDescriptionSet></lido:objectDescriptionWrap>
  <lido:objectMeasurementsWrap><lido:objectMeasurementsSet>
   <lido:displayObjectMeasurements>20 x 15 cm, 850 g</lido:displayObjectMeasurements>
   <lido:objectMeasurements>{sets}</lido:objectMeasurements>
  </lido:objectMeasurementsSet></lido:objectMeasurementsWrap>
  <lido:objectMaterialsTechWrap><lido:objectMaterialsTechSet>
   <lido:displayMaterialsTech>Faience, thrown</lido:displayMaterialsTech>
   <lido:materialsTech>
    <lido:termMaterialsTech lido:type="material"><lido:term>faience</lido:term></lido:termMaterialsTech>
    <lido:termMaterialsTech lido:type="material">
     <skos:Concept xmlns:skos="http://www.w3.org/2004/02/skos/core#">
     <skos:prefLabel xml:lang="de">Zinn</skos:prefLabel><skos:prefLabel xml:lang="en">tin</skos:prefLabel>
     </skos:Concept></lido:termMaterialsTech>
    <lido:termMaterialsTech lido:type="technique"><lido:term>throwing</lido:term></lido:termMaterialsTech>
   </lido:materialsTech>
  </lido:objectMaterialsTechSet></lido:objectMaterialsTechWrap>
 </lido:objectIdentificationWrap>
</lido:descriptiveMetadata>
</lido:lido>""".replace(
    "{sets}",
    measurement("height", "20 cm")
    + measurement("Breite", "15 cm")
    + measurement("depth", "9.5 Zentimeter")
    + measurement("weight", "850 g")
    + measurement("number of parts", "2 pieces"),
)


def dimensions(*sets: str) -> str:
    read = read_file(wrapped(record(number="1", sets="".join(sets))))
    return read.rows[0][HEADER.index("Dimensions")]


def test_a_full_record_becomes_a_row_under_our_headings():
    read = read_file(wrapped(FULL))

    assert dict(zip(read.header, read.rows[0], strict=True)) == {
        "Object number": "1995.4.10",
        "Name": "Tureen with lid",
        "Description": "Blue glaze, one handle mended.",
        "Classification": "ceramics",
        "Materials": "faience, tin",
        "Dimensions": "H 20 cm; W 15 cm; D 9.5 cm",
        "Weight": "850 g",
        "Quantity": "2",
        "Location": "Main store / Room 2 / Shelf 3",
    }
    assert (read.format, read.encoding, read.line_numbers, read.notes) == ("lido", "UTF-8", (3,), ())


def test_measurements_are_read_by_our_own_grammar():
    reading = read_dimensions(dimensions(measured({"Höhe": "20 cm", "largeur": "15 cm", "depth": "95 mm"})))

    # 20 cm, 15 cm and 95 mm in mm
    assert reading.dimensions.sides == (Decimal(200), Decimal(150), Decimal(95))
    assert reading.status == "read"


def test_a_diameter_and_a_height_are_read_as_a_round_object():
    reading = read_dimensions(dimensions(measured({"diameter": "12.5 cm", "height": "4 cm"})))

    # trade rule: a diameter counts twice, so that the box is 4 x 12.5 x 12.5 cm
    assert reading.dimensions.sides == (Decimal(40), Decimal(125), Decimal(125))


@pytest.mark.parametrize("extent", ["overall", "Total", "Gesamt"])
def test_the_whole_object_needs_no_word_for_it(extent):
    assert dimensions(measured({"height": "20 cm"}, extent=extent)) == "H 20 cm"


def test_a_part_that_was_measured_goes_to_a_person():
    text = dimensions(measured({"height": "20 cm", "width": "15 cm"}, extent="frame"))

    assert text == "frame: H 20 cm; W 15 cm"
    assert read_dimensions(text).status == "check"


def test_several_sets_are_all_kept():
    text = dimensions(
        measured({"height": "42 cm", "width": "60 cm"}, extent="frame"),
        measured({"height": "30 cm", "width": "45 cm"}, extent="sheet"),
    )

    assert text == "frame: H 42 cm; W 60 cm; sheet: H 30 cm; W 45 cm"


def test_a_measurement_without_a_unit_is_left_for_a_person_to_say():
    text = dimensions(measured({"height": "20", "width": "15"}))

    assert text == "H 20; W 15"
    assert read_dimensions(text).status == "check"


def test_a_kind_of_measurement_that_is_not_known_keeps_its_name():
    assert dimensions(measured({"Plattenmaß": "20 cm"})) == "Plattenmaß 20 cm"


def test_words_for_display_stand_in_where_nothing_is_measured_apart():
    shown = (
        "<lido:objectMeasurementsSet><lido:displayObjectMeasurements>10 x 8 3/4 x 7 1/8 in."
        "</lido:displayObjectMeasurements></lido:objectMeasurementsSet>"
    )

    assert dimensions(shown) == "10 x 8 3/4 x 7 1/8 in."


def test_a_record_without_a_register_number_goes_by_its_own():
    bare = "<lido:lido><lido:lidoRecID>x-77</lido:lidoRecID></lido:lido>"
    with_record = (
        "<lido:lido><lido:lidoRecID>x-77</lido:lidoRecID><lido:administrativeMetadata><lido:recordWrap>"
        "<lido:recordID>1995.4</lido:recordID></lido:recordWrap></lido:administrativeMetadata></lido:lido>"
    )

    assert [row[0] for row in read_file(wrapped(bare, with_record)).rows] == ["x-77", "1995.4"]


def test_an_object_without_a_title_goes_by_what_it_is():
    untitled = (
        "<lido:lido><lido:descriptiveMetadata><lido:objectClassificationWrap><lido:objectWorkTypeWrap>"
        "<lido:objectWorkType><lido:term lido:pref='alternate'>pot</lido:term>"
        "<lido:term lido:pref='preferred'>jar</lido:term></lido:objectWorkType></lido:objectWorkTypeWrap>"
        "</lido:objectClassificationWrap></lido:descriptiveMetadata></lido:lido>"
    )

    row = read_file(wrapped(untitled)).rows[0]

    assert (row[HEADER.index("Name")], row[HEADER.index("Classification")]) == ("jar", "")


def test_materials_are_found_where_version_1_0_had_them():
    made = (
        "<lido:lido><lido:descriptiveMetadata><lido:eventWrap><lido:eventSet><lido:event>"
        "<lido:eventMaterialsTech><lido:displayMaterialsTech>oak, painted</lido:displayMaterialsTech>"
        "</lido:eventMaterialsTech></lido:event></lido:eventSet></lido:eventWrap></lido:descriptiveMetadata>"
        "</lido:lido>"
    )

    assert read_file(wrapped(made)).rows[0][HEADER.index("Materials")] == "oak, painted"


def test_rows_are_numbered_by_the_lines_of_their_records():
    # the first record begins on line 3 and has ten lines
    assert read_file(wrapped(record(number="1"), record(number="2"))).line_numbers == (3, 13)


def test_lines_beyond_what_a_short_number_holds_are_counted():
    # a record that begins on line 70,003: more than the 65,535 that 16 bits hold
    read = read_file(wrapped("\n" * 69_999, record(number="1")))

    assert read.line_numbers == (70_003,)


def test_records_on_one_line_are_counted():
    data = wrapped(record(number="1"), record(number="2")).replace(b"\n", b" ")

    read = read_file(data)

    assert read.line_numbers == (1, 2)
    assert read.notes == ("Several records stand on one line, so records are counted instead of lines.",)


def test_records_inside_another_envelope_are_found():
    data = wrapped(record(number="1")).replace(b"<lido:lidoWrap", b"<answer><list><lido:lidoWrap")
    data = data.replace(b"</lido:lidoWrap>", b"</lido:lidoWrap></list></answer>")

    assert read_file(data).rows[0][0] == "1"


def test_more_records_than_allowed_are_refused():
    with pytest.raises(
        ListError, match="^The file has more than 1 records. Split it and take in the parts.$"
    ):
        read_file(wrapped(record(number="1"), record(number="2")), max_rows=1)
