"""Forms of boards, sheets, stock, suppliers and supplies."""

from boards.forms.boards import BoardForm, OffcutForm, SheetForm, StatementForm
from boards.forms.counts import CountForm
from boards.forms.fields import (
    BreaksField,
    ExactAreaField,
    ExactLengthField,
    LengthsForm,
    PercentField,
    day_input,
)
from boards.forms.stock import StockForm, SupplyStockForm
from boards.forms.supplies import SupplierForm, SupplyForm

__all__ = [
    "BoardForm",
    "BreaksField",
    "CountForm",
    "ExactAreaField",
    "ExactLengthField",
    "LengthsForm",
    "OffcutForm",
    "PercentField",
    "SheetForm",
    "StatementForm",
    "StockForm",
    "SupplierForm",
    "SupplyForm",
    "SupplyStockForm",
    "day_input",
]
