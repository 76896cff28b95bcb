"""The boxes of greatest worth that limits allow: a knapsack with several limits, boards in whole packs."""

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from housing.core.linear import Infeasible, Program
from housing.core.selecting.candidates import (
    BoardOffer,
    Candidate,
    Group,
    Limits,
    SelectionRefused,
    Worker,
    groups_of,
)

MINUTES_PER_HOUR = 60
NEARLY = 1e-6
GAP, SECONDS = 1e-4, 20.0


@dataclass(frozen=True)
class Use:
    """How much of a limit is used. name: money, a skill, or people; unit: money or hours."""

    name: str
    used: float
    limit: float
    unit: str

    @property
    def share(self) -> float:
        return self.used / self.limit if self.limit else 1.0


@dataclass(frozen=True)
class Selected:
    """What was chosen. bound: no choice is worth more. packs: of each board. uses: of the limits, the fullest
    first. left: what was not chosen, of greatest worth for its money first.
    """

    chosen: tuple[str, ...]
    worth: float
    bound: float
    money: float
    hours: float
    packs: Mapping[str, int] = field(default_factory=dict)
    uses: tuple[Use, ...] = ()
    left: tuple[str, ...] = ()

    @property
    def gap(self) -> float:
        """How much more a better choice could be worth at most, as a share of this one's worth."""
        return max(self.bound - self.worth, 0.0) / self.worth if self.worth else 0.0


def select(
    candidates: Sequence[Candidate],
    offers: Sequence[BoardOffer],
    limits: Limits,
    *,
    seconds: float = SECONDS,
    gap: float = GAP,
) -> Selected:
    """Choose.

    candidates: boxes that might be made. offers: of every board among them. seconds, gap: when to stop.
    Raises SelectionRefused where nothing can be chosen: says which box would be the least of all and what it
    needs, or by how much those that must be in exceed a limit.
    Source: the multidimensional knapsack problem (Kellerer, Pferschy and Pisinger, Knapsack Problems, 2004),
        with whole packs of board and people whose hours are shared out over their skills.
    """
    groups = groups_of(candidates, limits)
    if not groups:
        raise SelectionRefused(
            "There is no box to choose from. Plan the campaign, or leave fewer objects out."
        )
    program, parts = _program(groups, offers, limits)
    try:
        solved = program.solve(maximise=True, seconds=seconds, gap=gap)
    except Infeasible as infeasible:
        raise SelectionRefused(_why_not(groups, offers, limits)) from infeasible
    chosen = [group for group, x in zip(groups, parts.groups, strict=True) if solved.values[x] > 0.5]
    if not chosen:
        raise SelectionRefused(_too_small(groups, offers, limits))
    packs = {key: round(solved.values[n]) for key, n in parts.packs.items() if solved.values[n] > 0.5}
    return _told(groups, chosen, packs, offers, limits, max(solved.bound, sum(g.worth for g in chosen)))


@dataclass
class _Parts:
    """Numbers of the variables: one a group, the packs by board."""

    groups: list[int] = field(default_factory=list)
    packs: dict[str, int] = field(default_factory=dict)


def _program(groups: Sequence[Group], offers: Sequence[BoardOffer], limits: Limits) -> tuple[Program, _Parts]:
    program, parts = Program(), _Parts()
    areas: defaultdict[str, dict[int, float]] = defaultdict(dict)
    minutes: defaultdict[str, dict[int, float]] = defaultdict(dict)
    money: dict[int, float] = {}
    for group in groups:
        x = program.variable(group.worth, 1.0 if group.is_must else 0.0, 1.0, whole=True)
        parts.groups.append(x)
        money[x] = group.money
        for board, area in group.board_m2().items():
            areas[board][x] = area
        for skill, worked in group.minutes().items():
            minutes[skill][x] = worked
    of_board = {offer.key: offer for offer in offers}
    for board, terms in areas.items():
        offer = of_board[board]
        most = math.ceil(sum(terms.values()) / offer.usable_m2)
        parts.packs[board] = program.variable(0.0, 0.0, float(most), whole=True)
        money[parts.packs[board]] = offer.price
        program.row(terms | {parts.packs[board]: -offer.usable_m2}, high=offer.on_hand_m2)
    if limits.money is not None:
        program.row(money, high=limits.money)
    for skill, most_minutes in limits.minutes.items():
        if skill in minutes:
            program.row(minutes[skill], high=most_minutes)
    if limits.workers is not None:
        _people(program, minutes, limits.workers)
    return program, parts


def _people(program: Program, minutes: Mapping[str, dict[int, float]], workers: Sequence[Worker]) -> None:
    """Each person's minutes are shared out over the skills that they have, and count once."""
    given: defaultdict[str, dict[int, float]] = defaultdict(dict)
    for worker in workers:
        shares = {}
        for skill in sorted(worker.skills & minutes.keys()):
            share = program.variable()
            shares[share] = 1.0
            given[skill][share] = -1.0
        if shares:
            program.row(shares, high=worker.minutes)
    for skill, terms in minutes.items():
        program.row(terms | given[skill], high=0.0)


# ---- Telling ---------------------------------------------------------------------------------------------


