"""The words of the trade as this planner uses them: one entry a word, in groups, each with its source."""

from collections.abc import Iterator
from dataclasses import dataclass

from housing.core.glossary.board import BOARD
from housing.core.glossary.boxes import BOXES
from housing.core.glossary.cutting import CUTTING
from housing.core.glossary.fitting import FITTING
from housing.core.glossary.planning import PLANNING
from housing.core.glossary.standards import STANDARDS
from housing.core.glossary.term import Group, Term
from housing.core.glossary.work import WORK
from objects.core.words import say

__all__ = ["BY_KEY", "GROUPS", "TERMS", "Group", "Said", "Term", "found", "said"]

GROUPS = (BOARD, CUTTING, BOXES, FITTING, PLANNING, WORK, STANDARDS)
TERMS = tuple(term for group in GROUPS for term in group.terms)
BY_KEY = {term.key: term for term in TERMS}


@dataclass(frozen=True)
class Said:
    """A term in the reader's language, ready to be shown."""

    term: Term
    words: str
    meaning: str
    also: str
    see: tuple[tuple[str, str], ...]


def said(term: Term) -> Said:
    """A term in the language spoken, with the keys and words of those that belong to it."""
    return Said(
        term,
        say(term.words),
        say(term.meaning),
        say(term.also),
        tuple((key, say(BY_KEY[key].words)) for key in term.see),
    )


def found(asked: str) -> Iterator[tuple[str, str, list[Said]]]:
    """Groups with the terms in which every word asked for occurs, as (key, heading, terms), in their order.

    asked: words in any order, "" for all terms.
    """
    wanted = asked.casefold().split()
    for group in GROUPS:
        terms = [
            one
            for one in map(said, group.terms)
            if all(word in f"{one.words} {one.also} {one.meaning}".casefold() for word in wanted)
        ]
        if terms:
            yield group.key, say(group.heading), terms
