"""Lists of objects and places: what is understood of each row, and what saving it leaves in the records."""

from decimal import Decimal

import pytest
from django.utils import timezone

from objects.core.weights import WeightError, parse_weight
from objects.intake import IntakeRefused, location_for, locations_for, preview
from objects.intake.catalogue import ObjectList
from objects.intake.locations import LocationList
from objects.intake.waiting import WaitingRows
from objects.models import CatalogueObject, ListImport, Location
from tests.factories import make_location, make_object

HEADER = "Object number,Name,Dimensions,Weight,Hazards,Location\n"


def read(rows: str, header: str = HEADER, **how):
    return preview(ObjectList(), (header + rows).encode(), **how)


def save(rows: str, header: str = HEADER, **how) -> None:
    with WaitingRows(read(rows, header, **how)) as waiting:
        waiting.fill()
        waiting.store(ListImport.objects.create(file_name="list.csv"), timezone.now())


@pytest.mark.parametrize(
    "text, grams",
    [
        ("1.2 kg", "1200"),
        ("1,2 kg", "1200"),
        ("850 g", "850"),
        # 1 lb = 453.59237 g exactly (international yard and pound agreement, 1959): 3 lb = 1360.77711 g
        ("3 lb", "1360.8"),
        # 2 lb 4 oz = 2.25 lb = 1020.5828 g
        ("2 lb 4 oz", "1020.6"),
        ("1/2 lb.", "226.8"),
    ],
)
def test_a_weight_becomes_grams(text, grams):
    assert parse_weight(text) == Decimal(grams)


@pytest.mark.parametrize("text", ["0 kg", "-1 kg", "12", "heavy", "9000 kg", "1/0 kg", "3 lbx"])
def test_a_weight_that_cannot_be_is_refused(text):
    with pytest.raises(WeightError):
        parse_weight(text)


@pytest.mark.django_db
def test_a_size_is_kept_in_mm_beside_its_text():
    save('7.1,Bowl,10 x 8 3/4 x 7 1/8 in,1.2 kg,"arsenic, LEAD",House / Room 1 / Bay A / Shelf 2\n', HEADER)

    thing = CatalogueObject.objects.get()
    # 10 in = 254 mm, 8 3/4 in = 222.25 mm, 7 1/8 in = 180.975 mm at 25.4 mm to the inch
    assert thing.sides_mm == (Decimal("254"), Decimal("222.25"), Decimal("180.975"))
    assert (thing.size_state, thing.dimensions_text) == ("known", "10 x 8 3/4 x 7 1/8 in")
    assert (thing.weight_g, thing.hazards) == (Decimal("1200"), "arsenic; lead")
    assert thing.location.path == "House / Room 1 / Bay A / Shelf 2"


@pytest.mark.django_db
def test_a_list_taken_in_again_changes_nothing():
    rows = "7.1,Bowl,10 x 9 x 8 in,3 lb,,House / Room\n7.2,Spoon,approx. 15 in. long,,lead,\n7.3,Cup,,,,\n"
    save(rows)

    assert [row.status for row in read(rows).rows] == ["unchanged"] * 3


@pytest.mark.django_db
def test_what_differs_is_named_and_blank_cells_leave_what_is_recorded():
    save("7.1,Bowl,10 x 9 x 8 in,3 lb,lead,House / Room\n")
    rows = "7.1,Dish,,1 kg,,\n"

    (row,) = read(rows).rows
    save(rows)

    assert (row.status, row.changes) == (
        "changed",
        # 3 lb = 1360.77711 g, 453.59237 g to the pound
        {"name": ("Bowl", "Dish"), "weight_g": (Decimal("1360.8"), Decimal("1000.0"))},
    )
    thing = CatalogueObject.objects.get()
    assert (thing.name, thing.weight_g, thing.hazards, thing.version) == ("Dish", Decimal("1000"), "lead", 2)
    assert thing.height_mm == Decimal("254")


@pytest.mark.django_db
def test_a_measured_size_is_not_replaced_by_a_doubtful_one():
    make_object(number="7.1", name="Bowl")

    (row,) = read("7.1,Bowl,approx. 15 in. long,,,\n").rows

    assert (row.status, row.messages[-1]) == (
        "unchanged",
        "The size already recorded is complete and is kept.",
    )


@pytest.mark.django_db
def test_a_doubtful_size_waits_to_be_checked():
    save("7.1,Spoon,approx. 15 x 2 x 1 in,,,\n")

    thing = CatalogueObject.objects.get()
    assert (thing.size_state, thing.height_mm) == ("check", Decimal("381"))  # 15 in x 25.4 mm
    assert "approximate" in thing.dimensions_note


@pytest.mark.django_db
@pytest.mark.parametrize(
    "row, told",
    [
        ("7.1,Spoon,40 m x 2 x 2 cm,,,", "Dimensions: "),
        ("7.1,Spoon,0 x 2 x 2 cm,,,", "Dimensions: "),
        ("7.1,Spoon,-5 x 2 x 2 cm,,,", "Dimensions: "),
        ("7.1,Spoon,,twelve,,", "Weight: “twelve” is not a weight."),
        ("7.1,Spoon,,,plague,", "Hazards: “plague” is not known here. Write one of: arsenic, mercury,"),
        ("7.1,,,,,", "A new object needs a name."),
        (",Spoon,,,,", "Object number is blank."),
        (f"7.1,Spoon,,,,{'x' * 81}", "Location: a place's name has at most 80 characters"),
        (f"{'7' * 61},Spoon,,,,", "Object number: 61 characters; at most 60"),
    ],
)
def test_a_row_that_cannot_be_used_is_refused_and_left_out(row, told):
    save(row + "\n7.9,Cup,,,,\n")

    refused = read(row + "\n").rows[0]
    assert (refused.status, refused.messages[0][: len(told)]) == ("refused", told)
    assert [thing.number for thing in CatalogueObject.objects.all()] == ["7.9"]