def _told(
    groups: Sequence[Group],
    chosen: Sequence[Group],
    packs: dict[str, int],
    offers: Sequence[BoardOffer],
    limits: Limits,
    bound: float,
) -> Selected:
    needed = _packs(chosen, offers)
    money = sum(group.money for group in chosen) + _board_money(needed, offers)
    minutes = _minutes(chosen)
    keys = {one.key for group in chosen for one in group.members}
    left = sorted(
        (group for group in groups if group.members[0].key not in keys),
        key=lambda group: -group.worth / max(group.money, 1e-9),
    )
    return Selected(
        chosen=tuple(one.key for group in chosen for one in group.members),
        worth=sum(group.worth for group in chosen),
        bound=bound,
        money=money,
        hours=sum(minutes.values()) / MINUTES_PER_HOUR,
        packs=needed,
        uses=tuple(sorted(_uses(money, minutes, limits), key=lambda use: -use.share)),
        left=tuple(one.key for group in left for one in group.members),
    )


def _uses(money: float, minutes: Mapping[str, float], limits: Limits) -> list[Use]:
    uses = []
    if limits.money is not None:
        uses.append(Use("money", money, limits.money, "money"))
    for skill, most in limits.minutes.items():
        uses.append(Use(skill, minutes.get(skill, 0.0) / MINUTES_PER_HOUR, most / MINUTES_PER_HOUR, "hours"))
    if limits.workers is not None:
        there = sum(worker.minutes for worker in limits.workers)
        uses.append(
            Use("people", sum(minutes.values()) / MINUTES_PER_HOUR, there / MINUTES_PER_HOUR, "hours")
        )
    return uses


def _packs(groups: Sequence[Group], offers: Sequence[BoardOffer]) -> dict[str, int]:
    """Packs of each board that some groups need, the rack and the stock used first."""
    areas: defaultdict[str, float] = defaultdict(float)
    for group in groups:
        for board, area in group.board_m2().items():
            areas[board] += area
    of_board = {offer.key: offer for offer in offers}
    needed = {
        board: math.ceil(max(area - of_board[board].on_hand_m2, 0) / of_board[board].usable_m2 - NEARLY)
        for board, area in areas.items()
    }
    return {board: number for board, number in sorted(needed.items()) if number > 0}


def _board_money(packs: Mapping[str, int], offers: Sequence[BoardOffer]) -> float:
    return sum(offer.price * packs.get(offer.key, 0) for offer in offers)


def _minutes(groups: Sequence[Group]) -> dict[str, float]:
    sums: defaultdict[str, float] = defaultdict(float)
    for group in groups:
        for skill, minutes in group.minutes().items():
            sums[skill] += minutes
    return dict(sums)


# ---- Why nothing can be chosen ---------------------------------------------------------------------------


def _why_not(groups: Sequence[Group], offers: Sequence[BoardOffer], limits: Limits) -> str:
    """By how much what must be in exceeds the limits."""
    musts = [group for group in groups if group.is_must]
    told = _excess(musts, offers, limits)
    number = sum(len(group.members) for group in musts)
    return (
        f"The {number:,} boxes that must be in, with those kept with them, go beyond the limits: "
        f"{'; '.join(told) or 'the people there are cannot do their work'}. Raise a limit, or take some off."
    )


def _too_small(groups: Sequence[Group], offers: Sequence[BoardOffer], limits: Limits) -> str:
    """What the box, or the group, that needs least would need."""
    least = min(
        groups,
        key=lambda group: (
            len(_excess([group], offers, limits)),
            group.money + _board_money(_packs([group], offers), offers),
        ),
    )
    name, others = least.members[0].name, len(least.members) - 1
    told = _excess([least], offers, limits)
    return (
        f"The limits are too small for a single box. The one that needs least is {name}"
        + (f" with {others} kept with it" if others else "")
        + f": {'; '.join(told) or 'nobody has the skills it takes'}. Raise the limit."
    )


def _excess(groups: Sequence[Group], offers: Sequence[BoardOffer], limits: Limits) -> list[str]:
    """Where some groups go beyond the limits, in words."""
    told = []
    money = sum(group.money for group in groups) + _board_money(_packs(groups, offers), offers)
    minutes = _minutes(groups)
    if limits.money is not None and money > limits.money + NEARLY:
        told.append(f"{money:,.2f} of money, and the limit is {limits.money:,.2f}")
    for skill, most in limits.minutes.items():
        if minutes.get(skill, 0) > most + NEARLY:
            told.append(
                f"{minutes[skill] / MINUTES_PER_HOUR:,.1f} hours of skill “{skill}”, and the limit is "
                f"{most / MINUTES_PER_HOUR:,.1f}"
            )
    if limits.workers is not None:
        for skill, asked in minutes.items():
            there = sum(worker.minutes for worker in limits.workers if skill in worker.skills)
            if asked > there + NEARLY:
                told.append(
                    f"{asked / MINUTES_PER_HOUR:,.1f} hours of skill “{skill}”, and those who have it "
                    f"give {there / MINUTES_PER_HOUR:,.1f} until the date"
                )
    return told
