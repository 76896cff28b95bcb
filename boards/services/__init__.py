"""Stock in and out, what is stated of boards, and what supplies and their suppliers are kept as."""

from boards.services.stock import (
    StockRefused,
    correct_board,
    delete_statement,
    drop_offcut,
    forget_correction,
    keep_offcut,
    receive_sheets,
    record_statement,
    reverse_movement,
    use_offcut,
    use_sheets,
    write_off_sheets,
)
from boards.services.supplies import (
    SupplierInUse,
    delete_supplier,
    delete_supply,
    save_supply,
    store_breaks,
)

__all__ = [
    "StockRefused",
    "SupplierInUse",
    "correct_board",
    "delete_statement",
    "delete_supplier",
    "delete_supply",
    "drop_offcut",
    "forget_correction",
    "keep_offcut",
    "receive_sheets",
    "record_statement",
    "reverse_movement",
    "save_supply",
    "store_breaks",
    "use_offcut",
    "use_sheets",
    "write_off_sheets",
]
