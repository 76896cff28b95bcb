"""Label pages as they come out of the printer: measured at 300 dots an inch, codes read by a library."""

from io import BytesIO

import numpy as np
import pytest
import segno
import zxingcpp
from django.core.files.base import ContentFile
from django.template.loader import render_to_string
from PIL import Image

from housing.core.label_face import LEAST_MODULE_MM
from housing.core.label_sheets import USUAL, LabelLayout
from housing.models import Housing
from housing.pdf import render_pdf
from housing.printing.label_tests import label_test_context
from housing.printing.labels import labels_context
from housing.queries.prints import boxes_to_print
from housing.services.label_codes import give_codes
from objects.readers import Reader
from tests.factories import make_object
from tests.housing.printing.boxes import make_box
from tests.housing.printing.measuring import MM, edges_mm, pictures

pytestmark = [pytest.mark.pango, pytest.mark.django_db]

SITE = "http://192.168.1.20:8000/"
SHEETS = dict(USUAL)
# As somebody might measure it: margins that differ, gaps both ways, and a printer that shifts.
CROOKED = LabelLayout(210, 297, 3, 6, 58, 40, 9.5, 14, 4, 3, offset_x_mm=1.5, offset_y_mm=-2)
LETTER_CROOKED = LabelLayout(215.9, 279.4, 2, 5, 95, 48, 6, 11, 5, 2, offset_x_mm=-1, offset_y_mm=2.5)


def pages_of(boxes, layout, tmp_path, start=1, **given) -> list[Image.Image]:
    give_codes(boxes=[box.pk for box in boxes])
    context = labels_context(boxes_to_print([box.pk for box in boxes]), SITE, layout, start, **given)
    return pictures(render_pdf(render_to_string("print/labels.html", context)), tmp_path)


@pytest.mark.parametrize(
    ("layout", "start"),
    [
        (SHEETS["3 × 8 on A4"], 1),
        (SHEETS["3 × 10 on Letter"], 5),
        (CROOKED, 4),
        (LETTER_CROOKED, 2),
        (LabelLayout(210, 297, 2, 4, 90, 60, 12, 20, 3, 5), 1),
    ],
    ids=["a4", "letter", "a4 shifted", "letter shifted", "a4 gaps"],
)
def test_edges_of_labels_lie_where_the_sheet_is_described(layout, start, tmp_path):
    boxes = [make_box() for _ in range(layout.columns)]

    [page] = pages_of(boxes, layout, tmp_path, start, outlines=True)

    # the page itself, to a tenth of a millimetre: ISO 216 and 8 1/2 x 11 in come from the description
    assert [side * MM for side in page.size] == pytest.approx(
        [layout.page_width_mm, layout.page_height_mm], abs=0.1
    )
    for number in range(start - 1, start - 1 + len(boxes)):
        column, row = number % layout.columns, number // layout.columns
        # by the description alone, from the page's corner: margin, whole labels and gaps, the shift
        left = layout.left_mm + column * (layout.label_width_mm + layout.gap_x_mm) + layout.offset_x_mm
        top = layout.top_mm + row * (layout.label_height_mm + layout.gap_y_mm) + layout.offset_y_mm
        upright = edges_mm(page, top + 1, "x", layout.label_height_mm - 2)
        level = edges_mm(page, left + 1, "y", layout.label_width_mm - 2)
        for edge in (left, left + layout.label_width_mm):
            assert min(abs(found - edge) for found in upright) < 0.5
        for edge in (top, top + layout.label_height_mm):
            assert min(abs(found - edge) for found in level) < 0.5


def test_nothing_is_printed_on_labels_that_are_used_up(tmp_path):
    layout = SHEETS["3 × 8 on A4"]

    [page] = pages_of([make_box()], layout, tmp_path, start=5)

    dark = np.argwhere(np.asarray(page) < 128) * MM
    # the fifth label is the second of the second row; common practice, counted row by row
    (top, left), (bottom, right) = dark.min(axis=0), dark.max(axis=0)
    x, y = layout.places_mm()[4]
    assert x <= left and right <= x + layout.label_width_mm
    assert y <= top and bottom <= y + layout.label_height_mm


