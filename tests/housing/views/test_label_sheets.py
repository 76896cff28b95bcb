"""Pages of label sheets: describe, look, keep, try, delete; and what is said of figures that cannot be."""

from io import BytesIO

import pytest
from django.urls import reverse
from pypdf import PdfReader

from housing.models import LabelSheet
from tests.factories import make_user

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("usual_label_sheets")]
LIST, NEW = reverse("housing:label-sheet-list"), reverse("housing:label-sheet-new")
MEASURED = {
    "name": "The blue box", "page": "A4", "columns": "3", "rows": "8", "left_mm": "7 mm", "right_mm": "9 mm",
    "gap_x_mm": "2 mm", "top_mm": "12 mm", "label_height_mm": "34 mm", "gap_y_mm": "0",
}  # fmt: skip


@pytest.fixture
def maker(client):
    client.force_login(make_user("maker"))
    return client


def page_of(answer) -> str:
    return answer.content.decode()


def test_a_sheet_is_kept_complete_from_what_was_measured(maker):
    answer = maker.post(NEW, MEASURED)

    sheet = LabelSheet.objects.get(name="The blue box")
    assert answer.url == LIST
    # by hand: (210 - 7 - 9 - 2 x 2) / 3 = 63.3333
    assert [float(mm) for mm in (sheet.page_width_mm, sheet.label_width_mm, sheet.left_mm)] == [
        210,
        63.3333,
        7,
    ]


def test_a_sheet_is_shown_before_it_is_kept(maker):
    kept = LabelSheet.objects.count()

    whole = page_of(maker.post(NEW, {**MEASURED, "look": "1"}))
    part = page_of(maker.post(NEW, {**MEASURED, "look": "1"}, headers={"HX-Request": "true"}))

    assert LabelSheet.objects.count() == kept
    # by hand as above; 63.3 mm is no round figure in inches, so all of the sheet stays in mm
    assert "63.3 mm × 34 mm" in whole
    assert whole.count('class="label-free"') == part.count('class="label-free"') == 24
    assert "<form" in whole and "<form" not in part


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        # by hand: 7 + 3 x 70 + 2 x 2 = 221, of 210: 11 mm too wide
        ({"label_width_mm": "70 mm", "right_mm": ""}, "too wide for the page"),
        ({"columns": "0"}, "Enter a whole number from 1 to 1000."),
        ({"rows": "many"}, "Enter a whole number from 1 to 1000."),
        ({"page": "own"}, "Measure the page, or choose one of the papers."),
        ({"label_width_mm": "60 mm"}, "less than the page"),
        ({"offset_x_mm": "-30 mm"}, "is no printer"),
        ({"left_mm": "wide"}, "is not a length"),
        ({"name": ""}, "This field is required."),
    ],
)
def test_figures_that_cannot_be_are_refused_with_what_is_wrong(maker, wrong, words):
    answer = maker.post(NEW, {**MEASURED, **wrong})

    assert not LabelSheet.objects.filter(name="The blue box").exists()
    assert words in page_of(answer)


def test_a_shift_to_the_left_is_kept_and_comes_back(maker):
    maker.post(NEW, {**MEASURED, "offset_x_mm": "-1.5 mm", "offset_y_mm": "2 mm"})

    sheet = LabelSheet.objects.get(name="The blue box")
    assert (float(sheet.offset_x_mm), float(sheet.offset_y_mm)) == (-1.5, 2)
    assert 'value="-1.5 mm"' in page_of(maker.get(reverse("housing:label-sheet-edit", args=[sheet.pk])))


def test_a_sheet_that_is_saved_again_unchanged_stays_as_it_is(maker):
    sheet = LabelSheet.objects.get(name="3 × 10 on Letter")
    address = reverse("housing:label-sheet-edit", args=[sheet.pk])
    form = maker.get(address).context["form"]

    values = {name: form[name].value() for name in form.fields}
    maker.post(address, {name: "" if value is None else value for name, value in values.items()})

    assert LabelSheet.objects.get(pk=sheet.pk).to_core() == sheet.to_core()


def test_a_roll_with_one_label_a_page_needs_no_margins(maker):
    maker.post(
        NEW,
        {"name": "Roll", "page": "own", "page_width_mm": "62 mm", "page_height_mm": "29 mm",
         "columns": "1", "rows": "1"},
    )  # fmt: skip

    layout = LabelSheet.objects.get(name="Roll").to_core()
    assert (layout.label_width_mm, layout.label_height_mm, layout.left_mm, layout.top_mm) == (62, 29, 0, 0)


def test_a_sheet_is_deleted_only_after_a_question(maker):
    sheet = LabelSheet.objects.first()
    address = reverse("housing:label-sheet-delete", args=[sheet.pk])

    assert "would have to be measured again" in page_of(maker.get(address))
    assert LabelSheet.objects.filter(pk=sheet.pk).exists()
    assert maker.post(address).url == LIST
    assert not LabelSheet.objects.filter(pk=sheet.pk).exists()


@pytest.mark.pango
def test_the_test_print_is_a_page_and_a_pdf_of_its_own_size(viewer):
    sheet = LabelSheet.objects.get(name="60 × 30 mm, one a page")
    address = reverse("housing:label-sheet-test", args=[sheet.pk])

    assert "hold both against the light" in page_of(viewer.get(address))
    [page] = PdfReader(BytesIO(viewer.get(address, {"format": "pdf"}).content)).pages
    assert [float(side) * 25.4 / 72 for side in page.mediabox[2:]] == pytest.approx([60, 30], abs=0.1)


def test_who_only_reads_may_look_but_not_describe(viewer):
    sheet = LabelSheet.objects.first()

    assert viewer.get(LIST).status_code == 200
    assert viewer.get(NEW).status_code == 403
    for name in ("edit", "delete"):
        assert viewer.post(reverse(f"housing:label-sheet-{name}", args=[sheet.pk])).status_code == 403


def test_sheets_to_begin_with_are_named_by_their_measures_and_all_of_them_work():
    assert len(LabelSheet.objects.all()) == 7
    assert all(sheet.to_core().on_a_sheet for sheet in LabelSheet.objects.all())


def test_without_any_sheet_labels_still_come_on_the_usual_one(viewer):
    LabelSheet.objects.all().delete()

    assert "No label sheets yet" in page_of(viewer.get(LIST))
    assert viewer.get(reverse("housing:print-choose")).status_code == 200
