"""Files of whole sheets, read back: every piece where the plan has it, shared lines once, scores inside."""

from decimal import Decimal
from xml.etree import ElementTree

import pytest
from shapely.geometry import LineString, Polygon, box
from shapely.ops import polygonize, unary_union

from boards.core.nesting import Piece, Rules, Sheet, check, nest
from boards.core.nesting.shapes import Offcut, Placement
from housing.core.blank import Blank, Rectangle, Score
from housing.core.clearances import InnerSize
from housing.core.enclosures import make_enclosure
from housing.core.errors import SizeRefused
from housing.core.machine.drawings import Laid, placed_strokes, sheet_drawing
from housing.core.machine.dxf import dxf_text
from housing.core.machine.strokes import Stroke
from housing.core.machine.svg_file import svg_text
from housing.core.waste_corners import waste_corners
from tests.housing.core.machine.reading import (
    closed_runs,
    doubled,
    dxf_length,
    read_dxf,
    straight_lines,
    svg_length,
)
from tests.housing.core.made import B_FLUTE

SHEET = Sheet("S", 1000, 600, Decimal(9))


def plate(x_mm: float, y_mm: float, score_at: float, flute_along: str = "x") -> Blank:
    """A rectangle of board with one upright score."""
    score = Score(score_at, 0, score_at, y_mm, "wall", False)
    return Blank(
        x_mm, y_mm, (Rectangle("floor", 0, 0, x_mm, y_mm),), (), (), (score,), (0, score_at, x_mm),
        (0, y_mm), (), (), (), (), flute_along, 0, 0.0,
    )  # fmt: skip


def draw(laid, offcuts=(), sheet=SHEET, **rest):
    return sheet_drawing(sheet, laid, offcuts, **{"score_layer": "SCORE_INSIDE", "title": "Sheet 1", **rest})


def test_a_line_that_two_neighbours_share_is_cut_once():
    # By hand, mm: 300 x 200 and 250 x 200 side by side from the sheet's corner, no gap. Round both, 1000 and
    # 900, less the 200 that they share: 1700.
    laid = [
        Laid(plate(300, 200, 100), Placement("a", 0, 0, 300, 200, False), "A base"),
        Laid(plate(250, 200, 50), Placement("b", 300, 0, 250, 200, False), "B lid"),
    ]

    doc = read_dxf(dxf_text(draw(laid)))

    assert dxf_length(doc, "CUT") == pytest.approx(1700)
    assert len(closed_runs(doc, "CUT")) == 1
    assert doubled(straight_lines(doc, "CUT")) == []


def test_neighbours_with_a_gap_are_closed_runs_each():
    laid = [
        Laid(plate(300, 200, 100), Placement("a", 0, 0, 300, 200, False), "A base"),
        Laid(plate(250, 200, 50), Placement("b", 301, 0, 250, 200, False), "B lid"),
    ]

    doc = read_dxf(dxf_text(draw(laid)))

    assert [Polygon(run).area for run in closed_runs(doc, "CUT")] == [60_000, 50_000]


def test_a_line_that_is_half_shared_is_half_left():
    # The second, 300 high, goes on for 100 beyond the first: 1000 + 1100 - 200.
    laid = [
        Laid(plate(300, 200, 100), Placement("a", 0, 0, 300, 200, False), "A base"),
        Laid(plate(250, 300, 50), Placement("b", 300, 0, 250, 300, False), "B lid"),
    ]

    assert draw(laid).length_mm("CUT") == pytest.approx(1900)


def test_what_is_kept_is_cut_where_nothing_else_is():
    # An offcut of 700 x 200 beside a piece of 300 x 200 in a sheet of 1000 x 200: all its edges are the
    # piece's or the sheet's. One of 700 x 150 has its far edge of 700 to cut.
    sheet = Sheet("S", 1000, 200, Decimal(9))
    laid = [Laid(plate(300, 200, 100), Placement("a", 0, 0, 300, 200, False), "A base")]

    assert draw(laid, [Offcut(300, 0, 700, 200)], sheet).on("OFFCUT") == []
    assert draw(laid, [Offcut(300, 0, 700, 150)], sheet).length_mm("OFFCUT") == pytest.approx(700)


# A blank of 300 x 200 with its score 100 from its left edge, placed with its near corner at 10, 20: where
# the score lies then. By hand: turned to the left once, x = 200 - y, y = x; twice, x = 300 - x, y = 200 - y.
@pytest.mark.parametrize(
    ("flute_along", "turned", "sides", "line"),
    [
        ("x", False, (300, 200), (110, 20, 110, 220)),
        ("x", True, (200, 300), (10, 120, 210, 120)),
        ("y", False, (200, 300), (10, 120, 210, 120)),
        ("y", True, (300, 200), (210, 20, 210, 220)),
    ],
)
def test_a_blank_lies_as_its_flutes_and_its_place_have_it(flute_along, turned, sides, line):
    laid = [Laid(plate(300, 200, 100, flute_along), Placement("a", 10, 20, *sides, turned), "A base")]

    [(x1, y1, x2, y2)] = straight_lines(read_dxf(dxf_text(draw(laid))), "SCORE_INSIDE")

    assert (min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2)) == pytest.approx(line)


