"""Signs of handling marks: one for each mark, and the font that prints use is made of the same drawings."""

import pytest
from fontTools.ttLib import TTFont
from shapely.geometry import Polygon

from housing.core.choosing import MARKS
from housing.core.drawing.handling_signs import BY_CHARACTER, SIDE, SIGNS, STACKING, Area, sign_svg
from housing.printing.sign_font import ASCENT, DESCENT, EM, FONT_FILE, SCALE, sign_font


def test_every_mark_has_a_sign_of_its_own():
    assert set(MARKS) <= set(SIGNS)
    assert STACKING in SIGNS
    assert len(BY_CHARACTER) == len(SIGNS)
    assert len({sign.parts for sign in SIGNS.values()}) == len(SIGNS)


def test_signs_lie_in_their_square():
    outside = [
        key
        for key, sign in SIGNS.items()
        for part in sign.parts
        for point in part.points
        if not all(0 <= at <= SIDE for at in point)
    ]

    assert outside == []


def test_the_font_is_made_of_the_drawings_as_they_are_now():
    assert FONT_FILE.read_bytes() == sign_font()


@pytest.mark.parametrize("key", SIGNS)
def test_a_sign_of_the_font_covers_what_is_drawn(key):
    font = TTFont(FONT_FILE)
    name = font.getBestCmap()[ord(SIGNS[key].character)]
    glyph = font["glyf"][name]
    coordinates, ends, _ = glyph.getCoordinates(font["glyf"])
    rings, first = [], 0
    for end in ends:
        rings.append(Polygon(coordinates[first : end + 1]))
        first = end + 1
    # even-odd: what lies in an odd number of outlines is black
    black = rings[0]
    for ring in rings[1:]:
        black = black.symmetric_difference(ring)

    for part in SIGNS[key].parts:
        drawn = Polygon(part.points).centroid if isinstance(part, Area) else None
        x, y = (drawn.x, drawn.y) if drawn else part.points[0]
        at = Polygon([(x - 0.5, y - 0.5), (x + 0.5, y - 0.5), (x + 0.5, y + 0.5), (x - 0.5, y + 0.5)])
        placed = Polygon([(px * SCALE, (SIDE - py) * SCALE - 200) for px, py in at.exterior.coords])
        assert black.intersects(placed), (key, part)


def test_a_sign_moves_no_line_of_dejavu_sans():
    # Source: the font's own table: ascender 1901, descender -483 of 2048 units. Half of the difference is how
    # far the middle of a line lies above its baseline; a sign is set 1.45 times as large.
    words = TTFont(FONT_FILE.parents[1] / "vendor/dejavu-sans-2.37/dejavu-sans-bold.woff")
    head, units = words["hhea"], words["head"].unitsPerEm

    middle = (head.ascent + head.descent) / units
    assert pytest.approx(middle, abs=0.005) == 1.45 * (ASCENT - DESCENT) / EM


def test_a_drawing_on_a_page_says_nothing_to_screen_readers():
    assert 'aria-hidden="true"' in sign_svg("fragile", 6)
    assert 'width="6mm"' in sign_svg("fragile", 6)
