"""The cuts of a sheet in words: a maker cuts from them without reckoning."""

from decimal import Decimal

import pytest

from boards.core.nesting import Piece, Rules, Sheet, check, nest
from boards.core.nesting.shapes import Cut, CutSheet, Offcut, Placement
from housing.core.drawing.cut_order import CutStep, cut_steps, numbered_cuts

SHEET = Sheet("S", 1000, 600, Decimal(9))

# By hand, a sheet of 1000 x 600 mm trimmed by 10 mm, with a gap of 2 mm. From the trimmed sheet, 980 x 580,
# a strip of 400 is cut from the left (line at 10 + 400 = 410) and one of 300 beside it (402 + 300 = 702 from
# the trimmed edge, line at 712); the rest, 980 - 704 = 276 wide, begins at 714. The first strip is all base,
# 400 x 580; the second is cut across at 200 and 402 from the trimmed edge, lines at 210 and 412.
# In the far right corner of the base, 120 x 100 of waste (x 290 to 410, y 490 to 590), less the gap, x 292
# and y 492 on, lie two tags of 50 x 98, cut at 50 and 102 from the left edge of what falls off: lines at 342
# and 394.
TRIMS = (
    Cut(0, 10, 1000, 10, is_trim=True, mark_mm=10),
    Cut(0, 590, 1000, 590, is_trim=True, mark_mm=590),
    Cut(10, 10, 10, 590, is_trim=True, mark_mm=10),
    Cut(990, 10, 990, 590, is_trim=True, mark_mm=990),
)
PLAN = CutSheet(
    "S",
    placements=(
        Placement("base", 10, 10, 400, 580, turned=False),
        Placement("tag 1", 292, 492, 50, 98, turned=False, host="base"),
        Placement("tag 2", 344, 492, 50, 98, turned=False, host="base"),
        Placement("lid 1", 412, 10, 300, 200, turned=False),
        Placement("lid 2", 412, 212, 300, 200, turned=False),
    ),
    cuts=(
        *TRIMS,
        Cut(410, 10, 410, 590, part=1, mark_mm=400),
        Cut(712, 10, 712, 590, part=1, mark_mm=702),
        Cut(412, 210, 712, 210, part=2, mark_mm=200, stage=1),
        Cut(412, 412, 712, 412, part=2, mark_mm=402, stage=1),
        Cut(342, 492, 342, 590, part=3, mark_mm=50, host="base"),
        Cut(394, 492, 394, 590, part=3, mark_mm=102, host="base"),
    ),
    offcuts=(Offcut(714, 10, 276, 580),),
)
LABELS = {
    "base": "L-1 base", "tag 1": "L-2 tag", "tag 2": "L-3 tag", "lid 1": "L-1 lid", "lid 2": "L-4 lid",
}  # fmt: skip
CORNERS = {"base": ((0.0, 0.0), (0.0, 0.0), (0.0, 0.0), (120.0, 100.0))}


def in_mm(lengths) -> str:
    return f"{', '.join(f'{length:g}' for length in lengths)} mm"


def size_in_mm(sides) -> str:
    return f"{sides[0]:g} × {sides[1]:g} mm"


def steps(plan=PLAN, sheet=SHEET, labels=LABELS, corners=CORNERS, kerf_mm=2.0) -> list[CutStep]:
    return cut_steps(
        plan, sheet, labels=labels, write=in_mm, write_size=size_in_mm, corners=corners, kerf_mm=kerf_mm
    )


def test_each_part_is_marked_in_one_go_and_tells_what_comes_of_it():
    assert steps() == [
        CutStep("", "Trim 10 mm off all four edges."),
        CutStep(
            "1 and 2",
            "From the trimmed sheet, mark from the left edge: 400, 702 mm.",
            ("L-1 base", "kept for cuts 3 and 4", "to the rack, 276 × 580 mm"),
        ),
        CutStep(
            "3 and 4",
            "From the part between cuts 1 and 2, mark from the near edge: 200, 402 mm.",
            ("L-1 lid", "L-4 lid", "waste"),
        ),
        CutStep(
            "5 and 6",
            "Cut out L-1 base first and trim its corners; then from its far right corner, mark from the left "
            "edge: 50, 102 mm.",
            ("L-2 tag", "L-3 tag", "waste"),
        ),
    ]


