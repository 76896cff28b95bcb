"""The sheets of a budget's workbook on which figures are changed: rates, labour and all lines."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from openpyxl.cell import Cell
from openpyxl.worksheet.worksheet import Worksheet

from housing.core.budget.lines import APART, ONE, SECTION_NAMES, Budget, BudgetLine, Section
from housing.core.labour.rates import STEP_NAMES
from housing.printing.live_sheets import LiveBook, at
from objects.core.words import say

HOURS, SHARE, FACTOR = "#,##0.00", "0.00%", "0.0000"
BY_THE_HOUR = (Section.LABOUR, Section.SUPERVISION, Section.IN_KIND)
AMOUNT = "G"  # column of amounts on the sheet of lines

type Rate = tuple[str, bool, Decimal, Decimal]  # whose, whether given in kind, rate, on-costs


@dataclass
class LineSheets:
    """Where the other sheets find what they add up.

    totals: by section the name of its sum. rows: row of each line on the sheet of lines, by key.
    """

    totals: dict[Section, str] = field(default_factory=dict)
    rows: dict[str, int] = field(default_factory=dict)


def lines_in_order(budget: Budget) -> list[BudgetLine]:
    """The lines as they stand on the sheet: goods, freight, work, indirect costs, then what is apart."""
    order = list(Section)
    return sorted(budget.lines, key=lambda line: order.index(line.section))


def add_line_sheets(book: LiveBook, budget: Budget, content: Mapping[str, Any]) -> LineSheets:
    """Add the sheets of rates, labour and lines, each following the one before it."""
    lines = lines_in_order(budget)
    worked = [line for line in lines if line.section in BY_THE_HOUR]
    lines_sheet = book.sheet(
        "Lines",
        [
            say("Group"),
            say("What"),
            say("Quantity"),
            say("Unit"),
            say("Price"),
            say("Factor"),
            say("Amount"),
            say("Computed from"),
            say("Supplier"),
        ],
        [20, 40, 12, 16, 14, 9, 18, 70, 24],
    )
    rates = _Rates(book, budget, worked, content)
    labour = _labour(book, worked, rates)
    return _lines(book, lines_sheet, lines, labour, rates, content)


class _Rates:
    """The sheet of rates and terms: a row a person, then suppliers and shares."""

    def __init__(
        self, book: LiveBook, budget: Budget, worked: Sequence[BudgetLine], content: Mapping[str, Any]
    ) -> None:
        self.sheet = book.sheet(
            "Rates",
            [say("Person or supplier"), say("Of what"), say("Rate"), say("On-costs, a share of the pay")],
            [34, 44, 18, 18],
        )
        self.supervisor = str(content["terms"].get("supervisor") or "nobody")
        self.of: dict[Rate, tuple[Cell, Cell]] = {}
        self.freight: dict[str, tuple[Cell, Cell, Cell]] = {}
        self.indirect: Cell | None = None
        row = 2
        for line in worked:
            if (rate := self.rate_of(line)) not in self.of:
                self._add_person(book, row, line, rate)
                row += 1
        row = self._add_freight(book, budget, content, row)
        for line in budget.of(Section.INDIRECT):
            book.put(self.sheet, row, 1, say("Indirect costs"))
            book.put(self.sheet, row, 2, say("A share of all other money"))
            self.indirect = book.put(self.sheet, row, 3, line.price, format_=SHARE, to_change=True)
            book.name("Indirect_share", self.sheet, self.indirect)

    def rate_of(self, line: BudgetLine) -> Rate:
        whose = self.supervisor if line.section is Section.SUPERVISION else line.key.split(":")[1]
        return whose, line.section is Section.IN_KIND, line.price, line.factor

    def _add_person(self, book: LiveBook, row: int, line: BudgetLine, rate: Rate) -> None:
        is_given = line.section is Section.IN_KIND
        book.put(self.sheet, row, 1, line.what.rpartition(": ")[0])
        book.put(self.sheet, row, 2, say("Worth of an hour given") if is_given else say("Paid for an hour"))
        paid = book.put(self.sheet, row, 3, line.price, format_=book.money, to_change=True)
        on_costs = book.put(self.sheet, row, 4, line.factor - ONE, format_=SHARE, to_change=True)
        book.name(f"Rate_{row - 1}", self.sheet, paid)
        book.name(f"On_costs_{row - 1}", self.sheet, on_costs)
        self.of[rate] = paid, on_costs

    def _add_freight(self, book: LiveBook, budget: Budget, content: Mapping[str, Any], row: int) -> int:
        terms = content.get("suppliers", {})
        for line in budget.of(Section.FREIGHT):
            if kept := terms.get(line.supplier):
                cells = []
                for words, key, format_ in (
                    (say("Freight of an order"), "each", book.money),
                    (say("Freight, a share of the goods"), "share", SHARE),
                    (say("Free of freight from goods worth"), "free_from", book.money),
                ):
                    book.put(self.sheet, row, 1, _supplier(content, line.supplier))
                    book.put(self.sheet, row, 2, words)
                    value = Decimal(kept[key]) if kept[key] else None
                    cells.append(book.put(self.sheet, row, 3, value, format_=format_, to_change=True))
                    row += 1
                self.freight[line.supplier] = (cells[0], cells[1], cells[2])
        return row


def _labour(book: LiveBook, worked: Sequence[BudgetLine], rates: _Rates) -> dict[str, tuple[str, str, str]]:
    """The sheet of hours by person and step. Returns where hours, rate and on-costs of each line stand."""
    sheet = book.sheet(
        "Labour",
        [
            say("Person"),
            say("Step"),
            say("Hours"),
            say("Rate"),
            "On-costs",
            say("To be paid"),
            say("Worth, given in kind"),
        ],
        [34, 44, 12, 18, 12, 18, 20],
    )
    found = {}
    for row, line in enumerate(worked, start=2):
        who, _, step = line.what.rpartition(": ")
        paid, on_costs = rates.of[rates.rate_of(line)]
        book.put(sheet, row, 1, who)
        book.put(sheet, row, 2, say(STEP_NAMES.get(line.step, line.step)) if line.step else step)
        hours = book.put(sheet, row, 3, line.quantity, format_=HOURS, to_change=True)
        rate = book.formula(sheet, row, 4, at(rates.sheet, paid), line.price, format_=book.money)
        share = book.formula(sheet, row, 5, at(rates.sheet, on_costs), line.factor - ONE, format_=SHARE)
        column = 7 if line.section is Section.IN_KIND else 6
        book.formula(
            sheet, row, column, f"ROUND(C{row}*D{row}*(1+E{row}),2)", line.amount, format_=book.money
        )
        found[line.key] = (at(sheet, hours), at(sheet, rate), at(sheet, share))
    last, row = len(worked) + 1, len(worked) + 2
    if worked:
        book.put(sheet, row, 1, say("In all"), bold=True)
        sums = (
            ("C", sum((line.quantity for line in worked), Decimal()), HOURS),
            ("F", _sum(worked, Section.LABOUR, Section.SUPERVISION), book.money),
            ("G", _sum(worked, Section.IN_KIND), book.money),
        )
        for letter, value, format_ in sums:
            book.formula(
                sheet, row, "ABCDEFG".index(letter) + 1, f"ROUND(SUM({letter}2:{letter}{last}),2)", value,
                format_=format_, bold=True,
            )  # fmt: skip
    return found


def _lines(
    book: LiveBook,
    sheet: Worksheet,
    lines: Sequence[BudgetLine],
    labour: Mapping[str, tuple[str, str, str]],
    rates: _Rates,
    content: Mapping[str, Any],
) -> LineSheets:
    found = LineSheets({}, {line.key: row for row, line in enumerate(lines, start=2)})
    for line in lines:
        row = found.rows[line.key]
        book.put(sheet, row, 1, say(SECTION_NAMES[line.section]))
        book.put(sheet, row, 2, line.what)
        book.put(sheet, row, 4, line.unit)
        book.put(sheet, row, 8, line.computed_from)
        book.put(sheet, row, 9, _supplier(content, line.supplier))
        _figures(book, sheet, row, line, lines, labour, rates)
        book.formula(
            sheet, row, 7, f"ROUND(C{row}*E{row}*F{row},2)", line.amount, format_=book.money, bold=True
        )
    _sums(book, sheet, lines, found)
    return found


def _figures(
    book: LiveBook,
    sheet: Worksheet,
    row: int,
    line: BudgetLine,
    lines: Sequence[BudgetLine],
    labour: Mapping[str, tuple[str, str, str]],
    rates: _Rates,
) -> None:
    """Quantity, price and factor of a line: figures that may be changed, or where they come from."""
    price_format = book.money.replace("0.00", "0.00##", 1)
    if line.key in labour:
        hours, rate, share = labour[line.key]
        book.formula(sheet, row, 3, hours, line.quantity, format_=HOURS)
        book.formula(sheet, row, 5, rate, line.price, format_=price_format)
        book.formula(sheet, row, 6, f"1+{share}", line.factor, format_=FACTOR)
        return
    book.put(sheet, row, 6, line.factor, format_=FACTOR)
    if line.section is Section.INDIRECT and rates.indirect:
        before = [n for n, one in enumerate(lines, start=2) if one.section not in APART and n < row]
        span = f"{AMOUNT}{before[0]}:{AMOUNT}{before[-1]}" if before else f"{AMOUNT}{row + 1}"
        book.formula(sheet, row, 3, f"ROUND(SUM({span}),2)", line.quantity, format_=book.money)
        book.formula(sheet, row, 5, at(rates.sheet, rates.indirect), line.price, format_=SHARE)
    elif line.supplier in rates.freight and line.section is Section.FREIGHT:
        book.put(sheet, row, 3, line.quantity)
        each, share, free = (at(rates.sheet, cell) for cell in rates.freight[line.supplier])
        goods = "+".join(
            f"{AMOUNT}{n}"
            for n, one in enumerate(lines, start=2)
            if one.supplier == line.supplier and one.section is not Section.FREIGHT
        )
        free_of = f'AND({free}<>"",({goods})>={free})'
        formula = f"IF(({goods})=0,0,IF({free_of},0,ROUND({each}+{share}*({goods}),2)))"
        book.formula(sheet, row, 5, formula, line.price, format_=price_format)
    else:
        book.put(sheet, row, 3, line.quantity, to_change=True)
        book.put(sheet, row, 5, line.price, format_=price_format, to_change=True)


def _sums(book: LiveBook, sheet: Worksheet, lines: Sequence[BudgetLine], found: LineSheets) -> None:
    """The sum of each section beneath the lines, each with a name."""
    row = len(lines) + 3
    for section in Section:
        rows = [found.rows[line.key] for line in lines if line.section is section]
        if rows:
            words = f"{say(SECTION_NAMES[section])}{say(', not to be paid') if section in APART else ''}"
            book.put(sheet, row, 2, words, bold=True)
            formula = f"ROUND(SUM({AMOUNT}{rows[0]}:{AMOUNT}{rows[-1]}),2)"
            cell = book.formula(sheet, row, 7, formula, _sum(lines, section), format_=book.money, bold=True)
            found.totals[section] = book.name(f"Sum_{section.value}", sheet, cell)
            row += 1


def _sum(lines: Sequence[BudgetLine], *sections: Section) -> Decimal:
    return sum((line.amount for line in lines if line.section in sections), Decimal())


def _supplier(content: Mapping[str, Any], key: str) -> str:
    """The name of a supplier as the budget has it."""
    return next((order["name"] for order in content["orders"] if order["supplier"] == key and key), "")
