"""Which design the objects of a box get: the one chosen by hand, else that of the first rule that matches."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from housing.core.choosing import ObjectFacts, Rule, choose
from housing.models import Campaign, Design
from objects.models import CatalogueObject


@dataclass(frozen=True)
class DesignChoice:
    """A campaign's rules in their order and its choices by hand, read once.

    designs: all there are, by key, with their boards. by_hand: the design chosen for an object.
    """

    designs: Mapping[int, Design]
    by_hand: Mapping[int, int]
    rules: Sequence[Rule]

    @classmethod
    def of(cls, campaign: Campaign) -> "DesignChoice":
        """The choice as the campaign has it now."""
        by_hand = campaign.memberships.exclude(chosen_design=None)
        return cls(
            designs={design.pk: design for design in Design.objects.select_related("board")},
            by_hand=dict(by_hand.values_list("object_id", "chosen_design_id")),
            rules=[
                Rule(
                    design=str(rule.design_id),
                    reason=rule.reason,
                    classification=rule.classification,
                    material=rule.material,
                    weight_over_g=_number(rule.weight_over_g),
                    largest_over_mm=_number(rule.largest_over_mm),
                    largest_up_to_mm=_number(rule.largest_up_to_mm),
                )
                for rule in campaign.rules.all()
            ],
        )

    def design_for(self, contents: Sequence[CatalogueObject]) -> tuple[Design | None, str]:
        """The design of a box with these objects and the reason for it; None if no rule matches."""
        chosen = next((self.by_hand[thing.pk] for thing in contents if thing.pk in self.by_hand), None)
        if chosen is not None:
            return self.designs[chosen], "Chosen by hand."
        rule = choose(_facts(contents), self.rules)
        return (self.designs[int(rule.design)], rule.reason) if rule else (None, "")


def _number(value) -> float | None:
    return None if value is None else float(value)


def _facts(contents: Sequence[CatalogueObject]) -> ObjectFacts:
    sides = [side for thing in contents for side in thing.sides_mm if side is not None]
    weights = [thing.weight_g for thing in contents if thing.weight_g is not None]
    return ObjectFacts(
        classification=contents[0].classification,
        materials="; ".join(thing.materials for thing in contents),
        weight_g=float(sum(weights)) if weights else None,
        largest_mm=float(max(sides)) if sides else None,
    )
