"""A workbook whose formulas are live and whose cells carry their values too, for whoever only looks at it.

Programs that show a file without working it out, such as previews and protected views, read the value kept
beside a formula; openpyxl keeps none, so that they are written into the finished file here.
"""

import re
import zipfile
from collections.abc import Sequence
from decimal import Decimal
from functools import partial
from io import BytesIO
from math import ceil
from typing import Any

from openpyxl import Workbook
from openpyxl.cell import Cell
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils import absolute_coordinate, get_column_letter
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.worksheet import Worksheet

from housing.printing.list_files import LONGEST_CELL, escaped

# ECMA-376-1, 18.3.1.63, ST_PaperSize
PAPER_SIZES = {"A4": 9, "letter": 1}
BOLD, TITLE = Font(name="Calibri", size=11, bold=True), Font(name="Calibri", size=14, bold=True)
TO_CHANGE = PatternFill("solid", fgColor="FFF6D5")  # what a reader may change
HEAD = PatternFill("solid", fgColor="E4DED2")
WRAPPED, TOP = Alignment("left", "top", wrap_text=True, indent=1), Alignment(vertical="top")
LINE_POINTS = 15  # height of a line of text, as of an empty row
ROOM_LOST = 3  # signs of a column that its indent takes, and words that do not fill their line
_FORMULA = re.compile(r'(<c r="([A-Z]+[0-9]+)"[^>]*><f>.*?</f><v)(?:></v>|\s*/>)', re.DOTALL)

type Value = str | int | float | Decimal | None


class LiveBook:
    """A workbook that is filled cell by cell. paper: a key of PAPER_SIZES; mark: words on every page."""

    def __init__(self, *, currency: str, paper: str, title: str, mark: str = "") -> None:
        self.book = Workbook()
        self.book.remove(self.book.active)
        self.book.properties.creator = "Collection Housing Planner"
        self.book.properties.title = escaped(title)
        self.book.calculation.fullCalcOnLoad = True
        self.money = f'#,##0.00\\ "{currency}"'
        self.paper, self.title, self.mark = paper, title, mark
        self.kept: dict[tuple[str, str], Decimal] = {}

    def sheet(self, name: str, headings: Sequence[str], widths: Sequence[int]) -> Worksheet:
        """A new sheet with its headings in the first row, which stay in view and stand on every page."""
        sheet = self.book.create_sheet(name)
        for column, (heading, width) in enumerate(zip(headings, widths, strict=True), start=1):
            sheet.column_dimensions[get_column_letter(column)].width = width
            self.put(sheet, 1, column, heading, bold=True).fill = HEAD
        sheet.freeze_panes = "A2"
        sheet.print_title_rows = "1:1"
        sheet.page_setup.orientation = "landscape"
        sheet.page_setup.paperSize = PAPER_SIZES[self.paper]
        sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
        sheet.sheet_properties.pageSetUpPr.fitToPage = True
        sheet.oddHeader.left.text = _of_header(self.title)
        sheet.oddHeader.right.text = _of_header(self.mark)
        sheet.oddFooter.left.text = "&A"
        sheet.oddFooter.right.text = "&P / &N"
        return sheet

    def put(
        self,
        sheet: Worksheet,
        row: int,
        column: int,
        value: Value,
        *,
        format_: str = "",
        bold: bool = False,
        to_change: bool = False,
    ) -> Cell:
        """Write a value. A text stays one, whatever it begins with. to_change: tint what may be changed."""
        cell = sheet.cell(row, column)
        if isinstance(value, str):
            cell.value = escaped(value)[:LONGEST_CELL]
            cell.data_type = "s"
            cell.quotePrefix = value[:1] in ("=", "+", "-", "@", "#")
            cell.alignment = WRAPPED
            self._make_room(sheet, cell, value)
        else:
            cell.value, cell.alignment = value, TOP
        return _styled(cell, format_, bold, to_change)

    @staticmethod
    def _make_room(sheet: Worksheet, cell: Cell, text: str) -> None:
        """Make a row high enough for a text that is wrapped; not every program does so when it opens."""
        wide = max(sheet.column_dimensions[cell.column_letter].width - ROOM_LOST, 1)
        lines = sum(max(1, ceil(len(line) / wide)) for line in text.split("\n"))
        row = sheet.row_dimensions[cell.row]
        if lines * LINE_POINTS > (row.height or LINE_POINTS):
            row.height = lines * LINE_POINTS

    def formula(
        self,
        sheet: Worksheet,
        row: int,
        column: int,
        formula: str,
        value: Decimal,
        *,
        format_: str = "",
        bold: bool = False,
    ) -> Cell:
        """Write a formula and what it comes to now, exactly; its text never holds what people typed."""
        cell = sheet.cell(row, column, f"={formula}")
        cell.alignment = TOP
        self.kept[sheet.title, cell.coordinate] = value
        return _styled(cell, format_, bold, False)

    def name(self, name: str, sheet: Worksheet, cell: Cell) -> str:
        """Give a cell a name for formulas; returns the name."""
        self.book.defined_names[name] = DefinedName(name, attr_text=at(sheet, cell))
        return name

    def to_bytes(self) -> bytes:
        """The finished file."""
        file = BytesIO()
        self.book.save(file)
        return self._with_values(file)

    def _with_values(self, file: BytesIO) -> bytes:
        titles = {
            f"xl/worksheets/sheet{n}.xml": title for n, title in enumerate(self.book.sheetnames, start=1)
        }
        done = BytesIO()
        with zipfile.ZipFile(file) as written, zipfile.ZipFile(done, "w", zipfile.ZIP_DEFLATED) as whole:
            for name in written.namelist():
                data = written.read(name)
                if title := titles.get(name):
                    data = _FORMULA.sub(partial(self._valued, title), data.decode()).encode()
                whole.writestr(written.getinfo(name), data)
        return done.getvalue()

    def _valued(self, title: str, found: re.Match[str]) -> str:
        return f"{found[1]}>{self.kept[title, found[2]]:f}</v>"


def at(sheet: Worksheet, cell: Cell) -> str:
    """Where a cell is, for formulas on other sheets and for names."""
    return f"{sheet.title}!{absolute_coordinate(cell.coordinate)}"


def _styled(cell: Cell, format_: str, bold: bool, to_change: bool) -> Any:
    if format_:
        cell.number_format = format_
    if bold:
        cell.font = BOLD
    if to_change:
        cell.fill = TO_CHANGE
    return cell


def _of_header(text: str) -> str:
    """A text for the head of pages, in which & begins a command and doubled stands for itself."""
    return escaped(text).replace("&", "&&")[:120]
