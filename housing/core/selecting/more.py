"""What a little more of a limit would add: the choice made again with the limit raised."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from housing.core.selecting.candidates import BoardOffer, Candidate, Limits, Worker
from housing.core.selecting.choosing import MINUTES_PER_HOUR, Selected, select

NEXT_MONEY, NEXT_HOURS = 500.0, 20.0
FULL = 0.9  # share of a limit from which more of it may help


@dataclass(frozen=True)
class Next:
    """What more of one limit would add. what: money, or the skill; added: keys of boxes; dropped: those that
    better ones would take the place of.
    """

    what: str
    amount: float
    unit: str
    worth: float
    added: tuple[str, ...]
    dropped: tuple[str, ...]


def next_gains(
    candidates: Sequence[Candidate],
    offers: Sequence[BoardOffer],
    limits: Limits,
    found: Selected,
    *,
    seconds: float = 10.0,
) -> list[Next]:
    """What the next 500 of money and the next 20 hours of each skill would add, the most worth first.

    found: the choice within the limits as they are. Source: the same question solved again.
    """
    asked: list[tuple[str, float, str, Limits]] = []
    if limits.money is not None:
        asked.append(("money", NEXT_MONEY, "money", replace(limits, money=limits.money + NEXT_MONEY)))
    minutes = NEXT_HOURS * MINUTES_PER_HOUR
    skills = sorted({skill for one in candidates for skill in one.minutes})
    for skill in skills:
        more = limits
        if skill in limits.minutes:
            more = replace(more, minutes=dict(limits.minutes) | {skill: limits.minutes[skill] + minutes})
        if limits.workers is not None:
            helper = Worker("one more", "one more", minutes, frozenset({skill}))
            more = replace(more, workers=(*limits.workers, helper))
        if more is not limits:
            asked.append((skill, NEXT_HOURS, "hours", more))
    gains = []
    for what, amount, unit, more in asked:
        then = select(candidates, offers, more, seconds=seconds)
        gains.append(
            Next(
                what,
                amount,
                unit,
                max(then.worth - found.worth, 0.0),
                tuple(key for key in then.chosen if key not in set(found.chosen)),
                tuple(key for key in found.chosen if key not in set(then.chosen)),
            )
        )
    return sorted(gains, key=lambda gain: -gain.worth)
