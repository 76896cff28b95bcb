"""The report of a period as a workbook: every table of it on a sheet, the figures as figures.

Hours and areas are rounded as on the page, halves up.
"""

from collections.abc import Iterable, Sequence
from decimal import Decimal

from openpyxl.worksheet.worksheet import Worksheet

from boards.core.money import to_cents
from housing.core.budget.tracking import TrackedSection
from housing.printing.live_sheets import LiveBook
from housing.printing.report_pdf import money_words
from housing.queries.report_counts import CountRow
from housing.queries.reports import Report
from objects.readers import Reader

AMOUNT = "#,##0.00"
COUNTED = ("In no box at the start", "Housed", "Taken out again", "In no box at the end")
TRACKED = ("Planned", "Spent so far", "Still to come", "At the end", "More than planned")

type Cells = Sequence[str | int | Decimal | None]


def report_workbook(report: Report, reader: Reader) -> bytes:
    """The workbook of a report."""
    book = LiveBook(currency=report.currency, paper=reader.paper, title=report.title)
    _summary(book, report)
    _counts(book, report)
    _work(book, report)
    _money(book, report, reader)
    _board(book, report)
    _tried(book, report)
    _blocks(book, report, reader)
    if report.burn_up:
        _weeks(book, report)
    return book.to_bytes()


def _summary(book: LiveBook, report: Report) -> None:
    counts, work, goods, tried = report.counts, report.work, report.goods, report.tried
    money = f", {report.currency}" if report.currency else ""
    rows: list[Cells] = [
        ("Of", report.of),
        ("From", f"{report.period.first:%Y-%m-%d}"),
        ("To, this day too", f"{report.period.last:%Y-%m-%d}"),
        ("Written on", f"{report.today:%Y-%m-%d}"),
        ("Objects in no box at the start", counts.in_all.at_start),
        ("Objects housed", counts.in_all.housed),
        ("Boxes put on their shelf", counts.boxes),
        ("Objects taken out again", counts.in_all.taken_out),
        ("Objects in no box at the end", counts.in_all.at_end),
        ("Hours paid", to_cents(work.paid_hours)),
        ("Hours given in kind", to_cents(work.given_hours)),
        *([("Cost of paid hours", money_words(work.cost))] if report.shows_costs else []),
        *([("Worth of given hours", money_words(work.worth))] if report.shows_costs else []),
        ("Steps done without minutes, in no sum", work.unlogged),
        (f"Paid for goods that came{money}", goods.paid),
        ("Sheets used", goods.used),
        ("Sheets spoiled or written off", goods.spoiled),
        ("Boxes tried", tried.tried),
        ("Boxes that did not fit at first", tried.wrong),
    ]
    if report.finish:
        rows += [
            (words, f"{day:%Y-%m-%d}" if day else "Never")
            for words, day in (
                ("Done at the earliest, one of ten cases", report.finish.low),
                ("Done, most likely", report.finish.middle),
                ("Done at the latest, nine of ten cases", report.finish.high),
            )
        ]
    sheet = book.sheet("Summary", [report.title, ""], [60, 40])
    _fill(book, sheet, 2, rows)


def _counts(book: LiveBook, report: Report) -> None:
    counts = report.counts
    sheet = book.sheet("Objects", ["By", "Kind", *COUNTED], [18, 44, 18, 14, 18, 18])
    groups = (
        ("All", (counts.in_all,)),
        ("Classification", counts.by_classification),
        ("Priority", counts.by_priority),
        ("Room", counts.by_room),
    )
    _fill(book, sheet, 2, [(by, *_counted(row)) for by, rows in groups for row in rows])


def _counted(row: CountRow) -> Cells:
    return row.label, row.at_start, row.housed, row.taken_out, row.at_end


def _work(book: LiveBook, report: Report) -> None:
    """People and steps; of people hours only where costs are not to be shown."""
    money = ["Cost or worth", "Currency"] if report.shows_costs else []
    headings = ["Who or what", "Paid or given", "Steps done", "Of these without minutes", "Hours", *money]
    sheet = book.sheet("Work", headings, [40, 18, 14, 18, 12, *([16] * len(money))])
    row = _fill(
        book,
        sheet,
        2,
        [
            (one.person, one.kind, one.steps, one.unlogged, to_cents(one.hours))
            + ((one.money, one.currency) if report.shows_costs else ())
            for one in report.work.people
        ],
    )
    row = _headed(book, sheet, row + 1, ("Step", "", "Steps done", "", "Hours", "Hours planned for them"))
    _fill(
        book,
        sheet,
        row,
        [
            (one.label, "", one.done, "", to_cents(one.hours), to_cents(one.planned_hours))
            for one in report.work.steps
        ],
    )


