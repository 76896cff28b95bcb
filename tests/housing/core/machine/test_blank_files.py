"""Files of one blank, read back and measured against the blank's own numbers."""

from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, MultiPoint, Polygon, box
from shapely.ops import unary_union

from housing.core.blank import Blank, CutOut, Line, Rectangle
from housing.core.enclosures import ENCLOSURES, make_enclosure
from housing.core.errors import EnclosureError
from housing.core.machine.drawings import blank_drawing
from housing.core.machine.dxf import dxf_text, plain
from housing.core.machine.layers import LAYERS
from housing.core.machine.outlines import opening_stroke
from housing.core.machine.svg_file import svg_text
from tests.examples import few
from tests.housing.core.machine.reading import (
    SVG,
    closed_runs,
    doubled,
    dxf_length,
    open_sides,
    read_dxf,
    rim_of_waste,
    straight_lines,
    svg_length,
)
from tests.housing.core.made import IN, asked, worked_base

CUTTING = ("CUT", "OPENING")


def draw(blank: Blank, **rest):
    return blank_drawing(blank, **{"score_layer": "SCORE_INSIDE", "name": "L-1 base", **rest})


def test_the_worked_base_is_cut_round_its_cross_and_slit_beside_its_flaps():
    # By hand, inches, drawn nominally for an inside of 10 3/4 x 9 1/8 x 11 (common practice, no source):
    # walls of 11 on the left and right, 9 1/8 wide; near and far walls of 11, 11 wide with a caliper of 1/8
    # on either side of the floor's 10 3/4; on these, flaps that reach 2 1/2 past the floor, 2 3/8 from their
    # hinges. The blank is 32 3/4 by 31 1/8; round a cross the way is as long as round the rectangle about it,
    # 2 (32 3/4 + 31 1/8) = 127 3/4; between each flap and the wall beside it, a slit of 2 1/2.
    blank = worked_base()
    doc = read_dxf(dxf_text(draw(blank)))

    [outline] = closed_runs(doc, "CUT")
    slits = list(doc.modelspace().query('LINE[layer=="CUT"]'))

    around = dxf_length(doc, "CUT") - sum(line.dxf.start.distance(line.dxf.end) for line in slits)
    assert around / IN == pytest.approx(127.75)
    assert [line.dxf.start.distance(line.dxf.end) / IN for line in slits] == pytest.approx([2.5] * 4)
    # the floor, two walls of 11 x 9 1/8, two of 11 x 11, four flaps of 11 x 2 3/8: in square inches
    # 98.09375 + 200.75 + 242 + 104.5 = 645.34375
    assert Polygon(outline).area / IN**2 == pytest.approx(645.34375)


def test_the_worked_base_is_scored_where_its_marks_are():
    # By hand, inches: walls fold at 11 and 21 3/4 along, 11 and 20 1/8 across, as long as the floor there;
    # flaps at 11 - 1/8 and 21 3/4 + 1/8, four hinges of 11.
    doc = read_dxf(dxf_text(draw(worked_base())))

    lines = sorted(
        tuple(round(value / IN, 3) for value in line)
        for line in straight_lines(doc, "SCORE_INSIDE")
    )  # fmt: skip
    lengths = sorted(abs(x2 - x1) + abs(y2 - y1) for x1, y1, x2, y2 in lines)

    assert lengths == pytest.approx([9.125, 9.125, 10.75, 10.75, 11, 11, 11, 11])
    assert {line[0] for line in lines if line[0] == line[2]} == {10.875, 11.0, 21.75, 21.875}
    assert {line[1] for line in lines if line[1] == line[3]} == {11.0, 20.125}


def test_millimetres_are_declared_as_the_dxf_reference_has_it():
    # The published DXF reference, from memory: header variable $INSUNITS, group code 70, 4 for millimetres;
    # $MEASUREMENT 1 for metric.
    rows = [row.strip() for row in dxf_text(draw(worked_base())).splitlines()]

    assert rows[rows.index("$INSUNITS") + 1 : rows.index("$INSUNITS") + 3] == ["70", "4"]
    assert rows[rows.index("$MEASUREMENT") + 1 : rows.index("$MEASUREMENT") + 3] == ["70", "1"]