def test_cuts_in_corners_are_numbered_after_the_others():
    early = CutSheet("S", PLAN.placements, PLAN.cuts[8:] + PLAN.cuts[:8], PLAN.offcuts)

    assert numbered_cuts(early) == list(PLAN.cuts[4:])


def test_a_blank_that_is_turned_turns_its_corners_too():
    # Turned to the left, the base's own near right corner comes to the far right: (x, y) to (width - y, x).
    turned = Placement("base", 10, 10, 400, 580, turned=True)
    plan = CutSheet("S", (turned, *PLAN.placements[1:]), PLAN.cuts, PLAN.offcuts)
    own = {"base": ((0.0, 0.0), (100.0, 120.0), (0.0, 0.0), (0.0, 0.0))}

    assert steps(plan, corners=own) == steps()


def test_parts_of_a_corner_are_named_by_their_cuts():
    # The first tag is cut once more across its far edge: 60 of its 98 mm.
    across = Cut(292, 552, 342, 552, part=4, mark_mm=60, stage=1, host="base")
    small = Placement("tag 1", 292, 492, 50, 60, turned=False, host="base")
    placements = (PLAN.placements[0], small, *PLAN.placements[2:])

    *_, last = steps(CutSheet("S", placements, (*PLAN.cuts, across), PLAN.offcuts))

    assert last == CutStep(
        "7", "From the part left of cut 5, mark from the near edge: 60 mm.", ("L-2 tag", "waste")
    )


def test_a_second_corner_of_a_blank_is_not_cut_out_again():
    corners = {"base": ((0.0, 0.0), (60.0, 50.0), (0.0, 0.0), (120.0, 100.0))}
    tag = Placement("tag 3", 352, 10, 40, 48, turned=False, host="base")
    cut = Cut(392, 10, 392, 58, part=4, mark_mm=40, host="base")

    *_, last = steps(
        CutSheet("S", (*PLAN.placements, tag), (*PLAN.cuts, cut), PLAN.offcuts),
        labels={**LABELS, "tag 3": "L-5 tag"},
        corners=corners,
    )

    assert last == CutStep(
        "7",
        "From the near right corner of L-1 base, mark from the left edge: 40 mm.",
        ("L-5 tag", "waste"),
    )


def test_a_blank_that_fills_a_corner_is_that_corner():
    tag = Placement("tag 1", 292, 492, 118, 98, turned=False, host="base")

    *_, last = steps(CutSheet("S", (PLAN.placements[0], tag), PLAN.cuts[:5], ()))

    assert last == CutStep(
        "",
        "Cut out L-1 base first and trim its corners; then from its far right corner, take the whole piece.",
        ("L-2 tag",),
    )


def test_edges_trimmed_unevenly_are_told_one_by_one():
    trims = (Cut(0, 10, 1000, 10, is_trim=True), Cut(980, 10, 980, 600, is_trim=True))

    first, _ = steps(CutSheet("S", PLAN.placements[:1], trims, ()))

    assert first == CutStep("", "Trim off 10 mm at the near edge, 20 mm at the right edge.")


def test_an_older_plan_that_tells_no_marks_is_told_cut_by_cut():
    # The same cuts as they were stored before: no part, no mark; each is a part of its own. The second
    # lies 712 mm from the sheet's edge; its part begins at 412, so it is marked at 300; likewise 412 - 212.
    old = tuple(Cut(c.x0_mm, c.y0_mm, c.x1_mm, c.y1_mm, c.is_trim) for c in PLAN.cuts if c.host is None)
    direct = tuple(placed for placed in PLAN.placements if placed.host is None)

    assert [(step.numbers, step.what) for step in steps(CutSheet("S", direct, old, PLAN.offcuts))] == [
        ("", "Trim 10 mm off all four edges."),
        ("1", "From the trimmed sheet, mark from the left edge: 400 mm."),
        ("2", "From the part right of cut 1, mark from the left edge: 300 mm."),
        ("3", "From the part left of cut 2, mark from the near edge: 200 mm."),
        ("4", "From the part beyond cut 3, mark from the near edge: 200 mm."),
    ]


