"""A budget as a workbook with live formulas, so that whoever changes a rate or a price sees what follows."""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

from openpyxl.worksheet.worksheet import Worksheet

from boards.core.money import to_cents
from housing.core.budget.lines import APART, SECTION_NAMES, Budget, Section
from housing.core.budget.months import Calendar
from housing.core.budget.simulation import Simulation
from housing.models import Budget as StoredBudget
from housing.printing.budget_lines_sheets import HOURS, SHARE, LineSheets, add_line_sheets
from housing.printing.budget_words import assumptions_of, marks_of, read_for, sources_for, title_of
from housing.printing.live_sheets import TITLE, TO_CHANGE, LiveBook
from housing.queries.budgets import read_budget
from objects.core.words import noted, say
from objects.readers import Reader

MOST_BASELINES = 5
PERCENTS = (5, 10, 20, 30, 40, 50, 60, 70, 80, 90, 95, 99)
TO_CHANGE_WORDS = noted("Tinted figures may be changed; all others follow from them.")


def budget_workbook(
    stored: StoredBudget, reader: Reader, baselines: Sequence[StoredBudget] = (), changes: Sequence[str] = ()
) -> bytes:
    """The workbook of a stored budget. baselines: to be compared with it. changes: since it was made."""
    budget, content = read_for(stored, reader), stored.content
    marks = marks_of(stored, changes)
    book = LiveBook(
        currency=stored.currency, paper=reader.paper, title=title_of(stored), mark=", ".join(marks).upper()
    )
    summary = book.sheet("Summary", [title_of(stored), "", ""], [54, 22, 60])
    sheets = add_line_sheets(book, budget, content)
    _summary(book, summary, stored, budget, sheets, marks)
    _assumptions(book, content, reader)
    if content.get("range"):
        _range(book, content)
    if "months" in content:
        _months(book, Calendar.from_json(content["months"]), budget, sheets)
    comparable = [one for one in baselines if one.currency == stored.currency and one.pk != stored.pk]
    if comparable:
        _baselines(book, budget, sheets, comparable[:MOST_BASELINES])
    _sources(book, content, reader)
    return book.to_bytes()


def _summary(
    book: LiveBook,
    sheet: Worksheet,
    stored: StoredBudget,
    budget: Budget,
    sheets: LineSheets,
    marks: Sequence[str],
) -> None:
    sheet["A1"].font = TITLE
    content, row = stored.content, 2
    for words in (*(mark.upper() for mark in marks), say(TO_CHANGE_WORDS)):
        book.put(sheet, row, 1, words, bold=words.isupper())
        row += 1
    facts = (
        (say("Campaign"), content["campaign"]),
        (say("Worked out from the records of"), f"{stored.made_at:%Y-%m-%d}"),
        (say("Objects"), content["counts"]["objects"]), (say("Boxes in it"), content["counts"]["boxes"]),
        (say("Hours of work"), stored.hours), (say("Starts"), content["starts_on"] or say("not entered")),
        (say("To be done by"), content["ends_on"] or say("not entered")),
    )  # fmt: skip
    for words, value in facts:
        book.put(sheet, row, 1, words)
        book.put(sheet, row, 2, value, format_=HOURS if isinstance(value, Decimal) else "")
        row += 1
    totals = budget.section_totals()
    for section, total in totals.items():
        if section not in APART:
            book.put(sheet, row, 1, say(SECTION_NAMES[section]))
            book.formula(sheet, row, 2, sheets.totals[section], total, format_=book.money)
            row += 1
    paid = "+".join(sheets.totals[section] for section in totals if section not in APART)
    row = _asked_for(book, sheet, row, budget, content, paid or "0")
    for section, total in totals.items():
        if section in APART:
            book.put(sheet, row, 1, say("{section}, not to be paid", section=say(SECTION_NAMES[section])))
            book.formula(sheet, row, 2, sheets.totals[section], total, format_=book.money)
            row += 1
    for problem in budget.problems:
        row += 1
        book.put(sheet, row, 1, problem.what, bold=problem.makes_incomplete)
        book.put(sheet, row, 3, f"{problem.affects}. {problem.do}.")


