"""What rules advise: the first that speaks of a piece wins, marks add up, contradictions are kept."""

from hypothesis import given
from hypothesis import strategies as st

from housing.core.choosing import (
    MARKS,
    ObjectFacts,
    Piece,
    Rule,
    Tally,
    advise,
    mark_names,
    never_decides,
    tally,
    tally_of,
)
from tests.housing.core.choosing.test_rules import conditions, things

# Wool: cautious practice, doubts in Weaver, Conservation DistList 19:53, 2006. Iron: common practice.
WOOL = Rule(1, material="wool", says={"board_kind": "unbuffered"}, reason="Protein.", source="Weaver 2006")
IRON = Rule(2, material="iron", says={"board_kind": "buffered"}, reason="Rust.", source="Common practice")
COAT = ObjectFacts("Costume", "Wool broadcloth, iron buttons")


def test_the_first_rule_that_speaks_of_a_piece_decides_it():
    rules = [
        Rule(1, material="wool", says={"padding": "tissue"}),
        Rule(2, says={"padding": "foam", "form": "lidded_tray"}),
        Rule(3, says={"form": "tray", "side_allowance_mm": 25.0}),
    ]

    advice = advise(COAT, rules)

    assert {piece: (one.value, one.rule.position) for piece, one in advice.pieces.items()} == {
        Piece.PADDING: ("tissue", 1), Piece.FORM: ("lidded_tray", 2), Piece.SIDE_ALLOWANCE: (25.0, 3),
    }  # fmt: skip
    assert (advice.matched, advice.deciding) == ((1, 2, 3), {1, 2, 3})


def test_no_matching_rule_advises_nothing():
    advice = advise(COAT, [Rule(1, classification="Tools", says={"form": "tray"})])

    assert (advice.pieces, advice.matched, advice.value(Piece.FORM)) == ({}, (), None)


def test_marks_and_standards_of_all_rules_that_match_add_up_each_once():
    rules = [
        Rule(1, material="wool", marks=("store_flat", "keep_dry"), asks_for=("oddy",)),
        Rule(2, material="lead", marks=("gloves",)),
        Rule(3, marks=("keep_dry", "fragile"), asks_for=("oddy", "iso_16245")),
    ]

    advice = advise(COAT, rules)

    assert [(one.value, one.rule.position) for one in advice.marks] == [
        ("store_flat", 1), ("keep_dry", 1), ("fragile", 3),
    ]  # fmt: skip
    assert [one.value for one in advice.asks_for] == ["oddy", "iso_16245"]


def test_a_coat_of_wool_with_iron_buttons_has_a_conflict_with_both_reasons_and_sources():
    (conflict,) = advise(COAT, [WOOL, IRON]).conflicts

    kept, other = conflict.kept, conflict.other
    assert (kept.value, kept.rule.reason, kept.rule.source) == ("unbuffered", "Protein.", "Weaver 2006")
    assert (other.value, other.rule.reason, other.rule.source) == ("buffered", "Rust.", "Common practice")


def test_the_rule_that_stands_first_is_followed_in_a_conflict():
    iron_first = [Rule(1, material="iron", says=IRON.says), Rule(2, material="wool", says=WOOL.says)]

    assert advise(COAT, iron_first).value(Piece.BOARD_KIND) == "buffered"


def test_an_exception_to_a_more_general_rule_is_no_conflict():
    # Small silk things, then silk, then everything: each later rule is the more general.
    rules = [
        Rule(1, material="wool", largest_up_to_mm=100, says={"form": "cavity_tray"}),
        Rule(2, material="wool; silk", says={"form": "garment_box"}),
        Rule(3, says={"form": "lidded_tray"}),
    ]

    advice = advise(ObjectFacts("Costume", "Wool", (50.0, 80.0, 90.0)), rules)

    assert (advice.value(Piece.FORM), advice.conflicts) == ("cavity_tray", ())


def test_the_general_case_before_its_exception_is_a_conflict():
    rules = [
        Rule(1, material="wool", says={"form": "garment_box"}),
        Rule(2, material="wool", classification="Costume", says={"form": "lidded_tray"}),
    ]

    assert len(advise(COAT, rules).conflicts) == 1


def test_designs_named_one_after_the_other_are_chosen_by_their_order_and_no_conflict():
    rules = [
        Rule(1, classification="Costume", says={"design": 1}),
        Rule(2, material="wool", says={"design": 2}),
    ]

    advice = advise(COAT, rules)

    assert (advice.value(Piece.DESIGN), advice.conflicts) == (1, ())


def test_forms_are_in_conflict_only_where_no_design_named_above_settles_the_form():
    forms = [
        Rule(2, material="wool", says={"form": "garment_box"}),
        Rule(3, material="iron", says={"form": "drop_front"}),
    ]
    named = {"classification": "Costume", "says": {"design": 1}}

    assert len(advise(COAT, forms).conflicts) == 1
    assert len(advise(COAT, [*forms, Rule(4, **named)]).conflicts) == 1
    assert advise(COAT, [Rule(1, **named), *forms]).conflicts == ()


