"""What the page of an object tells of its work: questions, fit checks, photos, moves, bench entries."""

from decimal import Decimal
from io import BytesIO
from uuid import uuid4

import pytest
from django.core.files.base import ContentFile
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone
from PIL import Image

from housing.models import BenchEntry, FitCheck, Hold, HousedPhoto
from housing.queries.object_trail import question_for_conservator
from objects.services.moves import move_object
from tests.factories import make_campaign, make_design, make_housing, make_location, make_object

ENTRY = reverse("housing:bench-entry")

pytestmark = pytest.mark.django_db


@pytest.fixture
def thing():
    return make_object(number="7.1", hazards="mould; lead", location=make_location("Room 1"))


@pytest.fixture
def box(thing):
    return make_housing(thing, campaign=make_campaign(thing), status="made")


def page_of(client, thing) -> str:
    return client.get(reverse("housing:object-detail", args=[thing.pk])).content.decode()


def ask(box, question: str) -> dict:
    return {"entry_id": uuid4(), "what": "hold", "housing": box.pk, "detail-reason": "conservator",
            "detail-question": question, "next": "/"}  # fmt: skip


def test_hazards_and_advice_to_confirm_make_the_question(thing, box):
    box.advice = {
        "padding": [
            {"words": "Line with soft tissue", "is_advice": True},
            {"words": "Foam all round", "is_advice": False},
        ]
    }

    # the keys of hazards and pieces in the words that readers see
    assert question_for_conservator(thing, box) == (
        f"Please confirm for 7.1: hazards ({', '.join(thing.hazard_list)}); padding: Line with soft tissue."
    )


def test_without_hazards_and_advice_nothing_is_to_be_confirmed(box):
    assert question_for_conservator(make_object(hazards=""), box) == ""


def test_one_click_asks_a_conservator_and_the_question_stands_on_the_page(maker, thing, box):
    page = maker.get(reverse("housing:object-detail", args=[thing.pk]))

    maker.post(ENTRY, ask(box, page.context["question"]))

    hold = Hold.objects.get()
    text = page_of(maker, thing)
    assert hold.question.startswith("Please confirm for 7.1: hazards (")
    assert "Open, for a conservator:" in text
    assert "Ask a conservator" not in text  # as long as that one is open


@pytest.mark.parametrize("status", ["housed", "dropped"])
def test_a_box_that_is_done_with_is_not_asked_about(maker, thing, status):
    make_housing(thing, status=status)

    assert "Ask a conservator" not in page_of(maker, thing)


def test_whoever_does_not_work_on_the_box_reads_only(viewer, thing, box):
    assert "Ask a conservator" not in page_of(viewer, thing)


def test_fit_checks_of_dropped_boxes_stay_on_the_page(viewer, thing):
    old = make_housing(thing, status="dropped", campaign=make_campaign())
    told = {"housing": old, "fits": False, "lid_closes": True, "nothing_touches": True, "at": timezone.now()}
    FitCheck.objects.create(
        **told, cause="cutting", side="depth", short_mm=Decimal("-9.525"), remedy="remake"
    )
    FitCheck.objects.create(**told, cause="board", remedy="adjust", is_void=True)

    text = page_of(viewer, thing)

    assert "It was cut or scored wrongly, depth, 3/8 in too large" in text  # 0.375 x 25.4 = 9.525
    assert "Taken back" in text


def test_moves_and_entries_are_told_with_who_and_when(maker, thing, box):
    who = maker.get("/").context["user"]
    move_object(thing=thing, place=make_location("Room 2"), by=who, note="Put on its shelf")
    BenchEntry.objects.create(what="fits", housing=box, at=timezone.now(), by=who, message="It fits.")

    text = page_of(maker, thing)

    assert f"from Room 1 to <b>Room 2</b> by {who.username}: Put on its shelf" in text
    assert f"<b>Fits</b> (entered by {who.username}): It fits." in text


@pytest.fixture
def photo(box, settings, tmp_path) -> HousedPhoto:
    settings.MEDIA_ROOT = tmp_path
    picture = BytesIO()
    Image.new("RGB", (60, 40)).save(picture, "JPEG")
    kept = HousedPhoto(housing=box, at=timezone.now())
    kept.photo.save("p.jpg", ContentFile(picture.getvalue()))
    return kept


def test_the_photo_of_the_housed_object_is_shown_to_those_signed_in(viewer, thing, photo):
    address = reverse("housing:housed-photo", args=[photo.pk])

    assert address in page_of(viewer, thing)
    answer = viewer.get(address)
    answer.close()
    assert (answer.status_code, answer["Content-Type"]) == (200, "image/jpeg")
    assert answer["Cache-Control"] == "private, max-age=300"


def test_nobody_else_sees_it(client, photo):
    address = reverse("housing:housed-photo", args=[photo.pk])

    assert client.get(address).status_code == 302


def test_a_photo_that_is_gone_is_not_found(viewer, photo):
    photo.photo.storage.delete(photo.photo.name)

    assert viewer.get(reverse("housing:housed-photo", args=[photo.pk])).status_code == 404
    assert viewer.get(reverse("housing:housed-photo", args=[photo.pk + 1])).status_code == 404


def test_more_of_a_trail_takes_no_more_queries(maker, thing, box):
    def queries() -> int:
        with CaptureQueriesContext(connection) as caught:
            page_of(maker, thing)
        return len(caught)

    def more() -> None:
        now, design = timezone.now(), make_design()
        old = make_housing(thing, status="dropped", campaign=make_campaign(), design=design)
        good = {"fits": True, "lid_closes": True, "nothing_touches": True}
        FitCheck.objects.create(housing=old, at=now, **good)
        Hold.objects.create(housing=old, question="Is it?", asked_at=now)
        BenchEntry.objects.create(what="fits", housing=old, at=now)
        move_object(thing=thing, place=make_location())

    more()
    page_of(maker, thing)
    one = queries()
    more()
    more()

    assert queries() == one