def _money(book: LiveBook, report: Report, reader: Reader) -> None:
    """The budget with what is spent of it today, and what was paid for goods that came."""
    sheet = book.sheet("Money", ["Campaign or section", "Budget", *TRACKED], [44, 30, 16, 16, 16, 16, 18])
    row = 2
    for one in report.budgets:
        row = _fill(book, sheet, row, [(one.campaign, f"{one.words}, {one.currency}", one.money)])
        if one.tracking:
            kept = (*one.tracking.sections, one.tracking.in_all)
            if one.tracking.in_kind:
                kept += (one.tracking.in_kind,)
            row = _fill(book, sheet, row, [(section.name, "", *_tracked(section)) for section in kept])
    headings = ("Goods that came", "Unit", "Quantity", "Paid", "Of these without a price")
    row = _headed(book, sheet, row + 1, headings)
    received = [
        (reader.sentence(one.what), one.unit, one.quantity, one.paid, one.untold)
        for one in report.goods.receipts
    ]
    _fill(book, sheet, row, [*received, ("In all", "", None, report.goods.paid)])


def _tracked(section: TrackedSection) -> Cells:
    return section.planned, section.spent, section.to_come, section.forecast, section.over


def _board(book: LiveBook, report: Report) -> None:
    headings = ["Board", "Along, mm", "Across, mm", "Used", "Used, m²", "Worth", "Spoiled", "Worth"]
    sheet = book.sheet("Board", headings, [44, 14, 14, 12, 12, 14, 12, 14])
    row = _fill(
        book,
        sheet,
        2,
        [
            (one.board, one.along_mm, one.across_mm, one.used, to_cents(one.used_m2), one.used_worth)
            + (one.spoiled, one.spoiled_worth)
            for one in report.goods.board
        ],
    )
    row = _headed(book, sheet, row + 1, ("Written off, why", "", "", "", "", "", "Sheets", "Worth"))
    reasons = report.goods.reasons
    row = _fill(book, sheet, row, [(one.label, *[""] * 5, one.sheets, one.worth) for one in reasons])
    rack = [
        ("Offcuts used", *[""] * 2, report.goods.offcuts_used),
        ("Offcuts kept", *[""] * 2, report.goods.offcuts_kept),
    ]
    _fill(book, sheet, row + 1, rack)


def _tried(book: LiveBook, report: Report) -> None:
    headings = ["Cause", "Times", "Adjusted", "Minutes of it", "Made again", "Cost", "Currency"]
    sheet = book.sheet("What went wrong", headings, [50, 12, 12, 14, 12, 14, 12])
    row = 2
    for one in report.tried.causes:
        told = (one.words, one.misfits, one.adjusted, one.minutes, one.remade)
        amounts = [(to_cents(money), currency) for money, currency in one.amounts or [(Decimal(), "")]]
        row = _fill(book, sheet, row, [(*told, *amounts[0])])
        row = _fill(book, sheet, row, [(*[""] * 5, *more) for more in amounts[1:]])


def _blocks(book: LiveBook, report: Report, reader: Reader) -> None:
    sheet = book.sheet("What blocks", ["What", "For", "How many"], [50, 50, 14])
    blocks = report.blocks
    kinds = (
        (f"Questions open at the end of {report.period.last:%Y-%m-%d}", blocks.questions),
        (f"Boxes that wait on {report.today:%Y-%m-%d}", blocks.waiting),
        (f"Sheets without board on {report.today:%Y-%m-%d}", blocks.sheets),
    )
    _fill(
        book,
        sheet,
        2,
        [(kind, reader.sentence(what), number) for kind, rows in kinds for what, number in rows],
    )


def _weeks(book: LiveBook, report: Report) -> None:
    chart = report.burn_up
    assert chart is not None
    headings = ["Week of", "Done", "Planned", "At least", "Expected", "At most"]
    sheet = book.sheet("Weeks", headings, [16, 12, 12, 12, 12, 12])
    weeks = zip(chart.weeks, chart.done, chart.planned, chart.low, chart.middle, chart.high, strict=True)
    rows = [
        (f"{week:%Y-%m-%d}", *(None if boxes is None else round(boxes) for boxes in some))
        for week, *some in weeks
    ]
    _fill(book, sheet, 2, rows)


def _headed(book: LiveBook, sheet: Worksheet, row: int, headings: Sequence[str]) -> int:
    for column, heading in enumerate(headings, start=1):
        if heading:
            book.put(sheet, row, column, heading, bold=True)
    return row + 1


def _fill(book: LiveBook, sheet: Worksheet, row: int, rows: Iterable[Cells]) -> int:
    """Rows of cells, blank ones left out; returns the row after them."""
    for cells in rows:
        for column, value in enumerate(cells, start=1):
            if value not in ("", None):
                book.put(sheet, row, column, value, format_=AMOUNT if isinstance(value, Decimal) else "")
        row += 1
    return row