@pytest.mark.parametrize("form", ENCLOSURES)
@few(12)
@given(data=st.data())
def test_every_blank_of_every_form_is_whole_in_its_files(form, data):
    try:
        made = make_enclosure(*data.draw(asked(form)))
    except EnclosureError:
        return
    for part in made.parts[:3]:
        blank = part.blank
        drawing = draw(blank)
        doc, root = read_dxf(dxf_text(drawing)), ElementTree.fromstring(svg_text(drawing))
        outline_mm = blank.outline_length_mm - rim_of_waste(blank) - open_sides(blank)
        cut_mm = outline_mm + blank.cut_length_mm

        assert dxf_length(doc, *CUTTING) == pytest.approx(cut_mm, rel=2e-4)
        assert svg_length(root, *CUTTING) == pytest.approx(cut_mm, rel=2e-4, abs=0.1)
        assert dxf_length(doc, "SCORE_INSIDE") == pytest.approx(blank.score_length_mm)
        assert svg_length(root, "SCORE_INSIDE") == pytest.approx(blank.score_length_mm, abs=0.1)

        board = unary_union(
            [box(p.x_mm, p.y_mm, p.x_mm + p.width_mm, p.y_mm + p.height_mm) for p in blank.panels]
        ).buffer(1e-5, join_style="mitre")
        runs = [Polygon(run) for run in closed_runs(doc, "CUT")]
        notched = sum(o.area_mm2 for o in blank.openings if o.open_edge and o.shape in ("notch", "rectangle"))
        inner = sum(len(run.interiors) for run in runs)
        assert all(run.is_valid for run in runs) and inner == 0
        largest = max(runs, key=lambda run: run.area)
        holes = sum(run.area for run in runs if run is not largest and largest.contains(run))
        apart = sum(run.area for run in runs if run is not largest and not largest.contains(run))
        assert largest.area + apart - holes == pytest.approx(board.area - notched, rel=2e-4, abs=1)

        lines = straight_lines(doc, *CUTTING, "SCORE_INSIDE")
        assert doubled(lines) == []
        places = MultiPoint([(x, y) for line in lines for x, y in (line[:2], line[2:])]).bounds
        assert places == pytest.approx((0, 0, blank.x_mm, blank.y_mm), abs=1e-3)


def test_scores_lie_on_the_panels_they_fold():
    blank = worked_base()
    doc = read_dxf(dxf_text(draw(blank, score_layer="SCORE_OUTSIDE")))
    [outline] = closed_runs(doc, "CUT")

    assert straight_lines(doc, "SCORE_INSIDE") == []
    for x1, y1, x2, y2 in straight_lines(doc, "SCORE_OUTSIDE"):
        assert Polygon(outline).buffer(1e-6).covers(LineString([(x1, y1), (x2, y2)]))


# Of each shape, in a rectangle at 100, 200: what it measures, by hand, and what is written of it.
@pytest.mark.parametrize(
    ("shape", "wide", "high", "length", "kind"),
    [
        ("slit", 40, 0, 40, "LINE"),
        ("rectangle", 40, 30, 140, "LWPOLYLINE"),
        ("round", 40, 40, 125.6637, "CIRCLE"),  # 40 pi
        ("slot", 115, 38, 273.3805, "LWPOLYLINE"),  # 38 pi + 2 x 77
        ("slot", 38, 115, 273.3805, "LWPOLYLINE"),
        ("slot", 38, 38, 119.3805, "CIRCLE"),  # 38 pi
        ("round", 60, 40, 158.6544, "LWPOLYLINE"),  # an ellipse of half axes 30, 20: 4 a E(e), tables
    ],
)
def test_opening_is_drawn_as_what_it_is(shape, wide, high, length, kind):
    opening = CutOut("hole", 100, 200, wide, high, "floor", shape)
    blank = plate(400, 500, opening)

    doc = read_dxf(dxf_text(draw(blank)))
    [entity] = [e for e in doc.modelspace() if e.dxf.layer == "OPENING"]

    assert entity.dxftype() == kind
    assert dxf_length(doc, "OPENING") == pytest.approx(length, abs=0.02)
    assert opening_stroke(opening).length_mm == pytest.approx(length, abs=0.02)


@pytest.mark.parametrize(
    ("edge", "x", "y", "wide", "high"),
    [
        ("near", 100, 0, 40, 20),
        ("far", 100, 480, 40, 20),
        ("left", 0, 100, 20, 40),
        ("right", 380, 100, 20, 40),
    ],
)
def test_a_thumb_notch_is_part_of_the_outline(edge, x, y, wide, high):
    # By hand: half a circle of radius 20 in place of 40 of the edge: 2 (400 + 500) - 40 + 20 pi = 1822.8319;
    # the plate, 200 000 mm2, less half of 400 pi, 628.3185.
    blank = plate(400, 500, CutOut("notch", x, y, wide, high, "floor", "notch", edge))

    doc = read_dxf(dxf_text(draw(blank)))

    [outline] = closed_runs(doc, "CUT")
    assert dxf_length(doc, *CUTTING) == pytest.approx(1822.8319, abs=1e-3)
    assert Polygon(outline).area == pytest.approx(199371.6815, abs=0.1)


