"""Instance files: what they ask is taken as written, and each fault gets one sentence with its place."""

import json
from decimal import Decimal

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from boards.core.nesting import CutSheet, Layout, Offcut, Piece, Placement, Rules, Sheet, nest
from boards.core.nesting.instance_file import InstanceRefused, Question, read_question
from boards.core.nesting.plan_file import plan_text
from tests.boards.core.nesting.made import CLASSES, INSTANCES, campaign, published

SHEET = {"id": "A", "w": 1524, "h": 1016, "cost": 1400, "stock": None}
PART = {"id": "b7", "w": 300, "h": 200, "rot": 1, "corner": [60, 40]}
SIDE = "it must be a number of mm from 0.01 to 100,000."
ID = "it must be a text of 1 to 100 characters that can be printed."
ROT = "it must be 0 for a blank that may not turn, or 1 for one that may."
CORNER = "it must be two numbers of mm, from 0 to half of the blank, which is [150, 100]."
COST = "it must be an amount from 0 to 1,000,000,000 with at most 4 decimals."
STOCK = "it must be a whole number from 0 to 1,000,000, or null for as many as needed."
# by hand: 1524 - 2 * 5 by 1016 - 2 * 5
TOO_LARGE = "fits no sheet inside its trim; the largest is A, 1514 x 1006 mm inside its trim"
TURNED = 'turned by 90 degrees it would fit A, for which its "rot" must be 1.'
UNREADABLE = (
    "this is no JSON that can be read: lists lie too deep in one another, or a number has thousands of "
    "digits; mend that."
)
PACK = {"instances": [{"id": "c1", "bin": [10, 9], "items": [[3, 2], [4, 4]]}]}


def instance(parts=(PART,), sheets=(SHEET,), without: str = "", **changes) -> dict:
    """A good instance with some of it changed, or a key left out."""
    whole = {"name": "worked", "unit": "mm", "kerf": 1, "trim": 5, "guillotine": True}
    whole |= {"sheets": list(sheets), "parts": list(parts), **changes}
    return {key: value for key, value in whole.items() if key != without}


def part(without: str = "", **changes) -> dict:
    """The instance with its one part changed, or a key of it left out."""
    return instance([{key: value for key, value in (PART | changes).items() if key != without}])


def sheet(without: str = "", **changes) -> dict:
    """The instance with its one sheet changed, or a key of it left out."""
    return instance(sheets=[{key: value for key, value in (SHEET | changes).items() if key != without}])


def read(values: object, **picked) -> Question:
    return read_question(json.dumps(values), **picked)


# ---- What is taken ---------------------------------------------------------------------------------------


def test_every_key_of_a_file_is_taken():
    asked = instance(
        [PART | {"copies": 2, "batch": 3}, {"id": "l7", "w": 80.5, "h": 60, "rot": 0}],
        [SHEET, {"id": "B", "w": 1016, "h": 813, "cost": 6.4, "stock": 3, "pack": 10, "on_hand": 2}],
        guillotine=False,
        mix_batches=False,
    )

    question = read(asked, use_corners=True)

    corners = ((60.0, 40.0),) * 4
    assert question == Question(
        name="worked",
        pieces=(
            Piece("b7#1", 300, 200, True, corners, 3),
            Piece("b7#2", 300, 200, True, corners, 3),
            Piece("l7", 80.5, 60, False),
        ),
        sheets=(
            Sheet("A", 1524, 1016, Decimal(1400)),
            Sheet("B", 1016, 813, Decimal("6.4"), stock=3, pack=10, on_hand=2),
        ),
        rules=Rules(kerf_mm=1, trim_mm=5, use_corners=True, edge_to_edge=False, mix_batches=False),
        part_ids={"b7#1": "b7", "b7#2": "b7", "l7": "l7"},
    )


def test_what_is_left_out_or_null_is_as_usual():
    asked = instance([PART | {"corner": None}], name=None)
    for key in ("unit", "guillotine"):
        del asked[key]

    question = read(asked)

    assert question.name is None
    assert question.pieces == (Piece("b7", 300, 200, True),)
    assert question.rules == Rules(kerf_mm=1, trim_mm=5)


