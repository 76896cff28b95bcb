"""The catalogue taken out, and in again: nothing changes, and what has become of the objects is told."""

import io
from datetime import UTC, datetime
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from housing.intake.imports import match_list, stage_list
from housing.intake.saving import save_list
from housing.models import Housing, HousingEvent
from housing.printing.exports import Wanted, objects_of, stream, write_export
from housing.printing.list_columns import columns_of
from housing.printing.list_files import ListRefused
from objects.core.lists import read_list
from objects.intake import location_for, preview
from objects.intake.catalogue import ObjectList
from objects.intake.columns import suggested_columns
from objects.models import CatalogueObject, ListImport
from tests.factories import make_campaign, make_housing, make_object

pytestmark = pytest.mark.django_db
OUR_LIST = (
    "Inv. no.,Title,Object type,Made of,Dimensions,Weight (kg),Parts,State,Dangers,Shelf,Kept as\n"
    "1995.10,Bowl,Ceramics,earthenware,25.4 x 22.2 x 18.1 cm,1.2345,1,good,,Store / Bay 1,A wooden chest\n"
    "1995-03-04,=SUM(A1),Tools,iron,10 x 8 3/4 x 7 1/8 in,850 g,3,fragile,lead; sharp,Store / Bay 2,\n"
    "0012,Hat,Costume,felt,14 x 9,,1,,arsenic,,\n"
    "X 7,-,,,about a foot,,2,poor,,Store,\n"
)
COLUMNS = {
    "number": "Inv. no.", "name": "Title", "classification": "Object type", "materials": "Made of",
    "dimensions": "Dimensions", "weight_g": "Weight (kg)", "quantity": "Parts", "condition": "State",
    "hazards": "Dangers", "location": "Shelf",
}  # fmt: skip


def take_in(text: str = OUR_LIST, unit: str = "") -> ListImport:
    """A list of objects, read and saved as a person would after matching its columns."""
    listed = stage_list(kind="objects", file_name="ours.csv", data=text.encode())
    match_list(listed=listed, columns=COLUMNS, unit=unit)
    save_list(listed=listed)
    listed.refresh_from_db()
    listed.reading |= {"headings": text.partition("\n")[0].split(",")}
    listed.save()
    return listed


def written(wanted: Wanted) -> bytes:
    file = io.BytesIO()
    write_export(wanted, file)
    return file.getvalue()


def statuses(data: bytes, columns: dict[str, str] | None = None) -> list[str]:
    """How each row of a list is understood when it is taken in again."""
    return [row.status for row in preview(ObjectList(), data, columns).rows]


def matched(wanted: Wanted) -> dict[str, str]:
    """Our field to the heading, as a person has matched them or as the columns remember it."""
    known = {field.key for field in ObjectList.fields}
    listed = ListImport.objects.filter(state="saved").first()
    columns = columns_of(None if wanted.headings == "own" else listed, wanted.unit)
    return {column.key: column.heading for column in columns if column.key in known}


def rows_in(data: bytes) -> list[dict[str, str]]:
    read = read_list(data)
    return [dict(zip(read.header, cells, strict=True)) for cells in read.rows]


# ---- Taken in again --------------------------------------------------------------------------------------


@pytest.mark.parametrize("headings", ["latest", "own"])
@pytest.mark.parametrize("kind", ["csv", "tsv", "xlsx"])
def test_a_list_taken_out_and_in_again_changes_nothing(kind, headings):
    take_in()
    wanted = Wanted(kind, headings=headings)

    assert statuses(written(wanted), matched(wanted)) == ["unchanged"] * 4


def test_sizes_read_with_a_unit_that_a_person_chose_come_back_unchanged():
    take_in(unit="cm")  # so that 14 x 9 is 140 x 90 mm

    data = written(Wanted("csv"))

    assert statuses(data, matched(Wanted("csv"))) == ["unchanged"] * 4
    assert [row["Dimensions"] for row in rows_in(data)][0] == "14 x 9"


