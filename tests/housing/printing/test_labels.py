"""Labels: what they say of their boxes, where they are asked to start, and in which pieces they are made."""

from dataclasses import asdict
from decimal import Decimal
from io import BytesIO

import pytest
from django.core.files.base import ContentFile
from PIL import Image
from pypdf import PdfReader

from housing.core.label_sheets import LabelLayout
from housing.printing.asked import Asked
from housing.printing.labels import DEFAULT_LAYOUTS, labels_context, make_label
from housing.printing.papers import PAPERS
from housing.printing.pdfs import make_print
from housing.queries.prints import boxes_to_print
from objects.core.words import speaking
from objects.readers import Reader
from tests.factories import make_board, make_design, make_location, make_object
from tests.housing.printing.boxes import make_box

SITE = "https://planner.example/"
A4 = PAPERS["A4"]


def context_of(*boxes, layout=DEFAULT_LAYOUTS["A4"], start=1, **given):
    return labels_context(boxes_to_print([box.pk for box in boxes]), SITE, layout, start, **given)


def label_of(box, size_mm=(99.1, 67.7)):
    """The label of one box, on a roomy label where no other is asked for."""
    (housing,) = boxes_to_print([box.pk])
    return make_label(housing, size_mm, SITE)


def marks_of(box) -> list[str]:
    return [mark.words for mark in label_of(box).said.marks]


@pytest.mark.django_db
def test_labels_begin_at_the_place_asked_for():
    boxes = [make_box() for _ in range(3)]

    context = context_of(*boxes, start=23)

    assert [[place for place, _ in page] for page in context["pages"]] == [[22, 23], [0]]
    assert [label.said.box[:8] for label in context["labels"]] == [box.box_number for box in boxes]


@pytest.mark.django_db
def test_a_label_warns_of_hazards_and_says_how_to_handle_the_box():
    frail = make_object(condition="fragile", weight_g=Decimal(12_500), hazards="lead")
    first = make_box(frail)
    second = make_box(make_object(), design=make_design(form="tray"))

    assert label_of(first).said.hazards.words == "Hazard: Lead"
    # names of ISO 780 where it has them
    assert marks_of(first) == ["Fragile, handle with care", "This way up", "Two people"]
    assert (label_of(second).said.hazards, marks_of(second)) == (None, [])


@pytest.mark.django_db
def test_marks_that_rules_advise_stand_on_the_label_once_each_the_most_urgent_first():
    box = make_box(make_object(condition="fragile"))
    box.advice = {"marks": [{"value": mark} for mark in ("gloves", "fragile", "ask_first")]}
    box.save()

    assert marks_of(box) == ["Ask before opening", "Fragile, handle with care", "This way up", "Wear gloves"]


@pytest.mark.django_db
def test_a_rule_that_forbids_stacking_goes_before_the_height_that_was_worked_out():
    strong = make_design(board=make_board(grammage_g_m2=600, edge_crush_kn_m=5))
    box = make_box(make_object(weight_g=Decimal(500)), design=strong)
    before = marks_of(box)
    box.advice = {"marks": [{"value": "do_not_stack"}]}
    box.save()

    # the name of ISO 780, with its number
    assert [word for word in before if "tack" in word] == ["Stacking limit by number: 8"]
    assert [word for word in marks_of(box) if "tack" in word] == ["Do not stack"]


@pytest.mark.django_db
def test_the_weight_stands_beside_the_two_people_who_lift_it_and_stacking_comes_last():
    strong = make_design(board=make_board(grammage_g_m2=600, edge_crush_kn_m=5))
    box = make_box(make_object(weight_g=Decimal(12_800)), design=strong)
    box.advice = {"marks": [{"value": "gloves"}]}
    box.save()

    said = marks_of(box)

    assert said[:2] == ["This way up", "Two people"]
    assert said[2].endswith(" kg") and said[3] == "Wear gloves"
    assert said[4].startswith("Stacking limit by number: ")


@pytest.mark.django_db
def test_every_mark_carries_its_sign():
    box = make_box(make_object(condition="fragile", hazards="lead"))

    page = context_of(box)["labels"][0].said

    assert (page.hazards.sign, [mark.sign for mark in page.marks]) == ("⚠", ["\U0001f377", "⇈"])


@pytest.mark.django_db
def test_a_set_is_labelled_with_its_first_numbers_and_how_many_more():
    things = [make_object(number=f"1990.7.{part}") for part in range(1, 6)]

    assert label_of(make_box(*things)).said.number == "1990.7.1, 1990.7.2 + 3 more"


@pytest.mark.django_db
def test_the_place_is_told_by_its_last_two_steps():
    room = make_location("Store 1")
    shelf = make_location("Shelf 4", parent=make_location("Bay 2", parent=room))

    assert label_of(make_box(make_object(location=shelf))).said.place == "Bay 2 / Shelf 4"


@pytest.mark.django_db
def test_a_photo_that_cannot_be_read_leaves_its_room_to_the_words(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    kept = BytesIO()
    Image.new("RGB", (100, 100)).save(kept, "PNG")
    good = make_object(photo=ContentFile(kept.getvalue(), "jar.png"))
    broken = make_object(photo=ContentFile(b"no picture", "jar.jpg"))

    with_photo, without = label_of(make_box(good)), label_of(make_box(broken))

    assert with_photo.photo.startswith("data:image/jpeg;base64,") and with_photo.face.photo
    assert (without.photo, without.face.photo) == ("", None)


@pytest.mark.django_db
def test_a_label_speaks_the_readers_language_and_uses_its_decimal_sign():
    box = make_box(
        make_object(weight_g=Decimal(12_500)), design=make_design(board=make_board(grammage_g_m2=600))
    )

    with speaking("fr"):
        said = marks_of(box)

    assert any("," in words and words.endswith(" kg") for words in said)


@pytest.mark.pango
@pytest.mark.django_db
def test_label_sheets_in_pieces_are_the_same_as_in_one(monkeypatch):
    monkeypatch.setattr("housing.printing.pieces.PIECE_PAGES", 1)
    boxes = [make_box() for _ in range(5)]
    layout = LabelLayout(210, 297, 2, 2, 100, 140, 5, 8.5)
    asked = Asked(
        what="labels",
        keys=tuple(box.pk for box in boxes),
        reader=Reader(),
        paper=A4,
        base_url=SITE,
        options={"layout": asdict(layout), "start": 4},
    )

    file = make_print(asked=asked, progress=lambda percent, stage: None)

    pages = [page.extract_text() for page in PdfReader(BytesIO(file)).pages]
    assert [sum(box.box_number in page for box in boxes) for page in pages] == [1, 4]
    # ISO 216: A4 is 210 x 297 mm
    sides = PdfReader(BytesIO(file)).pages[0].mediabox[2:]
    assert [float(side) * 25.4 / 72 for side in sides] == pytest.approx([210, 297], abs=0.1)