def test_copies_never_take_the_key_of_another_part():
    parts = [PART | {"id": "b#1"}, PART | {"id": "b", "copies": 2}, PART | {"id": "b#1'"}]

    question = read(instance(parts))

    assert question.part_ids == {"b#1": "b#1", "b#1'": "b#1'", "b#1''": "b", "b#2": "b"}


@pytest.mark.parametrize("name", ["50_s2_1sheet", "50_s1_3sheet", "500_s1_3sheet"])
def test_kept_campaigns_are_read_as_they_are(name):
    question = read_question((INSTANCES / f"campaign_{name}.json").read_text("utf-8"))

    pieces, sheets, rules = campaign(name)
    without_corners = [
        Piece(p.key, p.along_mm, p.across_mm, p.may_turn, batch=p.batch) for p in question.pieces
    ]
    assert (without_corners, list(question.sheets), question.rules) == (pieces, sheets, rules)
    assert all(len(piece.corners) == 4 for piece in question.pieces)


@pytest.mark.parametrize(
    ("variant", "may_turn", "edge_to_edge"),
    [("R_G", True, True), ("O_G", False, True), ("R_F", True, False), ("O_F", False, False)],
)
def test_one_instance_of_a_class_pack_is_picked(variant, may_turn, edge_to_edge):
    one = CLASSES[0]

    question = read({"instances": CLASSES}, pick=one["id"], variant=variant)

    pieces, sheets, _ = published(one, may_turn)
    assert question.name == one["id"]
    assert (list(question.pieces), list(question.sheets)) == (pieces, sheets)
    assert question.rules == Rules(edge_to_edge=edge_to_edge)


# ---- What is refused -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "this is not JSON from line 1, column 1, on (expecting value); mend it there."),
        (
            '{"kerf": 1,\n "trim" 5}',
            "this is not JSON from line 2, column 9, on (expecting ':' delimiter); mend it there.",
        ),
        (
            "[" * 200_000,
            UNREADABLE,
        ),
        (
            '{"kerf": 1' + "0" * 5000 + "}",
            UNREADABLE,
        ),
        ("[1, 2]", 'this file holds [1, 2]; it must be an object with "kerf", "trim", "sheets" and "parts".'),
        ("null", 'this file holds null; it must be an object with "kerf", "trim", "sheets" and "parts".'),
        ('{"parts": [], "parts": []}', 'the key "parts" stands 2 times in one object; keep one.'),
        (
            '{"parts": [{"id": "b7", "w": 1, "w": 2}]}',
            'the key "w" stands 2 times in one object of "b7"; keep one.',
        ),
        ("{}", '"kerf" is missing; it must be a number of mm from 0 to 100,000.'),
    ],
    ids=[
        "empty",
        "syntax",
        "deep",
        "long number",
        "list",
        "null",
        "keys twice",
        "part keys twice",
        "nothing",
    ],
)
def test_text_that_is_no_instance(text, sentence):
    with pytest.raises(InstanceRefused) as refused:
        read_question(text)

    assert str(refused.value) == sentence


