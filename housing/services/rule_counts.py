"""What the rules of a campaign come to: how many of its objects each takes, and what is wrong with them."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from housing.core.choosing import PIECES, Piece, Rule, Tally, never_decides, tally, tally_of, words_of
from housing.models import Campaign, Design, DesignRule
from housing.queries.choosing import SeenObject, boxes_to_choose_for
from housing.services.choosing import design_facts
from housing.services.rules import place_of_new
from objects.core.words import say

SHOWN = 8  # objects named while a rule is edited


@dataclass(frozen=True)
class RuleReport:
    """A rule with its conditions and advice in words, its tally, and what to look at again."""

    rule: DesignRule
    conditions: tuple[str, ...]
    advice: tuple[tuple[str, str, str], ...]
    tally: Tally
    warnings: tuple[str, ...]


@dataclass(frozen=True)
class RuleTrial:
    """What a rule would come to where it stands: its tally, the first objects it matches, warnings."""

    tally: Tally
    objects: tuple[SeenObject, ...]
    in_all: int
    warnings: tuple[str, ...]

    @property
    def more(self) -> int:
        """How many objects it matches beside those named."""
        return self.tally.matches - len(self.objects)


def rule_reports(campaign: Campaign) -> list[RuleReport]:
    """All rules of a campaign in their order, each with its count and its warnings."""
    stored = list(campaign.rules.select_related("design__board"))
    rules = [rule.to_core() for rule in stored]
    boxes = boxes_to_choose_for(campaign)
    counts = tally([(box.facts, len(box.contents)) for box in boxes], rules)
    return [
        RuleReport(
            rule=of,
            conditions=tuple(condition.words for condition in rule.conditions),
            advice=tuple(_advice(of, rule)),
            tally=counts[rule.position],
            warnings=tuple(_warnings(of, rule, rules[:place], counts[rule.position] if boxes else None)),
        )
        for place, (of, rule) in enumerate(zip(stored, rules, strict=True))
    ]


def try_rule(rule: DesignRule) -> RuleTrial:
    """What a rule, stored or only typed, comes to at its place; a new one at that it would get."""
    campaign = rule.campaign
    others = [one.to_core() for one in campaign.rules.exclude(pk=rule.pk)]
    if is_new := rule.position is None:
        rule.position = max((one.position for one in others), default=0) + 1
    tried = rule.to_core()
    above = (
        others[: place_of_new(tried, others)]
        if is_new
        else [one for one in others if one.position < tried.position]
    )
    boxes = boxes_to_choose_for(campaign)
    count, places = tally_of(tried, above, [(box.facts, len(box.contents)) for box in boxes])
    objects = [thing for place in places for thing in boxes[place].contents]
    return RuleTrial(
        tally=count,
        objects=tuple(objects[:SHOWN]),
        in_all=sum(len(box.contents) for box in boxes),
        warnings=tuple(_warnings(rule, tried, above, count if boxes else None)),
    )


def _advice(stored: DesignRule, rule: Rule) -> Iterator[tuple[str, str, str]]:
    """Piece, its label, and the value in words; the design by its name."""
    for piece, value in rule.says.items():
        yield (
            piece,
            say(PIECES[Piece(piece)]),
            stored.design.name if piece == Piece.DESIGN else words_of(Piece(piece), value),
        )
    for piece, values in ((Piece.MARK, rule.marks), (Piece.STANDARD, rule.asks_for)):
        if values:
            yield piece, say(PIECES[piece]), ", ".join(words_of(piece, value) for value in values)


def _warnings(stored: DesignRule, rule: Rule, above: Sequence[Rule], count: Tally | None) -> Iterator[str]:
    """What to look at again, in sentences. count: None for a campaign without objects."""
    if not (rule.says or rule.marks or rule.asks_for):
        yield "It advises nothing. Choose a design, a form, or something else for it to say."
    elif by := never_decides(rule, above):
        say = f"rule {by[0]} above says" if len(by) == 1 else f"rules {', '.join(map(str, by))} above say"
        yield f"It can never decide anything: {say} it all first. Move it up, or delete it."
    elif count is not None and not count.matches:
        yield "It matches none of the campaign's objects."
    elif count is not None and not count.takes:
        yield "It decides nothing for the objects it matches: rules above have said everything already."
    if stored.design_id is not None:
        yield from _against_its_design(stored, stored.design)


def _against_its_design(rule: DesignRule, design: Design) -> Iterator[str]:
    facts = design_facts(design)
    if rule.form and rule.form != facts.form:
        asked, has = (words_of(Piece.FORM, form) for form in (rule.form, facts.form))
        yield f"It names the form “{asked}”, but its design “{design}” has “{has}”. Choose one of them."
    if rule.board_kind and (rule.board_kind == DesignRule.BoardKind.BUFFERED) != facts.is_buffered:
        yield f"It asks for {rule.board_kind} board, but its design “{design}” is on another board."
    if rule.least_caliper_mm is not None and facts.caliper_mm < float(rule.least_caliper_mm):
        least = words_of(Piece.LEAST_CALIPER, float(rule.least_caliper_mm))
        yield f"It asks for board of at least {least}; that of its design is {facts.caliper_mm:.4g} mm thick."
