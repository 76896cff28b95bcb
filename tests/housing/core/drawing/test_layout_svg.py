"""A drawn sheet of a cutting plan, measured on its SVG."""

from decimal import Decimal
from itertools import combinations
from math import dist

import pytest

from boards.core.nesting.shapes import Cut, CutSheet, Offcut, Placement, Sheet
from housing.core.drawing.layout_svg import layout_svg
from housing.core.errors import PaperTooSmall
from tests.housing.core.drawing.reading import (
    SVG,
    has_styles,
    in_inches,
    in_mm,
    outside,
    overlapping,
    parse,
    size_mm,
    texts,
)
from tests.housing.core.made import IN

# By hand, a sheet 40 x 60 in, flutes along 60: the worked base, 31 1/8 along by 32 3/4 across, and two
# lids, 16 1/2 by 18 3/8, in the 28 7/8 in that are left beside it; no kerf, no trim.
SHEET = Sheet("B 40 x 60", 60 * IN, 40 * IN, Decimal("17.60"))
PLAN = CutSheet(
    "B 40 x 60",
    placements=(
        Placement("7 base", 0, 0, 31.125 * IN, 32.75 * IN, turned=False),
        Placement("7 lid", 31.125 * IN, 0, 16.5 * IN, 18.375 * IN, turned=False),
        Placement("9 lid", 31.125 * IN, 18.375 * IN, 18.375 * IN, 16.5 * IN, turned=True),
    ),
    cuts=(
        Cut(31.125 * IN, 0, 31.125 * IN, 40 * IN),
        Cut(0, 32.75 * IN, 31.125 * IN, 32.75 * IN),
        Cut(31.125 * IN, 18.375 * IN, 60 * IN, 18.375 * IN),
        Cut(47.625 * IN, 0, 47.625 * IN, 18.375 * IN),
        Cut(31.125 * IN, 34.875 * IN, 60 * IN, 34.875 * IN),
        Cut(49.5 * IN, 18.375 * IN, 49.5 * IN, 34.875 * IN),
    ),
    offcuts=(
        Offcut(0, 32.75 * IN, 31.125 * IN, 7.25 * IN),
        Offcut(47.625 * IN, 0, 12.375 * IN, 18.375 * IN),
        Offcut(49.5 * IN, 18.375 * IN, 10.5 * IN, 16.5 * IN),
        Offcut(31.125 * IN, 34.875 * IN, 28.875 * IN, 5.125 * IN),
    ),
)
LABELS = {"7 base": "1956.2.7 base", "7 lid": "1956.2.7 lid", "9 lid": "1956.2.9 lid"}


def draw(plan=PLAN, sheet=SHEET, labels=LABELS, write=in_inches, width=186.0, **rest):
    return parse(layout_svg(plan, sheet, labels=labels, format_length=write, paper_width_mm=width, **rest))


def rectangles(root, class_: str) -> list[tuple[float, float, float, float]]:
    return [
        tuple(float(node.get(name)) for name in ("x", "y", "width", "height"))
        for node in root.iter(f"{SVG}rect")
        if node.get("class") == class_
    ]


def test_pieces_lie_where_the_plan_puts_them():
    root = draw()
    [(left, top, wide, high)] = rectangles(root, "sheet")

    for (x, y, along, across), placement in zip(rectangles(root, "piece"), PLAN.placements, strict=True):
        assert (x - left) / wide == pytest.approx(placement.x_mm / SHEET.along_mm, abs=1e-4)
        assert (top + high - y - across) / high == pytest.approx(placement.y_mm / SHEET.across_mm, abs=1e-4)
        assert along / wide == pytest.approx(placement.along_mm / SHEET.along_mm, abs=1e-4)
        assert across / high == pytest.approx(placement.across_mm / SHEET.across_mm, abs=1e-4)


def test_sheet_keeps_its_proportions_and_fills_the_width():
    root = draw()
    [(_, _, wide, high)] = rectangles(root, "sheet")

    assert wide / high == pytest.approx(60 / 40, abs=1e-4)
    assert size_mm(root)[0] == pytest.approx(186)


def test_pieces_are_labelled_with_number_part_and_size():
    labels = [text.content for text in texts(draw()) if text.class_ == "piece-label"]

    assert labels == [
        "1956.2.7 base", "31 1/8 in × 32 3/4 in",
        "1956.2.7 lid", "16 1/2 in × 18 3/8 in",
        "1956.2.9 lid", "18 3/8 in × 16 1/2 in, turned",
    ]  # fmt: skip


