"""Words set into a rectangle: upright or turned, in one or two rows, as large as there is room for."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

from housing.core.drawing.svg import SMALL_MM, TEXT_MM, text, text_width

Box = tuple[float, float, float, float]  # left, top, right, bottom, mm on paper

SMALLEST_MM = 2.2
# Text sizes and turns, the easiest to read first: upright words a little smaller before turned ones.
TRIES = (
    *((size, turn) for turn in (0, -90) for size in (TEXT_MM, SMALL_MM)),
    *((SMALLEST_MM, turn) for turn in (0, -90)),
)
MARGIN_MM = 2.0  # kept free along the sides, so that signs on a shared line touch no words
ROW_PITCH = 1.35  # from one baseline to the next, in parts of the text size
RISE = 0.36  # from the middle of a row down to its baseline, half the height of capitals


@dataclass(frozen=True)
class Fitted:
    """Rows of words centred in a rectangle, at a size that fits, upright (0) or turned (-90)."""

    rows: tuple[str, ...]
    size_mm: float
    turn: int
    middle: tuple[float, float]

    @property
    def boxes(self) -> list[Box]:
        """The room each row takes up."""
        found = []
        for row, (x, y) in zip(self.rows, self._middles(), strict=True):
            half, high = text_width(row, self.size_mm) / 2, self.size_mm / 2
            across, down = (half, high) if self.turn == 0 else (high, half)
            found.append((x - across, y - down, x + across, y + down))
        return found

    def draw(self, class_: str) -> str:
        drop = RISE * self.size_mm
        shift = (0.0, drop) if self.turn == 0 else (drop, 0.0)
        return "".join(
            text(x + shift[0], y + shift[1], row, class_, self.size_mm, "middle", self.turn)
            for row, (x, y) in zip(self.rows, self._middles(), strict=True)
        )

    def _middles(self) -> list[tuple[float, float]]:
        x, y = self.middle
        offsets = [(i - (len(self.rows) - 1) / 2) * ROW_PITCH * self.size_mm for i in range(len(self.rows))]
        return [(x, y + offset) if self.turn == 0 else (x + offset, y) for offset in offsets]


def fit_words(
    ways: Sequence[tuple[str, ...]], box: Box, largest_mm: float = TEXT_MM, margin_mm: float = MARGIN_MM
) -> Fitted | None:
    """The first of several ways to put something that fits a rectangle, the more telling ways first.

    ways: rows of words, one tuple a way. box: the rectangle, mm on paper. largest_mm: largest text size.
    margin_mm: kept free along the sides.
    Returns the rows with size and turn, or None where none fits even in the smallest size.
    """
    wide, high = box[2] - box[0] - 2 * margin_mm, box[3] - box[1] - 2 * margin_mm
    tries = [(size, turn) for size, turn in TRIES if size <= largest_mm]
    for rows, (size, turn) in product(ways, tries):
        long = max(text_width(row, size) for row in rows)
        deep = size * (1 + ROW_PITCH * (len(rows) - 1))
        if (long <= wide and deep <= high) if turn == 0 else (long <= high and deep <= wide):
            return Fitted(rows, size, turn, ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2))
    return None
