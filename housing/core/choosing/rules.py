"""A rule: conditions that must all hold, and what it advises then."""

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property, lru_cache

from housing.core.choosing.facts import ObjectFacts
from objects.core.words import noted, say

type Value = str | int | float
type Test = Callable[[ObjectFacts], bool | None]

SEPARATOR = ";"
NOT = "not "  # a word with this in front is overlooked: "lead; not lead glass"


@dataclass(frozen=True)
class Condition:
    """One condition in words, and whether it holds: yes, no, or None where it cannot be told."""

    key: str
    words: str
    test: Test


@dataclass(frozen=True)
class Words:
    """The words of a condition on materials: any of `found` is enough; `overlooked` count for nothing."""

    found: tuple[str, ...]
    overlooked: tuple[str, ...]


@lru_cache(maxsize=1024)
def read_words(text: str) -> Words:
    """The words of a condition, separated by semicolons, large and small letters alike."""
    words = [" ".join(word.casefold().split()) for word in text.split(SEPARATOR) if word.strip()]
    return Words(
        tuple(word for word in words if not word.startswith(NOT)),
        tuple(word.removeprefix(NOT) for word in words if word.startswith(NOT)),
    )


@lru_cache(maxsize=1024)
def _pattern(words: tuple[str, ...]) -> re.Pattern[str]:
    """Any of some words, whole or as the beginning of a word: wool in woollen, iron not in environment."""
    return re.compile(rf"(?<!\w)(?:{'|'.join(map(re.escape, words))})")


def mentions(materials: str, words: Words) -> bool:
    """Whether materials, in small letters, name one of some words."""
    if words.overlooked:
        materials = _pattern(words.overlooked).sub(";", materials)
    return bool(words.found) and _pattern(words.found).search(materials) is not None


@dataclass(frozen=True)
class Rule:
    """Conditions that must all hold, and what is advised then. Lengths mm, weights g.

    A blank text, None or no flags match anything. classification: one or several, separated by semicolons,
    matched whole. material: words separated by semicolons, see `mentions`. says: a value for each piece of
    advice that the rule speaks of. marks, asks_for: keys of marks on the label and of standards.
    """

    position: int
    classification: str = ""
    material: str = ""
    weight_over_g: float | None = None
    weight_up_to_g: float | None = None
    largest_over_mm: float | None = None
    largest_up_to_mm: float | None = None
    thinnest_up_to_mm: float | None = None
    shape: str = ""
    flags: tuple[str, ...] = ()
    says: Mapping[str, Value] = field(default_factory=dict)
    marks: tuple[str, ...] = ()
    asks_for: tuple[str, ...] = ()
    reason: str = ""
    source: str = ""
    is_advice: bool = False

    @property
    def is_fallback(self) -> bool:
        """Whether it has no conditions and so matches everything."""
        return not self.conditions

    @cached_property
    def classes(self) -> frozenset[str]:
        return frozenset(read_words(self.classification).found)

    @cached_property
    def words(self) -> Words:
        return read_words(self.material)

    @cached_property
    def conditions(self) -> tuple[Condition, ...]:
        """The conditions that are given, the quickest to test first."""
        return tuple(_conditions(self))

    @cached_property
    def _tests(self) -> tuple[Test, ...]:
        return tuple(condition.test for condition in self.conditions)

    def matches(self, facts: ObjectFacts) -> bool:
        """Whether every condition holds; a condition on something unknown does not hold."""
        for test in self._tests:  # noqa: SIM110  all() takes twice as long, and this is the innermost loop
            if not test(facts):
                return False
        return True


def _conditions(rule: Rule) -> Iterator[Condition]:
    classes, words = rule.classes, rule.words
    if classes:
        yield Condition(
            "classification",
            say("classification is {words}", words=_any(rule.classification)),
            _is_one(classes),
        )
    if rule.shape:
        yield Condition("shape", say("it is {shape}", shape=say(str(rule.shape))), _has_shape(rule.shape))
    for flag in rule.flags:
        yield Condition(flag, say(FLAG_WORDS.get(flag, flag)), _has(flag))
    if (least := rule.weight_over_g) is not None:
        yield Condition("weight", say("weighs over {kg} kg", kg=f"{least / 1000:g}"), _heavier(least))
    if (most := rule.weight_up_to_g) is not None:
        yield Condition("weight", say("weighs up to {kg} kg", kg=f"{most / 1000:g}"), _up_to_weight(most))
    if (least := rule.largest_over_mm) is not None:
        yield Condition("largest", say("largest side over {mm} mm", mm=f"{least:.1f}"), _larger(least))
    if (most := rule.largest_up_to_mm) is not None:
        yield Condition("largest", say("largest side up to {mm} mm", mm=f"{most:.1f}"), _up_to_size(most))
    if (most := rule.thinnest_up_to_mm) is not None:
        yield Condition("thinnest", say("thinnest side up to {mm} mm", mm=f"{most:.1f}"), _thin(most))
    if words.found:
        yield Condition(
            "material", say("material contains {words}", words=_any(rule.material)), _is_of(words)
        )