def test_cuts_are_numbered_in_their_order_on_their_lines():
    root = draw()
    cuts = [node for node in root if node.get("class") == "cut"]
    discs = [node for node in root if node.get("class") == "cut-number" and node.tag == f"{SVG}circle"]
    numbers = [text.content for text in texts(root) if text.class_ == "cut-number"]

    assert numbers == ["1", "2", "3", "4", "5", "6", "1"]  # the last is the key's
    for cut, disc in zip(cuts, discs[:-1], strict=True):
        start, end = [(float(cut.get(f"x{i}")), float(cut.get(f"y{i}"))) for i in (1, 2)]
        centre = float(disc.get("cx")), float(disc.get("cy"))
        assert dist(start, centre) + dist(centre, end) == pytest.approx(dist(start, end), abs=0.01)


def test_edges_are_trimmed_before_the_first_number():
    edges = (Cut(0, 5, SHEET.along_mm, 5, is_trim=True), Cut(5, 5, 5, SHEET.across_mm - 5, is_trim=True))
    plan = CutSheet("S", (), (*edges, Cut(700, 5, 700, SHEET.across_mm - 5)), ())

    root = draw(plan)

    assert len([node for node in root if node.get("class") == "trim"]) == 2
    assert [text.content for text in texts(root) if text.class_ == "cut-number"] == ["1", "1"]
    assert [text.content for text in texts(root) if text.class_ == "key"] == [
        "flutes", "trim the edges first", "cut in this order",
    ]  # fmt: skip


def test_numbers_of_cuts_that_begin_side_by_side_stand_apart():
    # Three cuts 8 mm from one another, 1 mm on paper, far less than a disc is wide.
    cuts = tuple(Cut(x, 0, x, SHEET.across_mm) for x in (500, 508, 516))

    root = draw(CutSheet("S", (), cuts, ()))

    discs = [(float(n.get("cx")), float(n.get("cy"))) for n in root if n.tag == f"{SVG}circle"]
    assert all(dist(a, b) > 2 * 1.9 for a, b in combinations(discs, 2))


def test_what_is_left_over_is_shown_with_its_size():
    root = draw()

    assert len(rectangles(root, "offcut")) == 4
    assert "31 1/8 in × 7 1/4 in" in [text.content for text in texts(root) if text.class_ == "offcut-label"]


def test_sheet_size_and_direction_of_the_flutes_are_written():
    root = draw()

    assert [text.content for text in texts(root) if text.class_ == "dim"] == ["60 in", "40 in"]
    assert [text.content for text in texts(root) if text.class_ == "key"] == [
        "flutes", "cut in this order", "left over",
    ]  # fmt: skip


def test_solid_board_has_a_grain():
    keys = [text.content for text in texts(draw(direction="grain")) if text.class_ == "key"]

    assert keys[0] == "grain"


def test_pieces_lead_to_their_pages():
    root = draw(links={"7 base": "/boxes/7/?part=base&x=1", "9 lid": "/boxes/9/"})

    links = {node.get("href"): node[0][0].text for node in root.iter(f"{SVG}a")}

    assert links == {
        "/boxes/7/?part=base&x=1": "1956.2.7 base, 31 1/8 in × 32 3/4 in",
        "/boxes/9/": "1956.2.9 lid, 18 3/8 in × 16 1/2 in, turned",
    }


def test_drawing_is_described_for_screen_readers():
    root = draw(title="Sheet 3")

    assert [node.text for node in root[:2]] == [
        "Sheet 3",
        "Sheet 60 in along by 40 in across the flutes, with 3 pieces: 1956.2.7 base, 1956.2.7 lid, "
        "1956.2.9 lid.",
    ]


def test_piece_too_small_for_its_label_still_carries_it():
    plan = CutSheet("S", (Placement("7 lid", 0, 0, 40, 20, turned=False),), (), ())

    root = draw(plan, write=in_mm)

    assert [text for text in texts(root) if text.class_ == "piece-label"] == []
    assert "1956.2.7 lid, 40 mm × 20 mm" in [node.text for node in root.iter(f"{SVG}title")]


def test_empty_sheet_has_no_key_for_cuts():
    root = draw(CutSheet("S", (), (), ()))

    assert [text.content for text in texts(root) if text.class_ == "key"] == ["flutes"]


