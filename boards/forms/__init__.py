"""Forms of boards, sheets, stock, suppliers and supplies."""

from boards.forms.boards import BoardForm, OffcutForm, SheetForm, StatementForm, StockForm
from boards.forms.fields import (
    BreaksField,
    ExactAreaField,
    ExactLengthField,
    LengthsForm,
    PercentField,
    day_input,
)
from boards.forms.supplies import SupplierForm, SupplyForm

__all__ = [
    "BoardForm",
    "BreaksField",
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
    "day_input",
]
