"""Where objects were and went: kept whoever moves them and however, with who, when and why."""

import pytest
from django.urls import reverse
from django.utils import timezone

from housing.intake.imports import stage_list
from housing.intake.saving import save_list
from housing.intake.undoing import undo_list
from objects.models import CatalogueObject, ListImport, ObjectMove, SurveyEntry
from objects.services.catalogue import save_object
from objects.services.measurements import MOVE, decide
from objects.services.moves import move_object
from tests.factories import make_location, make_object, make_user

pytestmark = [pytest.mark.django_db, pytest.mark.any_database]
LIST = "Number,Name,Location\n7.1,Dish,Room 2\n7.2,Cup,Room 1\n7.3,Jug,Room 1\n7.4,New,Room 1\n"


@pytest.fixture
def room():
    return make_location("Room 1")


@pytest.fixture
def who():
    return make_user("surveyor")


def moves() -> list[tuple]:
    found = ObjectMove.objects.order_by("object__number", "pk")
    return [(m.object.number, m.path_before, m.path, m.note, m.by) for m in found]


def saved(who, text: str = LIST) -> ListImport:
    listed = stage_list(kind="objects", file_name="move.csv", data=text.encode(), by=who)
    save_list(listed=listed, by=who)
    return ListImport.objects.get(pk=listed.pk)


def test_a_move_tells_from_where_to_where_and_counts_the_version_up(room, who):
    thing, new = make_object(number="7.1", location=room), make_location("Room 2")

    move_object(thing=thing, place=new, by=who, note="Lent")

    thing.refresh_from_db()
    assert (thing.location, thing.version) == (new, 2)
    assert moves() == [("7.1", "Room 1", "Room 2", "Lent", who)]


def test_an_object_that_is_there_already_does_not_move(room, who):
    thing = make_object(location=room)

    assert move_object(thing=thing, place=room, by=who) is None
    assert (moves(), thing.version) == ([], 1)


def test_a_place_typed_on_the_page_of_an_object_is_a_move(room, who):
    thing = make_object(number="7.1", location=room)

    save_object(thing=thing, changes={"location": None, "name": "Dish"}, seen_version=1, by=who)
    save_object(thing=thing, changes={"name": "Bowl"}, seen_version=2, by=who)

    assert moves() == [("7.1", "Room 1", "", "Typed on its page", who)]


def test_the_form_of_an_object_keeps_where_it_was(client, room, who):
    thing, new = make_object(number="7.1", location=room), make_location("Room 2")
    client.force_login(who)
    address = reverse("objects:object-edit", args=[thing.pk])
    form = client.get(address).context["form"]
    typed = {name: "" if form[name].value() is None else form[name].value() for name in form.fields}

    client.post(address, {**typed, "photo": "", "location": new.pk})

    assert moves() == [("7.1", "Room 1", "Room 2", "Typed on its page", who)]


def test_a_new_object_has_not_moved(room, who):
    save_object(thing=CatalogueObject(), changes={"number": "7.9", "name": "Cup", "location": room}, by=who)

    assert moves() == []


def test_an_object_found_elsewhere_moves_when_that_is_decided(room, who):
    thing, new = make_object(number="7.1", location=room), make_location("Room 2")
    entry = SurveyEntry.objects.create(
        object=thing, found="elsewhere", place=new, measured_at=timezone.now(), by=who
    )

    decide(entry=entry, decision=MOVE, by=who)

    seen = f"Seen there on {entry.measured_at:%Y-%m-%d}"
    assert moves() == [("7.1", "Room 1", "Room 2", seen, who)]
    thing.refresh_from_db()
    assert (thing.location, thing.version) == (new, 2)


def test_a_list_moves_what_it_puts_elsewhere_and_nothing_else(room, who):
    for number, place in (("7.1", room), ("7.2", room), ("7.3", None)):
        make_object(number=number, location=place)

    listed = saved(who)

    assert moves() == [
        ("7.1", "Room 1", "Room 2", "List move.csv", who),
        ("7.3", "", "Room 1", "List move.csv", who),
    ]
    at = ObjectMove.objects.first().at
    assert abs(at - listed.saved_at).total_seconds() < 60
    assert ObjectMove.objects.filter(place__path="Room 2", place_before=room).count() == 1


def test_a_list_without_places_moves_nothing(room, who):
    make_object(number="7.1", location=room)

    saved(who, "Number,Name\n7.1,Dish\n")

    assert moves() == []


def test_a_list_that_is_undone_moves_objects_back(room, who):
    thing = make_object(number="7.1", location=room)

    undo_list(listed=saved(who), by=who)

    thing.refresh_from_db()
    assert thing.location == room
    assert moves() == [
        ("7.1", "Room 1", "Room 2", "List move.csv", who),
        ("7.1", "Room 2", "Room 1", "Undone: List move.csv", who),
    ]