def apart(point: tuple[float, float], box: tuple[float, float, float, float]) -> float:
    """Distance of a point from a rectangle, 0 inside it."""
    (x, y), (left, top, right, bottom) = point, box
    return dist(point, (min(max(x, left), right), min(max(y, top), bottom)))


def strips(count: int) -> tuple[CutSheet, dict[str, str]]:
    """A sheet cut into equal strips across, each cut once more in the middle."""
    wide, half = SHEET.along_mm / count, SHEET.across_mm / 2
    placements = [Placement(f"{i} lid", i * wide, 0, wide, half, turned=False) for i in range(count)]
    cuts = [Cut(i * wide, 0, i * wide, SHEET.across_mm) for i in range(1, count)]
    cuts += [Cut(i * wide, half, (i + 1) * wide, half) for i in range(count)]
    offcuts = [Offcut(i * wide, half, wide, half) for i in range(count)]
    labels = {placement.key: f"2001.115.{placement.key}" for placement in placements}
    return CutSheet("S", tuple(placements), tuple(cuts), tuple(offcuts)), labels


@pytest.mark.parametrize("count", [1, 3, 10, 24])
@pytest.mark.parametrize("width", [186, 270])
@pytest.mark.parametrize("write", [in_mm, in_inches])
def test_nothing_lies_on_anything_else_or_off_the_paper(count, width, write):
    plan, labels = strips(count)

    root = draw(plan, labels=labels, write=write, width=width)

    found = texts(root)
    assert overlapping(found) == []
    assert outside(found, *size_mm(root)) == []
    assert size_mm(root)[0] <= width
    assert not has_styles(root)
    discs = [(float(n.get("cx")), float(n.get("cy"))) for n in root if n.tag == f"{SVG}circle"]
    assert all(dist(a, b) > 2 * 1.9 for a, b in combinations(discs, 2))
    words = [text.box for text in found if text.class_ != "cut-number"]
    assert [disc for disc in discs if any(apart(disc, box) < 1.9 for box in words)] == []


# By hand, mm: a tall base of 800 x 800 whose corners of 280 x 280 fall off; in the near left one three tags
# side by side, in the far right one a lid; a gap of 2 mm is lost along the inner edges of a corner.
HOST_SHEET = Sheet("S", 1200, 900, Decimal(9))
HOST_PLAN = CutSheet(
    "S",
    placements=(
        Placement("base", 0, 0, 800, 800, turned=False),
        Placement("tag 1", 0, 0, 60, 278, turned=False, host="base"),
        Placement("tag 2", 62, 0, 60, 278, turned=False, host="base"),
        Placement("tag 3", 124, 0, 60, 278, turned=False, host="base"),
        Placement("lid", 522, 522, 200, 240, turned=False, host="base"),
    ),
    cuts=(
        Cut(60, 0, 60, 278, part=3, mark_mm=60, host="base"),
        Cut(122, 0, 122, 278, part=3, mark_mm=122, host="base"),
        Cut(184, 0, 184, 278, part=3, mark_mm=184, host="base"),
        Cut(722, 522, 722, 800, part=4, mark_mm=200, host="base"),
        Cut(522, 762, 722, 762, part=5, mark_mm=240, host="base"),
        Cut(800, 0, 800, 900, part=1, mark_mm=800),
        Cut(0, 800, 800, 800, part=2, mark_mm=800),
    ),
    offcuts=(Offcut(802, 0, 398, 900),),
)
HOST_LABELS = {
    "base": "L-2041 base", "tag 1": "L-1 tag", "tag 2": "L-2 tag", "tag 3": "L-3 tag", "lid": "L-2050 lid",
}  # fmt: skip
HOST_CORNERS = {"base": ((280.0, 280.0),) * 4}


def draw_host(**rest):
    given = {"labels": HOST_LABELS, "corners": HOST_CORNERS, "write": in_mm, **rest}
    return draw(HOST_PLAN, HOST_SHEET, **given)


def test_blanks_in_corners_lie_on_top_of_what_falls_off_their_host():
    shapes = [node.get("class") for node in draw_host().iter(f"{SVG}rect")]

    # the sheet, what is left over, the host, both corners in use with the guests on them, then the key
    assert shapes == [
        "sheet", "offcut", "piece", "corner", "corner", *4 * ["piece guest"],
        "corner", "key guest", "key offcut",
    ]  # fmt: skip


