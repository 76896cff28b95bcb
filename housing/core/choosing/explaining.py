"""Why a rule matches an object, or why not, condition by condition."""

from dataclasses import dataclass

from housing.core.choosing.facts import ObjectFacts
from housing.core.choosing.rules import Condition, Rule
from objects.core.words import say


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
            return say("It has no conditions, so it matches everything.")
        against = [f"{one.words} ({one.has})" for one in self.findings if not one.holds]
        if against:
            return say("It does not match, since this does not hold: {against}.", against="; ".join(against))
        return say(
            "It matches: {findings}.", findings="; ".join(f"{one.words} ({one.has})" for one in self.findings)
        )


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
        return say("not recorded")
    if condition.key == "classification":
        return say("classification {classification}", classification=facts.classification)
    if condition.key == "material":
        return say("materials {materials}", materials=facts.materials)
    if condition.key == "shape":
        return (
            say("it is {shape}", shape=say(facts.shape.value))
            if facts.shape
            else say("no word for its shape fits")
        )
    if condition.key == "weight":
        kg = f"{(facts.weight_g or 0) / 1000:g}"
        return f"{kg} kg" if facts.is_weight_whole else say("at least {kg} kg", kg=kg)
    if condition.key == "largest":
        return f"{facts.known_mm[-1]:.1f} mm"
    if condition.key == "thinnest":
        return f"{facts.known_mm[0]:.1f} mm"
    return say("so recorded") if holds else say("not so")