@pytest.mark.django_db
@pytest.mark.parametrize(
    "header",
    [
        "Object number,Name,How it may lie,Measured with\n",
        "Object number,Name,Orientation,Size includes\n",
        "Object number,Name,May be laid down,Measured including\n",
    ],
)
def test_a_list_may_tell_how_an_object_lies_and_what_was_measured_with_it(header):
    save("7.1,Bottle,laid down,\n7.2,Bust,Upright only,its stand\n7.3,Cup,,LID\n", header)

    assert list(CatalogueObject.objects.values_list("number", "may_lie", "measured_with")) == [
        ("7.1", "laid_down", ""),
        ("7.2", "upright", "stand"),
        ("7.3", "", "lid"),
    ]


@pytest.mark.django_db
def test_words_for_lying_that_are_not_known_are_refused_with_those_that_are():
    (row,) = read("7.1,Bottle,sideways,wheels\n", "Object number,Name,How it may lie,Measured with\n").rows

    assert (row.status, row.messages) == (
        "refused",
        (
            "How it may lie: “sideways” is not known here. "
            "Write one of: upright, turned, laid down, any side.",
            "Measured with: “wheels” is not known here. Write one of: nothing, stand, handle, mount, lid.",
        ),
    )


@pytest.mark.django_db
def test_a_number_twice_in_a_list_is_refused_with_both_lines():
    understood = read("7.1,Bowl,,,,\n7.2,Cup,,,,\n7.1,Dish,,,,\n")

    assert [row.status for row in understood.rows] == ["new", "new", "refused"]
    assert understood.rows[2].messages == (
        "The object number 7.1 is on line 2 and again on line 4. Keep one of the two rows.",
    )


@pytest.mark.django_db
@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_encoding_and_delimiter_make_no_difference(encoding, delimiter):
    text = "Object number,Name,Weight\n7.1,Schüssel,1 kg\n7.2,Krug,2 kg\n".replace(",", delimiter)

    understood = preview(ObjectList(), text.encode(encoding))

    assert [row.values["name"] for row in understood.rows] == ["Schüssel", "Krug"]


@pytest.mark.django_db
def test_a_hundred_columns_are_read_and_the_unused_ones_named():
    more = [f"Extra {n}" for n in range(98)]
    header = ",".join(["Object number", "Name", *more]) + "\n"

    understood = read("7.1,Bowl" + ",x" * 98 + "\n", header)

    assert understood.unmatched == tuple(more)
    assert [row.status for row in understood.rows] == ["new"]


@pytest.mark.django_db
@pytest.mark.parametrize(
    "data", [b"", b"  \n", b"PK\x03\x04zip", b"%PDF-1.7", b"\x00\x01\x02", b"Number,Name\n"]
)
def test_a_file_that_is_no_list_is_refused(data):
    with pytest.raises(IntakeRefused):
        preview(ObjectList(), data)


@pytest.mark.django_db
def test_without_its_required_column_no_row_is_read_until_a_person_chooses_it():
    header, row = "Ref,Name\n", "7.1,Bowl\n"

    untold = read(row, header)
    told = read(row, header, columns={"number": "Ref", "name": "Name"})

    assert ([field.label for field in untold.missing], untold.rows) == (["Object number"], ())
    assert [row.key for row in told.rows] == ["7.1"]


@pytest.mark.django_db
def test_the_unit_of_bare_figures_comes_from_the_heading_or_else_from_the_person():
    in_heading = read(
        "7.1,Bowl,10 x 9 x 8,2\n",
        "Number,Name,Dimensions (cm),Weight (kg)\n",
        columns={
            "number": "Number",
            "name": "Name",
            "dimensions": "Dimensions (cm)",
            "weight_g": "Weight (kg)",
        },
    )
    from_person = read("7.1,Bowl,10 x 9 x 8,\n", "Number,Name,Dimensions,Weight\n", unit="in")

    assert in_heading.rows[0].values["height_mm"] == 100
    assert in_heading.rows[0].values["weight_g"] == 2000
    assert from_person.rows[0].values["height_mm"] == 254


@pytest.mark.django_db
def test_a_path_makes_the_places_above_it_once():
    make_location("House")

    places = locations_for(["House / Room 1 / Bay A", "house > Room 1 > Bay B"])

    assert [str(place) for place in Location.objects.all()] == [
        "House", "House / Room 1", "House / Room 1 / Bay A", "House / Room 1 / Bay B",
    ]  # fmt: skip
    assert places["house > Room 1 > Bay B"].parent == location_for("House / Room 1")


@pytest.mark.django_db
def test_a_list_of_places_gives_them_their_type_and_note():
    data = b"Location,Type,Note\nHouse / Room / Chest,cabinet,Sticks\n"
    understood = preview(LocationList(), data)

    understood.kind.save(understood.kind.rows_to_write(understood.rows))

    place = Location.objects.get(path="House / Room / Chest")
    assert (place.kind, place.note, place.parent.kind) == ("cabinet", "Sticks", "room")
    assert [row.status for row in preview(LocationList(), data).rows] == ["unchanged"]


@pytest.mark.django_db
def test_numbers_that_only_sort_alike_are_two_objects():
    save("1995.04,Bowl,,,,\n1995.4,Jug,,,,\n")

    assert set(CatalogueObject.objects.values_list("number", "name")) == {
        ("1995.04", "Bowl"),
        ("1995.4", "Jug"),
    }
