"""What is advised, in words; lengths as "12.3 mm", so that they can be told in a reader's unit."""

from boards.core.standards import STANDARDS
from housing.core.choosing.advice import Piece
from housing.core.choosing.marks import MARKS
from housing.core.choosing.rules import Value
from housing.core.enclosures import ENCLOSURES
from objects.core.words import noted, say

BOARD_KINDS = {"buffered": noted("buffered board"), "unbuffered": noted("unbuffered board")}


def words_of(piece: Piece, value: Value) -> str:
    """A value as a reader sees it; a design, which the core knows by its key only, as its number."""
    match piece:
        case Piece.FORM:
            return say(ENCLOSURES[str(value)].name) if value in ENCLOSURES else str(value)
        case Piece.BOARD_KIND:
            return say(BOARD_KINDS.get(str(value), str(value)))
        case Piece.LEAST_CALIPER | Piece.HEIGHT_ALLOWANCE | Piece.SIDE_ALLOWANCE:
            return f"{float(value):.4f}".rstrip("0").rstrip(".") + " mm"
        case Piece.MARK:
            return say(MARKS.get(str(value), str(value)))
        case Piece.STANDARD:
            return STANDARDS[str(value)].name if value in STANDARDS else str(value)
    return str(value)
