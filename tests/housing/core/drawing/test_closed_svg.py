"""The closed enclosure, measured on its SVG."""

import re
from math import dist

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from housing.core.drawing.closed_svg import closed_svg
from housing.core.drawing.hidden_lines import project
from housing.core.enclosures import make_enclosure
from housing.core.enclosures.seating import closed_bounds
from housing.core.errors import EnclosureError, PaperTooSmall
from tests.examples import few
from tests.housing.core.drawing.forms import FORMS, one_of
from tests.housing.core.drawing.reading import (
    has_styles,
    in_inches,
    in_mm,
    outside,
    overlapping,
    parse,
    size_mm,
    texts,
)
from tests.housing.core.made import asked


def draw(enclosure, write=in_mm, **more):
    svg = closed_svg(enclosure.parts, enclosure.outside, title="Box 7", format_length=write, **more)
    return parse(svg)


def strokes(root, class_="closed") -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """Ends of all straight strokes of the paths of a class, the enclosure itself first."""
    return [stroke for path in paths(root, class_) for stroke in path]


def paths(root, class_="closed"):
    number = r"(-?[\d.]+) (-?[\d.]+)"
    return [
        [((float(a), float(b)), (float(c), float(d)))
         for a, b, c, d in re.findall(rf"M{number} L{number}", node.get("d"))]
        for node in root if node.get("class") == class_
    ]  # fmt: skip


def ink_mm(root) -> float:
    return sum(dist(*stroke) for stroke in strokes(root))


def test_worked_box_shows_its_outside():
    # By hand: a tray of 300 x 200 x 150 mm clear inside of board 3 mm thick is 300 + 4 x 3 wide, 200 + 2 x 3
    # deep and 150 + 3 high.
    root = draw(one_of("tray", inner=(300, 200, 150)))

    assert [text.content for text in texts(root)] == ["312 mm wide", "206 mm deep", "153 mm high"]
    assert root[1].text == "Outside 312 mm wide, 206 mm deep, 153 mm high; not to scale."


def test_box_with_a_lid_of_full_depth_is_three_faces_and_the_flaps_of_its_lid():
    # By hand: nine edges are seen of a box; on the end wall to the right lie two flaps, each with one upright
    # edge, and their lower edges lie before the wall's own, which so comes in three strokes.
    root = draw(one_of("full_lid_tray", caliper_mm=1.6))

    assert len(strokes(root)) == 9 + 2 + 2


def test_sides_keep_their_proportions():
    # Isometric projection foreshortens all axes alike: the longest strokes along the front, along the side
    # and upright are as the outside, 302 : 201 : 150.5 with a board of half a millimetre.
    root = draw(one_of("tray", caliper_mm=0.5, inner=(300, 200, 150)))
    slopes = {"front": [], "side": [], "up": []}
    for (x1, y1), (x2, y2) in strokes(root):
        way = "up" if abs(x1 - x2) < 0.01 else "front" if (y2 - y1) * (x2 - x1) > 0 else "side"
        slopes[way].append(dist((x1, y1), (x2, y2)))

    front, side, up = (max(slopes[way]) for way in ("front", "side", "up"))

    assert front / up == pytest.approx(302 / 150.5, rel=0.01)
    assert side / up == pytest.approx(201 / 150.5, rel=0.01)


@pytest.mark.parametrize(("high", "shows"), [(50, True), (400, False)])  # a low tray, and a deep one
def test_floor_of_an_open_tray_shows_where_the_wall_before_it_is_low(high, shows):
    # By hand: the line of sight falls as fast as it goes in, so of 200 mm of floor a wall of 400 hides all.
    root = draw(one_of("tray", inner=(300, 200, high), caliper_mm=1.6))
    deep = draw(one_of("tray", inner=(300, 200, 401), caliper_mm=1.6))

    assert (len(strokes(root)) > len(strokes(deep))) == shows


@pytest.mark.parametrize("form", FORMS)
def test_drawing_reaches_as_far_as_the_enclosure_and_no_further(form):
    enclosure = one_of(form)
    root = draw(enclosure)
    points = [point for stroke in paths(root)[0] for point in stroke]
    x0, y0, z0, x1, y1, z1 = closed_bounds(enclosure.parts)
    left, right = project((x0, y0, z0))[0], project((x1, y1, z0))[0]
    top, bottom = project((x0, y1, z1))[1], project((x1, y0, z0))[1]

    wide = max(x for x, _ in points) - min(x for x, _ in points)
    high = max(y for _, y in points) - min(y for _, y in points)

    # Corners of plates are drawn to within the thickness of a line or two.
    assert wide / high == pytest.approx((right - left) / (bottom - top), rel=0.04)


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("is_open", [False, True])
@pytest.mark.parametrize("write", [in_mm, in_inches])
@pytest.mark.parametrize(("caliper", "share"), [(3.0, 0.5), (1.6, 0), (0.5, 1)])
def test_drawing_and_its_words_stay_on_the_paper(form, is_open, write, caliper, share):
    root = draw(one_of(form, caliper, share), write, is_open=is_open)

    check(root, 75, 55)


