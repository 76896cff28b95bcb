"""Columns: what people chose comes first, then names, then spelling, then content; nothing is taken twice."""

import pytest

from objects.core.lists import plain_heading
from objects.intake import Field, ListKind
from objects.intake.catalogue import ObjectList
from objects.intake.columns import (
    CONTENT,
    LIKE_NAME,
    NAME,
    REMEMBERED,
    ColumnGuess,
    column_guesses,
    remember_columns,
    suggested_columns,
)
from objects.intake.files import read_file
from objects.intake.headings import HEADINGS
from objects.models import ColumnMemory
from tests.objects.intake.workbooks import workbook

pytestmark = pytest.mark.django_db


class Store(ListKind):
    """A kind of list with the fields that the cases below need."""

    key = "objects"
    fields = (
        Field("number", "Object number", ("accession number",), required=True),
        Field("name", "Name", ("title",)),
        Field("dimensions", "Dimensions", ("size",)),
        Field("height", "Height"),
        Field("weight_g", "Weight"),
        Field("location", "Location", ("shelf",)),
        Field("photo", "Photo"),
    )


def listed(*header: str, rows: list[tuple[str, ...]] | None = None):
    return read_file(workbook(Store=[header, *(rows or [("x",) * len(header)])]))


def test_columns_are_found_by_name_with_the_reason():
    assert column_guesses(Store(), listed("Accession Number", "TITLE", "Colour")) == {
        "number": ColumnGuess("Accession Number", NAME),
        "name": ColumnGuess("TITLE", NAME),
    }


def test_what_a_person_chose_comes_before_any_name():
    remember_columns(Store(), ["Title", "Old title"], {"name": "Old title"})

    assert column_guesses(Store(), listed("Title", "OLD  TITLE:", "Size")) == {
        "name": ColumnGuess("OLD TITLE:", REMEMBERED),
        "dimensions": ColumnGuess("Size", NAME),
    }


def test_a_column_that_a_person_left_out_is_left_out_again():
    remember_columns(Store(), ["Number", "Size"], {"number": "Number"})

    assert suggested_columns(Store(), listed("Number", "Size", "Dimensions")) == {
        "number": "Number",
        "dimensions": "Dimensions",
    }


def test_a_new_choice_takes_the_place_of_the_old_one():
    remember_columns(Store(), ["Label", "Place"], {"name": "Label"})
    remember_columns(Store(), ["Label"], {"number": "Label"})

    assert list(ColumnMemory.objects.order_by("heading").values_list("heading", "field")) == [
        ("label", "number"),
        ("place", ""),
    ]


def test_headings_that_differ_in_signs_only_are_remembered_once():
    remember_columns(Store(), ["Name", "name.", "", "--"], {"name": "Name"})

    assert list(ColumnMemory.objects.values_list("heading", "field")) == [("name", "name")]


def test_a_very_long_heading_is_remembered_by_its_beginning():
    remember_columns(Store(), ["a" * 300], {"name": "a" * 300})

    assert suggested_columns(Store(), listed("a" * 300, "b")) == {"name": "a" * 300}


def test_each_kind_of_list_remembers_for_itself():
    class Places(Store):
        key = "locations"

    remember_columns(Places(), ["Label"], {"name": "Label"})

    assert suggested_columns(Store(), listed("Label", "b")) == {}


def test_a_remembered_field_that_is_no_more_is_passed_over():
    ColumnMemory.objects.create(kind="objects", heading="label", field="gone")

    assert suggested_columns(Store(), listed("Label", "Name")) == {"name": "Name"}


@pytest.mark.parametrize(
    "heading, field",
    [
        ("Dimenions", "dimensions"),
        ("Acession number", "number"),
        ("Locaton", "location"),
        ("Heigth", ""),  # two letters changed places: of six, too many
        ("Weigh", "weight_g"),  # 5 of 6 letters, 0.91 alike
        ("Eight", ""),  # as like to height as to weight
        ("Location note", ""),
        ("Nam", ""),  # too short to tell
    ],
)
def test_a_heading_a_letter_or_two_from_a_name_is_taken_for_it(heading, field):
    expected = {field: ColumnGuess(heading, LIKE_NAME)} if field else {}

    assert column_guesses(Store(), listed(heading, "Colour")) == expected