def _asked_for(
    book: LiveBook, sheet: Worksheet, row: int, budget: Budget, content: Mapping[str, Any], paid: str
) -> int:
    """Money, contingency, which grows with the money, and what is asked for. Returns the next row."""
    book.put(sheet, row, 1, say("To be paid, without contingency"), bold=True)
    money = book.formula(sheet, row, 2, f"ROUND({paid},2)", budget.money, format_=book.money, bold=True)
    book.name("Money", sheet, money)
    if not budget.is_complete:
        book.put(sheet, row, 3, say("Incomplete: money is missing from it, see below"), bold=True)
    book.put(sheet, row + 1, 1, say("Contingency, a share of that"))
    share = budget.contingency / budget.money if budget.money else Decimal()
    shared = book.formula(
        sheet, row + 1, 2, f"{budget.contingency}/{budget.money or 1}", share, format_=SHARE
    )
    shared.fill = TO_CHANGE
    book.name("Contingency_share", sheet, shared)
    if content.get("range"):
        told = say(
            "Enough in {percent} of 100 cases for the figures as they were worked out; where they are "
            "changed it "
            "keeps its share, until the planner draws it anew",
            percent=content["percent"],
        )
    else:
        told = say("The range is not worked out, so there is none")
    book.put(sheet, row + 1, 3, told)
    book.put(sheet, row + 2, 1, say("Contingency"))
    extra = book.formula(
        sheet, row + 2, 2, "ROUND(Money*Contingency_share,2)", budget.contingency, format_=book.money
    )
    book.name("Contingency", sheet, extra)
    book.put(sheet, row + 3, 1, say("Asked for"), bold=True)
    asked = book.formula(
        sheet, row + 3, 2, "Money+Contingency", budget.asked_for, format_=book.money, bold=True
    )
    book.name("Asked_for", sheet, asked)
    return row + 4


def _assumptions(book: LiveBook, content: Mapping[str, Any], reader: Reader) -> None:
    sheet = book.sheet("Assumptions", [say("What"), say("Figure")], [70, 50])
    for row, (what, figure) in enumerate(assumptions_of(content, reader), start=2):
        book.put(sheet, row, 1, what)
        book.put(sheet, row, 2, figure)


def _range(book: LiveBook, content: Mapping[str, Any]) -> None:
    """What was drawn; fixed figures, since a spreadsheet does not draw them again."""
    drawn = Simulation.from_json(content["range"])
    sheet = book.sheet(
        "Range",
        [say("In so many of 100 cases not more than"), say("Cost"), say("Hours"), say("To note")],
        [40, 20, 14, 60],
    )
    book.put(
        sheet,
        2,
        4,
        say(
            "Drawn {trials:,} times by the planner; these figures do not follow changes", trials=drawn.trials
        ),
    )
    row = 2
    for percent in sorted({*PERCENTS, content["percent"]}):
        book.put(sheet, row, 1, percent)
        book.put(sheet, row, 2, _money(drawn.at(percent)), format_=book.money)
        book.put(sheet, row, 3, round(Decimal(repr(drawn.hours_at(percent))), 1), format_=HOURS)
        row += 1
    book.put(sheet, row, 1, say("Mean"))
    book.put(sheet, row, 2, _money(drawn.mean), format_=book.money)
    row += 2
    for column, words in enumerate(
        (say("What matters most"), say("At its low end"), say("At its high end")), start=1
    ):
        book.put(sheet, row, column, words, bold=True)
    for driver in drawn.drivers:
        row += 1
        book.put(sheet, row, 1, driver.name)
        book.put(sheet, row, 2, _money(driver.low), format_=book.money)
        book.put(sheet, row, 3, _money(driver.high), format_=book.money)


