"""Undoing a list: as long as nothing was built on it, all is as before; else nothing is touched, and told."""

from decimal import Decimal

import pytest
from django.utils import timezone

from housing.intake.imports import stage_list
from housing.intake.saving import save_list
from housing.intake.undoing import UndoRefused, require_undoable, undo_list
from housing.models import Campaign
from objects.models import CatalogueObject, ListImport, Location, SurveyEntry
from objects.services.catalogue import save_object
from objects.services.need import record_need
from tests.factories import make_board, make_campaign, make_housing, make_location, make_object, make_user

pytestmark = [pytest.mark.django_db, pytest.mark.any_database]
LIST = (
    "Number,Name,Dimensions,Weight,Location,Housing need\n"
    "7.1,Dish,30 x 20 x 10 cm,1 kg,House / Room 2,poor\n"
    "7.2,Cup,,,House / Room 3 / Bay,\n"
)


def saved(text: str = LIST, kind: str = "objects") -> ListImport:
    listed = stage_list(kind=kind, file_name="list.csv", data=text.encode())
    save_list(listed=listed)
    return ListImport.objects.get(pk=listed.pk)


def bowl(**given) -> CatalogueObject:
    house = make_location("House")
    room = make_location("Room 1", parent=house)
    return make_object(number="7.1", name="Bowl", weight_g=Decimal("900"), location=room, **given)


def as_it_is(thing: CatalogueObject) -> dict:
    """Every field but those that only count and date changes."""
    values = CatalogueObject.objects.filter(pk=thing.pk).values().get()
    return {field: value for field, value in values.items() if field not in ("version", "changed_at")}


def test_what_was_added_goes_and_what_was_changed_has_its_former_values():
    thing = bowl()
    before, places = as_it_is(thing), set(Location.objects.values_list("path", flat=True))
    listed = saved()
    assert as_it_is(thing) != before

    undo_list(listed=listed, by=make_user("surveyor"))

    assert (as_it_is(thing), CatalogueObject.objects.count()) == (before, 1)
    assert set(Location.objects.values_list("path", flat=True)) == places
    listed.refresh_from_db()
    assert (listed.state, listed.undone_by.username[:8]) == ("undone", "surveyor")


def test_a_list_that_is_undone_can_be_handed_in_and_saved_again():
    undo_list(listed=saved())

    assert saved().counts["new"] == 2


def test_undoing_counts_as_a_change_so_that_an_edit_begun_before_is_told():
    thing = bowl()

    undo_list(listed=saved())

    thing.refresh_from_db()
    assert thing.version == 3  # 1, then the list, then undoing it


def test_taking_a_need_back_goes_into_the_trail():
    thing = bowl()

    undo_list(listed=saved())

    assert list(thing.need_statements.order_by("pk").values_list("need", "note")) == [
        ("poor", "Stated in the list list.csv."),
        ("", "Undone: what the list list.csv said"),
    ]


def test_a_place_of_the_list_that_is_used_meanwhile_stays():
    listed = saved()
    make_object(number="9.9", location=Location.objects.get(path="House / Room 3 / Bay"))

    undo_list(listed=listed)

    paths = [place.path for place in Location.objects.all()]
    assert paths == ["House", "House / Room 3", "House / Room 3 / Bay"]


def in_a_campaign(thing):
    make_campaign(thing, name="Move")


def with_a_housing(thing):
    make_housing(thing)


def surveyed(thing):
    SurveyEntry.objects.create(object=thing, measured_at=timezone.now())


def edited(thing):
    save_object(thing=thing, changes={"materials": "elm"}, seen_version=thing.version)


def changed_by_a_list(thing):
    saved(f"Number,Name\n{thing.number},Basin\n")


def stated(thing):
    record_need(objects=[thing], need="poor", note="It leans")


@pytest.mark.parametrize(
    "build, why",
    [
        (in_a_campaign, "it is in the campaign “Move”"),
        (with_a_housing, "a housing is planned or made for it"),
        (surveyed, f"it was surveyed on {timezone.now():%Y-%m-%d}"),
        (edited, "it was changed since the list was saved, by a person or another list"),
        (changed_by_a_list, "it was changed since the list was saved, by a person or another list"),
        (stated, "it was changed since the list was saved, by a person or another list"),
    ],
)
def test_an_added_object_on_which_something_was_built_stands_in_the_way(build, why):
    listed = saved()
    build(CatalogueObject.objects.get(number="7.2"))

    with pytest.raises(UndoRefused) as refused:
        undo_list(listed=listed)

    (obstacle,) = refused.value.obstacles
    assert (obstacle.words[:3], obstacle.why) == ("7.2", why)
    assert obstacle.url.startswith("/objects/")
    assert CatalogueObject.objects.count() == 2