def test_a_name_goes_before_a_like_name():
    assert suggested_columns(Store(), listed("Dimension", "Size")) == {"dimensions": "Size"}


def cells(*column: str):
    return [(cell, "words") for cell in column]


@pytest.mark.parametrize(
    "heading, column, field",
    [
        (
            "Column 1",
            ["10 x 8 cm", "9 x 9 x 2 cm", "H 20 cm; W 15 cm", "not measured", "4 x 4 in"],
            "dimensions",
        ),
        ("Feld7", ["12,5 x 8,0", "10 x 9", "4 x 3"], "dimensions"),
        ("F2", ["20 cm", "15 cm", "12 cm"], ""),  # one side each may be anything
        ("Data", ["850 g", "1.2 kg", "90 g"], "weight_g"),
        ("x", ["Store / Room 2", "Store / Room 3", "Store > Room 3"], "location"),
        ("Column B", ["a.jpg", "b.JPEG", "c.png"], ""),  # a heading of two words says something
        ("Col 2", ["a.jpg", "b.JPEG", "c.png"], "photo"),
        ("Column 1", ["1995.4.1", "1995.4.2", "1996.1"], "number"),
        ("Column 1", ["1995.4.1", "1995.4.1", "1996.1"], ""),  # twice the same
        ("Column 1", ["1", "2", "3"], ""),  # a mere count of the rows
        ("Column 1", ["1995.4.1", "1995.4.2"], ""),  # too few to tell
        ("Box size", ["10 x 8 cm", "9 x 9 x 2 cm", "4 x 4 in"], ""),  # the heading says what it is
    ],
)
def test_content_counts_where_the_heading_says_nothing(heading, column, field):
    expected = {field: ColumnGuess(heading, CONTENT)} if field else {}

    assert column_guesses(Store(), listed(heading, "Colour", rows=cells(*column))) == expected


def test_content_never_takes_a_field_that_a_name_has():
    read = listed("Column 1", "Size", rows=[("10 x 8 cm", "large")] * 3)

    assert suggested_columns(Store(), read) == {"dimensions": "Size"}


def test_two_columns_with_the_same_content_are_left_to_a_person():
    read = listed("Column 1", "Column 2", rows=[("10 x 8 cm", "4 x 4 cm")] * 3)

    assert suggested_columns(Store(), read) == {}


def test_asking_takes_one_query_however_many_columns(django_assert_num_queries):
    read = listed(*(f"Colour {place}" for place in range(60)))

    with django_assert_num_queries(1):
        column_guesses(Store(), read)


def test_no_heading_of_the_dictionary_means_two_things():
    places = [(plain_heading(name), field) for field, names in HEADINGS.items() for name in set(names)]

    assert len({name for name, _ in places}) == len(set(places))


@pytest.mark.parametrize(
    "header, columns",
    [
        (("Inventarnummer", "Bezeichnung", "Maße", "Standort"), ["number", "name", "dimensions", "location"]),
        (("N° d'inventaire", "Désignation", "Emplacement"), ["number", "name", "location"]),
        (
            ("Objectnummer", "Objectnaam", "Afmetingen", "Standplaats"),
            ["number", "name", "dimensions", "location"],
        ),
        (
            ("Número de inventario", "Título", "Medidas", "Ubicación"),
            ["number", "name", "dimensions", "location"],
        ),
    ],
)
def test_words_of_five_languages_are_known(header, columns):
    class Worldwide(Store):
        fields = tuple(
            Field(field.key, field.label, (*field.synonyms, *HEADINGS[field.key])) for field in Store.fields
        )

    assert suggested_columns(Worldwide(), listed(*header)) == dict(zip(columns, header, strict=True))


def test_the_catalogue_finds_its_columns():
    found = suggested_columns(ObjectList(), listed("Object number", "Name", "Dimensions"))

    assert found == {"number": "Object number", "name": "Name", "dimensions": "Dimensions"}
