"""From advice to a design: the one advised, else the best of those that satisfy form and board."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from housing.core.choosing.advice import Advice, Advised, Piece
from housing.core.choosing.rules import Rule, is_more_general
from housing.core.choosing.words import BOARD_KINDS, words_of
from objects.core.words import say

BUFFERED, UNBUFFERED = BOARD_KINDS
ABOUT_THE_BOARD = (Piece.BOARD_KIND, Piece.LEAST_CALIPER)
ALIKE_MM = 1e-6


@dataclass(frozen=True)
class DesignFacts:
    """What the choice looks at. caliper_mm: of its board. standards: which that meets; None: not known."""

    key: int
    name: str
    form: str
    is_buffered: bool
    caliper_mm: float
    standards: frozenset[str] | None = None


@dataclass(frozen=True)
class Contradiction:
    """A design that is taken although a piece of advice asks for something else, told in a sentence.

    instead: another design of the same form that satisfies all that is asked of form and board.
    """

    advised: Advised
    words: str
    instead: DesignFacts | None = None


@dataclass(frozen=True)
class Pick:
    """The design for an object and why; without one, what is missing in a sentence."""

    design: DesignFacts | None
    reason: str
    contradictions: tuple[Contradiction, ...] = ()


def pick(advice: Advice, designs: Sequence[DesignFacts], by_hand: int | None = None) -> Pick:
    """The design that follows from advice.

    designs: all there are. by_hand: the key of one that a person chose, which comes before all advice.
    An advised design is taken. Where a rule above the one that names it asks for a form, the form decides;
    then and where no design is named, of the designs that have the form and whose board is as advised that
    one is taken that a rule names, else the one whose board meets the standards asked for, as far as that is
    known, then the one with the least caliper, then the first by name.
    Returns no design where none fits, with what is missing.
    Source: least board that suffices; common practice, no source.
    """
    known = {design.key: design for design in designs}
    if by_hand is not None and by_hand in known:
        design = known[by_hand]
        return Pick(design, say("Chosen by hand."), contradictions(design, advice, designs, ABOUT_THE_BOARD))
    named = advice.pieces.get(Piece.DESIGN)
    if named is None or named.value not in known:
        return _by_form(advice, designs) if Piece.FORM in advice.pieces else Pick(None, _without_form(advice))
    design = known[int(named.value)]
    if advice.form_decides and not _suits(design, advice):
        return _by_form(advice, designs)
    reason = named.rule.reason or say("Rule {position} names it.", position=named.rule.position)
    return Pick(design, reason, contradictions(design, advice, designs, named_by=named.rule))


def _by_form(advice: Advice, designs: Sequence[DesignFacts]) -> Pick:
    """The best of the designs that have the advised form and whose board is as advised."""
    form = advice.pieces[Piece.FORM]
    fitting = _fitting(str(form.value), advice, designs)
    if not fitting:
        return Pick(
            None,
            say("No design of the form {wanted}. Make one: Designs, New design.", wanted=_wanted(advice)),
        )
    best = min(fitting, key=lambda design: _order(design, advice))
    told = (
        say("“{design}” is the only design of the form {wanted}.", design=best.name, wanted=_wanted(advice))
        if len(fitting) == 1
        else say(
            "Of {count} designs of the form {wanted}, “{design}” has {why}.",
            count=len(fitting),
            wanted=_wanted(advice),
            design=best.name,
            why=_why_best(best, fitting),
        )
    )
    return Pick(best, f"{form.rule.reason} {told}".strip(), _lacking(best, advice, fitting))


def _suits(design: DesignFacts, advice: Advice) -> bool:
    return all(_satisfies(design, piece, advice) for piece in (Piece.FORM, *ABOUT_THE_BOARD))


def _why_best(best: DesignFacts, fitting: Sequence[DesignFacts]) -> str:
    is_thinnest = best.caliper_mm <= min(design.caliper_mm for design in fitting) + ALIKE_MM
    mm = f"{best.caliper_mm:.1f}"
    if is_thinnest:
        return say("the thinnest board that suffices, {mm} mm", mm=mm)
    return say("the thinnest board that is stated to meet what is asked, {mm} mm", mm=mm)


def _without_form(advice: Advice) -> str:
    if not advice.matched:
        return say("No rule of the campaign matches. Add a rule, or choose a design for this object by hand.")
    matched = ", ".join(map(str, advice.matched))
    if len(advice.matched) == 1:
        return say(
            "Rule {rule} matches, but none names a design or a form. Add one to a rule, or choose a design "
            "for this object by hand.",
            rule=matched,
        )
    return say(
        "Rules {rules} match, but none names a design or a form. Add one to a rule, or choose a design for "
        "this object by hand.",
        rules=matched,
    )


def _wanted(advice: Advice) -> str:
    """The form and the board that are asked for: Folder with ties on unbuffered board of 1 mm or more."""
    form = words_of(Piece.FORM, advice.pieces[Piece.FORM].value)
    kind, caliper = advice.value(Piece.BOARD_KIND), advice.value(Piece.LEAST_CALIPER)
    board = None if kind is None else words_of(Piece.BOARD_KIND, kind)
    least = None if caliper is None else words_of(Piece.LEAST_CALIPER, caliper)
    if board and least:
        return say("{form} on {board} of {thickness} or more", form=form, board=board, thickness=least)
    if least:
        return say("{form} on board of {thickness} or more", form=form, thickness=least)
    return say("{form} on {board}", form=form, board=board) if board else form


def _fitting(form: str, advice: Advice, designs: Iterable[DesignFacts]) -> list[DesignFacts]:
    return [
        design
        for design in designs
        if design.form == form and all(_satisfies(design, piece, advice) for piece in ABOUT_THE_BOARD)
    ]


def _satisfies(design: DesignFacts, piece: Piece, advice: Advice) -> bool:
    value = advice.value(piece)
    if value is None:
        return True
    match piece:
        case Piece.FORM:
            return design.form == value
        case Piece.BOARD_KIND:
            return design.is_buffered == (value == BUFFERED)
        case Piece.LEAST_CALIPER:
            return design.caliper_mm >= float(value) - ALIKE_MM
    return True


def _order(design: DesignFacts, advice: Advice) -> tuple[int, float, str]:
    return len(_missed(design, advice)), design.caliper_mm, design.name.casefold()


def _missed(design: DesignFacts, advice: Advice) -> list[Advised]:
    """The standards asked for that its board is known not to meet."""
    if design.standards is None:
        return []
    return [one for one in advice.asks_for if one.value not in design.standards]


def contradictions(
    design: DesignFacts,
    advice: Advice,
    designs: Sequence[DesignFacts],
    looked_at: Sequence[Piece] = (Piece.FORM, *ABOUT_THE_BOARD),
    named_by: Rule | None = None,
) -> tuple[Contradiction, ...]:
    """Each piece of advice on form and board that a design does not satisfy, and a design that would.

    designs: all there are. looked_at: the pieces that matter; the form does not where a person chose by hand.
    named_by: the rule that names the design; what a more general rule says does not contradict it.
    """
    pieces = [
        piece
        for piece in looked_at
        if not _satisfies(design, piece, advice)
        and not (named_by and is_more_general(advice.pieces[piece].rule, named_by))
    ]
    fitting = _fitting(design.form, advice, designs)
    best = min(fitting, key=lambda one: _order(one, advice), default=None)
    found = tuple(
        Contradiction(
            advised := advice.pieces[piece],
            say(
                "“{design}” {has}, but rule {position} asks for {asked}.",
                design=design.name,
                has=_has(design, piece),
                position=advised.rule.position,
                asked=_asked(advised),
            ),
            best if piece is not Piece.FORM else None,
        )
        for piece in pieces
    )
    return (*found, *_lacking(design, advice, [one for one in fitting if not _missed(one, advice)]))


def _lacking(
    design: DesignFacts, advice: Advice, fitting: Sequence[DesignFacts]
) -> tuple[Contradiction, ...]:
    better = min(
        (one for one in fitting if not _missed(one, advice)),
        key=lambda one: _order(one, advice),
        default=None,
    )
    return tuple(
        Contradiction(
            advised,
            say(
                "The board of “{design}” is not stated to meet {standard}, but rule {position} asks for it.",
                design=design.name,
                standard=words_of(Piece.STANDARD, advised.value),
                position=advised.rule.position,
            ),
            better,
        )
        for advised in _missed(design, advice)
    )


def _has(design: DesignFacts, piece: Piece) -> str:
    match piece:
        case Piece.FORM:
            return say("is of the form {form}", form=words_of(Piece.FORM, design.form))
        case Piece.BOARD_KIND:
            return say(
                "is on {board}",
                board=words_of(Piece.BOARD_KIND, BUFFERED if design.is_buffered else UNBUFFERED),
            )
    return say("is on board of {mm} mm", mm=f"{design.caliper_mm:.1f}")


def _asked(advised: Advised) -> str:
    words = words_of(advised.piece, advised.value)
    match advised.piece:
        case Piece.FORM:
            return say("the form {words}", words=words)
        case Piece.LEAST_CALIPER:
            return say("at least {words}", words=words)
    return words
