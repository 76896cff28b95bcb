"""From advice to a design: the one that is named, else the thinnest board that suffices; what is missing."""

from housing.core.choosing import DesignFacts, ObjectFacts, Rule, advise, pick

PRINT = ObjectFacts("Works on paper", "Paper", (1.0, 400.0, 300.0))
THIN = DesignFacts(1, "Thin folder", "folder", True, 0.5)
STURDY = DesignFacts(2, "Sturdy folder", "folder", True, 1.0)
PLAIN = DesignFacts(3, "Unbuffered folder", "folder", False, 1.0)
TRAY = DesignFacts(4, "Tray", "lidded_tray", True, 3.2)
ALL = [STURDY, THIN, PLAIN, TRAY]


def picked(*rules: Rule, designs=ALL, by_hand=None):
    return pick(advise(PRINT, rules), designs, by_hand)


def test_the_design_that_a_rule_names_is_taken():
    found = picked(
        Rule(1, says={"design": 4}, reason="Drawers take trays."), Rule(2, says={"form": "folder"})
    )

    assert (found.design, found.reason) == (TRAY, "Drawers take trays.")


def test_a_form_asked_for_above_the_rule_that_names_a_design_decides():
    paper = Rule(1, material="paper", says={"form": "folder"})

    found = picked(paper, Rule(2, classification="Works on paper", says={"design": 4}))

    assert (found.design, found.contradictions) == (THIN, ())


def test_of_the_designs_of_a_form_one_that_a_lower_rule_names_is_taken():
    assert picked(Rule(1, says={"form": "folder"}), Rule(2, says={"design": 2})).design == STURDY


def test_of_the_designs_of_a_form_the_thinnest_board_that_suffices_is_taken():
    found = picked(Rule(1, says={"form": "folder", "least_caliper_mm": 0.8}, reason="It bends."))

    assert found.design == STURDY
    assert found.reason == (
        "It bends. Of 2 designs of the form Folder with ties on board of 0.8 mm or more, “Sturdy folder” has "
        "the thinnest board that suffices, 1.0 mm."
    )


def test_board_as_thick_as_asked_suffices():
    assert picked(Rule(1, says={"form": "folder", "least_caliper_mm": 0.5})).design == THIN


def test_of_designs_on_equal_board_the_first_by_name_is_taken():
    second = DesignFacts(9, "A folder", "folder", True, 0.5)

    assert picked(Rule(1, says={"form": "folder"}), designs=[THIN, second]).design == second


def test_the_kind_of_board_may_come_from_another_rule_than_the_form():
    found = picked(
        Rule(1, says={"form": "folder"}), Rule(2, material="paper", says={"board_kind": "unbuffered"})
    )

    assert found.design == PLAIN


def test_a_board_that_is_stated_to_meet_what_is_asked_goes_before_a_thinner_one():
    known = [
        DesignFacts(1, "Thin", "folder", True, 0.5, frozenset()),
        DesignFacts(2, "Tested", "folder", True, 1.0, frozenset({"iso_18916"})),
    ]

    found = picked(Rule(1, says={"form": "folder"}, asks_for=("iso_18916",)), designs=known)

    assert (found.design.name, found.contradictions) == ("Tested", ())
    assert found.reason == (
        "Of 2 designs of the form Folder with ties, “Tested” has the thinnest board that is stated to meet "
        "what is asked, 1.0 mm."
    )


def test_without_a_design_of_the_form_it_says_what_is_missing_and_where_to_make_it():
    found = picked(Rule(1, says={"form": "folder", "board_kind": "unbuffered"}), designs=[THIN, TRAY])

    assert (found.design, found.reason) == (
        None, "No design of the form Folder with ties on unbuffered board. Make one: Designs, New design.",
    )  # fmt: skip


def test_rules_that_name_neither_design_nor_form_say_so():
    assert picked(Rule(3, says={"padding": "tissue"}), Rule(4, marks=("fragile",))).reason == (
        "Rules 3, 4 match, but none names a design or a form. Add one to a rule, or choose a design for this "
        "object by hand."
    )


def test_where_nothing_matches_it_says_so():
    assert picked(Rule(1, material="wool", says={"form": "folder"})).reason.startswith(
        "No rule of the campaign"
    )


# ---- A design that is not as advised ---------------------------------------------------------------------


def test_a_named_design_on_the_wrong_board_is_taken_and_another_of_its_form_is_named():
    found = picked(Rule(1, says={"design": 2}), Rule(7, material="paper", says={"board_kind": "unbuffered"}))

    (against,) = found.contradictions
    assert found.design == STURDY
    assert against.words == "“Sturdy folder” is on buffered board, but rule 7 asks for unbuffered board."
    assert against.instead == PLAIN


def test_a_named_design_of_too_thin_board_is_a_contradiction_without_a_way_out_where_there_is_none():
    found = picked(Rule(1, says={"design": 1}), Rule(2, material="paper", says={"least_caliper_mm": 2.0}))

    (against,) = found.contradictions
    assert against.words == "“Thin folder” is on board of 0.5 mm, but rule 2 asks for at least 2 mm."
    assert against.instead is None


def test_a_more_general_rule_does_not_contradict_the_design_of_its_exception():
    found = picked(
        Rule(1, material="paper", says={"design": 2}),
        Rule(2, says={"form": "lidded_tray", "board_kind": "unbuffered"}),
    )

    assert (found.design, found.contradictions) == (STURDY, ())


def test_a_choice_by_hand_comes_before_all_rules_and_what_its_board_lacks_is_told():
    rules = [Rule(1, says={"form": "folder"}), Rule(2, material="paper", says={"board_kind": "unbuffered"})]

    found = picked(*rules, by_hand=4)

    assert (found.design, found.reason) == (TRAY, "Chosen by hand.")
    assert [against.words for against in found.contradictions] == [
        "“Tray” is on buffered board, but rule 2 asks for unbuffered board."
    ]


def test_a_standard_that_nobody_states_of_the_board_is_told():
    untested = DesignFacts(1, "Thin folder", "folder", True, 0.5, frozenset())

    (against,) = picked(
        Rule(5, says={"design": 1}, asks_for=("iso_18916",)), designs=[untested]
    ).contradictions

    assert against.words == (
        "The board of “Thin folder” is not stated to meet ISO 18916, photographic activity test, but rule 5 "
        "asks for it."
    )
