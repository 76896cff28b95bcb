"""The drawn blank, measured on its SVG."""

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from boards.core.board import BoardSpec
from housing.core.blank import Blank
from housing.core.drawing.blank_svg import BlankDrawing, Manner, blank_svg
from housing.core.drawing.blank_words import opening_marks
from housing.core.enclosures import make_enclosure
from housing.core.errors import EnclosureError, PaperTooSmall
from housing.core.flattening import flatten
from housing.core.panels import Panel, PanelTree
from tests.examples import few
from tests.housing.core.drawing.forms import FORMS, one_of
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
from tests.housing.core.made import asked, make_tray, worked_base, worked_lid


def draw(blank: Blank, write=in_inches, paper=(186, 200), **rest) -> BlankDrawing:
    return blank_svg(
        blank, title="Base of box 7", format_length=write,
        paper_width_mm=paper[0], paper_height_mm=paper[1], manner=Manner(**rest),
    )  # fmt: skip


def bare(mm: float) -> str:
    """A length without its unit, as the columns of a cut sheet have it."""
    return f"{round(mm, 1):g}"


def small_flat_tray() -> Blank:
    return make_tray((60, 40, 30), 1.6, flap_mm=None).blank


def large_flat_tray() -> Blank:
    return make_tray((1400, 900, 60), 3.2, flap_mm=50).blank


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
    root = parse(draw(make_tray(inner).blank).svg)
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
    assert draw(make_tray((20, 20, 15), 1, flap_mm=None).blank, paper=(900, 900)).scale == "1 : 1"


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
    root = parse(draw(flatten(PanelTree(floor=Panel("floor", 100, 200)), BoardSpec(3))).svg)

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
    edges = [node.get("data-edge") for node in root.iter() if node.get("data-edge")]
    assert edges in (["near", "far", "left", "right"], ["near", "left"])
    for edge in edges:
        is_level = edge in ("near", "far")
        walls, flaps, trims = (
            (blank.marks_x, blank.flap_marks_x, blank.trim_marks_x) if is_level
            else (blank.marks_y, blank.flap_marks_y, blank.trim_marks_y)
        )  # fmt: skip
        counts = [len(edge_labels(root, edge, kind)) for kind in ("wall", "flap", "trim")]
        assert counts == [len(walls), len(flaps), len(trims)]
    assert_openings_are_placed(root, blank, edges)


def assert_openings_are_placed(root, blank: Blank, edges: list[str]) -> None:
    """Each opening is cut, and its place is either marked at the edges or told in the list."""
    drawn = [node for node in root.iter() if node.get("class") == "cut opening"]
    assert len(drawn) == len(blank.openings)
    told = [text.content for text in texts(root) if "from the left" in text.content]
    for edge in edges:
        marks = opening_marks(blank)[0 if edge in ("near", "far") else 1]
        assert bool(told) or len(edge_labels(root, edge, "opening")) == len(marks)


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
    for part in one_of("lidded_tray", 1.6, inner=inner).parts:
        check(draw(part.blank, write, paper), part.blank, paper)


@few(40)
@given(
    st.floats(15, 2500), st.floats(15, 2500), st.floats(10, 1500), st.floats(0.25, 4), st.floats(0, 1),
    st.sampled_from([in_inches, in_mm]),
)  # fmt: skip
def test_labels_stay_apart_whatever_the_size(x, y, z, caliper, share, write):
    try:
        blank = make_tray((x, y, z), caliper, share, flap_mm=None).blank
    except EnclosureError:  # such as too little left to glue, in a tiny tray of thick board
        assume(False)

    check(draw(blank, write), blank, (186, 200))


# ---- All forms -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize(
    ("write", "paper"), [(in_inches, (170, 120)), (in_mm, (180, 130)), (bare, (102, 150))]
)
def test_every_form_is_drawn_with_its_labels_apart(form, write, paper):
    options = (
        {"ties": True} if form == "four_flap" else {"window_margin": 40} if form == "lidded_tray" else {}
    )
    for part in one_of(form, **options).parts:
        check(draw(part.blank, write, paper), part.blank, paper)


@settings(few(30), suppress_health_check=[HealthCheck.filter_too_much])
@given(st.sampled_from(FORMS).flatmap(asked), st.sampled_from([in_inches, in_mm]))
def test_any_form_of_any_size_is_drawn_with_its_labels_apart(given_, write):
    try:
        enclosure = make_enclosure(*given_)
    except EnclosureError:
        assume(False)

    for part in enclosure.parts[:3]:
        check(draw(part.blank, write), part.blank, (186, 200))


@pytest.mark.parametrize("write", [in_inches, in_mm])
@pytest.mark.parametrize(
    "sides",
    [(30, 30), (30, 18), (3000, 30), (3000, 400), (40, 3000)],  # a spacer, a corner, strips for a long box
)
def test_strips_and_spacers_are_drawn_whatever_their_size(sides, write):
    blank = flatten(PanelTree(Panel("strip", sides[1], sides[0])), BoardSpec(3))

    check(draw(blank, write), blank, (186, 200))


