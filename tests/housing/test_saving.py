"""Saving lists of objects: stored whole or not at all, with nothing lost that others saved, and all told."""

from decimal import Decimal

import pytest
from django.db import IntegrityError, connection
from django.db.models import F

from housing.intake.imports import LONG_LIST, read_rows, stage_list, understood_of
from housing.intake.report import Report, report_of
from housing.intake.saving import save_list
from housing.services.jobs import JobCancelled
from objects.intake import IntakeRefused
from objects.intake.waiting import TABLE
from objects.models import CatalogueObject, ColumnMemory, ImportedRow, ListImport, Location, NeedStatement
from objects.services.catalogue import EditConflict, save_object
from tests.factories import make_location, make_object, make_user

pytestmark = [pytest.mark.django_db, pytest.mark.any_database]


def stage(text: str, **how) -> ListImport:
    return stage_list(kind="objects", file_name="list.csv", data=text.encode(), **how)


def during(action):
    """A progress that does something once all rows are worked out, just before they are stored."""

    def tell(percent: int, stage: str, *_) -> None:
        if stage.startswith("Storing"):
            action()

    return tell


def test_every_row_is_told_with_what_it_changed():
    make_object(number="7.1", name="Bowl", weight_g=Decimal("900"), materials="oak")
    make_object(number="7.2", name="Cup")
    listed = stage("Number,Name,Weight\n7.1,Dish,1 kg\n7.2,Cup,\n7.3,Jug,2 kg\n7.4,Fan,heavy\n")

    save_list(listed=listed)

    told = [(row.line, row.status, row.is_added, row.changes) for row in listed.rows.order_by("line")]
    assert told == [
        (2, "changed", False, {"version": [1, 2], "name": ["Bowl", "Dish"], "weight_g": ["900", "1000"]}),
        (3, "unchanged", False, {}),
        (4, "new", True, {}),
        (5, "refused", False, {}),
    ]
    records = dict(listed.rows.values_list("key", "record"))
    assert records["7.3"] == CatalogueObject.objects.get(number="7.3").pk


def test_only_what_the_list_tells_is_changed():
    room = make_location("Room")
    make_object(number="7.1", name="Bowl", materials="oak", location=room, condition="fair")

    save_list(listed=stage("Number,Condition\n7.1,poor\n"))

    thing = CatalogueObject.objects.get()
    assert (thing.condition, thing.materials, thing.location, thing.version) == ("poor", "oak", room, 2)


def test_a_new_object_gets_the_usual_values_of_what_the_list_does_not_tell():
    save_list(listed=stage("Number,Name\n7.10,Bowl\n"))

    thing = CatalogueObject.objects.get()
    assert (thing.priority, thing.present_housing, thing.quantity, thing.version) == ("B", "none", 1, 1)
    assert thing.number_key == "017.0210"  # each run of digits led by its length in two figures
    assert thing.created_at == thing.changed_at


def test_places_are_made_once_however_they_are_written():
    make_location("House")
    rows = "7.1,Bowl,house / Room 1\n7.2,Cup,House > room 1\n7.3,Jug,House / Room 2 / Bay\n"
    listed = stage(f"Number,Name,Location\n{rows}")

    save_list(listed=listed)

    places = CatalogueObject.objects.order_by("number").values_list("location__path", flat=True)
    assert list(places) == ["House / Room 1", "House / Room 1", "House / Room 2 / Bay"]
    listed.refresh_from_db()
    made = Location.objects.filter(pk__in=listed.reading["places_made"])
    assert [str(place) for place in made] == ["House / Room 1", "House / Room 2", "House / Room 2 / Bay"]


def test_a_stated_need_goes_into_the_trail():
    by = make_user("surveyor")
    make_object(number="7.1", need_by_hand="poor", need_note="Its box is acidic")
    listed = stage("Number,Name,Housing need\n7.1,Bowl,adequate\n7.2,Cup,unhoused\n7.3,Jug,\n")

    save_list(listed=listed, by=by)

    trail = NeedStatement.objects.order_by("object__number").values_list(
        "object__number", "need", "note", "by"
    )
    note = "Stated in the list list.csv."
    assert list(trail) == [("7.1", "adequate", note, by.pk), ("7.2", "unhoused", note, by.pk)]
    thing = CatalogueObject.objects.get(number="7.2")
    assert (thing.need_by_hand, thing.need_said_by) == ("unhoused", by)
    assert thing.need_said_at is not None