def test_corner_is_drawn_where_it_falls_off():
    root = draw_host()
    [(left, top, wide, high)] = rectangles(root, "sheet")
    near_left, far_right, _ = rectangles(root, "corner")
    scale = wide / 1200

    # From the sheet's upper left corner, mm of board: the near left one begins 900 - 280 down; the far right
    # one 800 - 280 along and 900 - 800 down.
    for (x, y, along, across), expected in ((near_left, (0, 620)), (far_right, (520, 100))):
        assert ((x - left) / scale, (y - top) / scale) == pytest.approx(expected, abs=0.05)
        assert (along / scale, across / scale) == pytest.approx((280, 280), abs=0.05)


def test_a_blank_in_a_corner_tells_what_it_is_cut_from():
    root = draw_host()

    titles = [node.text for node in root.iter(f"{SVG}title")]
    assert "L-2050 lid, 200 mm × 240 mm, cut from a corner that falls off L-2041 base" in titles
    assert "L-2050 lid from a corner of L-2041 base" in root[1].text
    assert [text.content for text in texts(root) if text.class_ == "key"] == [
        "flutes", "cut in this order", "cut from a corner that falls off", "left over",
    ]  # fmt: skip


def test_cuts_in_corners_are_drawn_and_numbered_after_the_others():
    root = draw_host()
    [(left, top, wide, high)] = rectangles(root, "sheet")
    first = next(node for node in root if node.get("class") == "cut")

    assert (float(first.get("x1")) - left) / wide * 1200 == pytest.approx(800, abs=0.05)
    assert [text.content for text in texts(root) if text.class_ == "cut-number"] == [*"1234567", "1"]


@pytest.mark.parametrize("width", [130, 186, 270])
def test_nothing_lies_on_anything_else_where_blanks_lie_in_corners(width):
    root = draw_host(width=width)

    found = texts(root)
    assert overlapping(found) == []
    assert outside(found, *size_mm(root)) == []
    discs = [(float(n.get("cx")), float(n.get("cy"))) for n in root if n.tag == f"{SVG}circle"]
    assert all(dist(a, b) > 2 * 1.9 for a, b in combinations(discs, 2))
    words = [text.box for text in found if text.class_ != "cut-number"]
    assert [disc for disc in discs if any(apart(disc, box) < 1.9 for box in words)] == []


def test_words_of_a_host_stay_out_of_the_corners_in_use():
    root = draw_host(width=110)
    corners = [(x, y, x + wide, y + high) for x, y, wide, high in rectangles(root, "corner")[:2]]

    words = [text.box for text in texts(root) if text.content.startswith(("L-2041", "800"))]

    assert words
    for a in words:
        assert not any(a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3] for b in corners)


def test_number_with_no_room_on_its_line_stands_beside_it_on_a_leader():
    # Five cuts 4 mm apart and 30 mm long, on paper 0.7 and 5: too close and too short for five discs.
    cuts = tuple(Cut(x, 300, x, 330) for x in (500, 504, 508, 512, 516))

    root = draw(CutSheet("S", (), cuts, ()), HOST_SHEET)

    discs = [(float(n.get("cx")), float(n.get("cy"))) for n in root if n.tag == f"{SVG}circle"]
    leaders = [node for node in root if node.get("class") == "leader"]
    assert all(dist(a, b) > 2 * 1.9 for a, b in combinations(discs, 2))
    assert leaders and len(leaders) < 5


def test_a_guest_in_no_corner_that_is_known_is_drawn_all_the_same():
    root = draw_host(corners={})

    assert len(rectangles(root, "piece guest")) == 4


def test_a_free_layout_says_that_each_blank_is_cut_round():
    root = draw(CutSheet("S", PLAN.placements, (), ()))

    assert [text.content for text in texts(root) if text.class_ == "key"] == [
        "flutes", "cut round each blank",
    ]  # fmt: skip


def test_high_sheet_is_drawn_no_higher_than_the_paper():
    root = draw(CutSheet("S", (), (), ()), Sheet("S", 1000, 1600, Decimal(9)), paper_height_mm=240)

    width, height = size_mm(root)
    assert height == pytest.approx(240)
    assert width < 186


def test_paper_with_no_room_for_a_sheet_is_refused():
    with pytest.raises(PaperTooSmall, match="leaves no room to draw it"):
        draw(width=6)
