"""Lists of housing designs."""

from collections.abc import Iterable
from decimal import Decimal

from boards.core.standards import STANDARDS
from boards.core.statements import statements_in
from boards.models import Board
from housing.core.enclosures import ENCLOSURES
from housing.core.enclosures.options import Kind, Option, check_choice, read_choices
from housing.core.errors import OptionRefused
from housing.models import Design
from housing.models.designs import ROUNDINGS, form_choices
from objects.core.words import noted, say
from objects.intake import Field, ListKind, Row

# Every option of any form, the first to declare it giving the label; "option" because a key may be a field's.
OPTIONS: dict[str, Option] = {
    option.key: option for form in reversed(ENCLOSURES.values()) for option in reversed(form.options)
}
ALIASES = {
    "flap_width": ("flap", "flaps"),
    "lid_depth": ("depth of the lid",),
    "lid_clearance": ("lid clearance", "clearance of the lid"),
}


def _length(row: Row, key: str, option: Option) -> None:
    row.length(key, may_be_zero=not option.is_above)


_READ = {
    Kind.LENGTH: _length,
    Kind.YES_NO: lambda row, key, option: row.yes_no(key),
    Kind.COUNT: lambda row, key, option: row.whole(key, int(option.least), int(option.most)),
    Kind.WORD: lambda row, key, option: row.choice(key, option.words),
}


class DesignList(ListKind):
    """Designs, one a row; the board is named by its code."""

    key = "designs"
    model, identity, identity_label = Design, "name", noted("design")
    fields = (
        Field("name", noted("Name"), ("design", "design name"), required=True),
        Field("form", noted("Form"), ("enclosure", "enclosure form")),
        Field("board", noted("Board"), ("board code",), required=True),
        Field(
            "asks_for", noted("Board must meet"), ("standards", "standards of the board", "board standards")
        ),
        Field("height_allowance_mm", noted("Height allowance"), ("allowance on the height",)),
        Field("side_allowance_mm", noted("Side allowance"), ("allowance on each side",)),
        *(Field(key, option.label, ALIASES.get(key, ())) for key, option in OPTIONS.items()),
        Field("drawn", noted("Drawn"), ("how the blank is drawn",)),
        Field("rounding", noted("Rounding"), ("positions rounded to",)),
        Field("lining_mm", noted("Lining thickness"), ("thickness of the lining",)),
        Field("padding", noted("Padding"), ("lining",)),
        Field("padding_price_m2", noted("Padding price per m2"), ("padding price", "lining price per m2")),
        Field("notes", noted("Notes"), ("note", "remarks")),
    )

    def __init__(self, **context) -> None:
        super().__init__(**context)
        self.boards = {board.code.casefold(): board for board in Board.objects.all()}

    def records(self) -> Iterable[Design]:
        return Design.objects.select_related("board")

    def read(self, row: Row) -> None:
        row.text("name", 120)
        row.choice("form", form_choices())
        code = row.cell("board")
        if board := self.boards.get(code.casefold()):
            row.values["board"] = board
        elif code:
            known = ", ".join(sorted(board.code for board in self.boards.values())) or say("none yet")
            row.refuse_cell(
                "board",
                say(
                    "there is no board with the code “{code}”. Boards here: {known}.", code=code, known=known
                ),
            )
        self._read_standards(row)
        row.length("height_allowance_mm", may_be_zero=True)
        row.length("side_allowance_mm", may_be_zero=True)
        for key, option in OPTIONS.items():
            _READ[option.kind](row, key, option)
        row.choice("drawn", Design.Drawn.choices)
        row.choice("rounding", ROUNDINGS)
        row.length("lining_mm", may_be_zero=True)
        row.text("padding", 120)
        row.number("padding_price_m2", "0", "100000")
        row.text("notes", 5000)

    def _read_standards(self, row: Row) -> None:
        """The standards that the board must meet, as lists write them; “none” takes them away."""
        cell = row.cell("asks_for")
        if cell.casefold() == "none":
            row.values["asks_for"] = []
        elif cell:
            found, rest = statements_in(cell)
            if rest:
                row.refuse_cell(
                    "asks_for",
                    say("“{rest}” is no standard known here. Write it like ISO 16245 type A.", rest=rest),
                )
            keys = {key for key, _ in found}
            row.values["asks_for"] = [key for key in STANDARDS if key in keys]

    def settle(self, row: Row, record: Design | None) -> None:
        """Gather the options of the row's form over those the design has already."""
        given = {key: row.values.pop(key) for key in OPTIONS if key in row.values}
        form = ENCLOSURES[row.values.get("form") or (record or Design()).form]
        options = dict(record.options) if record and record.form == form.key else {}
        offered = {option.key: option for option in form.options}
        for key, value in given.items():
            value = float(value) if isinstance(value, Decimal) else value
            try:
                read_choices(form.options, {key: value})
            except OptionRefused as refused:
                row.refuse_cell(key, str(refused))
                continue
            if value == offered[key].default:
                options.pop(key, None)
            else:
                options[key] = check_choice(offered[key], value)
        row.values["options"] = options
