"""The print pages: choose, look, take the PDF; and what is said when that cannot be."""

from io import BytesIO

import pytest
from django.core.files.base import ContentFile
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from pypdf import PdfReader

from housing.models import Job, LabelSheet
from housing.pdf import PANGO_MISSING
from housing.views import prints
from tests.factories import make_campaign, make_location, make_object, make_person, make_tasks
from tests.housing.printing.boxes import make_box

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("usual_label_sheets")]
CUT_SHEETS, LABELS = "housing:print-cut-sheets", "housing:print-labels"


@pytest.fixture
def no_pango(monkeypatch):
    monkeypatch.setattr(prints, "pdf_problem", lambda: PANGO_MISSING)


def get(client, name: str, *things, **values):
    return client.get(reverse(name), {"object": [thing.pk for thing in things], **values})


def test_a_cut_sheet_is_shown_with_its_code(viewer):
    thing = make_object(number="1995.4.3")
    make_box(thing)

    answer = get(viewer, CUT_SHEETS, thing)

    page = answer.content.decode()
    assert (answer.status_code, page.count('class="page cut-sheet"')) == (200, 1)
    assert "1995.4.3" in page and "32 3/4" in page
    assert " style=" not in page


@pytest.mark.parametrize("name", [CUT_SHEETS, LABELS])
def test_a_number_too_long_for_any_object_is_passed_over(viewer, name):
    thing = make_object()
    make_box(thing)

    answer = viewer.get(reverse(name), {"object": [thing.pk, "9" * 30]})

    assert answer.status_code == 200


def test_strangers_are_sent_to_sign_in(client):
    for name in (CUT_SHEETS, LABELS, "housing:print-choose"):
        assert client.get(reverse(name)).url.startswith(reverse("login"))


@pytest.mark.parametrize("name", [CUT_SHEETS, LABELS])
def test_an_object_without_a_box_gets_a_sentence(viewer, name):
    answer = get(viewer, name, make_object())

    assert answer.status_code == 404
    assert "no object of your selection has a box with blanks yet" in answer.content.decode()


def test_objects_left_out_are_counted(viewer):
    housed, bare = make_object(), make_object()
    make_box(housed)

    page = get(viewer, CUT_SHEETS, housed, bare).content.decode()

    assert "1 object of your selection has no box with blanks yet" in page


def test_a_campaign_or_a_location_selects_its_boxes(viewer):
    shelf, other = make_location(), make_location()
    here, there = make_object(location=shelf), make_object(location=other)
    boxes = {thing: make_box(thing).box_number for thing in (here, there)}
    campaign = make_campaign(there)

    for values, wanted, unwanted in (
        ({"location": shelf.pk}, here, there),
        ({"campaign": campaign.pk}, there, here),
    ):
        page = viewer.get(reverse(LABELS), values).content.decode()
        assert boxes[wanted] in page
        assert boxes[unwanted] not in page


def test_without_a_selection_the_reader_chooses_first(viewer):
    assert viewer.get(reverse(CUT_SHEETS)).url == reverse("housing:print-choose")
    assert (
        "Choose a campaign, a location, a person or several of them."
        in viewer.get(reverse("housing:print-choose")).content.decode()
    )


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"start": "25"}, "A sheet has 24 labels; 25 is past its end."),
        ({"start": "0"}, "Enter a whole number, 1 or more."),
        ({"sheet": "999999"}, "There is no such label sheet any more. Choose another."),
        ({"week": "2"}, "Weeks are counted in a campaign. Choose one as well."),
    ],
)
def test_what_cannot_be_printed_is_refused_beside_its_field(viewer, values, words):
    thing = make_object()
    make_box(thing)

    answer = get(viewer, LABELS, thing, paper="A4", **values)

    assert answer.status_code == 400
    assert words in answer.content.decode()


def test_labels_come_on_the_sheet_that_was_chosen_from_the_first_free_one(viewer):
    thing = make_object()
    make_box(thing)
    sheet = LabelSheet.objects.get(name="2 × 5 on Letter")

    page = get(viewer, LABELS, thing, sheet=sheet.pk, start=4).content.decode()

    # US Letter is 8 1/2 x 11 in = 215.9 x 279.4 mm
    assert "size: 215.9mm 279.4mm" in page
    assert page.count('class="label place-3"') == 1


