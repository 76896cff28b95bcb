"""The heading of a cut sheet: which object and box, its facts and pictures, the code and the version."""

from base64 import b64decode
from collections.abc import Sequence
from html import escape
from io import BytesIO

from PIL import Image

from housing.core.drawing.svg import number
from housing.printing.cut_sheet_content import CutSheet
from housing.printing.cut_sheet_frame import MARGIN_MM, Frame, centred, picture, placed
from housing.printing.typefaces import width_of
from housing.printing.typesetting import HEAD_MM, LEADING, TEXT_MM, Run, lines_height, rule, text_lines, wrap
from objects.core.words import noted, say

NUMBER_MM, SMALLEST_NUMBER_MM, NAME_MM = 7.0, 4.4, 3.7
QR_MM, PHOTO_MM = 22.5, (32.0, 25.0)
OUTSIDE = noted("Outside, h × w × d")


def first_heading(sheet: CutSheet, frame: Frame) -> tuple[str, float]:
    """The heading of the first page, and where the columns begin beneath it."""
    x, y = MARGIN_MM, MARGIN_MM
    right = frame.wide - MARGIN_MM
    left = right - QR_MM - 3.0
    pictures = []
    if sheet.closed:
        svg, wide, high = sheet.closed
        under = max(wide, 30.0, TEXT_MM * max(width_of(sheet.outside, True), width_of(say(OUTSIDE))))
        left -= under
        pictures.append(_closed(sheet, left, under))
        left -= 3.0
    if photo := _photo(sheet, left):
        pictures.append(photo[0])
        left -= photo[1] + 3.0
    room = left - x
    size = max(SMALLEST_NUMBER_MM, min(NUMBER_MM, 0.97 * room / max(width_of(sheet.numbers, True), 1.0)))
    drawn = pictures

    def lines(runs: list[Run], high: float, most: int = 2, gap: float = 0.6) -> None:
        nonlocal y
        set_ = wrap(runs, room, high)[:most]
        drawn.append(text_lines(set_, x, y, high, "head"))
        y += lines_height(len(set_), high) + gap

    lines([(sheet.numbers, True)], size, 3)
    lines([(sheet.name, False)], NAME_MM)
    lines([(sheet.box, True), (f"· {sheet.location}", False)], TEXT_MM)
    lines(_told([*sheet.things, *sheet.facts]), TEXT_MM, 5)
    if sheet.hazards:
        lines([(say("Hazards: {hazards}", hazards=sheet.hazards), True)], HEAD_MM, 3)
    drawn.append(picture(sheet.qr, right - QR_MM, MARGIN_MM, QR_MM, QR_MM))
    under = [(sheet.code, TEXT_MM, False), (say("Version {code}", code=sheet.version), HEAD_MM, True)]
    at = MARGIN_MM + QR_MM - 0.6
    for words, high, bold in under:
        if words:
            drawn.append(
                centred(words, right - QR_MM / 2, at, min(high, QR_MM / width_of(words, bold)), bold)
            )
            at += high * LEADING
    bottom = max(y, at + 0.6, MARGIN_MM + (PHOTO_MM[1] if photo or sheet.closed else 0.0)) + 0.8
    drawn.append(rule(MARGIN_MM, bottom, frame.room, 0.6))
    return "".join(drawn), bottom + 0.8


def next_heading(sheet: CutSheet, frame: Frame) -> tuple[str, float]:
    """The heading of a further page."""
    number_mm, y = 5.0, MARGIN_MM
    version = say("Version {code}", code=sheet.version)
    room = frame.room - width_of(version, True) * HEAD_MM - 4.0
    size = min(number_mm, 0.97 * room / max(width_of(sheet.numbers, True), 1.0))
    name = wrap([(sheet.box, True), (f"· {sheet.name}", False)], frame.room)[:1]
    drawn = [
        text_lines([[(sheet.numbers, True)]], MARGIN_MM, y, size, "head"),
        f'<text class="head" x="{number(frame.wide - MARGIN_MM)}" y="{number(y + HEAD_MM * 1.2)}" '
        f'font-size="{number(HEAD_MM)}" font-weight="bold" text-anchor="end">{escape(version)}</text>',
        text_lines(name, MARGIN_MM, y + number_mm * LEADING + 0.4),
    ]
    bottom = y + number_mm * LEADING + 0.4 + lines_height(1) + 1.0
    return "".join(drawn) + rule(MARGIN_MM, bottom, frame.room, 0.6), bottom + 0.8


def _closed(sheet: CutSheet, x: float, wide: float) -> str:
    """The closed box with its outside sizes beneath it."""
    svg, drawn_wide, drawn_high = sheet.closed
    words = (say(OUTSIDE), False), (sheet.outside, True)
    top = MARGIN_MM + max(0.0, (18.0 - drawn_high) / 2)
    found = [placed(svg, x + (wide - drawn_wide) / 2, top)]
    for i, (told, bold) in enumerate(words):
        found.append(centred(told, x + wide / 2, MARGIN_MM + 18.4 + i * TEXT_MM * LEADING, TEXT_MM, bold))
    return "".join(found)


def _told(facts: Sequence[tuple[str, str]]) -> list[Run]:
    """Facts in a row, each with its name: Outside, closed 10 3/4 × ..."""
    runs: list[Run] = []
    for i, (name, value) in enumerate(facts):
        runs += [(name.replace(" ", "\u00a0") if len(name) < 12 else name, False)]
        runs += [(value + (";" if i < len(facts) - 1 else ""), True)]
    return runs


def _photo(sheet: CutSheet, right: float) -> tuple[str, float] | None:
    """The photo with its right side at a place, as wide as it is then."""
    if not sheet.photo:
        return None
    with Image.open(BytesIO(b64decode(sheet.photo.partition(",")[2]))) as photo:
        wide_px, high_px = photo.size
    scale = min(PHOTO_MM[0] / wide_px, PHOTO_MM[1] / high_px)
    wide, high = wide_px * scale, high_px * scale
    return picture(sheet.photo, right - wide, MARGIN_MM, wide, high), wide
