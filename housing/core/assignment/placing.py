"""Where units stand while work is given out: who has each, when, and what the diaries hold."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property

from housing.core.assignment.diary import Booking, Diary
from housing.core.assignment.units import Kind, Unit
from housing.core.assignment.work import Worker


@dataclass
class Placing:
    """Units, in `order`, with the diaries of those who have time.

    of: by unit who has it, None for nobody. booked: by unit when; of units nobody has, None. starts, ends:
    by unit the weeks it lies in, counted from 0; of units nobody has, when it could begin. over: units for
    which their owner has no time. why: by unit what decided who has it.
    """

    units: Sequence[Unit]
    order: Sequence[int]
    diaries: dict[str, Diary]
    of: list[str | None] = field(default_factory=list)
    booked: list[Booking | None] = field(default_factory=list)
    starts: list[int] = field(default_factory=list)
    ends: list[int] = field(default_factory=list)
    over: set[int] = field(default_factory=set)
    why: dict[int, str] = field(default_factory=dict)

    @classmethod
    def empty(cls, units: Sequence[Unit], order: Sequence[int], people: Sequence[Worker]) -> "Placing":
        diaries = {person.key: Diary(person) for person in people if person.has_time}
        number = len(units)
        return cls(units, order, diaries, [None] * number, [None] * number, [0] * number, [0] * number)

    def earliest(self, number: int) -> int:
        """The first week a unit can be done in, from where what it waits for stands."""
        unit = self.units[number]
        return max([unit.earliest, *(self.ends[other] for other in unit.after)])

    def place(self, number: int, key: str | None, booking: Booking) -> None:
        """Put a unit into somebody's diary; the key of somebody without one is only kept."""
        self.of[number] = key
        self.starts[number], self.ends[number] = booking.start, booking.end
        if key in self.diaries:
            self.booked[number] = booking
            self.diaries[key].book(booking)

    def take_out(self, number: int) -> tuple[str, Booking]:
        """Undo place(); returns what it was given."""
        key, booking = self.of[number], self.booked[number]
        assert key is not None and booking is not None
        self.diaries[key].cancel(booking)
        self.of[number], self.booked[number] = None, None
        return key, booking

    @property
    def last_week(self) -> int:
        """The week in which the last unit that somebody has ends, counted from 1; 0 for none."""
        return max(
            (end + 1 for end, key in zip(self.ends, self.of, strict=True) if key is not None), default=0
        )

    @cached_property
    def able(self) -> dict[Kind, list[Diary]]:
        """By kind of unit those who have the skills, the leave and some time; owners do not count here.

        What is hard goes to newcomers only where nobody else could do it.
        """
        found = {}
        for kind in {unit.kind for unit in self.units}:
            able = [diary for diary in self.diaries.values() if kind.suits(diary.worker)]
            others = [diary for diary in able if not diary.worker.is_newcomer]
            found[kind] = others if kind.is_hard and others else able
        return found

    @cached_property
    def spare(self) -> dict[Kind, list[Diary]]:
        """By kind the newcomers who are asked only when all who should do it have no time left."""
        return {
            kind: [diary for diary in self.diaries.values() if kind.suits(diary.worker) and diary not in able]
            for kind, able in self.able.items()
        }