@pytest.mark.parametrize(
    "inner",
    [(300, 200, 150), (2000, 60, 60), (60, 2000, 60), (60, 60, 1500), (1400, 900, 40), (40, 30, 20)],
)
@pytest.mark.parametrize(("form", "options"), [("tray", {}), ("lidded_tray", {"lid_depth": 15})])
@pytest.mark.parametrize("is_open", [False, True])
def test_long_flat_and_tiny_boxes_stay_on_the_paper(inner, form, options, is_open):
    root = draw(one_of(form, 1.6, inner=inner, **options), is_open=is_open)

    check(root, 75, 55)


@settings(few(30), suppress_health_check=[HealthCheck.filter_too_much])
@given(st.sampled_from(FORMS).flatmap(asked), st.booleans())
def test_any_form_of_any_size_stays_on_the_paper(given_, is_open):
    try:
        enclosure = make_enclosure(*given_)
    except EnclosureError:
        assume(False)

    check(draw(enclosure, is_open=is_open), 75, 55)


def check(root, paper_width, paper_height):
    width, height = size_mm(root)
    assert width <= paper_width + 1e-6 and height <= paper_height + 1e-6
    assert overlapping(texts(root)) == []
    assert outside(texts(root), width, height) == []
    for class_ in ("closed", "opening"):
        for start, end in strokes(root, class_):
            for x, y in (start, end):
                assert -0.01 <= x <= width + 0.01 and -0.01 <= y <= height + 0.01
    assert not has_styles(root)


@pytest.mark.parametrize("form", FORMS)
def test_no_more_ink_than_the_edges_of_a_few_boxes(form):
    # A box has nine edges seen, about 2.6 times its drawn width and height together; walls, lids, layers and
    # cells add theirs. Hidden plates or doubled edges would more than double it.
    root = draw(one_of(form))
    points = [point for stroke in paths(root)[0] for point in stroke]
    wide = max(x for x, _ in points) - min(x for x, _ in points)
    high = max(y for _, y in points) - min(y for _, y in points)

    assert ink_mm(root) < 6.5 * (wide + high)
    assert len(strokes(root)) < 60


def test_lifted_lid_stands_above_its_base_with_guide_lines():
    enclosure = one_of("lidded_tray")
    closed, opened = draw(enclosure), draw(enclosure, is_open=True)

    guides = [node for node in opened if node.get("class") == "guide"]

    assert [text.content for text in texts(opened)] == ["base", "lid"]
    assert len(guides) == 3
    assert all(node.get("x1") == node.get("x2") for node in guides)
    assert len(strokes(opened)) > len(strokes(closed))


def test_enclosure_without_a_lid_is_drawn_closed_when_asked_open():
    enclosure = one_of("tray")

    assert strokes(draw(enclosure, is_open=True)) == strokes(draw(enclosure))


def test_window_shows_the_room_behind_it():
    plain, pierced = draw(one_of("lidded_tray")), draw(one_of("lidded_tray", window_margin=40))

    assert len(strokes(pierced)) >= len(strokes(plain)) + 4


@pytest.mark.parametrize(
    ("form", "outlines"),
    [
        ("tray", 0),
        ("carrying_tray", 2),  # one hole is seen from without, the other from within
        ("notched_lid_tray", 1),  # of two notches the one in front
    ],
)
def test_rounded_openings_are_drawn_on_the_faces_that_are_seen(form, outlines):
    root = draw(one_of(form))
    found = strokes(root, "opening")

    breaks = sum(dist(a[1], b[0]) > 0.01 for a, b in zip(found, found[1:], strict=False))

    assert breaks + bool(found) == outlines


def test_rim_is_broken_where_a_notch_runs_out_over_it():
    # By hand: the notch is 50 mm wide on a lid of 330 mm outside; the lower edge of its front is two strokes.
    root = draw(one_of("notched_lid_tray"))
    [notch] = paths(root, "opening")
    mouth = notch[0][0], notch[-1][1]

    ends = [point for stroke in strokes(root) for point in stroke]

    for corner in mouth:
        assert min(dist(corner, end) for end in ends) < 0.3


def test_parts_without_a_place_are_drawn_small_and_counted():
    root = draw(one_of("framed_tray"))

    assert "4 × corner block" in [text.content for text in texts(root)]
    assert len(paths(root)) == 2


def test_parts_of_other_stuff_without_a_place_are_named_only():
    root = draw(one_of("rolled_tube"))

    assert root[1].text.endswith("Not drawn: cover.")
    assert "mm wide" not in " ".join(text.content for text in texts(root))


def test_paper_with_no_room_beside_the_figures_is_refused():
    with pytest.raises(PaperTooSmall, match="A drawing 20 x 55 mm has no room beside its own figures"):
        draw(one_of("tray"), paper_width_mm=20)
