"""What suits what: facts of an object, ordered rules, their advice, and the design that follows it."""

from housing.core.choosing.advice import (
    PIECES,
    Advice,
    Advised,
    Conflict,
    Piece,
    Tally,
    advise,
    tally,
    tally_of,
)
from housing.core.choosing.designs import Contradiction, DesignFacts, Pick, contradictions, pick
from housing.core.choosing.explaining import Explanation, Finding, explain
from housing.core.choosing.facts import Flag, ObjectFacts, Shape, shape_of
from housing.core.choosing.faults import never_decides
from housing.core.choosing.marks import MARKS, mark_choices, mark_names
from housing.core.choosing.rules import Rule, is_more_general
from housing.core.choosing.words import words_of

__all__ = [
    "MARKS",
    "PIECES",
    "Advice",
    "Advised",
    "Conflict",
    "Contradiction",
    "DesignFacts",
    "Explanation",
    "Finding",
    "Flag",
    "ObjectFacts",
    "Pick",
    "Piece",
    "Rule",
    "Shape",
    "Tally",
    "advise",
    "contradictions",
    "explain",
    "is_more_general",
    "mark_choices",
    "mark_names",
    "never_decides",
    "pick",
    "shape_of",
    "tally",
    "tally_of",
    "words_of",
]