def _months(book: LiveBook, calendar: Calendar, budget: Budget, sheets: LineSheets) -> None:
    """A row a month; each keeps its share of a section that changes, and a row takes what rounding leaves."""
    totals = {
        section: total
        for section, total in budget.section_totals().items()
        if section is not Section.ON_HAND and total
    }
    paid = [section for section in totals if section not in APART]
    headings = [*(say(SECTION_NAMES[section]) for section in totals), say("To be paid"), say("Hours")]
    sheet = book.sheet("Months", [say("Month"), *headings], [20, *([18] * len(headings))])
    letters = {section: chr(ord("B") + place) for place, section in enumerate(totals)}
    last = len(calendar.months) + 1
    for row, month in enumerate(calendar.months, start=2):
        book.put(sheet, row, 1, f"{month.first:%Y-%m}" if month.first else say("No date"))
        for column, (section, total) in enumerate(totals.items(), start=2):
            formula = f"ROUND({sheets.totals[section]}*{month.of(section)}/{total},2)"
            book.formula(sheet, row, column, formula, month.of(section), format_=book.money)
        _to_be_paid(book, sheet, row, [letters[section] for section in paid], month.total, len(totals) + 2)
        book.put(sheet, row, len(totals) + 3, month.hours, format_=HOURS)
    book.put(sheet, last + 1, 1, say("Rounding of changed figures"))
    book.put(sheet, last + 2, 1, say("In all"), bold=True)
    for column, (section, total) in enumerate(totals.items(), start=2):
        of_months = f"SUM({letters[section]}2:{letters[section]}{last})"
        rounding = f"ROUND({sheets.totals[section]}-{of_months},2)"
        book.formula(sheet, last + 1, column, rounding, Decimal("0.00"), format_=book.money)
        whole = f"ROUND(SUM({letters[section]}2:{letters[section]}{last + 1}),2)"
        book.formula(sheet, last + 2, column, whole, total, format_=book.money, bold=True)
    of_paid = [letters[section] for section in paid]
    _to_be_paid(book, sheet, last + 1, of_paid, Decimal("0.00"), len(totals) + 2)
    _to_be_paid(book, sheet, last + 2, of_paid, budget.money, len(totals) + 2)


def _to_be_paid(
    book: LiveBook, sheet: Worksheet, row: int, letters: Sequence[str], value: Decimal, column: int
) -> None:
    summed = "+".join(f"{letter}{row}" for letter in letters) or "0"
    book.formula(sheet, row, column, f"ROUND({summed},2)", value, format_=book.money, bold=True)


def _baselines(book: LiveBook, budget: Budget, sheets: LineSheets, baselines: Sequence[StoredBudget]) -> None:
    """The sections of now beside those of frozen budgets, and by how much more they come to now."""
    before = [read_budget(one).section_totals() for one in baselines]
    headings = [
        words for one in baselines for words in (one.name or say("The budget of now"), say("Changed by"))
    ]
    sheet = book.sheet(
        "Baselines", [say("Section"), say("Here"), *headings], [40, 20, *([20] * len(headings))]
    )
    now = budget.section_totals()
    row = 2
    for section in Section:
        if section in now or any(section in one for one in before):
            words = f"{say(SECTION_NAMES[section])}{say(', not to be paid') if section in APART else ''}"
            here, name = now.get(section, Decimal()), sheets.totals.get(section, "0")
            then = [one.get(section, Decimal()) for one in before]
            _compared(book, sheet, row, words, name, here, then)
            row += 1
    _compared(book, sheet, row, say("To be paid"), "Money", budget.money, [one.money for one in baselines])
    contingency = [one.contingency for one in baselines]
    _compared(book, sheet, row + 1, say("Contingency"), "Contingency", budget.contingency, contingency)
    asked = [one.asked_for for one in baselines]
    _compared(book, sheet, row + 2, say("Asked for"), "Asked_for", budget.asked_for, asked)


def _compared(
    book: LiveBook,
    sheet: Worksheet,
    row: int,
    words: str,
    name: str,
    here: Decimal,
    then: Sequence[Decimal],
) -> None:
    book.put(sheet, row, 1, words)
    book.formula(sheet, row, 2, name, here, format_=book.money)
    for place, money in enumerate(then):
        cell = book.put(sheet, row, 3 + 2 * place, money, format_=book.money)
        formula = f"ROUND(B{row}-{cell.coordinate},2)"
        book.formula(sheet, row, 4 + 2 * place, formula, here - money, format_=book.money)


def _sources(book: LiveBook, content: Mapping[str, Any], reader: Reader) -> None:
    sheet = book.sheet(
        "Sources", [say("Group"), say("What"), say("Figure"), say("Where it comes from")], [20, 44, 40, 80]
    )
    for row, source in enumerate(sources_for(content, reader), start=2):
        for column, key in enumerate(("group", "what", "figure", "source"), start=1):
            book.put(sheet, row, column, source[key])


def _money(amount: float) -> Decimal:
    return to_cents(Decimal(repr(amount)))
