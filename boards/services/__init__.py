"""Stock in and out, the rack, what is stated of boards, and what supplies and their suppliers are kept as."""

from boards.services.counts import Counted, CountRefused, count_all
from boards.services.ledgers import StockRefused
from boards.services.rack import drop_offcut, keep_offcut, put_back_offcut, reverse_rack_entry, use_offcut
from boards.services.statements import correct_board, delete_statement, forget_correction, record_statement
from boards.services.stock import (
    count_sheets,
    receive_sheets,
    reverse_movement,
    use_sheets,
    write_off_sheets,
)
from boards.services.supplies import (
    SupplierInUse,
    SupplyInUse,
    delete_supplier,
    delete_supply,
    save_supply,
    store_breaks,
)
from boards.services.supply_stock import (
    count_supply,
    receive_supply,
    reverse_supply_movement,
    use_supply,
    write_off_supply,
)

__all__ = [
    "CountRefused",
    "Counted",
    "StockRefused",
    "SupplierInUse",
    "SupplyInUse",
    "correct_board",
    "count_all",
    "count_sheets",
    "count_supply",
    "delete_statement",
    "delete_supplier",
    "delete_supply",
    "drop_offcut",
    "forget_correction",
    "keep_offcut",
    "put_back_offcut",
    "receive_sheets",
    "receive_supply",
    "record_statement",
    "reverse_movement",
    "reverse_rack_entry",
    "reverse_supply_movement",
    "save_supply",
    "store_breaks",
    "use_offcut",
    "use_sheets",
    "use_supply",
    "write_off_sheets",
    "write_off_supply",
]