def test_marks_at_the_near_and_left_edge_alone_are_better_than_no_drawing():
    # By hand: 60 mm of paper leave no room for two rows of labels above and below a blank and a key.
    blank = one_of("lidded_tray").parts[0].blank

    root = parse(draw(blank, bare, (102, 60)).svg)

    assert [node.get("data-edge") for node in root.iter() if node.get("data-edge")] == ["near", "left"]
    assert "the same marks on the facing edges" in [text.content for text in texts(root)]


# ---- Openings --------------------------------------------------------------------------------------------


def test_hand_holes_are_marked_where_they_begin_and_end():
    # By hand: a tray 300 x 220 x 140 mm of 3 mm board has walls of 140 + 1.5 on a blank 300 + 3 + 2 x 141.5 =
    # 586 mm wide. A hole 38 mm high lies 20 mm below the rim: from 20 to 58, and from 528 to 566. It is
    # 115 mm long in the middle of the blank, 220 + 3 + 2 x 141.5 = 506 mm deep: from 195.5 to 310.5.
    root = parse(draw(one_of("carrying_tray").parts[0].blank, in_mm, (250, 220)).svg)

    for edge in ("near", "far"):
        assert edge_labels(root, edge, "opening") == [
            "hole 20 mm",
            "hole 58 mm",
            "hole 528 mm",
            "hole 566 mm",
        ]
    for edge in ("left", "right"):
        assert edge_labels(root, edge, "opening") == ["hole 195.5 mm", "hole 310.5 mm"]


def test_round_opening_is_marked_at_its_centre_and_names_its_diameter():
    # By hand: a piece of w mm has the middle at w / 2; the hole of an 80 mm tube is 82 mm across.
    blank = one_of("rolled_tube").parts[0].blank
    root = parse(draw(blank, in_mm).svg)

    assert edge_labels(root, "near", "opening") == [f"centre {in_mm(blank.x_mm / 2)}"]
    assert [text.content for text in texts(root) if text.class_ == "opening-label"] == [
        "hole for the tube", "⌀ 82 mm",
    ]  # fmt: skip


def test_openings_are_cut_lines_as_long_as_the_scale_says():
    # By hand: the circumference of a circle 82 mm across is 257.6 mm; a polygon of 48 sides is 0.1 % shorter.
    drawing = draw(one_of("rolled_tube").parts[0].blank, in_mm)
    [hole] = [node for node in parse(drawing.svg).iter() if node.get("class") == "cut opening"]
    points = points_of(hole)

    around = sum(long((*a, *b)) for a, b in zip(points, points[1:], strict=False))

    assert hole.get("stroke-dasharray") is None
    assert around * reduction(drawing) == pytest.approx(257.6, rel=2e-3)


def test_opening_without_room_for_its_name_is_named_in_the_key():
    root = parse(draw(one_of("four_flap", ties=True).parts[0].blank, in_mm).svg)

    assert "slit for a tie 15 mm" in [text.content for text in texts(root) if text.class_ == "key"]


def test_many_openings_are_told_in_a_list_instead_of_by_marks():
    # By hand: nine cells of a clear 600 mm with eight dividers of 3 mm: (600 - 24) / 9 = 64 mm, so slots of
    # 3.5 mm lie around 64 + 1.5, each 67 mm after the last; the first from 63.75, or 63.8 rounded.
    enclosure = one_of("divided_tray", inner=(600, 220, 140), cells_x=9)
    root = parse(draw(enclosure.parts[1].blank, in_mm).svg)

    told = " ".join(text.content for text in texts(root) if text.class_ == "key")

    assert edge_labels(root, "near", "opening") == []
    assert "8 × slot 3.5 mm × 70 mm: from the left 63.8 mm to 67.2 mm, 130.8 mm to 134.2 mm," in told
    assert "from near 70 mm to 140 mm" in told


def test_names_of_panels_keep_clear_of_openings():
    root = parse(draw(one_of("cavity_tray").parts[1].blank, in_mm).svg)
    [cavity] = [points_of(node) for node in root.iter() if node.get("class") == "cut opening"]
    [name] = [text for text in texts(root) if text.class_ == "piece-label"]

    xs, ys = zip(*cavity, strict=True)

    assert (
        name.box[0] >= max(xs) or name.box[2] <= min(xs) or name.box[1] >= max(ys) or name.box[3] <= min(ys)
    )


# ---- How scores are made ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("scored", "dots"),
    [
        ("crease on the inside face", False),
        ("relief cut on the inside face", False),
        ("half cut on the outside face", True),
    ],
)
def test_scores_made_on_the_outside_face_have_dots_between_their_dashes(scored, dots):
    root = parse(draw(worked_base(), scored=scored).svg)

    for class_ in ("score", "flap-score", "key score", "key flap-score"):
        dashes = {node.get("stroke-dasharray") for node in root.iter() if node.get("class") == class_}
        assert [len(dash.split()) for dash in dashes] == [4 if dots else 2]
    assert f"score: {scored}" in [text.content for text in texts(root)]


def test_drawing_says_on_its_floor_which_face_is_up():
    root = parse(draw(worked_base()).svg)

    assert [text.content for text in texts(root) if text.class_ == "face"] == ["inside"]