def test_a_shallow_notch_keeps_within_a_hundredth_of_its_ellipse():
    # Half axes 50 along and 10 deep: the area of the half ellipse is pi/2 x 50 x 10 = 785.398
    blank = plate(400, 500, CutOut("notch", 100, 0, 100, 10, "floor", "notch", "near"))

    [outline] = closed_runs(read_dxf(dxf_text(draw(blank))), "CUT")

    curve = [(x, y) for x, y in outline if 100 < x < 200 and 0 < y < 400]
    assert Polygon(outline).area == pytest.approx(200_000 - 785.398, abs=1)
    assert [abs(((x - 150) / 50) ** 2 + (y / 10) ** 2 - 1) < 1e-9 for x, y in curve] == [True] * len(curve)


def test_a_notch_that_is_on_no_outline_is_an_opening_by_itself():
    # within the board, its open edge on a score 100 from the near edge
    blank = plate(400, 500, CutOut("notch", 100, 100, 40, 20, "floor", "notch", "near"))

    doc = read_dxf(dxf_text(draw(blank)))

    assert dxf_length(doc, "OPENING") == pytest.approx(62.8319, abs=1e-3)  # 20 pi
    assert dxf_length(doc, "CUT") == pytest.approx(1800)


def test_joined_parts_show_how_far_they_lie_over_each_other():
    doc = read_dxf(dxf_text(draw(plate(400, 500), laps=[Line(350, 0, 350, 500)])))

    assert straight_lines(doc, "JOIN") == [(350, 0, 350, 500)]


def test_names_and_the_way_of_the_flutes_are_on_layers_that_are_never_cut():
    doc = read_dxf(dxf_text(draw(worked_base(), notes=["Board B-1"])))

    texts = list(doc.modelspace().query("TEXT"))

    assert {text.dxf.layer for text in texts} == {"TEXT"}
    assert [text.dxf.text for text in texts] == ["L-1 base", "Board B-1"]
    assert not any(LAYERS[name].is_cut for name in ("TEXT", "FLUTES", "SHEET"))
    assert [doc.layers.get(name).dxf.plot for name in ("CUT", "TEXT", "FLUTES")] == [1, 0, 0]


def test_arrow_runs_with_the_flutes():
    doc = read_dxf(dxf_text(draw(worked_base())))

    shaft = max(
        straight_lines(doc, "FLUTES"), key=lambda line: abs(line[0] - line[2]) + abs(line[1] - line[3])
    )

    flutes_along_x = worked_base().flute_along == "x"
    assert (shaft[1] == shaft[3]) is flutes_along_x


def test_solid_board_has_a_grain():
    doc = read_dxf(dxf_text(draw(worked_base(), is_fluted=False)))

    assert straight_lines(doc, "FLUTES") == []
    assert len(straight_lines(doc, "GRAIN")) == 5


def test_svg_has_its_true_size_and_says_what_its_colours_mean():
    root = ElementTree.fromstring(svg_text(draw(plate(400, 500), notes=["Board B-1"])))

    assert (root.get("width"), root.get("viewBox")) == ("400mm", f"0 0 400 {root.get('height')[:-2]}")
    groups = {group.get("id"): group.get("stroke") for group in root.iter(f"{SVG}g")}
    assert list(groups) == ["CUT", "FLUTES", "TEXT"]
    description = root.find(f"{SVG}desc").text
    assert all(f"{name} ({colour}): " in description for name, colour in groups.items())


@pytest.mark.parametrize(
    ("written", "kept"),
    [
        ("50%%% & ^J", "50% %% & ^ J"),
        ("two\nrows\t", "two rows "),
        ("x" * 300, "x" * 250),
        ("Jürgen Ω", "Jürgen Ω"),
    ],
)
def test_a_name_cannot_become_a_command(written, kept):
    assert plain(written) == kept


def test_odd_names_come_back_from_the_files_as_they_were():
    name = 'L-1 <base> & "lid" é\x07'

    doc = read_dxf(dxf_text(draw(plate(400, 500), name=name)))
    root = ElementTree.fromstring(svg_text(draw(plate(400, 500), name=name)))

    assert [text.dxf.text for text in doc.modelspace().query("TEXT")] == ['L-1 <base> & "lid" é ']
    assert root.find(f"{SVG}title").text == 'L-1 <base> & "lid" é '


def plate(x_mm: float, y_mm: float, *openings: CutOut) -> Blank:
    """A plain rectangle of board with openings."""
    return Blank(
        x_mm, y_mm, (Rectangle("floor", 0, 0, x_mm, y_mm),), (), (), (), (0, x_mm), (0, y_mm), (), (), (), (),
        "x", 0, 0.0, openings,
    )  # fmt: skip
