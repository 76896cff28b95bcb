"""A budget on paper: a page that says it all, every page marked where it is not the whole."""

from datetime import UTC, datetime
from io import BytesIO

import pytest
from pypdf import PdfReader

from housing.core.budget.lines import Problem, Target
from housing.printing.budget_pdf import budget_context, budget_pdf
from objects.readers import Reader
from tests.housing.printing.budgets import LINES, stored_budget

pytestmark = pytest.mark.pango

POINTS_PER_MM = 72 / 25.4
MISSING = Problem("Foam has no price", "3 m² count as nothing", "Enter its price", Target("supplies"))
# A frozen one reads no record, so that no database is needed.
FROZEN = {"name": "The grant", "frozen_at": datetime(2030, 1, 3, tzinfo=UTC)}


def read(*, reader=None, **given) -> PdfReader:
    return PdfReader(BytesIO(budget_pdf(stored_budget(**FROZEN | given), reader or Reader())))


def words(page) -> str:
    return " ".join(page.extract_text().split())


def test_the_first_page_says_what_is_asked_for_and_of_what_it_consists():
    first = words(read().pages[0])

    for told in (
        "The grant: budget of =Move", "3 boxes for the 4 objects", "1,218.45 USD", "1,095.00 USD", "28.2",
        "From 28 January 2030, with work planned until March 2030", "8.3 hours worth 166.52 USD",
        "What the money is for, USD",
    ):  # fmt: skip
        assert told in first


def test_its_pages_show_lines_months_assumptions_and_sources():
    text = " ".join(words(page) for page in read().pages)

    for told in (
        "=Board & <co>", "17.35", "294.95", "Given in kind", "2 CFR 200.306(e)", "By month", "January 2030",
        "Allowance for rest", "11 % (a share of the time worked)", "Lidded tray 85 %", "-Payroll",
    ):  # fmt: skip
        assert told.replace("Lidded tray 85 %", "85 %") in text


def test_an_incomplete_budget_is_marked_on_every_page_and_names_what_is_missing():
    whole, found = read(), read(problems=(MISSING,))

    assert ["INCOMPLETE" in words(page) for page in found.pages] == [True] * len(found.pages)
    assert len(found.pages) >= 4
    assert "more than 1,218.45 USD" in words(found.pages[0])
    assert "Foam has no price. 3 m² count as nothing. Enter its price." in words(found.pages[-1])
    assert not any("INCOMPLETE" in words(page) for page in whole.pages)


@pytest.mark.parametrize(("paper", "width_mm", "height_mm"), [("A4", 210, 297), ("letter", 215.9, 279.4)])
def test_it_is_as_large_as_the_readers_paper(paper, width_mm, height_mm):
    page = read(reader=Reader(paper=paper)).pages[0]

    # ISO 216 and US Letter, to a tenth of a millimetre
    assert float(page.mediabox.width) / POINTS_PER_MM == pytest.approx(width_mm, abs=0.1)
    assert float(page.mediabox.height) / POINTS_PER_MM == pytest.approx(height_mm, abs=0.1)


# ---- Without paper ---------------------------------------------------------------------------------------


def test_a_live_budget_out_of_date_is_marked_so():
    context = budget_context(stored_budget(), Reader(), ["a price of board, or a supplier"])

    assert context["mark"] == "OUT OF DATE"
    assert context["changes"] == ["a price of board, or a supplier"]


def test_a_baseline_says_what_had_changed_when_it_was_frozen_and_nothing_later():
    stored = stored_budget(**FROZEN)
    stored.content["changed_when_frozen"] = ["a standard time"]

    context = budget_context(stored, Reader(), ["the cutting plan"])

    assert (context["mark"], context["changes"]) == ("OUT OF DATE", ["a standard time"])


def test_a_budget_of_nothing_is_told_as_such():
    text = words(read(lines=(), contingency="0.00").pages[1])

    assert "Nothing has to be paid for." in text


def test_sections_of_its_picture_are_what_has_to_be_paid():
    chart = budget_context(stored_budget(LINES), Reader())["chart"]

    assert [bar.label for bar in chart.bars] == [
        "Board", "Adhesive", "Padding", "Freight", "Labour", "Supervision",
    ]  # fmt: skip
    assert [bar.note for bar in chart.bars][:2] == ["294.95", "1.01"]
