"""Lists of boards: one sheet size a row, the board's own figures repeated on each of its rows."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from boards.core.price_breaks import break_fault, breaks_text, parse_breaks
from boards.core.standards import standard_of
from boards.core.statements import statements_in
from boards.intake.buying import Suppliers, read_breaks, read_day
from boards.models import Board, BoardStatement, SheetSize, StockMovement
from boards.services import store_breaks
from objects.core.words import noted, say
from objects.intake import Field, ListKind, Row, RowReading
from objects.intake.kinds import BATCH, overwrite

SHEET_FIELDS = ("along_mm", "across_mm", "price", "pack", "supplier", "priced_on", "breaks", "reorder_level")
STATEMENT_NOTE = noted("From a board list")


@dataclass(frozen=True, order=True)
class Stated:
    """That somebody states a standard. standard: its key."""

    standard: str
    by: str

    def __str__(self) -> str:
        return f"{standard_of(self.standard).short_name}, stated by {self.by}"


class BoardList(ListKind):
    """Boards with the sheets they come in, and what is in stock when a sheet size is first entered."""

    key = "boards"
    model, identity, identity_label = SheetSize, "sheet", noted("sheet size")
    fields = (
        Field("code", noted("Code"), ("board", "board code"), required=True),
        Field("name", noted("Name"), ("board name", "description")),
        Field("construction", noted("Construction"), ("type", "structure")),
        Field("flute", noted("Flute"), ("flute type", "flute letter")),
        Field("caliper_mm", noted("Caliper"), ("thickness", "caliper mm", "thickness mm")),
        Field("grammage_g_m2", noted("Grammage g/m2"), ("grammage", "grammage g/m²", "gsm", "basis weight")),
        Field("is_buffered", noted("Buffered"), ("is buffered", "alkaline reserve")),
        Field("standards", noted("Standards"), ("standard", "meets")),
        Field("fold_share", noted("Fold share"), ("how it is folded", "fold")),
        Field(
            "along_mm", noted("Sheet along flutes"), ("along flutes", "along", "sheet length"), required=True
        ),
        Field(
            "across_mm",
            noted("Sheet across flutes"),
            ("across flutes", "across", "sheet width"),
            required=True,
        ),
        Field("price", noted("Price per sheet"), ("price", "cost per sheet", "sheet price")),
        Field("priced_on", noted("Price holds from"), ("price date", "priced on")),
        Field("breaks", noted("Price breaks"), ("quantity prices", "price from")),
        Field("supplier", noted("Supplier"), ("sold by", "vendor")),
        Field("withdrawn_on", noted("No longer sold from"), ("withdrawn on", "withdrawn")),
        Field("pack", noted("Pack"), ("sheets in a pack", "sheets per pack", "pack size")),
        Field("stock", noted("Stock"), ("in stock", "sheets in stock", "on hand")),
        Field("reorder_level", noted("Order again at"), ("reorder level", "reorder at")),
        Field("edge_crush_kn_m", noted("Edge crush kN/m"), ("edge crush", "ect", "ect kn/m")),
    )

    def __init__(self, **context) -> None:
        super().__init__(**context)
        boards = Board.objects.prefetch_related("statements")
        self.boards = {board.code.casefold(): board for board in boards}
        self.suppliers = Suppliers()
        self.first_rows: dict[str, tuple[int, dict]] = {}

    def records(self) -> Iterable[SheetSize]:
        return SheetSize.objects.select_related("board", "supplier").prefetch_related("price_breaks")

    def existing(self) -> dict[str, SheetSize]:
        return {
            self.match_key(_sheet_name(size.board.code, size.along_mm, size.across_mm)): size
            for size in self.records()
        }

    def name_of(self, row: Row) -> str:
        if not {"code", "along_mm", "across_mm"} <= row.values.keys():
            return ""
        return _sheet_name(row.values["code"], row.values["along_mm"], row.values["across_mm"])

    def read(self, row: Row) -> None:
        row.text("code", 20)
        row.text("name", 120)
        row.choice("construction", Board.Construction.choices)
        row.text("flute", 4)
        if row.values.get("flute", "").casefold() == "none":
            row.values["flute"] = ""
        row.length("caliper_mm")
        row.number("grammage_g_m2", "1", "9999", places=1)
        row.yes_no("is_buffered")
        self._read_standards(row)
        row.choice("fold_share", Board.Fold.choices)
        row.length("along_mm")
        row.length("across_mm")
        row.number("price", "0", "1000000")
        row.whole("pack", 1, 10_000)
        read_day(row, "priced_on")
        read_day(row, "withdrawn_on")
        read_breaks(row)
        self.suppliers.read(row)
        row.whole("stock", 0, 1_000_000)
        row.whole("reorder_level", 0, 1_000_000)
        row.number("edge_crush_kn_m", "0.01", "999")

    def _read_standards(self, row: Row) -> None:
        """What is recognised becomes statements; the rest is kept as text."""
        row.text("standards", 300)
        if text := row.values.pop("standards", ""):
            found, rest = statements_in(text)
            row.values["statements"] = [Stated(key, by) for key, by in found]
            if rest:
                row.values["standards"] = rest

    def settle(self, row: Row, record: SheetSize | None) -> None:
        code = row.values["code"].casefold()
        if code not in self.boards and not {"name", "caliper_mm"} <= row.values.keys():
            row.refuse(noted("A new board needs a name and a caliper. Fill them in."))
        if record is None and "price" not in row.values:
            row.refuse(noted("A new sheet size needs a price. Fill it in."))
        if fault := break_fault(
            parse_breaks(row.values.get("breaks", "")), row.values.get("price", record and record.price)
        ):
            row.refuse_cell("breaks", fault)
        if record is not None and row.values.pop("stock", None) is not None:
            row.notes.append(
                noted("Stock of a sheet size already here is kept by receipts and use, not by lists.")
            )
        figures = {field: value for field, value in row.values.items() if field in BOARD_FIELDS}
        line, first = self.first_rows.setdefault(code, (row.line, figures))
        for field in figures.keys() & first.keys():
            if figures[field] != first[field]:
                row.refuse(
                    say(
                        "{label} differs from line {line}, which is the same board.",
                        label=self.label(field),
                        line=line,
                    )
                )
        if "statements" in row.values:
            self._leave_known_statements(row, code)

    def _leave_known_statements(self, row: Row, code: str) -> None:
        """Keep only what is not recorded yet: lists add statements, and only a person takes one back."""
        board = self.boards.get(code)
        known = {Stated(one.standard, one.stated_by) for one in board.statements.all()} if board else set()
        new = [each for each in row.values.pop("statements") if each not in known]
        if new:
            row.values["statements"] = new

    def current(self, record: SheetSize, field: str) -> Any:
        if field == "statements":
            return []
        if field == "breaks":
            return breaks_text([(one.least, one.price) for one in record.price_breaks.all()])
        return getattr(record if field in SHEET_FIELDS else record.board, field)

    def label(self, field: str) -> str:
        if field == "statements":
            return "standards it is stated to meet"
        if field == "breaks":
            return "price breaks"
        return str((SheetSize if field in SHEET_FIELDS else Board)._meta.get_field(field).verbose_name)

    def changes(self, row: Row, record: SheetSize) -> dict[str, tuple]:
        return {
            field: (now, value)
            for field, value in row.values.items()
            if field != "code" and (now := self.current(record, field)) != value
        }

    def save(self, rows: list[RowReading], by=None) -> None:
        self.suppliers.save(rows)
        self._save_boards(rows)
        self._save_statements(rows, by)
        stocks = [row.values.get("stock", 0) for row in rows if row.instance is None]
        new, changed = [], []
        for row in rows:
            size = row.instance or SheetSize(
                along_mm=row.values["along_mm"], across_mm=row.values["across_mm"]
            )
            size.board = self.boards[row.values["code"].casefold()]
            for field in BOUGHT & row.values.keys():
                setattr(size, field, row.values[field])
            (new if row.instance is None else changed).append(size)
            row.instance = size
        SheetSize.objects.bulk_create(new, batch_size=BATCH)
        overwrite(changed)
        for row in rows:
            if "breaks" in row.values:
                store_breaks(of=row.instance, breaks=parse_breaks(row.values["breaks"]))
        StockMovement.objects.bulk_create(
            StockMovement(
                sheet_size=size,
                sequence=1,
                kind=StockMovement.Kind.RECEIPT,
                quantity=stock,
                balance=stock,
                note=noted("In stock when the list was taken in"),
                by=by,
            )
            for size, stock in zip(new, stocks, strict=True)
            if stock
        )

    def _save_boards(self, rows: list[RowReading]) -> None:
        touched: dict[str, Board] = {}
        for row in rows:
            code = row.values["code"].casefold()
            board = self.boards.setdefault(code, Board(code=row.values["code"]))
            for field in BOARD_FIELDS & row.values.keys():
                setattr(board, field, row.values[field])
            touched[code] = board
        old = [board for board in touched.values() if board.pk is not None]
        Board.objects.bulk_create([board for board in touched.values() if board.pk is None])
        overwrite(old)

    def _save_statements(self, rows: list[RowReading], by) -> None:
        """Each statement once a board, though each of its rows says it."""
        stated = {
            (row.values["code"].casefold(), each) for row in rows for each in row.values.get("statements", [])
        }
        BoardStatement.objects.bulk_create(
            BoardStatement(
                board=self.boards[code],
                standard=each.standard,
                stated_by=each.by,
                note=STATEMENT_NOTE,
                recorded_by=by,
            )
            for code, each in sorted(stated)
        )


BOUGHT = {"price", "pack", "supplier", "priced_on", "reorder_level"}
BOARD_FIELDS = {field.key for field in BoardList.fields} - {*SHEET_FIELDS, "code", "stock"}


def _sheet_name(code: str, along_mm, across_mm) -> str:
    return f"{code} {along_mm:.1f} × {across_mm:.1f} mm"
