"""Cutting out as a reference library (shapely) sees it: one piece remains, and the named waste falls off."""

import pytest
from hypothesis import given
from shapely import LineString, Polygon, box, union_all
from shapely.ops import polygonize

from housing.core.blank import Blank, CutOut
from housing.core.drawing.openings import outline
from housing.core.enclosures import ENCLOSURES, make_enclosure
from housing.core.errors import EnclosureError
from tests.housing.core.made import asked

NEAR_MM2 = 1.0  # the outlines of round openings are polygons; see test_outline_of_a_round_opening


def cut_out(blank: Blank) -> list[Polygon]:
    """What the bounding rectangle falls into when it is cut along the drawn lines and around the openings."""
    lines = [box(0, 0, blank.x_mm, blank.y_mm).exterior]
    lines += [LineString([(cut.x1, cut.y1), (cut.x2, cut.y2)]) for cut in blank.cuts]
    for opening in blank.openings:
        points = outline(opening)
        closed = opening.shape not in ("slit", "notch")
        lines.append(LineString([*points, points[0]] if closed else points))
    return list(polygonize(union_all(lines, grid_size=1e-6)))


def pieces_and_waste(blank: Blank) -> tuple[list[float], list[float]]:
    """Areas of what remains of the panels, and of what falls off, each ascending."""
    panels = union_all([box(p.x_mm, p.y_mm, p.x_mm + p.width_mm, p.y_mm + p.height_mm) for p in blank.panels])
    remains, falls = [], []
    for piece in cut_out(blank):
        middle = piece.representative_point()
        in_hole = any(_shape(o).contains(middle) for o in blank.openings if o.shape != "slit")
        (remains if panels.contains(middle) and not in_hole else falls).append(piece.area)
    return sorted(remains), sorted(falls)


def _shape(opening: CutOut) -> Polygon:
    return Polygon(outline(opening))


@pytest.mark.parametrize("form", ENCLOSURES)
def test_cut_out_blank_is_one_piece_and_the_rest_is_the_named_waste(form):
    @given(asked(form))
    def check(given_):
        try:
            made = make_enclosure(*given_)
        except EnclosureError:
            return
        for part in made.parts[:3]:
            blank = part.blank
            remains, falls = pieces_and_waste(blank)

            cut_away = sum(_shape(o).area for o in blank.openings if o.shape != "slit")
            board = sum(panel.area_mm2 for panel in blank.panels) - cut_away
            waste = sorted([piece.area_mm2 for piece in blank.waste] + [
                _shape(o).area for o in blank.openings if o.shape != "slit"
            ])  # fmt: skip
            assert len(remains) == 1
            assert remains[0] == pytest.approx(board, rel=1e-6, abs=NEAR_MM2)
            assert sum(falls) == pytest.approx(sum(waste), rel=1e-6, abs=NEAR_MM2)

    check()


@pytest.mark.parametrize("form", ENCLOSURES)
def test_no_cut_runs_along_a_score(form):
    @given(asked(form))
    def check(given_):
        try:
            made = make_enclosure(*given_)
        except EnclosureError:
            return
        blank = made.parts[0].blank
        cuts = union_all([LineString([(c.x1, c.y1), (c.x2, c.y2)]) for c in blank.cuts])
        scores = union_all([LineString([(s.x1, s.y1), (s.x2, s.y2)]) for s in blank.scores])
        assert cuts.intersection(scores).length < 1e-3

    check()


def test_outline_of_a_round_opening_is_within_one_percent_of_the_circle():
    # A polygon of 48 sides in a circle has (48 / 2 pi) x sin(2 pi / 48) = 0.99715 of its area.
    opening = CutOut("hole", 0, 0, 100, 100, "wall", "round")

    assert _shape(opening).area / opening.area_mm2 == pytest.approx(0.99715, abs=1e-4)
