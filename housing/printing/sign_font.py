"""The font of the handling signs, made from their drawings; only its command and its test use this."""

from io import BytesIO
from pathlib import Path

from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen
from shapely import LineString, MultiPolygon, Polygon, unary_union

from housing.core.drawing.handling_signs import SIDE, SIGNS, WEIGHT, Area, Sign

NAME = "Box signs"
EM = 1000
# A sign fills a square of 0.9 em and is set 1.45 times as large as the words beside it: so it stands in the
# middle of their capitals, which are 0.73 em high in DejaVu Sans, and moves no line up or down.
SCALE, DOWN = 9.0, 200
ASCENT, DESCENT = 739, 261
MOMENT = 3_850_000_000  # no clock, so that the same drawings give the same file; seconds since 1904
FONT_FILE = Path(__file__).resolve().parents[1] / "static/housing/box-signs.woff"


def sign_font() -> bytes:
    """The font as a WOFF file, the same for the same drawings."""
    names = {ord(sign.character): key for key, sign in SIGNS.items()}
    order = [".notdef", "space", *SIGNS]
    builder = FontBuilder(EM, isTTF=True)
    builder.setupGlyphOrder(order)
    builder.setupCharacterMap({32: "space", **names})
    empty = TTGlyphPen(None).glyph()
    glyphs = {".notdef": empty, "space": empty, **{key: _glyph(sign) for key, sign in SIGNS.items()}}
    builder.setupGlyf(glyphs)
    wide = round(SIDE * SCALE)
    table = builder.font["glyf"]
    builder.setupHorizontalMetrics(
        {key: (wide, getattr(table[key], "xMin", 0) if table[key].numberOfContours else 0) for key in order}
    )
    builder.setupHorizontalHeader(ascent=ASCENT, descent=-DESCENT)
    builder.setupOS2(
        sTypoAscender=ASCENT,
        sTypoDescender=-DESCENT,
        sTypoLineGap=0,
        usWinAscent=ASCENT,
        usWinDescent=DESCENT,
    )
    builder.setupNameTable({"familyName": NAME, "styleName": "Regular"})
    builder.setupPost()
    builder.font["head"].created = builder.font["head"].modified = MOMENT
    builder.font.recalcTimestamp = False
    builder.font.flavor = "woff"
    file = BytesIO()
    builder.font.save(file)
    return file.getvalue()


def _glyph(sign: Sign):
    """The outlines of a sign: lines with their weight, joined into shapes."""
    shapes = [
        Polygon(part.points)
        if isinstance(part, Area)
        else LineString([*part.points, part.points[0]] if part.closed else part.points).buffer(WEIGHT / 2, 6)
        for part in sign.parts
    ]
    joined = unary_union(shapes).simplify(0.15)
    pen = TTGlyphPen(None)
    for shape in joined.geoms if isinstance(joined, MultiPolygon) else [joined]:
        for ring, is_hole in ((shape.exterior, False), *((hole, True) for hole in shape.interiors)):
            points = [(round(x * SCALE), round((SIDE - y) * SCALE) - DOWN) for x, y in list(ring.coords)[:-1]]
            if (_turn(points) > 0) != is_hole:  # outlines run clockwise in TrueType, holes the other way
                points.reverse()
            pen.moveTo(points[0])
            for point in points[1:]:
                pen.lineTo(point)
            pen.closePath()
    return pen.glyph()


def _turn(points: list[tuple[int, int]]) -> int:
    """Twice the area of an outline, positive where it runs anticlockwise."""
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(points, [*points[1:], points[0]], strict=True))