def test_the_same_list_saved_again_changes_nothing():
    text = "Number,Name,Height,Width,Depth,Unit,Location,Housing need\n7.1,Bowl,10,9,8,in,House / Room,poor\n"
    save_list(listed=stage(text))
    before = CatalogueObject.objects.values().get()

    again = stage(text)
    counts = save_list(listed=again)

    assert counts == {"refused": 0, "check": 0, "changed": 0, "new": 0, "unchanged": 1}
    assert CatalogueObject.objects.values().get() == before


def test_what_a_person_took_a_column_for_is_remembered_once_the_list_is_saved():
    listed = stage("Ref,Name\n7.1,Bowl\n")
    listed.columns = {"number": "Ref", "name": "Name"}
    listed.save()

    save_list(listed=listed)

    assert stage("Ref,Name\n7.2,Cup\n").columns == {"number": "Ref", "name": "Name"}
    assert ColumnMemory.objects.get(heading="ref").field == "number"


# ---- Somebody else at the same time -----------------------------------------------------------------------


def test_an_edit_saved_meanwhile_is_not_lost():
    thing = make_object(number="7.1", name="Bowl", materials="oak")
    listed = stage("Number,Name,Materials\n7.1,Dish,\n")

    save_list(
        listed=listed,
        progress=during(
            lambda: save_object(
                thing=CatalogueObject.objects.get(), changes={"materials": "elm"}, seen_version=1
            )
        ),
    )

    thing.refresh_from_db()
    # version 1, the edit makes it 2, the list 3
    assert (thing.name, thing.materials, thing.version) == ("Dish", "elm", 3)
    assert listed.rows.get().changes == {"version": [2, 3], "name": ["Bowl", "Dish"]}


def test_an_edit_begun_before_the_list_was_saved_is_told_of_it():
    thing = make_object(number="7.1", name="Bowl")
    save_list(listed=stage("Number,Name\n7.1,Dish\n"))

    with pytest.raises(EditConflict):
        save_object(thing=thing, changes={"name": "Basin"}, seen_version=1)


def test_an_object_added_meanwhile_is_changed_instead_of_added_twice():
    listed = stage("Number,Name\n7.1,Dish\n7.2,Cup\n")

    counts = save_list(listed=listed, progress=during(lambda: make_object(number="7.1", name="Bowl")))

    assert (counts["new"], counts["changed"]) == (1, 1)
    assert set(CatalogueObject.objects.values_list("number", "name")) == {("7.1", "Dish"), ("7.2", "Cup")}


def test_an_object_deleted_meanwhile_is_added_again():
    make_object(number="7.1", name="Bowl")
    listed = stage("Number,Name\n7.1,Dish\n")

    counts = save_list(listed=listed, progress=during(CatalogueObject.objects.all().delete))

    assert (counts["new"], CatalogueObject.objects.get().name) == (1, "Dish")


def test_a_number_taken_at_the_very_same_moment_ends_in_a_sentence(monkeypatch):
    listed = stage("Number,Name\n7.1,Dish\n")

    def taken(*_):
        raise IntegrityError

    monkeypatch.setattr("objects.intake.waiting.WaitingRows._store_objects", taken)

    with pytest.raises(IntakeRefused, match="at the very same moment, so nothing was saved"):
        save_list(listed=listed)
    listed.refresh_from_db()
    assert listed.state == "staged"


