"""The closed box, measured on its SVG."""

from math import dist

import pytest

from housing.core.drawing.closed_svg import closed_svg
from housing.core.errors import PaperTooSmall
from housing.core.folding import Box3
from tests.housing.core.drawing.reading import (
    has_styles,
    in_inches,
    in_mm,
    outside,
    overlapping,
    parse,
    points_of,
    size_mm,
    texts,
)
from tests.housing.core.made import IN


def draw(sides=(300, 200, 150), has_lid=True, lid_depth_mm=60.0, write=in_mm, **paper):
    svg = closed_svg(
        Box3(*sides), has_lid=has_lid, lid_depth_mm=lid_depth_mm, title="Box 7", format_length=write, **paper
    )
    return parse(svg)


def drawn(root) -> list[list[tuple[float, ...]]]:
    return [points_of(node) for node in root if node.get("class") == "closed"]


def test_worked_box_shows_its_outside():
    # By hand: the closed worked box is 11 3/4 x 9 5/8 x 11 3/16 in outside.
    root = draw((11.75 * IN, 9.625 * IN, 11.1875 * IN), write=in_inches)

    assert [text.content for text in texts(root)] == ["11 3/4 in wide", "9 5/8 in deep", "11 3/16 in high"]
    assert root[1].text == "Outside 11 3/4 in wide, 9 5/8 in deep, 11 3/16 in high; not to scale."


def test_sides_keep_their_proportions():
    # Isometric projection foreshortens all axes alike, so the three edges that meet in the near upper corner
    # are as 300 : 200 : 150 (width ends there, depth begins there, height hangs from it).
    (start, near, end), (_, foot) = drawn(draw())[1:3]

    wide, deep, high = dist(start, near), dist(near, end), dist(near, foot)

    assert wide / high == pytest.approx(2, rel=1e-3)
    assert deep / high == pytest.approx(200 / 150, rel=1e-3)


def test_lid_ends_its_depth_below_the_top():
    # By hand: 60 of 150 mm is 0.4 of the height.
    (_, near, _), (_, foot), (_, lid, _) = drawn(draw())[1:4]

    assert (lid[1] - near[1]) / (foot[1] - near[1]) == pytest.approx(0.4, abs=1e-3)


def test_full_depth_lid_ends_at_the_foot():
    (_, foot), (_, lid, _) = drawn(draw(lid_depth_mm=400))[2:4]

    assert lid == foot


@pytest.mark.parametrize(
    ("sides", "lines"),
    [
        ((300, 200, 50), 6),  # low: box 3, inner rim, far corner, and the floor's edges
        ((300, 200, 250), 5),  # deep: the floor does not show
    ],
)
def test_open_tray_is_seen_into(sides, lines):
    assert len(drawn(draw(sides, has_lid=False))) == lines


@pytest.mark.parametrize(
    "sides",
    [(300, 200, 150), (2000, 25, 25), (5, 2000, 5), (25, 25, 2000), (1400, 900, 8), (40, 30, 20)],
)
@pytest.mark.parametrize("has_lid", [True, False])
@pytest.mark.parametrize("write", [in_mm, in_inches])
def test_drawing_and_its_figures_stay_on_the_paper(sides, has_lid, write):
    root = draw(sides, has_lid=has_lid, write=write)
    width, height = size_mm(root)

    assert width <= 75 and height <= 55
    assert overlapping(texts(root)) == []
    assert outside(texts(root), width, height) == []
    assert all(0 <= x <= width and 0 <= y <= height for line in drawn(root) for x, y in line)
    assert not has_styles(root)


def test_paper_with_no_room_beside_the_figures_is_refused():
    with pytest.raises(PaperTooSmall, match="A drawing 20 x 55 mm has no room beside its own figures"):
        draw(paper_width_mm=20)