@pytest.mark.parametrize("build", [with_a_housing, surveyed, edited, changed_by_a_list])
def test_a_changed_object_on_which_something_was_built_since_stands_in_the_way(build):
    thing = bowl()
    listed = saved()
    thing.refresh_from_db()
    build(thing)
    after = as_it_is(thing)

    with pytest.raises(UndoRefused, match="nothing of it was undone"):
        undo_list(listed=listed)

    assert (as_it_is(thing), CatalogueObject.objects.count()) == (after, 2)


def test_what_a_changed_object_had_before_the_list_does_not_stand_in_the_way():
    thing = bowl()
    make_campaign(thing)
    make_housing(thing)
    before = as_it_is(thing)

    undo_list(listed=saved())

    assert as_it_is(thing) == before


def test_campaigns_of_changed_objects_are_out_of_date_after_undoing():
    campaign = make_campaign(bowl())
    listed = saved()
    before = Campaign.objects.get().changed_at

    undo_list(listed=listed)

    campaign.refresh_from_db()
    assert campaign.changed_at > before


def test_at_most_ten_obstacles_are_told():
    listed = saved("Number,Name\n" + "".join(f"8.{n},Button\n" for n in range(12)))
    make_campaign(*CatalogueObject.objects.all())

    with pytest.raises(UndoRefused) as refused:
        undo_list(listed=listed)

    assert len(refused.value.obstacles) == 10


def test_a_former_place_that_is_gone_stands_in_the_way():
    bowl()
    listed = saved()
    Location.objects.filter(path="House / Room 1").delete()

    with pytest.raises(UndoRefused) as refused:
        undo_list(listed=listed)

    assert [obstacle.why for obstacle in refused.value.obstacles] == [
        "the place where it was, House / Room 1, is no longer there"
    ]
    assert CatalogueObject.objects.get(number="7.1").name == "Dish"


def test_a_list_of_places_is_undone():
    make_location("House", note="Old")
    listed = saved(
        "Location,Type,Note\nHouse,building,New\nHouse / Room / Chest,cabinet,Sticks\n", "locations"
    )

    undo_list(listed=listed)

    assert list(Location.objects.values_list("path", "kind", "note")) == [("House", "shelf", "Old")]


def test_a_place_where_objects_are_kept_stands_in_the_way():
    listed = saved("Location,Note\nHouse / Room,\nHouse / Bay,\n", "locations")
    make_object(location=Location.objects.get(path="House / Room"))

    with pytest.raises(UndoRefused) as refused:
        undo_list(listed=listed)

    assert [(each.words, each.why) for each in refused.value.obstacles] == [
        ("House / Room", "objects are kept there")
    ]
    assert Location.objects.count() == 3


@pytest.mark.parametrize(
    "kind, text", [("people", "Name,Hours per week\nAda Vole,3\n"), ("designs", "Name,Board\nTray,B32\n")]
)
def test_lists_of_other_kinds_are_not_undone_and_say_what_to_do(kind, text):
    make_board(code="B32")

    with pytest.raises(
        UndoRefused, match="Change its records on their own pages, or hand in a corrected list"
    ):
        undo_list(listed=saved(text, kind))


def test_a_list_saved_before_its_rows_were_kept_is_not_undone():
    listed = saved()
    listed.reading = {}

    with pytest.raises(UndoRefused, match="was saved before lists could be undone"):
        require_undoable(listed)


def test_only_a_saved_list_is_undone_and_only_once():
    staged = stage_list(kind="objects", file_name="list.csv", data=LIST.encode())
    listed = saved()
    undo_list(listed=listed)

    with pytest.raises(UndoRefused, match="nothing is to undo"):
        undo_list(listed=staged)
    with pytest.raises(UndoRefused, match="is undone; nothing is to undo"):
        undo_list(listed=ListImport.objects.get(pk=listed.pk))