@pytest.mark.parametrize("name", [name for name, _ in USUAL])
def test_codes_are_read_from_the_printed_label_and_lead_to_its_box(name, tmp_path):
    boxes = [make_box(make_object(condition="fragile", hazards="lead")) for _ in range(2)]

    pages = pages_of(boxes, SHEETS[name], tmp_path)

    read = [code for page in pages for code in zxingcpp.read_barcodes(page)]
    wanted = [f"HTTP://192.168.1.20:8000/Q/{code}" for code in Housing.objects.values_list("code", flat=True)]
    assert sorted(code.text for code in read) == sorted(wanted)
    # ISO/IEC 18004: level Q restores about 25 % of a code; from memory
    assert {code.ec_level for code in read} == {"Q"}
    for code in read:
        corners = code.position
        side_mm = (
            np.hypot(corners.top_right.x - corners.top_left.x, corners.top_right.y - corners.top_left.y) * MM
        )
        modules = segno.make(code.text, error="q", micro=False, boost_error=False).symbol_size(border=0)[0]
        assert side_mm / modules >= LEAST_MODULE_MM - 0.02


def test_a_soiled_code_is_still_read(tmp_path):
    layout = SHEETS["100 × 50 mm, one a page"]
    [page] = pages_of([make_box()], layout, tmp_path)
    [clean] = zxingcpp.read_barcodes(page)
    spot = Image.new("L", (round(5 / MM), round(5 / MM)), 0)
    corner = clean.position.bottom_right

    # a blot of 5 x 5 mm, a ninth of the way in from the corner that has no finder
    page.paste(spot, (corner.x - round(8 / MM), corner.y - round(8 / MM)))

    assert [code.text for code in zxingcpp.read_barcodes(page)] == [clean.text]


def test_no_word_leaves_its_label(tmp_path):
    layout = SHEETS["3 × 10 on Letter"]
    things = [
        make_object(number=f"TX.1998.0042.0117.3a-f-long-number-{i}" + "W" * 20, name="Register " + "W" * 60,
                    condition="fragile", hazards="lead; arsenic; asbestos; mercury")
        for i in range(2)
    ]  # fmt: skip
    boxes = [make_box(thing) for thing in things]
    for box in boxes:
        box.advice = {
            "marks": [{"value": mark} for mark in ("ask_first", "gloves", "store_apart", "do_not_seal")]
        }
        box.save()

    [page] = pages_of(boxes, layout, tmp_path)

    dark = np.asarray(page) < 128
    for x, y in layout.places_mm()[:2]:
        left, top, right, bottom = (
            round(at / MM)
            for at in (x + 0.5, y + 0.3, x + layout.label_width_mm - 0.5, y + layout.label_height_mm - 0.3)
        )
        dark[top:bottom, left:right] = False
    assert not dark.any()


def test_a_photo_stands_on_a_roomy_label(tmp_path, settings):
    settings.MEDIA_ROOT = tmp_path
    kept = BytesIO()
    Image.new("RGB", (80, 60)).save(kept, "PNG")
    plain, pictured = make_box(), make_box(make_object(photo=ContentFile(kept.getvalue(), "jar.png")))

    first, second = (
        int((np.asarray(pages_of([box], SHEETS["2 × 4 on A4"], tmp_path)[0]) < 128).sum())
        for box in (plain, pictured)
    )

    # 99.1 mm wide: 0.22 of it is 21.8 mm, and the black picture is 3 to 4; less is left out beneath the code
    assert second - first > 0.5 * (15 * 11) / MM**2


def test_the_test_print_shows_every_label_and_what_a_ruler_should_find(tmp_path):
    context = label_test_context("Crooked", CROOKED, Reader("mm", "A4"))

    html = render_to_string("print/label_test.html", context)
    [page] = pictures(render_pdf(html), tmp_path)

    # by hand: 9.5 + 1.5 = 11 mm from the left, 14 - 2 = 12 mm from above
    assert "11 mm from the left edge, 12 mm from the upper edge. The label: 58 mm × 40 mm." in html
    # by hand: 210 - 11 - 3 x 58 - 2 x 4 = 17; 297 - 12 - 6 x 40 - 5 x 3 = 30
    assert "17 mm from the right edge, 30 mm from the lower edge." in html
    upright = edges_mm(page, 13, "x", 38)
    expected = [11 + column * 62 + side for column in range(3) for side in (0, 58)]
    assert upright == pytest.approx(expected, abs=0.5)
