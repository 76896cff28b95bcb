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
from objects.core.words import noted, say
from objects.readers import Reader

AMOUNT = "#,##0.00"
COUNTED = (
    noted("In no box at the start"),
    noted("Housed"),
    noted("Taken out again"),
    noted("In no box at the end"),
)
TRACKED = (
    noted("Planned"),
    noted("Spent so far"),
    noted("Still to come"),
    noted("At the end"),
    noted("More than planned"),
)

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
        (say("Of"), report.of),
        (say("From"), f"{report.period.first:%Y-%m-%d}"),
        (say("To, this day too"), f"{report.period.last:%Y-%m-%d}"),
        (say("Written on"), f"{report.today:%Y-%m-%d}"),
        (say("Objects in no box at the start"), counts.in_all.at_start),
        (say("Objects housed"), counts.in_all.housed),
        (say("Boxes put on their shelf"), counts.boxes),
        (say("Objects taken out again"), counts.in_all.taken_out),
        (say("Objects in no box at the end"), counts.in_all.at_end),
        (say("Hours paid"), to_cents(work.paid_hours)),
        (say("Hours given in kind"), to_cents(work.given_hours)),
        *([(say("Cost of paid hours"), money_words(work.cost))] if report.shows_costs else []),
        *([(say("Worth of given hours"), money_words(work.worth))] if report.shows_costs else []),
        (say("Steps done without minutes, in no sum"), work.unlogged),
        (say("Paid for goods that came{money}", money=money), goods.paid),
        (say("Sheets used"), goods.used),
        (say("Sheets spoiled or written off"), goods.spoiled),
        (say("Boxes tried"), tried.tried),
        (say("Boxes that did not fit at first"), tried.wrong),
    ]
    if report.finish:
        rows += [
            (words, f"{day:%Y-%m-%d}" if day else say("Never"))
            for words, day in (
                (say("Done at the earliest, one of ten cases"), report.finish.low),
                (say("Done, most likely"), report.finish.middle),
                (say("Done at the latest, nine of ten cases"), report.finish.high),
            )
        ]
    sheet = book.sheet("Summary", [report.title, ""], [60, 40])
    _fill(book, sheet, 2, rows)


def _counts(book: LiveBook, report: Report) -> None:
    counts = report.counts
    sheet = book.sheet("Objects", [say("By"), say("Kind"), *map(say, COUNTED)], [18, 44, 18, 14, 18, 18])
    groups = (
        (say("All"), (counts.in_all,)),
        (say("Classification"), counts.by_classification),
        (say("Priority"), counts.by_priority),
        (say("Room"), counts.by_room),
    )
    _fill(book, sheet, 2, [(by, *_counted(row)) for by, rows in groups for row in rows])


def _counted(row: CountRow) -> Cells:
    return row.label, row.at_start, row.housed, row.taken_out, row.at_end


def _work(book: LiveBook, report: Report) -> None:
    """People and steps; of people hours only where costs are not to be shown."""
    money = [say("Cost or worth"), say("Currency")] if report.shows_costs else []
    headings = [
        say("Who or what"),
        say("Paid or given"),
        say("Steps done"),
        say("Of these without minutes"),
        say("Hours"),
        *money,
    ]
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
    row = _headed(
        book,
        sheet,
        row + 1,
        (say("Step"), "", say("Steps done"), "", say("Hours"), say("Hours planned for them")),
    )
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
    sheet = book.sheet(
        "Money", [say("Campaign or section"), say("Budget"), *map(say, TRACKED)], [44, 30, 16, 16, 16, 16, 18]
    )
    row = 2
    for one in report.budgets:
        row = _fill(book, sheet, row, [(one.campaign, f"{one.words}, {one.currency}", one.money)])
        if one.tracking:
            kept = (*one.tracking.sections, one.tracking.in_all)
            if one.tracking.in_kind:
                kept += (one.tracking.in_kind,)
            row = _fill(book, sheet, row, [(section.name, "", *_tracked(section)) for section in kept])
    headings = (
        say("Goods that came"),
        say("Unit"),
        say("Quantity"),
        say("Paid"),
        say("Of these without a price"),
    )
    row = _headed(book, sheet, row + 1, headings)
    received = [
        (reader.sentence(one.what), one.unit, one.quantity, one.paid, one.untold)
        for one in report.goods.receipts
    ]
    _fill(book, sheet, row, [*received, (say("In all"), "", None, report.goods.paid)])


def _tracked(section: TrackedSection) -> Cells:
    return section.planned, section.spent, section.to_come, section.forecast, section.over


def _board(book: LiveBook, report: Report) -> None:
    headings = [
        say("Board"),
        say("Along, mm"),
        say("Across, mm"),
        say("Used"),
        say("Used, m²"),
        say("Worth"),
        say("Spoiled"),
        say("Worth"),
    ]
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
    row = _headed(
        book, sheet, row + 1, (say("Written off, why"), "", "", "", "", "", say("Sheets"), say("Worth"))
    )
    reasons = report.goods.reasons
    row = _fill(book, sheet, row, [(one.label, *[""] * 5, one.sheets, one.worth) for one in reasons])
    rack = [
        (say("Offcuts used"), *[""] * 2, report.goods.offcuts_used),
        (say("Offcuts kept"), *[""] * 2, report.goods.offcuts_kept),
    ]
    _fill(book, sheet, row + 1, rack)


def _tried(book: LiveBook, report: Report) -> None:
    headings = [
        say("Cause"),
        say("Times"),
        say("Adjusted"),
        say("Minutes of it"),
        say("Made again"),
        say("Cost"),
        say("Currency"),
    ]
    sheet = book.sheet(say("What went wrong"), headings, [50, 12, 12, 14, 12, 14, 12])
    row = 2
    for one in report.tried.causes:
        told = (one.words, one.misfits, one.adjusted, one.minutes, one.remade)
        amounts = [(to_cents(money), currency) for money, currency in one.amounts or [(Decimal(), "")]]
        row = _fill(book, sheet, row, [(*told, *amounts[0])])
        row = _fill(book, sheet, row, [(*[""] * 5, *more) for more in amounts[1:]])


def _blocks(book: LiveBook, report: Report, reader: Reader) -> None:
    sheet = book.sheet(say("What blocks"), [say("What"), say("For"), say("How many")], [50, 50, 14])
    blocks = report.blocks
    kinds = (
        (say("Questions open at the end of {day}", day=f"{report.period.last:%Y-%m-%d}"), blocks.questions),
        (say("Boxes that wait on {day}", day=f"{report.today:%Y-%m-%d}"), blocks.waiting),
        (say("Sheets without board on {day}", day=f"{report.today:%Y-%m-%d}"), blocks.sheets),
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
    headings = [say("Week of"), say("Done"), say("Planned"), say("At least"), say("Expected"), say("At most")]
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
