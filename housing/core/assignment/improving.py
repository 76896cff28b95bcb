"""Local improvement: what ends last moves into room that others, or its own person, have before."""

from collections import defaultdict
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from housing.core.assignment.diary import Booking, Diary
from housing.core.assignment.placing import Placing
from housing.core.assignment.work import LEAST_MINUTES

MOVED = "moved"


@dataclass
class _Search:
    """One improvement under way. looks: how many rooms may still be looked at. made: moves, to be undone."""

    placing: Placing
    looks: int
    at: defaultdict[tuple[str, int], set[int]] = field(default_factory=lambda: defaultdict(set))
    made: list[tuple[int, str, Booking]] = field(default_factory=list)

    def __post_init__(self) -> None:
        for number, booking in enumerate(self.placing.booked):
            if booking is not None:
                self.at[self.placing.of[number] or "", booking.start].add(number)

    def move(self, number: int, diary: Diary, week: int) -> None:
        key, booking = self.placing.take_out(number)
        self.at[key, booking.start].discard(number)
        self.made.append((number, key, booking))
        self._put(number, diary.worker.key, Booking(week, (self.placing.units[number].minutes,)))

    def undo(self, until: int) -> None:
        while len(self.made) > until:
            number, key, booking = self.made.pop()
            now, _ = self.placing.take_out(number)
            self.at[now, self.placing.starts[number]].discard(number)
            self._put(number, key, booking)

    def _put(self, number: int, key: str, booking: Booking) -> None:
        self.placing.place(number, key, booking)
        self.at[key, booking.start].add(number)


def improve(placing: Placing, least: int, looks: int) -> int:
    """End the work earlier, a week at a time, as long as everything in the last week can be moved.

    A unit moves to somebody who may do it and has room in an earlier week, never before what it waits for;
    where there is no room, one other unit may make it by moving to a week before all that waits for it.
    least: stops when the last week is this one. looks: rooms looked at before it gives up; counted, so that
    the same work is always given out alike. Returns the looks left.
    """
    search = _Search(placing, looks)
    while (last := placing.last_week) > least:
        begun = len(search.made)
        late = [number for number in placing.order if placing.ends[number] + 1 == last and placing.of[number]]
        if not all(_bring_forward(search, number, last - 1) for number in late):
            search.undo(begun)
            break
    for number, key, _ in search.made:
        if placing.of[number] != key:
            placing.why[number] = MOVED
    return search.looks


def _bring_forward(search: _Search, number: int, end: int) -> bool:
    """Move a unit to a week before `end`, counted from 0, itself or with one that makes room."""
    placing = search.placing
    booking = placing.booked[number]
    if booking is None or number in placing.over or len(booking.minutes) != 1:
        return False
    weeks = range(placing.earliest(number), end)
    return _into_room(search, number, weeks) or _into_room_made(search, number, weeks)


def _into_room(search: _Search, number: int, weeks: range, but: tuple[str, int] = ("", -1)) -> bool:
    minutes = search.placing.units[number].minutes
    for diary in _who(search.placing, number):
        for week in weeks:
            search.looks -= 1
            if search.looks <= 0:
                return False
            if diary.free(week) + LEAST_MINUTES >= minutes and (diary.worker.key, week) != but:
                search.move(number, diary, week)
                return True
    return False


def _into_room_made(search: _Search, number: int, weeks: range) -> bool:
    placing = search.placing
    minutes = placing.units[number].minutes
    for diary in _who(placing, number):
        key = diary.worker.key
        for week in weeks:
            if diary.room(week) + LEAST_MINUTES < minutes:
                continue
            lacking = minutes - diary.free(week)
            for other in _that_make_room(search, key, week, lacking):
                latest = min((placing.starts[one] for one in placing.units[other].before), default=weeks.stop)
                others = range(placing.earliest(other), min(latest, weeks.stop - 1) + 1)
                if number not in placing.units[other].before and _into_room(
                    search, other, others, (key, week)
                ):
                    search.move(number, diary, week)
                    return True
                if search.looks <= 0:
                    return False
    return False


def _that_make_room(search: _Search, key: str, week: int, lacking: float) -> Iterator[int]:
    """Units of a person's week that are long enough, the shortest first."""
    placing = search.placing
    minutes: Callable[[int], float] = lambda one: placing.units[one].minutes  # noqa: E731
    for other in sorted(search.at[key, week], key=lambda one: (minutes(one), one)):
        booking = placing.booked[other]
        is_movable = booking is not None and len(booking.minutes) == 1 and other not in placing.over
        if is_movable and not placing.units[other].is_begun and minutes(other) + LEAST_MINUTES >= lacking:
            yield other


def _who(placing: Placing, number: int) -> list[Diary]:
    """Who may have a unit, the one who has it first."""
    now = placing.diaries[placing.of[number] or ""]
    unit = placing.units[number]
    if unit.owner is not None:
        return [now]
    return [now, *(diary for diary in placing.able[unit.kind] if diary is not now)]
