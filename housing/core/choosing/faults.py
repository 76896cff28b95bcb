"""What is wrong with a row of rules, whatever the objects: rules that can never decide anything."""

from collections.abc import Sequence

from housing.core.choosing.advice import ADDED_UP, Piece
from housing.core.choosing.rules import Rule, is_more_general


def never_decides(rule: Rule, above: Sequence[Rule]) -> tuple[int, ...]:
    """The positions of the rules above that leave nothing for a rule to decide; none if it may decide.

    A rule above settles a piece if it speaks of it and matches all that the rule matches, a form also if it
    names a design; marks and standards are settled once another rule adds them anyway.
    """
    general = [one for one in above if is_more_general(one, rule)]
    settling: list[int] = []
    for key in rule.says:
        settled_by = {key, Piece.DESIGN} if key == Piece.FORM else {key}
        by = next((one.position for one in general if settled_by & set(one.says)), None)
        if by is None:
            return ()
        settling.append(by)
    for piece in ADDED_UP:
        for value in getattr(rule, piece.value):
            by = next((one.position for one in general if value in getattr(one, piece.value)), None)
            if by is None:
                return ()
            settling.append(by)
    return tuple(sorted(set(settling)))
