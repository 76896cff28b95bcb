"""Boxes that might be made, what each takes, and the limits within which to choose."""

from collections import defaultdict
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field

from objects.core.refusals import Refusal


class SelectionRefused(Refusal):
    """Nothing can be chosen as asked; the message says what stands in the way."""


@dataclass(frozen=True)
class Candidate:
    """A box. worth: points of priority, above 0. money: what it costs besides board.

    board, board_m2: which, how much of it. minutes: by skill. location: of its objects. name: for the reader.
    """

    key: str
    name: str
    worth: float
    money: float = 0.0
    board: str = ""
    board_m2: float = 0.0
    minutes: Mapping[str, float] = field(default_factory=dict)
    location: str = ""


@dataclass(frozen=True)
class BoardOffer:
    """A board as it is bought: packs of so many m2 that can be used, and the price of one.

    usable_m2: the pack's area times the share that the real cutting plan uses. on_hand_m2: usable, bought
    already.
    """

    key: str
    usable_m2: float
    price: float
    on_hand_m2: float = 0.0


@dataclass(frozen=True)
class Worker:
    """A person: minutes there are until the date, and the skills that they can be spent on."""

    key: str
    name: str
    minutes: float
    skills: frozenset[str]


@dataclass(frozen=True)
class Limits:
    """What must not be exceeded; None for no limit.

    money: in all. minutes: by skill, of all people together. workers: who there is; none for no such limit.
    must, must_not: keys of boxes. sets: keys of boxes that are chosen together or not at all.
    whole_locations: all boxes of a place together or none.
    """

    money: float | None = None
    minutes: Mapping[str, float] = field(default_factory=dict)
    workers: Sequence[Worker] | None = None
    must: frozenset[str] = frozenset()
    must_not: frozenset[str] = frozenset()
    sets: Sequence[Collection[str]] = ()
    whole_locations: bool = False


@dataclass(frozen=True)
class Group:
    """Boxes that are chosen together. is_must: whether they have to be."""

    members: tuple[Candidate, ...]
    is_must: bool = False

    @property
    def worth(self) -> float:
        return sum(one.worth for one in self.members)

    @property
    def money(self) -> float:
        return sum(one.money for one in self.members)

    def board_m2(self) -> dict[str, float]:
        """Area by board."""
        areas: defaultdict[str, float] = defaultdict(float)
        for one in self.members:
            if one.board:
                areas[one.board] += one.board_m2
        return dict(areas)

    def minutes(self) -> dict[str, float]:
        """Minutes by skill."""
        sums: defaultdict[str, float] = defaultdict(float)
        for one in self.members:
            for skill, minutes in one.minutes.items():
                sums[skill] += minutes
        return dict(sums)


def groups_of(candidates: Sequence[Candidate], limits: Limits) -> list[Group]:
    """The boxes joined into groups that stand or fall together; those left out are in none.

    Raises SelectionRefused for a key used twice, for a box that must and must not be in, also through what it
    is kept with, and for one that must be in and is not there.
    Source: the classes of the relation "kept together", by union and find.
    """
    known = {one.key: one for one in candidates}
    if len(known) < len(candidates):
        raise SelectionRefused("A box is listed twice, so it would count twice.")
    if strangers := sorted(limits.must - known.keys()):
        raise SelectionRefused(
            f"{len(strangers)} objects that must be in have no planned box in this campaign, the first is "
            f"{strangers[0]}. Plan the campaign, or take them off the list."
        )
    leader = {key: key for key in known}

    def find(key: str) -> str:
        while leader[key] != key:
            leader[key] = leader[leader[key]]
            key = leader[key]
        return key

    together = [[key for key in kept if key in known] for kept in limits.sets]
    if limits.whole_locations:
        places: defaultdict[str, list[str]] = defaultdict(list)
        for one in candidates:
            if one.location:
                places[one.location].append(one.key)
        together += places.values()
    for keys in together:
        for key in keys[1:]:
            leader[find(key)] = find(keys[0])
    members: defaultdict[str, list[Candidate]] = defaultdict(list)
    for one in candidates:
        members[find(one.key)].append(one)
    groups = []
    for of_group in members.values():
        own = {one.key for one in of_group}
        musts, nots = own & limits.must, own & limits.must_not
        if musts and nots:
            first, second = known[min(musts)].name, known[min(nots)].name
            raise SelectionRefused(
                f"{first} must be in"
                + (
                    " and must not be in."
                    if first == second
                    else f", but is kept with {second}, which must not."
                )
                + " Take one of the two off its list."
            )
        if not nots:
            groups.append(Group(tuple(of_group), bool(musts)))
    return groups