@pytest.mark.parametrize(
    ("asked", "sentence"),
    [
        # the file as a whole
        (instance(without="kerf"), '"kerf" is missing; it must be a number of mm from 0 to 100,000.'),
        (instance(kerf=-1), '"kerf" is -1; it must be a number of mm from 0 to 100,000.'),
        (instance(kerf="1"), '"kerf" is "1"; it must be a number of mm from 0 to 100,000.'),
        (instance(trim=-0.5), '"trim" is -0.5; it must be a number of mm from 0 to 100,000.'),
        (instance(trim=True), '"trim" is true; it must be a number of mm from 0 to 100,000.'),
        (instance(trim=None), '"trim" is null; it must be a number of mm from 0 to 100,000.'),
        (instance(unit="in"), '"unit" is "in"; it must be "mm", or left out.'),
        (instance(name=5), '"name" is 5; it must be a text.'),
        (instance(guillotine=1), '"guillotine" is 1; it must be true or false.'),
        (instance(mix_batches="no"), '"mix_batches" is "no"; it must be true or false.'),
        (instance(without="sheets"), '"sheets" is missing; it must be a list of at least one sheet.'),
        (instance(sheets=[]), '"sheets" is []; it must be a list of at least one sheet.'),
        (instance(parts=[]), '"parts" is []; it must be a list of at least one part.'),
        (instance() | {"parts": {"b7": 1}}, '"parts" is an object; it must be a list of at least one part.'),
        (instance([PART, 3]), 'part number 2 is 3; it must be an object with "id", "w" and "h".'),
        # ids
        (part("id"), f'part number 1: "id" is missing; {ID}'),
        (part(id=7), f'part number 1: "id" is 7; {ID}'),
        (part(id=" "), f'part number 1: "id" is " "; {ID}'),
        (part(id="b\n7"), f'part number 1: "id" is "b\\n7"; {ID}'),
        (part(id="\ud800"), f'part number 1: "id" is "\\ud800"; {ID}'),
        (part(id="b" * 101), f'part number 1: "id" is "{"b" * 56}...; {ID}'),
        (instance([PART, PART]), 'part b7: 2 parts have this "id"; give each its own.'),
        (instance(sheets=[SHEET] * 3), 'sheet A: 3 sheets have this "id"; give each its own.'),
        # sides
        (part("w"), f'part b7: "w" is missing; {SIDE}'),
        (part(w="300"), f'part b7: "w" is "300"; {SIDE}'),
        (part(w=True), f'part b7: "w" is true; {SIDE}'),
        (part(h=0), f'part b7: "h" is 0; {SIDE}'),
        (part(h=-200), f'part b7: "h" is -200; {SIDE}'),
        (part(h=float("inf")), f'part b7: "h" is Infinity; {SIDE}'),
        (part(h=float("nan")), f'part b7: "h" is NaN; {SIDE}'),
        (part(h=10**400), f'part b7: "h" is 1{"0" * 56}...; {SIDE}'),
        (part(h=[200]), f'part b7: "h" is [200]; {SIDE}'),
        (part(h=[[200]]), f'part b7: "h" is a list of 1; {SIDE}'),
        (sheet(w=-1524), f'sheet A: "w" is -1524; {SIDE}'),
        (sheet("h"), f'sheet A: "h" is missing; {SIDE}'),
        # other keys of parts
        (part("rot"), f'part b7: "rot" is missing; {ROT}'),
        (part(rot=2), f'part b7: "rot" is 2; {ROT}'),
        (part(rot=True), f'part b7: "rot" is true; {ROT}'),
        (part(copies=0), 'part b7: "copies" is 0; it must be a whole number from 1 to 1,000,000.'),
        (part(copies=1.5), 'part b7: "copies" is 1.5; it must be a whole number from 1 to 1,000,000.'),
        (part(copies=None), 'part b7: "copies" is null; it must be a whole number from 1 to 1,000,000.'),
        (part(batch="a"), 'part b7: "batch" is "a"; it must be a whole number from -1,000,000 to 1,000,000.'),
        (part(corner=[151, 40]), f'part b7: "corner" is [151, 40]; {CORNER}'),
        (part(corner=[60, -1]), f'part b7: "corner" is [60, -1]; {CORNER}'),
        (part(corner=[60]), f'part b7: "corner" is [60]; {CORNER}'),
        (part(corner=60), f'part b7: "corner" is 60; {CORNER}'),
        # other keys of sheets
        (sheet("cost"), f'sheet A: "cost" is missing; {COST}'),
        (sheet(cost=-1), f'sheet A: "cost" is -1; {COST}'),
        (sheet(cost=0.00001), f'sheet A: "cost" is 1e-05; {COST}'),
        (sheet("stock"), f'sheet A: "stock" is missing; {STOCK}'),
        (sheet(stock=-1), f'sheet A: "stock" is -1; {STOCK}'),
        (sheet(stock=1.5), f'sheet A: "stock" is 1.5; {STOCK}'),
        (sheet(pack=0), 'sheet A: "pack" is 0; it must be a whole number from 1 to 1,000,000.'),
        (sheet(on_hand=-2), 'sheet A: "on_hand" is -2; it must be a whole number from 0 to 1,000,000.'),
        # what cannot be: 1016 - 2 * 508 = 0 is left
        (
            instance(trim=508),
            'sheet A: 1524 x 1016 mm less a "trim" of 508 mm on all four sides leaves nothing; '
            "lower the trim or take the sheet out.",
        ),
        (part(w=1800), f"part b7, 1800 x 200 mm, {TOO_LARGE}."),
        (part(w=1515, h=1007), f"part b7, 1515 x 1007 mm, {TOO_LARGE}."),
        (part(w=200, h=1200, rot=0), f'part b7, 200 x 1200 mm, {TOO_LARGE}; {TURNED}'),
        (
            part(w=1800) | {"trim": 0},
            "part b7, 1800 x 200 mm, fits no sheet; the largest is A, 1524 x 1016 mm.",
        ),
        (
            instance([PART | {"copies": 1_000_000}, PART | {"id": "c"}]),
            '"parts" come to 1,000,001 blanks; at most 1,000,000 can be laid out at a time, so split '
            "the file.",
        ),
    ],
)  # fmt: skip
def test_each_fault_gets_one_sentence_with_its_place(asked, sentence):
    with pytest.raises(InstanceRefused) as refused:
        read(asked)

    assert str(refused.value) == sentence


