"""The way back to the shelf: tried first, in its new place, with who and when, and undone as a whole."""

from decimal import Decimal
from io import BytesIO
from uuid import uuid4

import pytest
from django.core.files.base import ContentFile
from django.utils import timezone
from PIL import Image

from housing.models import FitCheck, HousedPhoto
from housing.services.bench_entries import Ask, BenchRefused, record, undo
from housing.services.tasks import TaskRefused
from objects.models import ObjectMove
from tests.factories import make_campaign, make_housing, make_location, make_object, make_tasks, make_user

pytestmark = pytest.mark.django_db


@pytest.fixture
def maker():
    return make_user("maker")


@pytest.fixture
def shelf():
    return make_location("Shelf 3")


@pytest.fixture
def made(shelf):
    """A made box of two objects of shelf 3, of which only the return is left to do."""
    things = [make_object(location=shelf) for _ in range(2)]
    box = make_housing(*things, campaign=make_campaign(*things), status="made")
    make_tasks(box, "return")
    return box


def act(maker, what: str, box, *, minutes=None, photo=None, **detail):
    ask = Ask(what, maker, timezone.now(), housing=box, minutes=minutes, detail=detail, photo=photo)
    return record(entry_id=uuid4(), ask=ask).entry


def places(box) -> list[str]:
    return [str(tie.object.location) for tie in box.contents.select_related("object__location")]


def test_a_tried_box_goes_back_to_where_it_was(maker, made):
    act(maker, "fits", made)

    act(maker, "housed", made, minutes=Decimal(4))

    made.refresh_from_db()
    task = made.tasks.get()
    assert (made.status, task.state, task.spent_minutes) == ("housed", "done", 4)
    assert places(made) == ["Shelf 3", "Shelf 3"]
    assert not ObjectMove.objects.exists()


def test_a_new_place_is_kept_with_who_and_when(maker, made):
    new = make_location("Shelf 9")

    act(maker, "housed", made, all_well="yes", place=" shelf 9 ")

    assert places(made) == ["Shelf 9", "Shelf 9"]
    moves = ObjectMove.objects.all()
    assert {(move.path_before, move.path, move.place, move.by) for move in moves} == {
        ("Shelf 3", "Shelf 9", new, maker)
    }
    assert FitCheck.objects.get(housing=made).is_good


def test_a_box_that_was_not_tried_is_not_put_back(maker, made):
    with pytest.raises(BenchRefused, match="was not tried yet. Does the object fit"):
        act(maker, "housed", made)

    made.refresh_from_db()
    assert made.status == "made"


def test_a_place_that_nobody_knows_is_refused_with_nothing_moved(maker, made):
    with pytest.raises(BenchRefused, match="No place is called “Shelf 99”"):
        act(maker, "housed", made, all_well="yes", place="Shelf 99")

    made.refresh_from_db()
    assert (made.status, FitCheck.objects.count()) == ("made", 0)


def test_steps_left_open_hold_it_back(maker, made):
    make_tasks(made, "label")

    with pytest.raises(TaskRefused, match="comes after “Label”"):
        act(maker, "housed", made, all_well="yes")


def test_it_is_undone_with_place_task_and_check(maker, made):
    make_location("Shelf 9")
    entry = act(maker, "housed", made, all_well="yes", place="Shelf 9")

    undo(entry=entry, by=maker)

    made.refresh_from_db()
    assert (made.status, made.tasks.get().state, places(made)) == ("made", "to_do", ["Shelf 3", "Shelf 3"])
    assert FitCheck.objects.get().is_void
    assert list(made.events.values_list("status", flat=True)) == ["made", "housed", "made"]
    assert ObjectMove.objects.count() == 4  # there and back, two objects


def test_a_photo_of_the_housed_object_is_kept(maker, made, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    picture = BytesIO()
    Image.new("RGB", (60, 40), "teal").save(picture, "JPEG")

    act(maker, "photo", made, photo=ContentFile(picture.getvalue(), "p.jpg"))

    photo = HousedPhoto.objects.get()
    assert (photo.housing, photo.by, photo.photo.width) == (made, maker, 60)


def test_a_photo_taken_by_mistake_is_removed(
    maker, made, settings, tmp_path, django_capture_on_commit_callbacks
):
    settings.MEDIA_ROOT = tmp_path
    picture = BytesIO()
    Image.new("RGB", (60, 40)).save(picture, "JPEG")
    entry = act(maker, "photo", made, photo=ContentFile(picture.getvalue(), "p.jpg"))

    with django_capture_on_commit_callbacks(execute=True):
        undo(entry=entry, by=maker)

    assert not HousedPhoto.objects.exists()
    assert [path for path in tmp_path.rglob("*") if path.is_file()] == []


def test_an_entry_without_its_photo_is_refused(maker, made):
    with pytest.raises(BenchRefused, match="There is no photo in this"):
        act(maker, "photo", made)