def test_a_blank_that_has_outgrown_its_place_is_refused():
    laid = [Laid(plate(300, 200, 100), Placement("a", 0, 0, 290, 200, False), "A base")]

    with pytest.raises(SizeRefused) as refused:
        draw(laid)

    assert str(refused.value) == (
        "A base is 300.0 x 200.0 mm now, but its place on the sheet is 290.0 x 200.0 mm. "
        "Plan the campaign again."
    )


def test_the_sheet_itself_is_on_a_layer_that_is_never_cut():
    doc = read_dxf(dxf_text(draw([])))

    [edge] = closed_runs(doc, "SHEET")
    assert Polygon(edge).bounds == (0, 0, 1000, 600)
    assert doc.layers.get("SHEET").dxf.plot == 0


def test_what_no_line_covers_stays_as_it_is():
    arc = Stroke("CUT", ((0, 0), (10, 0)), (1.0, 0.0))
    laid = [Laid(plate(300, 200, 100), Placement("a", 0, 0, 300, 200, False), "A base")]

    assert arc.length_mm == pytest.approx(15.708, abs=1e-3)  # half a circle of radius 5: 5 pi
    assert draw(laid).on("CUT")[0].is_closed


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("kerf_mm", [0.0, 1.0])
def test_whole_plans_come_out_as_they_were_nested(seed, kerf_mm):
    """Boxes nested with small parts in waste corners: outlines apart, all of them there, no line twice."""
    blanks, pieces = {}, []
    for number in range(6):
        made = make_enclosure(
            "lidded_tray", InnerSize(200 + 23 * number, 140 + 17 * number, 60 + 9 * seed), B_FLUTE
        )
        small = make_enclosure("divided_tray", InnerSize(120, 90 + number, 40), B_FLUTE)
        for part in (*made.parts, *small.parts[1:]):
            blank = part.blank
            key = f"{number} {part.name}"
            blanks[key] = blank
            waste = [(w.x_mm, w.y_mm, w.width_mm, w.height_mm) for w in blank.waste]
            corners = waste_corners(blank.x_mm, blank.y_mm, waste, blank.flute_along)
            pieces.append(Piece(key, blank.along_mm, blank.across_mm, may_turn=True, corners=corners))
    sheet = Sheet("S", 1500, 1000, Decimal(9))
    rules = Rules(kerf_mm=kerf_mm, trim_mm=5, least_offcut_mm=80, use_corners=True)
    layout = nest(pieces, [sheet], rules, seed=seed, time_limit_s=1)
    assert check(layout, pieces, [sheet], rules) == ()

    for made in layout.sheets:
        laid = [Laid(blanks[place.key], place, place.key) for place in made.placements]
        drawing = draw(laid, made.offcuts, sheet)
        doc, root = read_dxf(dxf_text(drawing)), ElementTree.fromstring(svg_text(drawing))
        lines = straight_lines(doc, "CUT", "OPENING", "OFFCUT")

        outlines = []
        for one in laid:
            cuts = [s for s in placed_strokes(one, "SCORE_INSIDE") if s.layer == "CUT" and s.is_closed]
            outline = Polygon(max((s.points for s in cuts), key=lambda points: Polygon(points).area))
            place = one.place
            room = box(place.x_mm, place.y_mm, place.x_mm + place.along_mm, place.y_mm + place.across_mm)
            assert room.buffer(0.01).covers(outline)
            outlines.append(outline)
        whole = unary_union(outlines)
        assert whole.area == pytest.approx(sum(outline.area for outline in outlines), abs=1.0)
        assert doubled(lines, within=0.009) == []
        # every outline can be walked along the lines there are
        net = unary_union([LineString([line[:2], line[2:]]) for line in lines]).buffer(0.02)
        assert all(net.covers(outline.exterior) for outline in outlines)
        assert list(polygonize(unary_union([LineString([line[:2], line[2:]]) for line in lines])))
        scores = sum(one.blank.score_length_mm for one in laid)
        assert dxf_length(doc, "SCORE_INSIDE") == pytest.approx(scores)
        assert svg_length(root, "SCORE_INSIDE") == pytest.approx(scores, abs=0.5)
        assert svg_length(root, "CUT") == pytest.approx(dxf_length(doc, "CUT"), abs=0.5)
