"""The advice of ordered rules on an object: for each piece of it the first rule that speaks of it wins."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum

from housing.core.choosing.facts import ObjectFacts
from housing.core.choosing.rules import Rule, Value, is_more_general
from objects.core.words import noted


class Piece(StrEnum):
    """What rules advise; the keys are those of the stored rules. Lengths in mm."""

    DESIGN = "design"
    FORM = "form"
    BOARD_KIND = "board_kind"
    LEAST_CALIPER = "least_caliper_mm"
    PADDING = "padding"
    HEIGHT_ALLOWANCE = "height_allowance_mm"
    SIDE_ALLOWANCE = "side_allowance_mm"
    MARK = "marks"
    STANDARD = "asks_for"


PIECES = {
    Piece.DESIGN: noted("Design"),
    Piece.FORM: noted("Form"),
    Piece.BOARD_KIND: noted("Board"),
    Piece.LEAST_CALIPER: noted("Board at least as thick as"),
    Piece.PADDING: noted("Padding"),
    Piece.HEIGHT_ALLOWANCE: noted("Allowance on the height"),
    Piece.SIDE_ALLOWANCE: noted("Allowance on each side"),
    Piece.MARK: noted("Mark on the label"),
    Piece.STANDARD: noted("Standard the board must meet"),
}
ADDED_UP = (Piece.MARK, Piece.STANDARD)  # those of all rules that match hold together


@dataclass(frozen=True)
class Advised:
    """One piece of advice, and the rule it comes from."""

    piece: Piece
    value: Value
    rule: Rule


@dataclass(frozen=True)
class Conflict:
    """Two rules that match say different things: the first is followed, the other is to be thought about."""

    kept: Advised
    other: Advised


@dataclass(frozen=True)
class Advice:
    """All that the rules advise on an object.

    pieces: what won, by piece. marks, asks_for: in the order of their rules, each once.
    conflicts: in the order of the later rules. matched: the positions of all rules that match.
    """

    pieces: Mapping[Piece, Advised] = field(default_factory=dict)
    marks: tuple[Advised, ...] = ()
    asks_for: tuple[Advised, ...] = ()
    conflicts: tuple[Conflict, ...] = ()
    matched: tuple[int, ...] = ()

    def value(self, piece: Piece) -> Value | None:
        """What is advised of a piece, or None."""
        advised = self.pieces.get(piece)
        return None if advised is None else advised.value

    @property
    def deciding(self) -> frozenset[int]:
        """The positions of the rules that decide at least one piece, a mark or a standard.

        A form decides nothing once a rule above has named a design.
        """
        pieces = [one for piece, one in self.pieces.items() if piece is not Piece.FORM or self.form_decides]
        return frozenset(one.rule.position for one in (*pieces, *self.marks, *self.asks_for))

    @property
    def form_decides(self) -> bool:
        """Whether a form is advised, by a rule above the one that names a design, if any does."""
        form, design = self.pieces.get(Piece.FORM), self.pieces.get(Piece.DESIGN)
        return form is not None and (design is None or form.rule.position < design.rule.position)


def advise(facts: ObjectFacts, rules: Iterable[Rule]) -> Advice:
    """What rules advise on an object.

    facts: the object. rules: in their order. For each piece the first rule that matches and speaks of it
    wins; marks and standards add up over all rules that match. A later rule that says something else is
    kept as a conflict, unless it is the more general of the two, so that the first is its exception (a rule
    without conditions is more general than any), or asks for board less thick than is taken anyway. Of
    several rules that each name a design the order chooses, which is what it is for: no conflict. Nor is it
    one that rules differ about the form once a design named above them has settled it.
    Source: none needed, an ordered list of conditions.
    """
    pieces: dict[Piece, Advised] = {}
    added: dict[Piece, dict[Value, Advised]] = {piece: {} for piece in ADDED_UP}
    conflicts: list[Conflict] = []
    matched = []
    for rule in rules:
        if not rule.matches(facts):
            continue
        matched.append(rule.position)
        for key, value in rule.says.items():
            advised = Advised(Piece(key), value, rule)
            kept = pieces.setdefault(advised.piece, advised)
            if kept is not advised and _differ(kept, advised):
                conflicts.append(Conflict(kept, advised))
        for piece, values in ((Piece.MARK, rule.marks), (Piece.STANDARD, rule.asks_for)):
            for value in values:
                added[piece].setdefault(value, Advised(piece, value, rule))
    advice = Advice(
        pieces,
        tuple(added[Piece.MARK].values()),
        tuple(added[Piece.STANDARD].values()),
        tuple(conflicts),
        tuple(matched),
    )
    if advice.form_decides:
        return advice
    return replace(advice, conflicts=tuple(one for one in conflicts if one.kept.piece is not Piece.FORM))


def _differ(kept: Advised, later: Advised) -> bool:
    if kept.piece is Piece.DESIGN:
        return False
    if kept.piece is Piece.LEAST_CALIPER and float(later.value) <= float(kept.value):
        return False
    same = str(kept.value).casefold() == str(later.value).casefold()
    return not same and not is_more_general(later.rule, kept.rule)


# ---- How many objects a rule decides about ---------------------------------------------------------------


@dataclass
class Tally:
    """How many objects a rule matches, and of how many it decides at least one piece of the advice."""

    matches: int = 0
    takes: int = 0


def tally(boxes: Iterable[tuple[ObjectFacts, int]], rules: Sequence[Rule]) -> dict[int, Tally]:
    """The tally of each rule, by position. boxes: facts, and for how many objects they hold."""
    counts = {rule.position: Tally() for rule in rules}
    for facts, number in boxes:
        advice = advise(facts, rules)
        for position in advice.matched:
            counts[position].matches += number
        for position in advice.deciding:
            counts[position].takes += number
    return counts


def tally_of(
    rule: Rule, above: Sequence[Rule], boxes: Sequence[tuple[ObjectFacts, int]]
) -> tuple[Tally, list[int]]:
    """The tally of one rule below others, and the places in `boxes` of those it matches.

    Quicker than `tally` where only one rule is of interest: the others are tried only on what it matches.
    """
    count, places = Tally(), []
    for place, (facts, number) in enumerate(boxes):
        if rule.matches(facts):
            places.append(place)
            count.matches += number
            if rule.position in advise(facts, (*above, rule)).deciding:
                count.takes += number
    return count, places
