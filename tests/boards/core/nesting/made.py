"""Questions for the nesting: read from the instance files, or made with what matters visible."""

import json
from collections.abc import Iterable
from decimal import Decimal
from pathlib import Path

from boards.core.nesting import Piece, Rules, Sheet

INSTANCES = Path(__file__).parents[4] / "fixtures" / "nesting"
CLASSES = json.loads((INSTANCES / "classes.json").read_text("utf-8"))["instances"]
IN = 25.4

Question = tuple[list[Piece], list[Sheet], Rules]


def make_pieces(*sizes: tuple[float, float], may_turn: bool = False) -> list[Piece]:
    """Blanks named A, B, C ... of the given sizes, mm along and across."""
    return [Piece(chr(65 + number), *size, may_turn) for number, size in enumerate(sizes)]


def make_sheet(
    along_mm: float = 100, across_mm: float = 60, price: int = 1, stock: int | None = None, key: str = "S"
) -> Sheet:
    """A sheet size, as many as needed unless said otherwise."""
    return Sheet(key, along_mm, across_mm, Decimal(price), stock)


def campaign(name: str) -> Question:
    """A campaign of box blanks; prices in cents."""
    instance = json.loads((INSTANCES / f"campaign_{name}.json").read_text("utf-8"))
    pieces = [Piece(part["id"], part["w"], part["h"], bool(part["rot"])) for part in instance["parts"]]
    sheets = [Sheet(s["id"], s["w"], s["h"], Decimal(s["cost"]), s["stock"]) for s in instance["sheets"]]
    return pieces, sheets, Rules(kerf_mm=instance["kerf"], trim_mm=instance["trim"])


def published(instance: dict, may_turn: bool) -> Question:
    """A published bin packing instance; a bin costs 1."""
    pieces = [Piece(str(number), *item, may_turn) for number, item in enumerate(instance["items"])]
    return pieces, [Sheet("bin", *instance["bin"], Decimal(1))], Rules()


def twice(pieces: Iterable[Piece]) -> list[Piece]:
    """Every blank, and every blank again under another key."""
    return [
        Piece(f"{piece.key}{again}", piece.along_mm, piece.across_mm, piece.may_turn)
        for piece in pieces
        for again in ("", "'")
    ]
