"""A person's weeks as they fill up."""

from bisect import bisect_left
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import accumulate
from math import ceil, inf

from housing.core.assignment.work import LEAST_MINUTES, Worker


@dataclass(frozen=True)
class Booking:
    """Minutes booked from a week on, counted from 0: so many in it and in each week after."""

    start: int
    minutes: tuple[float, ...]

    @property
    def end(self) -> int:
        return self.start + len(self.minutes) - 1


class Diary:
    """A worker's weeks, counted from 0. load: minutes booked in all. used: minutes booked by week."""

    def __init__(self, worker: Worker) -> None:
        self.worker = worker
        self.load = 0.0
        self.used: list[float] = []
        self._rooms = [max(minutes, 0.0) for minutes in worker.weeks]
        self._steady = self._rooms[-1]
        self._sums = list(accumulate(self._rooms))
        # the longest week from each one on
        self._longest = list(accumulate(reversed(self._rooms), max))[::-1]
        self._first_open = 0

    def room(self, week: int) -> float:
        """Minutes that the person has in a week."""
        return self._rooms[week] if week < len(self._rooms) else self._steady

    def free(self, week: int) -> float:
        """Minutes of a week that are not booked."""
        return self.room(week) - (self.used[week] if week < len(self.used) else 0.0)

    def until(self, weeks: float) -> float:
        """Minutes that the person has in so many weeks from the first on, parts of a week evenly."""
        whole = int(weeks)
        known = self._sums[min(whole, len(self._sums)) - 1] if whole else 0.0
        return known + max(whole - len(self._sums), 0) * self._steady + (weeks - whole) * self.room(whole)

    def weeks_for(self, minutes: float) -> float:
        """Weeks that so many minutes fill from the first on, without gaps; infinite if there are too few."""
        if minutes <= self._sums[-1] + LEAST_MINUTES:
            week = min(bisect_left(self._sums, minutes - LEAST_MINUTES), len(self._sums) - 1)
            before = self._sums[week] - self._rooms[week]
            return week + (max(minutes - before, 0.0) / self._rooms[week] if self._rooms[week] else 0.0)
        return len(self._rooms) + (minutes - self._sums[-1]) / self._steady if self._steady else inf

    def least_end(self, earliest: int, minutes: float) -> float:
        """The first week by whose end so many minutes from a week on are there, however they are split."""
        if minutes <= LEAST_MINUTES:
            return earliest
        weeks = self.weeks_for(self.until(earliest) + minutes - LEAST_MINUTES)
        return max(ceil(weeks - 1e-9) - 1, earliest) if weeks < inf else inf

    def find(self, minutes: float, earliest: int, shortest: float) -> Booking | None:
        """The first room for a step from a week on; None where there is none in any week.

        A step longer than any week to come starts in an empty one and runs on. shortest: no step is shorter;
        only makes it faster.
        """
        while self._first_open < len(self.used) and (self.free(self._first_open) < shortest - LEAST_MINUTES):
            self._first_open += 1
        week = max(earliest, self._first_open) if minutes >= shortest else earliest
        end = max(len(self.used), len(self._rooms), earliest) + 1
        while week < end:
            if minutes <= self.free(week) + LEAST_MINUTES:
                return Booking(week, (minutes,))
            longest = self._longest[week] if week < len(self._longest) else self._steady
            if longest <= 0:
                return None
            is_empty = self.room(week) > 0 and self.free(week) >= self.room(week) - LEAST_MINUTES
            if is_empty and minutes > longest + LEAST_MINUTES:
                return self._run_on(minutes, week)
            week += 1
        return None

    def _run_on(self, minutes: float, start: int) -> Booking | None:
        parts: list[float] = []
        week = start
        while minutes > LEAST_MINUTES:
            if week >= max(len(self._rooms), len(self.used)) and self._steady <= 0:
                return None
            parts.append(min(max(self.free(week), 0.0), minutes))
            minutes -= parts[-1]
            week += 1
        return Booking(start, tuple(parts))

    def over(self, minutes: float, earliest: int) -> Booking:
        """More than there is room for: in the last week, from one on, in which the person is there at all."""
        there = [week for week in range(earliest, len(self._rooms)) if self._rooms[week] > 0]
        return Booking(there[-1] if there else earliest, (minutes,))

    def book(self, booking: Booking) -> None:
        self._add(enumerate(booking.minutes, booking.start), 1)

    def cancel(self, booking: Booking) -> None:
        self._add(enumerate(booking.minutes, booking.start), -1)
        self._first_open = min(self._first_open, booking.start)

    def _add(self, parts: Iterable[tuple[int, float]], sign: int) -> None:
        for week, minutes in parts:
            self.used.extend([0.0] * (week + 1 - len(self.used)))
            self.used[week] += sign * minutes
            self.load += sign * minutes
