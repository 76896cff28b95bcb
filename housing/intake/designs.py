"""Lists of housing designs."""

from collections.abc import Iterable

from boards.models import Board
from housing.models import Design
from housing.models.designs import FORM_CHOICES
from objects.intake import Field, ListKind, Row


class DesignList(ListKind):
    """Designs, one a row; the board is named by its code."""

    key = "designs"
    model, identity, identity_label = Design, "name", "design"
    fields = (
        Field("name", "Name", ("design", "design name"), required=True),
        Field("form", "Form", ("enclosure", "enclosure form")),
        Field("board", "Board", ("board code",), required=True),
        Field("height_allowance_mm", "Height allowance", ("allowance on the height",)),
        Field("side_allowance_mm", "Side allowance", ("allowance on each side",)),
        Field("lid_depth_mm", "Lid depth", ("depth of the lid",)),
        Field("lid_clearance_mm", "Lid clearance", ("clearance of the lid",)),
        Field("flap_width_mm", "Flap width", ("flap", "flaps")),
        Field("padding", "Padding", ("lining",)),
        Field("padding_price_m2", "Padding price per m2", ("padding price", "lining price per m2")),
        Field("notes", "Notes", ("note", "remarks")),
    )

    def __init__(self, **context) -> None:
        super().__init__(**context)
        self.boards = {board.code.casefold(): board for board in Board.objects.all()}

    def records(self) -> Iterable[Design]:
        return Design.objects.select_related("board")

    def read(self, row: Row) -> None:
        row.text("name", 120)
        row.choice("form", FORM_CHOICES)
        code = row.cell("board")
        if board := self.boards.get(code.casefold()):
            row.values["board"] = board
        elif code:
            known = ", ".join(sorted(board.code for board in self.boards.values())) or "none yet"
            row.refuse_cell("board", f"there is no board with the code “{code}”. Boards here: {known}.")
        row.length("height_allowance_mm", may_be_zero=True)
        row.length("side_allowance_mm", may_be_zero=True)
        row.length("lid_depth_mm")
        row.length("lid_clearance_mm", may_be_zero=True)
        row.length("flap_width_mm")
        row.text("padding", 120)
        row.number("padding_price_m2", "0", "100000")
        row.text("notes", 5000)