@pytest.mark.parametrize("at", [1, 95])
def test_a_list_cancelled_before_it_is_stored_leaves_nothing(at):
    make_object(number="7.1", name="Bowl")
    rows = "".join(f"8.{n},Button,House / Room\n" for n in range(LONG_LIST))
    listed = stage(f"Number,Name,Location\n7.1,Dish,House / Room\n{rows}")

    def cancel(percent: int, *_) -> None:
        if percent >= at:
            raise JobCancelled

    with pytest.raises(JobCancelled):
        save_list(listed=listed, progress=cancel)

    listed.refresh_from_db()
    assert (listed.state, CatalogueObject.objects.get().name, Location.objects.count()) == (
        "staged",
        "Bowl",
        0,
    )
    assert TABLE not in connection.introspection.table_names()


# ---- Long lists -------------------------------------------------------------------------------------------


def test_a_long_list_is_read_and_stored_chunk_by_chunk_with_its_progress():
    rows = "".join(f"8.{n},Button,{n % 90 + 1} x 2 x 2 cm\n" for n in range(2 * LONG_LIST + 1))
    listed = stage(f"Number,Name,Dimensions\n{rows}7.9,Cup,0 cm\n")
    told: list[int] = []

    read_rows(listed=listed, progress=lambda percent, *_: told.append(percent))
    listed.refresh_from_db()
    counts = save_list(listed=listed, progress=lambda percent, *_: told.append(percent))

    # 4,002 rows in chunks of 2,000: reading ends at 99 %, storing begins at 95 %
    assert told == [0, 49, 98, 99, 47, 94, 95, 95]
    assert (counts["new"], counts["refused"]) == (4001, 1)
    assert ImportedRow.objects.filter(listed=listed).count() == 4002
    assert CatalogueObject.objects.filter(depth_mm=20, size_state="known").count() == 4001


def test_of_a_long_list_that_waits_every_problem_and_the_first_rows_are_kept():
    rows = "".join(f"8.{n},Button,{'heavy' if n % 10 == 0 else ''}\n" for n in range(3000))
    listed = read_rows(listed=stage(f"Number,Name,Weight\n{rows}"))

    kept = dict(listed.rows.order_by().values_list("status").annotate(rows=F("line") * 0).distinct())
    assert set(kept) == {"refused", "new"}
    assert [listed.rows.filter(status=status).count() for status in ("refused", "new")] == [300, 200]
    assert (listed.counts["refused"], listed.counts["new"]) == (300, 2700)


def test_sizes_are_not_read_again_when_the_list_is_saved(monkeypatch):
    listed = stage("Number,Name,Dimensions\n7.1,Bowl,10 x 9 x 8 in\n")
    monkeypatch.setattr("objects.core.size_reader.read_dimensions", lambda *_: 1 / 0)

    save_list(listed=ListImport.objects.get(pk=listed.pk))

    assert CatalogueObject.objects.get().height_mm == Decimal("254")  # 10 in at 25.4 mm to the inch


# ---- The report -------------------------------------------------------------------------------------------


def test_the_report_tells_changes_in_words_and_harmless_cells():
    make_object(number="7.1", name="Bowl", condition="fair")
    listed = stage('Number,Name,Condition,Dimensions\n7.1,"=1+1",poor,30 x 20 x 10 cm\n')
    save_list(listed=listed)

    (line,) = Report(listed).lines(report_of(listed))

    assert line[:3] == [2, "7.1", "Changed"]
    assert line[3].startswith("Name: Bowl → =1+1; Height: 254 mm → 300 mm; Width: 222.3 mm → 200 mm;")


def test_a_report_cell_that_a_spreadsheet_would_run_is_made_harmless():
    listed = stage('Number,Name,Weight\n"=7.1",Bowl,heavy\n7.2,Cup,\n')
    save_list(listed=listed)

    csv = b"".join(Report(listed).csv(report_of(listed, "refused"))).decode("utf-8-sig")

    assert csv.splitlines()[1].split(",")[:3] == ["2", "'=7.1", "Refused"]


def test_understanding_a_list_stores_nothing():
    listed = stage("Number,Name,Location\n7.1,Bowl,House / Room\n")

    assert [row.status for row in understood_of(listed).rows] == ["new"]
    assert (CatalogueObject.objects.count(), Location.objects.count()) == (0, 0)
