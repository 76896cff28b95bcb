"""The drawn blank, measured on its SVG."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boards.core.board import BoardSpec
from housing.core.blank import Blank, flatten
from housing.core.clearances import InnerSize
from housing.core.drawing.blank_svg import BlankDrawing, blank_svg
from housing.core.enclosures import make_enclosure
from housing.core.enclosures.form import FormOptions
from housing.core.errors import PaperTooSmall
from housing.core.panels import Panel, PanelTree
from tests.housing.core.drawing.reading import (
    crossed,
    edge_labels,
    has_styles,
    in_inches,
    in_mm,
    leaders,
    lines,
    long,
    outside,
    overlapping,
    parse,
    points_of,
    size_mm,
    texts,
)
from tests.housing.core.made import make_tray, worked_base, worked_lid


def draw(blank: Blank, write=in_inches, paper=(186, 200), **rest) -> BlankDrawing:
    return blank_svg(
        blank, title="Base of box 7", format_length=write,
        paper_width_mm=paper[0], paper_height_mm=paper[1], **rest,
    )  # fmt: skip


def small_flat_tray() -> Blank:
    return flatten(make_tray((60, 40, 30), 1.6, flap_mm=None)[0])


def large_flat_tray() -> Blank:
    return flatten(make_tray((1400, 900, 60), 3.2, flap_mm=50)[0])


def reduction(drawing: BlankDrawing) -> float:
    one, by = drawing.scale.split(" : ")
    assert one == "1"
    return float(by)


@pytest.mark.parametrize("edge", ["near", "far"])
def test_worked_base_shows_its_marks_from_the_left_along_both_edges(edge):
    # Common practice, no source: 0, 11, 21 3/4, 32 3/4; by hand: hinges 1/8 in outside, trims at 2 1/2 in.
    root = parse(draw(worked_base()).svg)

    assert edge_labels(root, edge, "wall") == ["0 in", "11 in", "21 3/4 in", "32 3/4 in"]
    assert edge_labels(root, edge, "flap") == ["flap 10 7/8 in", "flap 21 7/8 in"]
    assert edge_labels(root, edge, "trim") == ["trim 8 1/2 in", "trim 24 1/4 in"]


@pytest.mark.parametrize("edge", ["left", "right"])
def test_worked_base_shows_its_marks_from_the_near_edge_along_both_sides(edge):
    # Common practice, no source: 0, 11, 20 1/8, 31 1/8.
    root = parse(draw(worked_base()).svg)

    assert edge_labels(root, edge, "wall") == ["0 in", "11 in", "20 1/8 in", "31 1/8 in"]
    assert edge_labels(root, edge, "flap") == []


@pytest.mark.parametrize("edge", ["near", "far"])
def test_worked_lid_shows_its_marks(edge):
    # Common practice, no source: 0, 3 1/2, 14 7/8, 18 3/8.
    root = parse(draw(worked_lid()).svg)

    assert edge_labels(root, edge, "wall") == ["0 in", "3 1/2 in", "14 7/8 in", "18 3/8 in"]


@pytest.mark.parametrize("blank", [worked_base(), worked_lid(), small_flat_tray(), large_flat_tray()])
def test_lines_are_as_long_as_the_scale_says(blank):
    drawing = draw(blank)
    root, times = parse(drawing.svg), reduction(drawing)
    [outline] = [node for node in root.iter() if node.get("class") == "cut outline"]

    assert float(outline.get("width")) * times == pytest.approx(blank.x_mm, abs=0.01)
    assert float(outline.get("height")) * times == pytest.approx(blank.y_mm, abs=0.01)
    drawn = sum(long(line) for class_ in ("cut", "trim") for line in lines(root, class_))
    assert drawn * times == pytest.approx(blank.cut_length_mm, rel=1e-4)
    drawn = sum(long(line) for class_ in ("score", "flap-score") for line in lines(root, class_))
    assert drawn * times == pytest.approx(blank.score_length_mm, rel=1e-4)


def test_four_walls_and_four_flaps_are_dashed_and_nothing_else_of_the_blank():
    root = parse(draw(worked_base()).svg)

    dashed = [node.get("class") for node in root.iter() if node.get("stroke-dasharray")]

    of_the_blank = [name for name in dashed if "key" not in name and "dim" not in name]
    assert sorted(of_the_blank) == ["flap-score"] * 4 + ["score"] * 4


def test_key_shows_each_line_as_it_is_drawn():
    root = parse(draw(worked_base()).svg)

    def dash(class_: str) -> str | None:
        return next(node.get("stroke-dasharray") for node in root.iter() if node.get("class") == class_)

    for class_ in ("cut", "score", "flap-score"):
        assert dash(f"key {class_}") == dash(class_)
    assert dash("cut") is None
    assert dash("score") != dash("flap-score")


def test_slits_and_trims_are_told_apart():
    # By hand: four slits beside the flaps, four trims at their ends.
    root = parse(draw(worked_base()).svg)

    assert (len(lines(root, "cut")), len(lines(root, "trim"))) == (4, 4)


def test_marks_stand_at_their_lines():
    # The 11 in score at 1 : 5 lies 11 x 25.4 / 5 = 55.88 mm from the outline's left side.
    root = parse(draw(worked_base()).svg)
    [outline] = [node for node in root.iter() if node.get("class") == "cut outline"]
    score = min(line[0] for line in lines(root, "score") if line[0] == line[2])

    assert score - float(outline.get("x")) == pytest.approx(55.88, abs=0.002)
    for edge in ("near", "far"):
        starts = [points[0][0] for points in leaders(root, edge, "wall")]
        assert starts[1] == pytest.approx(score, abs=0.002)


def test_every_panel_is_named_where_there_is_room():
    root = parse(draw(worked_base()).svg)

    names = [text.content for text in texts(root) if text.class_ == "piece-label"]

    assert names == [
        "floor", "left wall", "right wall", "near wall", "far wall",
        "near left flap", "near right flap", "far left flap", "far right flap",
    ]  # fmt: skip


def test_waste_is_hatched_and_says_so():
    root = parse(draw(worked_base()).svg)

    assert [text.content for text in texts(root) if text.class_ == "waste-label"] == ["waste"] * 4
    assert len([node for node in root.iter() if node.get("class") == "waste"]) == 4


@pytest.mark.parametrize(
    ("inner", "upright"),
    [((300, 200, 150), True), ((200, 300, 150), False)],  # flutes along the short side of the floor
)
def test_arrow_lies_along_the_flutes(inner, upright):
    root = parse(draw(flatten(make_tray(inner)[0])).svg)
    (x1, y1), (x2, y2) = points_of(next(node for node in root if node.get("class") == "flute"))

    assert (x1 == x2, y1 == y2) == (upright, not upright)
    assert "flutes" in [text.content for text in texts(root)]


def test_solid_board_has_a_grain():
    root = parse(draw(worked_base(), direction="grain").svg)

    assert "grain" in [text.content for text in texts(root)]


def test_key_says_which_face_is_up_and_how_long_the_bar_is():
    # By hand: at 1 : 5 a bar of 6 in is 6 x 25.4 / 5 = 30.48 mm long.
    root = parse(draw(worked_base()).svg)

    assert [text.content for text in texts(root) if text.class_ == "key"] == [
        "cut", "score and fold", "score for a flap", "inside face up", "measure from this corner",
        "6 in at 1 : 5",
    ]  # fmt: skip
    assert 30.48 in [pytest.approx(long(line)) for line in lines(root, "dim")]


@pytest.mark.parametrize(
    ("paper", "scale"),
    [((186, 200), "1 : 5"), ((186, 150), "1 : 8"), ((400, 400), "1 : 2.5"), ((900, 900), "1 : 1")],
)
def test_drawing_is_as_large_as_a_round_scale_allows(paper, scale):
    # By hand: the blank is 831.85 x 790.6 mm; 1 : 5 makes 166 x 158 and leaves 20 and 42 mm for the marks and
    # the key; 1 : 6 would make it 132 mm high, too much beside them on 150.
    drawing = draw(worked_base(), paper=paper)

    assert drawing.scale == scale


def test_small_box_is_drawn_full_size_at_most():
    assert draw(flatten(make_tray((20, 20, 15), 1, flap_mm=None)[0]), paper=(900, 900)).scale == "1 : 1"


def test_drawing_is_described_for_screen_readers():
    root = parse(draw(worked_base()).svg)
    [title, desc] = [node.text for node in root[:2]]

    assert root.get("role") == "img"
    assert title == "Base of box 7"
    assert desc == (
        "Blank 32 3/4 in by 31 1/8 in, inside face up, drawn 1 : 5. "
        "Marks from the left edge: 0 in, 11 in, 21 3/4 in, 32 3/4 in. "
        "Marks from the near edge: 0 in, 11 in, 20 1/8 in, 31 1/8 in."
    )


def test_title_with_signs_of_markup_stays_text():
    drawing = blank_svg(
        worked_base(), title='<b> & "1"', format_length=in_mm, paper_width_mm=186, paper_height_mm=200
    )

    assert parse(drawing.svg)[0].text == '<b> & "1"'


def test_paper_too_small_for_any_scale_is_refused():
    with pytest.raises(PaperTooSmall, match="does not fit 30 x 30 mm of paper at any scale"):
        draw(worked_base(), paper=(30, 30))


def test_flat_sheet_without_walls_is_drawn_without_a_key_for_flaps():
    root = parse(draw(flatten(PanelTree(floor=Panel("floor", 200, 100)))).svg)

    assert edge_labels(root, "near", "wall") == ["0 in", "7 7/8 in"]
    assert "score for a flap" not in [text.content for text in texts(root)]


def check(drawing: BlankDrawing, blank: Blank, paper: tuple[float, float]) -> None:
    root = parse(drawing.svg)
    width, height = size_mm(root)
    found = texts(root)
    assert overlapping(found) == []
    assert crossed(root) == []
    assert outside(found, width, height) == []
    assert width <= paper[0] and height <= paper[1]
    assert not has_styles(root)
    for edges, positions in (
        (("near", "far"), (blank.marks_x, blank.flap_marks_x, blank.trim_marks_x)),
        (("left", "right"), (blank.marks_y, blank.flap_marks_y, blank.trim_marks_y)),
    ):
        for edge in edges:
            counts = [len(edge_labels(root, edge, kind)) for kind in ("wall", "flap", "trim")]
            assert counts == [len(marks) for marks in positions]


@pytest.mark.parametrize("write", [in_inches, in_mm])
@pytest.mark.parametrize("paper", [(186, 200), (186, 120), (110, 140)])
@pytest.mark.parametrize(
    "inner",
    [
        (273, 232, 279),  # the worked tray
        (60, 40, 30),  # small and low
        (20, 20, 12),  # smaller than its own labels
        (1400, 900, 60),  # large and flat
        (60, 60, 900),  # a floor narrower than its labels
        (2000, 25, 25),  # a blank lower than its labels
        (25, 2000, 25),
        (200, 320, 150),  # flaps and trims along the other axis
    ],
)
def test_no_label_lies_on_another_or_off_the_drawing(inner, paper, write):
    for part in make_enclosure("lidded_tray", InnerSize(*inner), BoardSpec(1.6), FormOptions()).parts:
        check(draw(part.blank, write, paper), part.blank, paper)


@settings(max_examples=40)
@given(
    st.floats(15, 2500), st.floats(15, 2500), st.floats(10, 1500), st.floats(0.25, 4), st.floats(0, 1),
    st.sampled_from([in_inches, in_mm]),
)  # fmt: skip
def test_labels_stay_apart_whatever_the_size(x, y, z, caliper, share, write):
    blank = flatten(make_tray((x, y, z), caliper, share, flap_mm=None)[0])

    check(draw(blank, write), blank, (186, 200))