@pytest.mark.parametrize(
    ("order", "expected"),
    [({}, [2, 1, 0]), ({"order": "location"}, [2, 1, 0]), ({"order": "number"}, [0, 1, 2])],
)
def test_labels_come_in_the_order_of_the_shelves_or_of_the_numbers(viewer, order, expected):
    # common practice, no source: figures in names count as numbers, Bay 2 before Bay 10; without a place last
    bays = [make_location(f"Bay {number}") for number in (10, 2)]
    things = [
        make_object(number="1", location=None),
        make_object(number="2", location=bays[0]),
        make_object(number="3", location=bays[1]),
    ]
    boxes = [make_box(thing).box_number for thing in things]

    page = get(viewer, LABELS, *things, **order).content.decode()

    assert sorted(boxes, key=page.index) == [boxes[place] for place in expected]


def test_the_work_of_a_person_in_a_week_selects_its_boxes(viewer):
    things = [make_object() for _ in range(3)]
    campaign, person = make_campaign(*things), make_person()
    boxes = [make_box(thing) for thing in things]
    for box, week, who in zip(boxes, (1, 2, 2), (person, person, make_person()), strict=True):
        make_tasks(box, "cut", week=week, person=who)

    page = viewer.get(
        reverse(LABELS), {"campaign": campaign.pk, "person": person.pk, "week": 2}
    ).content.decode()

    assert [box.box_number in page for box in boxes] == [False, True, False]


@pytest.mark.parametrize("name", [CUT_SHEETS, LABELS])
def test_more_boxes_take_no_more_queries(viewer, name):
    things = [make_object(location=make_location()) for _ in range(3)]
    for thing in things:
        make_box(thing)
    counts = []

    for some in (things[:1], things):
        with CaptureQueriesContext(connection) as queries:
            get(viewer, name, *some)
        counts.append(len(queries))

    assert counts[0] == counts[1]


@pytest.mark.pango
@pytest.mark.parametrize("name", [CUT_SHEETS, LABELS])
def test_the_pdf_has_one_page(viewer, name):
    thing = make_object(number="1995.4.3")
    make_box(thing)

    answer = get(viewer, name, thing, format="pdf", paper="letter")

    [page] = PdfReader(BytesIO(answer.content)).pages
    assert answer["Content-Type"] == "application/pdf"
    assert "1995.4.3" in page.extract_text()
    # US Letter is 8 1/2 x 11 in; a point is 1/72 in
    assert [float(side) for side in page.mediabox[2:]] == pytest.approx([612, 792], abs=0.1)


def test_without_pango_the_page_still_opens_and_the_pdf_says_what_to_install(viewer, no_pango):
    thing = make_object()
    make_box(thing)

    assert get(viewer, CUT_SHEETS, thing).status_code == 200
    answer = get(viewer, CUT_SHEETS, thing, format="pdf")
    assert answer.status_code == 503
    assert "sudo apt-get install libpango-1.0-0" in answer.content.decode()


@pytest.mark.pango
def test_a_big_print_is_made_in_the_background(viewer, monkeypatch, django_capture_on_commit_callbacks):
    monkeypatch.setitem(prints.AT_ONCE, "cut_sheets", 1)
    things = [make_object(), make_object()]
    for thing in things:
        make_box(thing)

    assert "made in the background" in get(viewer, CUT_SHEETS, *things).content.decode()
    assert not Job.objects.exists()
    with django_capture_on_commit_callbacks(execute=True):
        address = f"{reverse(CUT_SHEETS)}?" + "&".join(f"object={thing.pk}" for thing in things)
        answer = viewer.post(address)

    job = Job.objects.get()
    assert answer.url == reverse("housing:job-detail", args=[job.pk])
    assert (job.state, job.result_url) == ("done", reverse("housing:print-file", args=[job.pk]))
    file = b"".join(viewer.get(job.result_url).streaming_content)
    assert len(PdfReader(BytesIO(file)).pages) == 2


def test_a_print_without_a_file_is_not_found(viewer):
    job = Job.objects.create(kind="print", title="2 labels")

    assert viewer.get(reverse("housing:print-file", args=[job.pk])).status_code == 404


def test_the_file_of_a_print_is_handed_out(viewer):
    job = Job.objects.create(kind="print", title="2 labels")
    job.file.save("labels.pdf", ContentFile(b"%PDF-1.7"))

    answer = viewer.get(reverse("housing:print-file", args=[job.pk]))

    assert answer["Content-Disposition"].startswith("attachment")
    assert b"".join(answer.streaming_content) == b"%PDF-1.7"
