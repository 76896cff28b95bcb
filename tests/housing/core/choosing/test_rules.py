"""When a rule matches: conditions, what is unknown, words of materials; and which rule is more general."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.choosing import ObjectFacts, Rule, Shape, explain, is_more_general, shape_of


def make_facts(**given) -> ObjectFacts:
    """A measured and weighed bowl of earthenware; sides in mm."""
    return ObjectFacts(
        **{
            "classification": "Ceramics",
            "materials": "Earthenware, glaze",
            "sides_mm": (120.0, 220.0, 220.0),
            "weight_g": 800.0,
            **given,
        }
    )


@pytest.mark.parametrize(
    ("conditions", "matches"),
    [
        ({}, True),  # a rule without conditions takes everything
        ({"classification": "ceramics"}, True),  # large and small letters are alike
        ({"classification": "Glass; Ceramics"}, True),  # one of several is enough
        ({"classification": "Ceram"}, False),  # a classification is matched whole
        ({"material": "GLAZE"}, True),
        ({"material": "wood; glaze"}, True),  # one of the words is enough
        ({"material": "wood"}, False),
        ({"weight_over_g": 799.9}, True),
        ({"weight_over_g": 800}, False),  # limiting case: over, not from
        ({"weight_up_to_g": 800}, True),  # limiting case: up to and including
        ({"weight_up_to_g": 799.9}, False),
        ({"largest_over_mm": 220}, False),
        ({"largest_up_to_mm": 220}, True),
        ({"largest_over_mm": 200, "largest_up_to_mm": 219}, False),
        ({"thinnest_up_to_mm": 120}, True),
        ({"thinnest_up_to_mm": 119.9}, False),
        ({"shape": "compact"}, True),  # by hand: 220 is less than twice 120
        ({"shape": "flat"}, False),
        ({"classification": "Ceramics", "material": "wood"}, False),  # every condition must hold
    ],
)
def test_rule_matches(conditions, matches):
    assert Rule(1, **conditions).matches(make_facts()) is matches


@pytest.mark.parametrize(
    ("materials", "word", "found"),
    [
        ("Wrought iron, ash", "iron", True),
        ("Environment samples", "iron", False),  # not in the middle of a word
        ("Ironwood", "iron", True),  # a beginning is enough, so that wool is found in woollen
        ("Woollen cloth", "wool", True),
        ("Cotton wool", "wool", True),
        ("Goat-hair", "hair", True),  # behind a hyphen a word begins
        ("Papier\n  mâché", "papier mâché", True),  # several words are one, however they are spaced
        ("C++ (sample)", "c++", True),  # signs stand for themselves
        ("Lead glass", "lead; not lead glass", False),
        ("Lead glass, lead cames", "lead; not lead glass", True),  # the cames are lead all the same
        ("Lead glass", "not lead glass", True),  # nothing is asked for, so nothing is missing
    ],
)
def test_material_is_found_as_a_word_or_the_beginning_of_one(materials, word, found):
    assert Rule(1, material=word).matches(make_facts(materials=materials)) is found


@pytest.mark.parametrize(
    ("sides_mm", "shape"),
    # Limits: common practice, no source. Height first.
    [
        ((1, 300, 200), Shape.FLAT),
        ((25, 300, 200), Shape.FLAT),  # limiting case: 25 x 8 = 200
        ((25.1, 300, 200), None),  # 300 is neither three times 200 nor at most twice 25.1
        ((300, 150, 200), Shape.TALL),  # limiting case: twice 150
        ((299, 150, 200), Shape.COMPACT),  # 299 is less than twice 150
        ((100, 600, 200), Shape.LONG),  # limiting case: three times 200
        ((600, 100, 200), Shape.TALL),  # lying on its side the same thing would be long
        ((300, 2, 200), Shape.FLAT),  # a print, measured height by width: it is not tall
        ((100, 200, 150), Shape.COMPACT),  # limiting case: twice 100
    ],
)
def test_shape_follows_from_the_sides(sides_mm, shape):
    assert shape_of(*sides_mm) == shape


@given(st.tuples(*[st.floats(1, 5000)] * 3), st.sampled_from([0.5, 2.0, 4.0]))
def test_a_thing_of_another_size_but_the_same_proportions_has_the_same_shape(sides_mm, factor):
    assert shape_of(*sides_mm) == shape_of(*(side * factor for side in sides_mm))


# ---- What is not known -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "conditions",
    [
        {"weight_over_g": 1},
        {"weight_up_to_g": 9e9},
        {"largest_over_mm": 1},
        {"largest_up_to_mm": 9999},
        {"thinnest_up_to_mm": 9999},
        {"shape": "compact"},
        {"material": "clay"},
        {"classification": "Ceramics"},
        {"flags": ("delicate",)},
    ],
)
def test_a_condition_on_something_unknown_does_not_hold_and_says_so(conditions):
    nothing = ObjectFacts(unknown=frozenset({"delicate"}))
    rule = Rule(1, **conditions)

    (finding,) = explain(rule, nothing).findings

    assert not rule.matches(nothing)
    assert (finding.holds, finding.has) == (None, "not recorded")


def test_what_is_known_of_a_set_is_enough_where_it_is_enough():
    # One of two things is weighed, and a side is not known: at least 6 kg, and at least 700 mm long.
    facts = make_facts(weight_g=6000.0, is_weight_whole=False, sides_mm=(None, 700.0, 30.0))

    matching = {
        name: Rule(1, **{name: limit}).matches(facts)
        for name, limit in (
            ("weight_over_g", 5000), ("weight_up_to_g", 7000), ("largest_over_mm", 600),
            ("largest_up_to_mm", 800), ("thinnest_up_to_mm", 30),
        )
    }  # fmt: skip

    assert matching == {
        "weight_over_g": True,
        "weight_up_to_g": False,  # the other may weigh more than 1 kg
        "largest_over_mm": True,
        "largest_up_to_mm": False,  # the missing side may be larger
        "thinnest_up_to_mm": True,  # whatever the missing side is
    }


def test_an_explanation_tells_what_stands_against_a_rule_and_what_speaks_for_it():
    rule = Rule(1, material="wool; silk", weight_over_g=5000, flags=("hazardous",))
    wool = make_facts(materials="Wool", weight_g=6000.0, so=frozenset({"hazardous"}))

    told = [explain(rule, facts).sentence for facts in (wool, make_facts(materials="Wool"))]

    assert told == [
        "It matches: is hazardous (so recorded); weighs over 5 kg (6 kg); "
        "material contains “wool” or “silk” (materials Wool).",
        "It does not match, since this does not hold: is hazardous (not so); weighs over 5 kg (0.8 kg).",
    ]


# ---- Two rules beside each other -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("general", "special", "is_general"),
    [
        ({}, {"material": "wool"}, True),  # no conditions: more general than any
        ({"material": "wool"}, {}, False),
        ({"material": "wool; silk"}, {"material": "silk"}, True),
        ({"material": "wool"}, {"material": "woollen"}, True),  # what begins with woollen begins with wool
        ({"material": "woollen"}, {"material": "wool"}, False),
        ({"material": "lead; not lead glass"}, {"material": "lead"}, False),
        ({"material": "lead"}, {"material": "lead; not lead glass"}, True),
        ({"classification": "Glass; Ceramics"}, {"classification": "Glass"}, True),
        ({"weight_over_g": 1000}, {"weight_over_g": 5000}, True),
        ({"weight_over_g": 5000}, {"weight_over_g": 1000}, False),
        ({"largest_up_to_mm": 200}, {"largest_up_to_mm": 100, "shape": "flat"}, True),
        ({"shape": "flat"}, {"shape": "long"}, False),
        ({"flags": ("several",)}, {"flags": ("several", "delicate")}, True),
        ({"material": "wool"}, {"material": "iron"}, False),
    ],
)
def test_a_rule_is_more_general_if_the_conditions_of_the_other_include_its_own(general, special, is_general):
    assert is_more_general(Rule(2, **general), Rule(1, **special)) is is_general


WORDS = ("wool", "woollen", "silk", "lead", "not lead glass")
conditions = st.fixed_dictionaries(
    {},
    optional={
        "classification": st.sampled_from(["Tools", "Costume", "Tools; Costume"]),
        "material": st.lists(st.sampled_from(WORDS), min_size=1, unique=True).map("; ".join),
        "weight_over_g": st.sampled_from([500.0, 2000.0]),
        "largest_up_to_mm": st.sampled_from([200.0, 400.0]),
        "thinnest_up_to_mm": st.sampled_from([5.0, 50.0]),
        "shape": st.sampled_from(list(Shape)),
        "flags": st.sampled_from([("several",), ("several", "delicate")]),
    },
)
things = st.builds(
    ObjectFacts,
    classification=st.sampled_from(["Tools", "Costume", ""]),
    materials=st.sampled_from(["Woollen cloth", "Silk, lead", "Lead glass", "Wool; lead glass", ""]),
    sides_mm=st.tuples(*[st.sampled_from([3.0, 40.0, 150.0, 300.0, 900.0])] * 3),
    weight_g=st.sampled_from([None, 100.0, 1000.0, 3000.0]),
    so=st.sampled_from([frozenset(), frozenset({"several"}), frozenset({"several", "delicate"})]),
)


@given(conditions, conditions, things)
def test_whatever_a_special_rule_matches_the_more_general_one_matches_too(general, special, facts):
    wide, narrow = Rule(2, **general), Rule(1, **special)

    if is_more_general(wide, narrow) and narrow.matches(facts):
        assert wide.matches(facts)
