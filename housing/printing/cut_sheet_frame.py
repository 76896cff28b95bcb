"""The places on a page of a cut sheet, and what is laid down at them."""

from dataclasses import dataclass
from html import escape

from housing.core.drawing.svg import number

MARGIN_MM = 8.0
GAP_MM = 4.0  # between the columns
DRAWINGS_SHARE = 0.49  # of the width
BLOCK_MM = 9.5  # title block
RULER_MM = 6.0  # the line to check the printer with, across the page


@dataclass(frozen=True)
class Frame:
    """The places of a page, mm: where columns begin, how wide they are, and where they end."""

    wide: float
    high: float
    is_left: bool
    share: float = DRAWINGS_SHARE  # of the drawings' column

    @property
    def room(self) -> float:
        return self.wide - 2 * MARGIN_MM

    @property
    def drawings_wide(self) -> float:
        return round((self.room - GAP_MM) * self.share, 1)

    @property
    def words_wide(self) -> float:
        return self.room - GAP_MM - self.drawings_wide

    @property
    def drawings_x(self) -> float:
        return MARGIN_MM + (self.words_wide + GAP_MM if self.is_left else 0.0)

    @property
    def words_x(self) -> float:
        return MARGIN_MM + (0.0 if self.is_left else self.drawings_wide + GAP_MM)

    @property
    def foot(self) -> float:
        """Where the title block begins."""
        return self.high - MARGIN_MM - BLOCK_MM

    @property
    def bottom(self) -> float:
        """Where the columns end."""
        return self.foot - RULER_MM


def placed(svg: str, x: float, y: float) -> str:
    """A drawing laid on a page with its upper left corner at a point, as large as it is drawn."""
    head, _, content = svg.partition(">")
    kind = head.partition('class="')[2].partition('"')[0]
    return (
        f'<g class="{kind}" role="img" transform="translate({number(x)} {number(y)})">'
        f"{content.removesuffix('</svg>')}</g>"
    )


def picture(address: str, x: float, y: float, wide: float, high: float) -> str:
    return (
        f'<image class="picture" href="{address}" x="{number(x)}" y="{number(y)}" width="{number(wide)}" '
        f'height="{number(high)}" image-rendering="optimizeSpeed"/>'
    )


def centred(words: str, x: float, y: float, size: float, bold: bool) -> str:
    weight = ' font-weight="bold"' if bold else ""
    return (
        f'<text class="head" x="{number(x)}" y="{number(y + size)}" font-size="{number(size)}"{weight} '
        f'text-anchor="middle">{escape(words)}</text>'
    )