@pytest.mark.parametrize(
    ("asked", "picked", "sentence"),
    [
        (PACK, {}, "this is a class pack and none is picked; pick one of its 1, such as --pick c1."),
        (
            PACK,
            {"pick": "c2"},
            'this is a class pack and it has no instance "c2"; pick one of its 1, such as --pick c1.',
        ),
        (
            instance(),
            {"pick": "c1"},
            "--pick and --variant go with a class pack, and this file is one instance; leave them out.",
        ),
        ({"instances": []}, {"pick": "c1"}, '"instances" is []; it must be a list of one instance or more.'),
        (
            {"instances": [{"id": "c1", "items": [[1, 2]]}]},
            {"pick": "c1"},
            'instance c1, "bin" is missing; it must be two numbers of 0.01 or more, such as [100, 100].',
        ),
        (
            {"instances": [{"id": "c1", "bin": [9, 9], "items": [[1, 2], [3]]}]},
            {"pick": "c1"},
            'instance c1, "items" is a list of 2; it must be a list of pairs such as [[30, 20], [25, 25]].',
        ),
        (
            {"instances": [{"id": "c1", "bin": [10, 9], "items": [[3, 2], [4, 10]]}]},
            {"pick": "c1", "variant": "O_G"},
            "part 1, 4 x 10 mm, fits no sheet; the largest is bin, 10 x 9 mm; turned by 90 degrees it would "
            'fit bin, for which its "rot" must be 1.',
        ),
    ],
    ids=["none picked", "unknown", "no pack", "empty", "no bin", "bad items", "too large"],
)  # fmt: skip
def test_class_packs_are_refused_like_other_files(asked, picked, sentence):
    with pytest.raises(InstanceRefused) as refused:
        read(asked, **picked)

    assert str(refused.value) == sentence


# ---- Whatever a file holds -------------------------------------------------------------------------------

JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=8,
)


@st.composite
def spoilt_instances(draw):
    """Instances whose values, at any place, may be anything."""
    keys = {
        "": ["name", "unit", "kerf", "trim", "guillotine", "mix_batches", "sheets", "parts", "instances"],
        "sheets": ["id", "w", "h", "cost", "stock", "pack", "on_hand"],
        "parts": ["id", "w", "h", "rot", "copies", "corner", "batch"],
    }
    asked = json.loads(json.dumps(instance([PART, PART | {"id": "l7"}])))
    for _ in range(draw(st.integers(1, 3))):
        where = draw(st.sampled_from(list(keys)))
        entry = asked if not where else draw(st.sampled_from(asked.get(where) or [{}]))
        key = draw(st.sampled_from(keys[where]))
        if isinstance(entry, dict) and (where or key not in ("sheets", "parts")):
            entry[key] = draw(JSON | st.integers(-3, 2000) | st.lists(st.integers(-1, 200), max_size=3))
    return asked