def test_whatever_a_person_may_enter_on_a_page_comes_back_unchanged():
    place = location_for("Store / Bay 1")
    make_object(
        number="+1", name="Two  spaces", description="First line\n\nSecond line\twith a tab",
        weight_g=Decimal("0.1"), dimensions_text="", location=place, may_lie="turned",
        measured_with="stand", priority="A", present_housing="not_needed", condition="good",
        hazards="arsenic; nitrate", quantity=12,
    )  # fmt: skip
    make_object(number="@2", height_mm=Decimal("0.0001"), width_mm=Decimal("20000"), depth_mm=None)
    make_object(number="3", height_mm=None, width_mm=None, depth_mm=Decimal("7.5"), present_housing="none")
    # measured since: not the size that was read from the text any more
    make_object(number="4", dimensions_text="10 x 10 x 10 cm", dimensions_unit="cm", size_state="known")

    for kind in ("csv", "xlsx"):
        wanted = Wanted(kind, headings="own")
        assert statuses(written(wanted), matched(wanted)) == ["unchanged"] * 4


def test_a_changed_cell_changes_only_that():
    take_in()
    data = written(Wanted("csv")).replace(b"earthenware", b"stoneware")

    rows = preview(ObjectList(), data, matched(Wanted("csv"))).rows

    assert [row.status for row in rows] == ["unchanged", "unchanged", "changed", "unchanged"]
    (changed,) = (row for row in rows if row.status == "changed")
    assert changed.changes == {"materials": ("earthenware", "stoneware")}


# ---- What stands in it -----------------------------------------------------------------------------------


def test_a_list_has_its_own_headings_in_its_order_then_ours():
    take_in()

    headings = read_list(written(Wanted("csv"))).header

    own = ["Inv. no.", "Title", "Object type", "Made of", "Dimensions", "Weight (kg)", "Parts", "State",
           "Dangers", "Shelf"]  # fmt: skip
    assert list(headings[:10]) == own  # “Kept as” was not used, and what stood there is not kept
    assert "Description" in headings and "Present housing" in headings
    assert list(headings[-6:]) == [
        "Stage of housing", "Box number", "Box outside, mm", "Box outside, in", "New location", "Date housed",
    ]  # fmt: skip


def test_what_we_add_takes_no_heading_that_the_list_has():
    take_in()
    ListImport.objects.update(columns=COLUMNS | {"present_housing": "Box number", "name": "Description"})

    headings = read_list(written(Wanted("csv"))).header

    assert len(set(headings)) == len(headings)
    assert "Planner: box number" in headings and "Brief description" in headings


@pytest.mark.parametrize("headings", ["latest", "own"])
def test_what_we_add_is_taken_for_none_of_our_fields_when_the_list_comes_back(headings):
    take_in()
    wanted = Wanted("csv", headings=headings)
    columns = columns_of(ListImport.objects.get() if headings == "latest" else None, "in")

    suggested = suggested_columns(ObjectList(), read_list(written(wanted)))

    added = {column.heading for column in columns} - set(matched(wanted).values())
    assert len(added) == 6 and added & set(suggested.values()) == set()


def test_cells_stand_as_the_list_wrote_them_while_they_are_still_so():
    take_in()
    CatalogueObject.objects.filter(number="1995.10").update(height_mm=Decimal("260"))

    cells = {row["Inv. no."]: row for row in rows_in(written(Wanted("csv")))}

    bowl, tool = cells["1995.10"], cells["1995-03-04"]
    assert bowl["Dimensions"] == "H 260 × W 222 × D 181 mm"  # 22.2 and 18.1 cm
    assert tool["Dimensions"] == "10 x 8 3/4 x 7 1/8 in"
    # 850 g under a heading that says kg; the name begins like a formula
    assert (bowl["Weight (kg)"], tool["Weight (kg)"], tool["Title"]) == ("1.2345", "0.85", "=SUM(A1)")
    assert (tool["State"], tool["Dangers"], tool["Shelf"]) == ("Fragile", "Lead; Sharp", "Store / Bay 2")


