"""What is to be given out, to whom it can be given, and what comes of it."""

from collections.abc import Sequence
from dataclasses import dataclass

from housing.core.difficulty import ORDINARY
from objects.core.refusals import Refusal

# Left-over minutes smaller than this are rounding, not time.
LEAST_MINUTES = 1e-6
# Whoever gives less than this in every week has no time for the campaign.
LEAST_WEEK_MINUTES = 1.0

NOBODY = ""  # of fixed_to: to be left to nobody, by hand
NEWCOMER, PRACTISED, EXPERIENCED = "newcomer", "practised", "experienced"


class AssignmentRefused(Refusal):
    """Work cannot be given out as listed; the message says which."""


@dataclass(frozen=True)
class Work:
    """One step of the work on one housing.

    skill: the one it asks for. minutes: how long it should take, 0 or more. priority: "A" first, then "B"
    and "C". location: where the object is; work at one place is given out together. after: keys of the steps
    that must come before, as far as they are still to be done. kept_with: who has begun it, if anybody.
    score: of the object, in points; within a priority the higher one comes first. bundle: works that bear
    the same one, not blank, go to one person in one week. group: what it had better stay together with, in
    words ("of sheet 4"); blank for nothing. fixed_to: whom it was given to by hand, if so; may be NOBODY.
    difficulty: of the form, where the step depends on it. not_before: the first week it can be done in,
    counted from 1; rests: why it has to wait so long, in words; such work is given out last.
    """

    key: str
    skill: str
    minutes: float
    priority: str
    location: str
    is_hazardous: bool = False
    after: tuple[str, ...] = ()
    kept_with: str | None = None
    score: float = 0.0
    bundle: str = ""
    group: str = ""
    fixed_to: str | None = None
    difficulty: str = ORDINARY
    not_before: int = 1
    rests: str = ""


@dataclass(frozen=True)
class Worker:
    """A person with minutes to give each week, skills, and leave to handle hazardous objects or not.

    minutes_per_week: the same in every week, unless minutes_by_week says otherwise: of week 1, 2 and so on,
    whose last one holds for all weeks after. name: for explanations; the key where there is none.
    """

    key: str
    minutes_per_week: float
    skills: frozenset[str]
    may_handle_hazards: bool = False
    minutes_by_week: Sequence[float] = ()
    training: str = PRACTISED
    name: str = ""

    @property
    def weeks(self) -> tuple[float, ...]:
        """Minutes of week 1, 2 and so on; the last one holds for all weeks after."""
        return tuple(self.minutes_by_week) or (self.minutes_per_week,)

    @property
    def has_time(self) -> bool:
        return max(self.weeks) >= LEAST_WEEK_MINUTES

    @property
    def is_newcomer(self) -> bool:
        return self.training == NEWCOMER

    @property
    def called(self) -> str:
        return self.name or self.key


@dataclass(frozen=True)
class Assigned:
    """Who does a step and in which week, counted from 1; worker None where nobody can. reason: a sentence."""

    key: str
    worker_key: str | None
    week: int
    reason: str = ""


@dataclass(frozen=True)
class Schedule:
    """Work given out, beside what no way of giving it out could do better than.

    assigned: one a step, in the order of the work. last_week: in which the last of it ends, 0 where nobody
    has any. least_week: a lower bound of it, for the work that somebody has.
    """

    assigned: tuple[Assigned, ...] = ()
    last_week: int = 0
    least_week: int = 0

    @property
    def gap(self) -> float:
        """How far the last week may be from the best, as a share of the lower bound; 0 where proved best."""
        return self.last_week / self.least_week - 1 if self.least_week else 0.0
