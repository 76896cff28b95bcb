"""Which design the objects of a box get, by hand or by the rules, and what the rules advise for them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from boards.core.standards import included_in
from boards.queries import standards_stated_of
from housing.core.choosing import (
    Advice,
    Advised,
    DesignFacts,
    Pick,
    Piece,
    Rule,
    advise,
    pick,
    words_of,
)
from housing.models import Campaign, Design
from housing.queries.choosing import Looked, facts_of

DECIDING = (Piece.DESIGN, Piece.FORM, Piece.BOARD_KIND, Piece.LEAST_CALIPER)
REASON_SIGNS = 400  # of Housing.design_reason


@dataclass(frozen=True)
class Choice:
    """The design for a box, None where none fits; why, or what is missing; and the advice as it is stored."""

    design: Design | None
    reason: str
    advice: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class DesignChoice:
    """A campaign's rules in their order and its choices by hand, read once.

    designs: all there are, by key, with their boards. by_hand: the design chosen for an object.
    """

    designs: Mapping[int, Design]
    by_hand: Mapping[int, int]
    rules: Sequence[Rule]
    facts: Sequence[DesignFacts] = ()
    prices: Mapping[str, str] = field(default_factory=dict)
    _picks: dict[Any, Pick] = field(default_factory=dict, repr=False)  # few differ among thousands of boxes

    @classmethod
    def of(cls, campaign: Campaign) -> "DesignChoice":
        """The choice as the campaign has it now."""
        by_hand = campaign.memberships.exclude(chosen_design=None)
        designs = {design.pk: design for design in Design.objects.select_related("board")}
        stated = standards_stated_of({design.board_id for design in designs.values()})
        return cls(
            designs=designs,
            by_hand=dict(by_hand.values_list("object_id", "chosen_design_id")),
            rules=[rule.to_core() for rule in campaign.rules.all()],
            facts=[
                design_facts(
                    design, frozenset(stated[design.board_id] | included_in(stated[design.board_id]).keys())
                )
                for design in designs.values()
            ],
            prices={
                design.padding.casefold(): str(design.padding_price_m2)
                for design in designs.values()
                if design.padding
            },
        )

    def choose(self, contents: Sequence[Looked]) -> Choice:
        """The design of a box with these objects, with the reason and all that is advised."""
        advice = advise(facts_of(contents), self.rules)
        by_hand = next((self.by_hand[thing.pk] for thing in contents if thing.pk in self.by_hand), None)
        picked = self._pick(advice, by_hand)
        stored = self._stored(advice, picked)
        if by_hand is not None:
            stored["by_hand"] = True
        stored["conflicts"] = [
            *(
                self._told(conflict.other) | {"kept": self._told(conflict.kept)}
                for conflict in advice.conflicts
            ),
            *(
                self._told(one.advised)
                | {"sentence": one.words}
                | ({"instead": one.instead.key, "instead_name": one.instead.name} if one.instead else {})
                for one in picked.contradictions
            ),
        ]
        if not stored["conflicts"]:
            del stored["conflicts"]
        design = self.designs[picked.design.key] if picked.design else None
        return Choice(design, picked.reason[:REASON_SIGNS], stored)

    def _pick(self, advice: Advice, by_hand: int | None) -> Pick:
        """The design that follows, looked up where the same was advised before."""
        asked = [*(advice.pieces.get(piece) for piece in DECIDING), *advice.asks_for]
        rests_on = tuple((one.value, one.rule.position) if one else None for one in asked)
        key = by_hand, rests_on, advice.matched if rests_on[:2] == (None, None) else ()
        if key not in self._picks:
            self._picks[key] = pick(advice, self.facts, by_hand)
        return self._picks[key]

    def _stored(self, advice: Advice, picked: Pick) -> dict[str, Any]:
        """Advice as a housing keeps it: by piece, the value with its rule; marks and standards as lists.

        Of form and design, where two rules name them, only the one is kept that stands above and decides.
        """
        stored: dict[str, Any] = {piece.value: self._told(one) for piece, one in advice.pieces.items()}
        if Piece.DESIGN in advice.pieces and Piece.FORM in advice.pieces:
            design = self.designs.get(int(advice.pieces[Piece.DESIGN].value))
            is_taken = picked.design is not None and design is not None and picked.design.key == design.pk
            if not is_taken and advice.form_decides:
                del stored[Piece.DESIGN.value]
            elif not advice.form_decides:
                del stored[Piece.FORM.value]
        if Piece.PADDING in advice.pieces:
            price = self.prices.get(str(advice.pieces[Piece.PADDING].value).casefold())
            if price is not None:
                stored[Piece.PADDING.value]["price_m2"] = price
        for piece, several in ((Piece.MARK, advice.marks), (Piece.STANDARD, advice.asks_for)):
            if several:
                stored[piece.value] = [self._told(one) for one in several]
        return stored

    def _told(self, advised: Advised) -> dict[str, Any]:
        rule = advised.rule
        return {
            "piece": advised.piece.value,
            "value": advised.value,
            "words": self._words(advised),
            "position": rule.position,
            "reason": rule.reason,
            "source": rule.source,
            "is_advice": rule.is_advice,
        }

    def _words(self, advised: Advised) -> str:
        if advised.piece is Piece.DESIGN:
            return self.designs[int(advised.value)].name
        return words_of(advised.piece, advised.value)


def design_facts(design: Design, standards: frozenset[str] | None = None) -> DesignFacts:
    """What the choice looks at of a design; its board should have been fetched with it."""
    board = design.board
    caliper_mm = board.to_core().caliper_mm
    return DesignFacts(design.pk, design.name, design.form, board.is_buffered, caliper_mm, standards)