def test_board_that_need_not_be_as_thick_is_no_conflict_but_thicker_board_is():
    rules = [
        Rule(1, material="wool", says={"least_caliper_mm": 3.0}),
        Rule(2, material="iron", says={"least_caliper_mm": 1.5}),
        Rule(3, classification="Costume", says={"least_caliper_mm": 6.0}),
    ]

    (conflict,) = advise(COAT, rules).conflicts

    assert (conflict.kept.value, conflict.other.value) == (3.0, 6.0)


def test_the_same_padding_in_other_letters_is_no_conflict():
    rules = [
        Rule(1, material="wool", says={"padding": "Acid-free tissue"}),
        Rule(2, material="iron", says={"padding": "acid-free tissue"}),
    ]

    assert advise(COAT, rules).conflicts == ()


# ---- For all rules ---------------------------------------------------------------------------------------

said = st.fixed_dictionaries(
    {},
    optional={
        "design": st.sampled_from([1, 2]),
        "form": st.sampled_from(["tray", "folder"]),
        "board_kind": st.sampled_from(["buffered", "unbuffered"]),
        "padding": st.sampled_from(["foam", "tissue"]),
    },
)
rows_of_rules = st.lists(st.tuples(conditions, said), max_size=6).map(
    lambda rows: [Rule(at, says=says, **asked) for at, (asked, says) in enumerate(rows, start=1)]
)


@given(rows_of_rules, conditions, said, things)
def test_a_rule_added_at_the_end_changes_no_piece_that_is_decided(rules, asked, says, facts):
    before = advise(facts, rules)

    after = advise(facts, [*rules, Rule(len(rules) + 1, says=says, **asked)])

    assert {piece: after.pieces[piece] for piece in before.pieces} == before.pieces


@given(rows_of_rules, things)
def test_every_piece_is_decided_by_the_first_matching_rule_that_speaks_of_it(rules, facts):
    advice = advise(facts, rules)

    for piece in ("form", "board_kind", "padding"):
        speaking = [rule for rule in rules if rule.matches(facts) and piece in rule.says]
        assert advice.value(Piece(piece)) == (speaking[0].says[piece] if speaking else None)


@given(rows_of_rules, st.lists(things, max_size=5))
def test_a_rule_that_can_never_decide_decides_for_no_object(rules, found):
    counts = tally([(facts, 1) for facts in found], rules)

    for place, rule in enumerate(rules):
        if never_decides(rule, rules[:place]):
            assert counts[rule.position].takes == 0


@given(rows_of_rules, st.lists(things, max_size=5))
def test_counting_one_rule_gives_what_counting_all_gives_for_it(rules, found):
    boxes = [(facts, number) for number, facts in enumerate(found, start=1)]
    counts = tally(boxes, rules)

    assert [tally_of(rule, rules[:place], boxes)[0] for place, rule in enumerate(rules)] == [*counts.values()]


# ---- Counts and faults -----------------------------------------------------------------------------------


def test_a_rule_takes_the_objects_for_which_it_decides_something():
    rules = [
        Rule(1, material="wool", says={"form": "garment_box"}),
        Rule(2, classification="Costume", says={"form": "lidded_tray"}),
    ]
    boxes = [
        (COAT, 1),
        (ObjectFacts("Costume", "Straw"), 3),  # a set of three
        (ObjectFacts("Tools", "Wool"), 1),
    ]

    # by hand: wool is the coat and the tool; of the four objects of costume rule 1 has decided the coat
    assert tally(boxes, rules) == {1: Tally(matches=2, takes=2), 2: Tally(matches=4, takes=3)}


def test_a_rule_below_a_more_general_one_that_says_the_same_piece_can_never_decide():
    above = [Rule(1, material="wool; silk", says={"form": "tray"}), Rule(2, marks=("fragile",))]

    assert never_decides(Rule(3, material="silk", says={"form": "folder"}), above) == (1,)
    assert never_decides(Rule(3, material="silk", says={"form": "folder"}, marks=("fragile",)), above) == (
        1,
        2,
    )
    assert never_decides(Rule(3, material="silk", says={"padding": "tissue"}), above) == ()
    assert never_decides(Rule(3, says={"form": "folder"}), [Rule(1, says={"design": 1})]) == (1,)
    assert never_decides(Rule(3, material="felt", says={"form": "folder"}), above) == ()


def test_marks_stand_in_the_order_of_their_urgency_whatever_order_rules_name_them_in():
    keys = list(MARKS)

    assert mark_names(reversed(keys)) == [MARKS[key] for key in keys]


def test_the_names_of_iso_780_are_used_where_it_has_a_mark():
    # ISO 780: fragile; this way up; keep away from sunlight; keep away from rain; do not roll; do not stack.
    assert [MARKS[key] for key in (
        "fragile", "this_way_up", "keep_from_light", "keep_dry", "do_not_roll", "do_not_stack",
    )] == [
        "Fragile, handle with care", "This way up", "Keep away from sunlight", "Keep away from rain",
        "Do not roll", "Do not stack",
    ]  # fmt: skip