def test_blanks_that_lie_anyhow_are_marked_from_two_edges():
    free = CutSheet("S", PLAN.placements[:2], (), ())

    assert steps(free) == [
        CutStep("", "Mark every blank on the sheet before the first cut."),
        CutStep(
            "",
            "Mark from the left edge: 10, 410 mm; from the near edge: 10, 590 mm. Cut round it.",
            ("L-1 base",),
        ),
        CutStep(
            "",
            "Mark from the left edge: 292, 342 mm; from the near edge: 492, 590 mm. Cut round it once "
            "L-1 base is cut out and its corners are trimmed.",
            ("L-2 tag",),
        ),
    ]


def test_a_blank_that_is_the_whole_sheet_needs_no_cut():
    whole = CutSheet("S", (Placement("base", 10, 10, 980, 580, turned=False),), TRIMS, ())

    assert steps(whole) == [
        CutStep("", "Trim 10 mm off all four edges."),
        CutStep("", "There is nothing more to cut.", ("L-1 base",)),
    ]


@pytest.mark.parametrize("seed", range(3))
def test_every_blank_of_a_plan_comes_of_one_step(seed):
    waste = ((90.0, 90.0),) * 4
    pieces = [Piece(f"base {i}", 400 + 7 * i, 350 + 11 * i, corners=waste) for i in range(5)]
    pieces += [Piece(f"tag {i}", 40 + i, 30 + 2 * i, may_turn=True) for i in range(20)]
    rules = Rules(kerf_mm=1, trim_mm=5, least_offcut_mm=100, use_corners=True)
    layout = nest(pieces, [SHEET], rules, seed=seed)
    assert check(layout, pieces, [SHEET], rules) == ()
    corners = {piece.key: piece.corners for piece in pieces}

    for sheet in layout.sheets:
        labels = {placed.key: placed.key for placed in sheet.placements}
        given = [gift for step in steps(sheet, SHEET, labels, corners, 1.0) for gift in step.gives]
        blanks = sorted(gift for gift in given if gift.startswith(("base", "tag")))
        assert blanks == sorted(labels)
        assert sum(gift.startswith("to the rack") for gift in given) == len(sheet.offcuts)


def test_for_the_left_hand_parts_are_marked_from_the_right():
    mirrored = cut_steps(
        PLAN, SHEET, labels=LABELS, write=in_mm, write_size=size_in_mm, corners=CORNERS, kerf_mm=2.0,
        is_mirrored=True,
    )  # fmt: skip

    assert [step.what for step in mirrored] == [
        "Trim 10 mm off all four edges.",
        "From the trimmed sheet, mark from the right edge: 400, 702 mm.",
        "From the part between cuts 1 and 2, mark from the near edge: 200, 402 mm.",
        "Cut out L-1 base first and trim its corners; then from its far left corner, mark from the right "
        "edge: 50, 102 mm.",
    ]


def test_a_step_tells_its_part_and_its_marks_on_the_whole_sheet_for_a_table():
    short = cut_steps(
        PLAN, SHEET, labels=LABELS, write=in_mm, write_size=size_in_mm, corners=CORNERS, kerf_mm=2.0,
        is_short=True,
    )  # fmt: skip

    # on the whole sheet, from its corner: the lines of PLAN; within the corner that falls off none
    assert [(step.part, step.edge, step.marks, step.running) for step in short[1:]] == [
        ("the trimmed sheet", "left", "400, 702 mm", "410, 712 mm"),
        ("between 1 and 2", "near", "200, 402 mm", "210, 412 mm"),
        ("far right corner of L-1 base", "left", "50, 102 mm", ""),
    ]
    assert short[1].gives == ("L-1 base", "→ cut 3 and 4", "to the rack, 276 × 580 mm")
