"""Ordered rules: the first that matches wins."""

import pytest

from housing.core.choosing import ObjectFacts, Rule, choose


def make_facts(classification="Ceramics", materials="Earthenware, glaze", weight_g=800.0, largest_mm=220.0):
    return ObjectFacts(classification, materials, weight_g, largest_mm)


def test_first_rule_that_matches_wins():
    rules = [Rule("paper", classification="Works on paper"), Rule("small"), Rule("large")]

    assert choose(make_facts(), rules).design == "small"


def test_no_matching_rule_chooses_nothing():
    assert choose(make_facts(), [Rule("paper", classification="Works on paper")]) is None


@pytest.mark.parametrize(
    ("rule", "matches"),
    [
        (Rule("d"), True),  # a rule without conditions takes everything
        (Rule("d", classification="ceramics"), True),  # large and small letters are alike
        (Rule("d", classification="Ceram"), False),  # a classification is matched whole
        (Rule("d", material="GLAZE"), True),
        (Rule("d", material="wood"), False),
        (Rule("d", weight_over_g=799.9), True),
        (Rule("d", weight_over_g=800), False),  # limiting case: over, not from
        (Rule("d", largest_over_mm=220), False),
        (Rule("d", largest_up_to_mm=220), True),  # limiting case: up to and including
        (Rule("d", largest_over_mm=200, largest_up_to_mm=219), False),
        (Rule("d", classification="Ceramics", material="wood"), False),  # every condition must hold
    ],
)
def test_rule_matches(rule, matches):
    assert rule.matches(make_facts()) is matches


@pytest.mark.parametrize(
    "rule", [Rule("d", weight_over_g=1), Rule("d", largest_over_mm=1), Rule("d", largest_up_to_mm=9999)]
)
def test_condition_on_something_unknown_does_not_hold(rule):
    assert not rule.matches(make_facts(weight_g=None, largest_mm=None))