def test_a_housed_object_is_told_with_box_place_and_day():
    bowl = make_object(number="1", location=location_for("Store / Bay 3"))
    housing = make_housing(bowl, status=Housing.Status.HOUSED)
    HousingEvent.objects.filter(housing=housing).update(at=datetime(2026, 3, 2, 12, tzinfo=UTC))
    make_object(number="2", location=location_for("Store / Bay 3"))

    first, second = rows_in(written(Wanted("csv", headings="own")))

    added = [
        "Stage of housing",
        "Box number",
        "Box outside, mm",
        "Box outside, in",
        "New location",
        "Date housed",
    ]
    # outside of the factory's box: 279.4, 273.05 and 231.775 mm and 13 more each; in sixteenths of an inch
    # 292.4 / 25.4 = 11.51, 286.05 / 25.4 = 11.26, 244.775 / 25.4 = 9.64
    assert [first[name] for name in added] == [
        "Housed", housing.box_number, "292.4 × 286.1 × 244.8", "11 1/2 × 11 1/4 × 9 5/8 in",
        "Store / Bay 3", "2026-03-02",
    ]  # fmt: skip
    assert [second[name] for name in added] == ["Unhoused, no box yet", "", "", "", "", ""]


def test_a_reader_of_millimetres_gets_the_box_once():
    make_object()

    headings = read_list(written(Wanted("csv", headings="own", unit="mm"))).header

    assert [name for name in headings if name.startswith("Box outside")] == ["Box outside, mm"]


def test_sides_in_columns_of_their_own_are_told_in_the_unit_of_their_heading():
    make_object(number="1")  # 254 x 222.25 x 180.975 mm
    ListImport.objects.create(
        kind="objects", state="saved", file_name="sides.csv", data=b"",
        columns={"number": "No", "height": "Height (cm)", "width": "Width, in", "depth": "Depth"},
    )  # fmt: skip

    if "height" not in {field.key for field in ObjectList.fields}:
        pytest.skip("lists cannot tell sides in columns of their own yet")
    (row,) = rows_in(written(Wanted("csv")))

    # 254 / 10, 222.25 / 25.4
    assert (row["Height (cm)"], row["Width, in"], row["Depth"]) == ("25.4", "8.75", "180.975 mm")
    assert row["Dimensions"] == "H 254 × W 222.25 × D 180.975 mm"


# ---- Which objects ---------------------------------------------------------------------------------------


def test_the_filter_of_the_object_list_says_which_objects_are_taken_out():
    bowl, hat = make_object(number="1", name="Bowl"), make_object(number="2", name="Hat")
    campaign = make_campaign(bowl)

    assert list(objects_of(Wanted("csv", filter="q=hat"))) == [hat]
    assert list(objects_of(Wanted("csv", filter=f"campaign={campaign.pk}"))) == [bowl]
    assert list(objects_of(Wanted("csv"))) == [bowl, hat]


@pytest.mark.parametrize("given", ["status=nothing", "campaign=999", "batch=x"])
def test_a_filter_that_cannot_be_read_is_refused_instead_of_taking_out_everything(given):
    make_object()

    with pytest.raises(ListRefused, match="The filter of the list cannot be read"):
        stream(Wanted("csv", filter=given))


@pytest.mark.parametrize("headings", ["999", "x", "-1"])
def test_headings_of_a_list_that_is_not_there_are_refused(headings):
    with pytest.raises(ListRefused, match="The list whose headings were chosen is not there any more"):
        stream(Wanted("csv", headings=headings))


@pytest.mark.parametrize("kind", ["csv", "xlsx", "xml"])
def test_a_long_list_takes_as_many_queries_as_a_short_one(kind):
    def queries() -> int:
        with CaptureQueriesContext(
            connection,
        ) as made:
            written(Wanted(kind, headings="own"))
        return len(made)

    make_housing(make_object(location=location_for("Store")))
    one = queries()
    for _ in range(3):
        make_housing(make_object(location=location_for("Store")))

    assert queries() == one


def test_an_empty_catalogue_gives_a_list_of_headings_alone():
    assert written(Wanted("csv", headings="own")).count(b"\r\n") == 1


def test_progress_is_told_while_a_list_is_written():
    make_object()
    told = []

    write_export(Wanted("csv"), io.BytesIO(), lambda percent, stage: told.append((percent, stage)))

    assert told == [(0, "Writing object 1 of 1")]
