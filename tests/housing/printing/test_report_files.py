"""A report on paper and as a workbook: the figures of the page, read back out of the files."""

from datetime import date
from decimal import Decimal
from io import BytesIO

import pytest
from django.template.loader import render_to_string
from openpyxl import load_workbook
from PIL import Image
from pypdf import PdfReader

from boards.services import receive_sheets, use_sheets
from housing.models import FitCheck, HousedPhoto
from housing.printing.report_pdf import money_words, report_context, report_pdf
from housing.printing.report_workbook import report_workbook
from housing.queries.reports import report_of
from objects.readers import Reader
from tests.factories import make_campaign, make_housing, make_object, make_person, make_sheet_size
from tests.housing.queries.test_reports import done, make_design, moved, on, stepped

pytestmark = pytest.mark.django_db

POINTS_PER_MM = 72 / 25.4


@pytest.fixture
def campaign(settings, tmp_path):
    """A box housed in May out of two objects, 90 minutes paid at 24, 30 given, and a sheet cut wrongly."""
    settings.MEDIA_ROOT = tmp_path
    thing = make_object(number="=1+1", name="Jar <of> glass", classification="Glass")
    campaign = make_campaign(thing, make_object(classification="Glass"), name="Move & store")
    box = make_housing(thing, design=make_design(), status="housed", campaign=campaign)
    stepped(box, ("made", on(8)), ("housed", on(9)))
    done(box, "cut", person=make_person(name="+Ana", rate_per_hour=24), minutes="90")
    done(box, "glue", person=make_person(name="Bo", kind="volunteer", in_kind_rate=15), minutes="30")
    FitCheck.objects.create(
        housing=box, fits=False, lid_closes=True, nothing_touches=True, cause="cutting", remedy="adjust",
        minutes=Decimal(5), work_cost=Decimal("1.50"), at=on(9),
    )  # fmt: skip
    size = make_sheet_size()
    moved(receive_sheets(sheet_size=size, count=3, paid_each=Decimal("11.11")), on(2))
    moved(use_sheets(sheet_size=size, count=1), on(3))
    photo = BytesIO()
    Image.new("RGB", (60, 40), "white").save(photo, "JPEG")
    for record, name in ((thing, "before.jpg"), (HousedPhoto(housing=box, at=on(9)), "after.jpg")):
        record.photo.save(name, BytesIO(photo.getvalue()))
    return campaign


def report(campaign, **given):
    asked = {"shows_costs": True, "today": date(2026, 6, 2), **given}
    return report_of(campaign, date(2026, 5, 1), date(2026, 5, 31), **asked)


def words(data: bytes) -> str:
    return " ".join(" ".join(page.extract_text() for page in PdfReader(BytesIO(data)).pages).split())


@pytest.mark.pango
def test_the_paper_says_what_was_done_and_what_it_cost(campaign):
    text = words(report_pdf(report(campaign), Reader()))

    for told in (
        "Report of 1 May 2026 to 31 May 2026", "Move & store", "1 object housed in 1 box",
        "2 were unhoused at the start, 1 is at the end",
        # 90 min × 24 an hour; 30 min × 15
        "2.0 hours of work: 1.5 paid, at a cost of 36.00 USD, and 0.5 given in kind, worth 7.50 USD",
        "33.33 USD paid",  # 3 × 11.11
        "1 adjusted, 0 to be made again", "It was cut or scored wrongly", "=1+1, Jar <of> glass", "+Ana",
    ):  # fmt: skip
        assert told in text


@pytest.mark.pango
@pytest.mark.parametrize(("paper", "width_mm", "height_mm"), [("A4", 210, 297), ("letter", 215.9, 279.4)])
def test_it_is_as_large_as_the_readers_paper(campaign, paper, width_mm, height_mm):
    page = PdfReader(BytesIO(report_pdf(report(campaign), Reader(paper=paper)))).pages[0]

    # ISO 216 and US Letter, to a tenth of a millimetre
    assert float(page.mediabox.width) / POINTS_PER_MM == pytest.approx(width_mm, abs=0.1)
    assert float(page.mediabox.height) / POINTS_PER_MM == pytest.approx(height_mm, abs=0.1)


@pytest.mark.pango
def test_without_the_right_to_costs_the_paper_tells_hours_only(campaign):
    text = words(report_pdf(report(campaign, shows_costs=False), Reader()))

    assert "1.5 paid, and 0.5 given in kind." in text
    assert "36.00" not in text
    assert "7.50" not in text


def test_photos_are_written_into_the_page_as_small_jpegs(campaign):
    ((pair, before, after),) = report_context(report(campaign), Reader())["pairs"]

    assert pair.thing.number == "=1+1"
    assert before.startswith("data:image/jpeg;base64,")
    assert after.startswith("data:image/jpeg;base64,")


def rows(data: bytes, sheet: str) -> list[tuple]:
    book = load_workbook(BytesIO(data))
    return [tuple(cell for cell in row if cell is not None) for row in book[sheet].values]


def test_the_workbook_holds_the_same_figures(campaign):
    data = report_workbook(report(campaign), Reader())

    summary = dict(row for row in rows(data, "Summary") if len(row) == 2)
    assert summary["Objects in no box at the start"] == 2
    assert summary["Objects housed"] == 1
    assert summary["Objects in no box at the end"] == 1
    assert summary["Hours paid"] == 1.5
    assert summary["Cost of paid hours"] == "36.00 USD"
    assert summary["Worth of given hours"] == "7.50 USD"
    assert summary["Paid for goods that came, USD"] == 33.33
    assert ("Classification", "Glass", 2, 1, 0, 1) in rows(data, "Objects")
    assert rows(data, "Work")[1:3] == [
        ("+Ana", "Paid", 1, 0, 1.5, 36, "USD"),
        ("Bo", "Given in kind", 1, 0, 0.5, 7.5, "USD"),
    ]
    assert rows(data, "What went wrong")[1] == ("It was cut or scored wrongly", 1, 1, 5, 0, 1.5, "USD")


def test_hours_are_rounded_alike_everywhere(campaign):
    box = campaign.housings.get()
    done(box, "fit", person=make_person(name="Cy", rate_per_hour=0), minutes="139.5")  # 2.325 h: a half
    found = report(campaign)

    page = render_to_string("housing/report_body.html", report_context(found, Reader()))

    assert '<td class="number" data-label="Hours">2.33</td>' in page
    assert ("Cy", "Paid", 1, 0, 2.33, 0, "USD") in rows(report_workbook(found, Reader()), "Work")


def test_no_text_of_the_workbook_is_run_as_a_formula(campaign):
    book = load_workbook(BytesIO(report_workbook(report(campaign), Reader())))

    cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row]
    assert "f" not in {cell.data_type for cell in cells}  # ECMA-376-1, 18.3.1.40: a formula
    assert [cell.quotePrefix for cell in cells if cell.value == "+Ana"] == [True]


def test_without_the_right_to_costs_the_workbook_tells_hours_only(campaign):
    data = report_workbook(report(campaign, shows_costs=False), Reader())

    assert rows(data, "Work")[1:3] == [("+Ana", "Paid", 1, 0, 1.5), ("Bo", "Given in kind", 1, 0, 0.5)]
    assert not any("ost of paid" in str(row) for row in rows(data, "Summary"))


def test_money_of_two_currencies_is_not_added_up():
    assert money_words([(Decimal("1234.5"), "EUR"), (Decimal(2), "USD")]) == "1,234.50 EUR; 2.00 USD"
    assert money_words([]) == "0.00"
