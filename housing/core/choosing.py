"""Which design suits an object: ordered rules, the first that matches wins."""

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class ObjectFacts:
    """What the rules look at. weight_g and largest_mm are None where not known."""

    classification: str
    materials: str
    weight_g: float | None
    largest_mm: float | None


@dataclass(frozen=True)
class Rule:
    """Conditions that must all hold; a blank text or None matches anything. Lengths mm, weight g."""

    design: str
    reason: str = ""
    classification: str = ""
    material: str = ""
    weight_over_g: float | None = None
    largest_over_mm: float | None = None
    largest_up_to_mm: float | None = None

    def matches(self, facts: ObjectFacts) -> bool:
        """Whether every condition holds; a condition on something unknown does not hold."""
        return (
            self.classification.casefold() in ("", facts.classification.casefold())
            and self.material.casefold() in facts.materials.casefold()
            and _above(facts.weight_g, self.weight_over_g)
            and _above(facts.largest_mm, self.largest_over_mm)
            and (
                self.largest_up_to_mm is None
                or (facts.largest_mm is not None and facts.largest_mm <= self.largest_up_to_mm)
            )
        )


def _above(value: float | None, limit: float | None) -> bool:
    return limit is None or (value is not None and value > limit)


def choose(facts: ObjectFacts, rules: Iterable[Rule]) -> Rule | None:
    """The first rule that matches an object, or None.

    facts: the object. rules: in order.
    Source: none needed, an ordered list of conditions.
    """
    return next((rule for rule in rules if rule.matches(facts)), None)
