"""Cut sheets as they come out of the printer: read, measured, and their code scanned."""

import re
import shutil
import subprocess
from io import BytesIO

import numpy as np
import pytest
import zxingcpp
from PIL import Image
from pypdf import PdfReader

from housing.printing.svg_pdf import can_write, drawn_pages, pages_pdf
from housing.services.label_codes import give_codes
from tests.factories import make_object
from tests.housing.printing.boxes import make_box
from tests.housing.printing.reading_pages import text_of
from tests.housing.printing.test_cut_sheet_pages import sheet_of

pytestmark = pytest.mark.django_db
DPI = 300
needs_poppler = pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="poppler is not installed")


def printed(box, **reader):
    sheet = sheet_of(box, **reader)
    return sheet, pages_pdf(sheet.pages)


def picture(file: bytes) -> Image.Image:
    """The first page as a printer sees it."""
    made = subprocess.run(
        ["pdftoppm", "-r", str(DPI), "-png", "-f", "1", "-l", "1", "-"],
        input=file,
        capture_output=True,
        check=True,
    )
    return Image.open(BytesIO(made.stdout)).convert("L")


def longest_run(row: np.ndarray) -> int:
    """The longest stretch of dark dots in a row."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], row.astype(np.int8), [0]))))
    return int((edges[1::2] - edges[::2]).max(initial=0))


@needs_poppler
def test_the_code_on_the_page_leads_to_the_box_with_the_version_of_the_sheet():
    box = make_box()
    give_codes(boxes=[box.pk])
    box.refresh_from_db()
    sheet, file = printed(box)

    [code] = zxingcpp.read_barcodes(picture(file))

    assert code.text.upper() == f"HTTPS://PLANNER.EXAMPLE/Q/{box.code}/{sheet.version}"


@needs_poppler
@pytest.mark.parametrize(("unit", "long_mm"), [("in", 4 * 25.4), ("mm", 100.0)])
def test_the_line_to_check_the_printer_is_as_long_as_it_says(unit, long_mm):
    _, file = printed(make_box(), unit=unit)
    dots = np.array(picture(file)) < 128

    # Below the drawings, above the title block: 297 - 8 - 9.5 mm, less some; left half of the page.
    top, bottom = (round(mm / 25.4 * DPI) for mm in (275.0, 279.0))
    measured = max(longest_run(row[: DPI * 5]) for row in dots[top:bottom]) / DPI * 25.4

    assert measured == pytest.approx(long_mm, abs=0.5)


@needs_poppler
def test_the_blank_is_drawn_to_the_scale_it_names():
    sheet, file = printed(make_box())
    by = float(re.search(r"1 : ([\d.]+)", text_of(sheet.pages[0]))[1])  # of the base, drawn first
    dots = np.array(picture(file)) < 128

    # The near edge of the base is a line of its whole width, 32 3/4 in; its ends reach half the 0.5 mm of the
    # line's thickness further.
    wanted = 32.75 * 25.4
    runs = [longest_run(row[: round(105 / 25.4 * DPI)]) / DPI * 25.4 for row in dots[DPI : DPI * 10]]
    assert any(abs(run - 0.5 - wanted / by) <= 0.5 for run in runs if run)


def test_every_running_mark_can_be_read_back():
    # Common practice, no source: 0, 11, 21 3/4, 32 3/4 and 0, 11, 20 1/8, 31 1/8; each at both facing edges.
    _, file = printed(make_box())

    text = PdfReader(BytesIO(file)).pages[0].extract_text()

    for mark in ("11", "21 3/4", "32 3/4", "20 1/8", "31 1/8", "trim 8 1/2", "flap 10 7/8"):
        assert text.count(mark) >= 2


def test_pages_are_as_large_as_their_paper_and_name_their_box():
    # US Letter is 8 1/2 x 11 in.
    _, file = printed(make_box(), paper="letter")

    reader = PdfReader(BytesIO(file))

    assert [float(side) / 72 for side in reader.pages[0].mediabox[2:]] == pytest.approx([8.5, 11], abs=0.01)
    assert reader.metadata.title.startswith("Cut sheet of Box ")


@pytest.mark.parametrize(("name", "is_set"), [("Café, œuvre n° 3", True), ("花瓶", False), ("مزهرية", False)])
def test_letters_that_need_more_than_setting_are_told_apart(name, is_set):
    sheet = sheet_of(make_box(make_object(name=name)))
    html = "".join(f'<section class="page cut-sheet">{page}</section>' for page in sheet.pages)

    assert all(map(can_write, sheet.pages)) == is_set
    assert bool(drawn_pages(html)) == is_set
