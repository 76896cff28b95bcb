"""Why a rule matches an object, or why not, condition by condition."""

from dataclasses import dataclass

from housing.core.choosing.facts import ObjectFacts
from housing.core.choosing.rules import Condition, Rule


@dataclass(frozen=True)
class Finding:
    """One condition and what the object has to say to it. holds: None where that is not known."""

    words: str
    holds: bool | None
    has: str


@dataclass(frozen=True)
class Explanation:
    """Why a rule matches or does not."""

    rule: Rule
    matches: bool
    findings: tuple[Finding, ...]

    @property
    def sentence(self) -> str:
        """In one sentence; what stands against it goes before what speaks for it."""
        if not self.findings:
            return "It has no conditions, so it matches everything."
        against = [f"{one.words} ({one.has})" for one in self.findings if not one.holds]
        if against:
            return f"It does not match, since this does not hold: {'; '.join(against)}."
        return f"It matches: {'; '.join(f'{one.words} ({one.has})' for one in self.findings)}."


def explain(rule: Rule, facts: ObjectFacts) -> Explanation:
    """Every condition of a rule with what the object has; lengths in the words in mm."""
    findings = tuple(
        Finding(condition.words, holds := condition.test(facts), _has(condition, facts, holds))
        for condition in rule.conditions
    )
    return Explanation(rule, all(one.holds for one in findings), findings)


def _has(condition: Condition, facts: ObjectFacts, holds: bool | None) -> str:
    """What is known of the object that a condition asks about."""
    if holds is None:
        return "not recorded"
    if condition.key == "classification":
        return f"classification {facts.classification}"
    if condition.key == "material":
        return f"materials {facts.materials}"
    if condition.key == "shape":
        return f"it is {facts.shape.value}" if facts.shape else "no word for its shape fits"
    if condition.key == "weight":
        at_least = "" if facts.is_weight_whole else "at least "
        return f"{at_least}{(facts.weight_g or 0) / 1000:g} kg"
    if condition.key == "largest":
        return f"{facts.known_mm[-1]:.1f} mm"
    if condition.key == "thinnest":
        return f"{facts.known_mm[0]:.1f} mm"
    return "so recorded" if holds else "not so"