FLAG_WORDS = {
    "projecting": noted("has fragile parts that project"),
    "delicate": noted("is delicate"),
    "unstable": noted("is in poor or fragile condition"),
    "hazardous": noted("is hazardous"),
    "several": noted("consists of several pieces"),
    "often_used": noted("is used monthly or more often"),
    "must_stand": noted("must stay upright"),
}


def _any(text: str) -> str:
    """The words of a condition as a reader sees them: “wool” or “silk” (overlooking “cotton wool”)."""
    given = [" ".join(word.split()) for word in text.split(SEPARATOR) if word.strip()]
    found = [f"“{word}”" for word in given if not word.casefold().startswith(NOT)]
    overlooked = [f"“{word[len(NOT) :]}”" for word in given if word.casefold().startswith(NOT)]
    shown = say(" or ").join((", ".join(found[:-1]), found[-1]) if len(found) > 1 else found)
    return (
        say("{shown} (overlooking {overlooked})", shown=shown, overlooked=", ".join(overlooked))
        if overlooked
        else shown
    )


def _is_one(classes: frozenset[str]) -> Test:
    return lambda facts: facts.folded_classification in classes if facts.folded_classification else None


def _is_of(words: Words) -> Test:
    known: dict[str, bool | None] = {"": None}  # many objects are of the same materials

    def test(facts: ObjectFacts) -> bool | None:
        materials = facts.folded_materials
        if materials not in known:
            known[materials] = mentions(materials, words)
        return known[materials]

    return test


def _has_shape(shape: str) -> Test:
    return lambda facts: facts.shape == shape if facts.is_measured else None


def _has(flag: str) -> Test:
    return lambda facts: True if flag in facts.so else None if flag in facts.unknown else False


def _heavier(least: float) -> Test:
    """Over a weight: what is weighed is enough if it is over; else only a whole weight can say no."""

    def test(facts: ObjectFacts) -> bool | None:
        if facts.weight_g is not None and facts.weight_g > least:
            return True
        return False if facts.weight_g is not None and facts.is_weight_whole else None

    return test


def _up_to_weight(most: float) -> Test:
    heavier = _heavier(most)
    return lambda facts: None if (over := heavier(facts)) is None else not over


def _larger(least: float) -> Test:
    """Over a size: one known side is enough if it is over; else only all of them can say no."""

    def test(facts: ObjectFacts) -> bool | None:
        if facts.known_mm and facts.known_mm[-1] > least:
            return True
        return False if facts.is_measured else None

    return test


def _up_to_size(most: float) -> Test:
    larger = _larger(most)
    return lambda facts: None if (over := larger(facts)) is None else not over


def _thin(most: float) -> Test:
    def test(facts: ObjectFacts) -> bool | None:
        if facts.known_mm and facts.known_mm[0] <= most:
            return True
        return False if facts.is_measured else None

    return test


# ---- Rules beside each other -----------------------------------------------------------------------------


def is_more_general(general: Rule, special: Rule) -> bool:
    """Whether all that a special rule matches is matched by a general one, as far as conditions tell.

    A rule without conditions is more general than any; of two with the same conditions each is.
    Source: none needed, each condition of the one follows from a condition of the other.
    """
    return (
        (not general.classes or bool(special.classes) and special.classes <= general.classes)
        and _includes(general.words, special.words)
        and _is_at_least(special.weight_over_g, general.weight_over_g)
        and _is_at_most(special.weight_up_to_g, general.weight_up_to_g)
        and _is_at_least(special.largest_over_mm, general.largest_over_mm)
        and _is_at_most(special.largest_up_to_mm, general.largest_up_to_mm)
        and _is_at_most(special.thinnest_up_to_mm, general.thinnest_up_to_mm)
        and general.shape in ("", special.shape)
        and set(general.flags) <= set(special.flags)
    )


def _includes(general: Words, special: Words) -> bool:
    if not general.found:
        return True
    every_word = special.found and all(
        any(word.startswith(shorter) for shorter in general.found) for word in special.found
    )
    return bool(every_word) and set(general.overlooked) <= set(special.overlooked)


def _is_at_least(special: float | None, general: float | None) -> bool:
    return general is None or (special is not None and special >= general)


def _is_at_most(special: float | None, general: float | None) -> bool:
    return general is None or (special is not None and special <= general)