@given(st.text() | JSON.map(json.dumps) | spoilt_instances().map(json.dumps))
@example(json.dumps({"instances": [{"id": "c1", "bin": [1e309, 1], "items": [[1, 1]]}]}))
@example('{"sheets": [{"id": "\\ud800"}], "kerf": 0, "trim": 0}')
def test_any_text_is_read_or_refused_in_one_line(text):
    try:
        question = read_question(text, pick="c1") if '"instances"' in text else read_question(text)
    except InstanceRefused as refused:
        assert str(refused).endswith(".")
        assert len(str(refused).splitlines()) == 1
    else:
        assert question.pieces and question.sheets


@given(st.binary().map(lambda raw: raw.decode("latin-1")))
def test_any_bytes_are_refused(text):
    with pytest.raises(InstanceRefused):
        read_question(text)


# ---- Plans as text ---------------------------------------------------------------------------------------


def test_plan_is_written_with_hosts_by_index_and_whole_numbers_whole():
    asked = instance([PART, {"id": "l7", "w": 20, "h": 10, "rot": 0, "copies": 2}], kerf=0, trim=0)
    question = read(asked, use_corners=True)
    placements = (
        Placement("l7#2", 300.00004, 0.0, 20.0, 10.0, turned=False),
        Placement("b7", 0.0, 0.0, 300.0, 200.0, turned=False),
        Placement("l7#1", 280.5, 190.25, 20.0, 10.0, turned=False, host="b7"),
    )
    layout = Layout((CutSheet("A", placements, (), (Offcut(320.0, 0.0, 1204.0, 1016.0),)),), ())

    plan = json.loads(plan_text(question, layout, seed=7))

    # The least is one sheet.
    assert plan == {
        "instance": "worked",
        "seed": 7,
        "cost": 1400,
        "least_cost": 1400,
        "least_sheets": 1,
        "sheets": [
            {
                "type": "A",
                "parts": [
                    {"id": "l7", "x": 300, "y": 0, "w": 20, "h": 10, "rotated": False},
                    {"id": "b7", "x": 0, "y": 0, "w": 300, "h": 200, "rotated": False},
                    {"id": "l7", "x": 280.5, "y": 190.25, "w": 20, "h": 10, "rotated": False, "host": 1},
                ],
                "cuts": [],
                "offcuts": [{"x": 320, "y": 0, "w": 1204, "h": 1016}],
            }
        ],
    }


def test_a_plan_with_cuts_tells_each_as_the_maker_needs_it():
    # By hand: inside the trim of 5 lie 90 x 50; A takes 50 x 30 of it, and the larger offcut decides.
    asked = instance(
        [{"id": "A", "w": 50, "h": 30, "rot": 0}],
        [{"id": "S", "w": 100, "h": 60, "cost": 1, "stock": None}],
        kerf=2,
    )
    question = read(asked)

    plan = json.loads(plan_text(question, nest(question.pieces, question.sheets, question.rules), seed=0))

    [cut_sheet] = plan["sheets"]
    assert cut_sheet["cuts"][4:] == [
        {"from": [55, 5], "to": [55, 55], "trim": False, "part": 1, "mark": 50, "stage": 0},
        {"from": [5, 35], "to": [55, 35], "trim": False, "part": 2, "mark": 30, "stage": 1},
    ]
    assert [cut["trim"] for cut in cut_sheet["cuts"]] == [True] * 4 + [False] * 2
    assert cut_sheet["offcuts"] == [{"x": 57, "y": 5, "w": 38, "h": 50}, {"x": 5, "y": 37, "w": 50, "h": 18}]
