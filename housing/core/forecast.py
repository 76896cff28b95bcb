"""When the work will be done, with a range: hours there are, hours still to work, and the pace so far."""

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

TRIALS = 4_000
MOST_WEEKS = 520  # ten years: whatever takes longer has no end worth telling
PACE_SD = 0.25  # of the logarithm of minutes, before any were logged; assumed: two of three within a quarter
JOB_SD = 0.5  # of one job's minutes around the pace, as in what is learned of standard times; assumed
MOST_EVIDENCE = 400  # jobs that count: what moves all of them alike is not averaged away by more; assumed
ATTENDED_SD = 0.15  # of the hours of a week that are really worked; assumed
ATTENDED_WEEKS = 4.0  # weeks of evidence that the plan's own hours count for; assumed
NEVER = math.inf

type Array = NDArray[np.float64]


@dataclass(frozen=True)
class Worker:
    """Somebody with skills and minutes in each week to come; the last value holds for all weeks after."""

    skills: frozenset[str]
    minutes: Sequence[float]


@dataclass(frozen=True)
class Pace:
    """How fast it really goes.

    planned, spent: minutes of the finished jobs with minutes logged; jobs: how many. worked_share: minutes
    worked beside those there were, over weeks_seen weeks. remade, finished: boxes made again, and finished.
    """

    planned: float = 0.0
    spent: float = 0.0
    jobs: int = 0
    worked_share: float = 1.0
    weeks_seen: float = 0.0
    remade: int = 0
    finished: int = 0

    @property
    def factor(self) -> tuple[float, float]:
        """Mean and deviation of the logarithm of minutes spent over minutes planned.

        Source: a normal mean with known variance after normal data (Gelman and others, Bayesian Data
        Analysis, section 2.5), of the logarithm, the sums of minutes standing for their mean.
        """
        if not self.jobs or self.planned <= 0 or self.spent <= 0:
            return 0.0, PACE_SD
        jobs = min(self.jobs, MOST_EVIDENCE)
        weight, prior = jobs / JOB_SD**2, 1 / PACE_SD**2
        return weight * math.log(self.spent / self.planned) / (weight + prior), math.sqrt(
            1 / (weight + prior)
        )

    @property
    def attended(self) -> float:
        """Share of the hours there are that is really worked, the plan's own hours weighing four weeks."""
        seen = max(self.weeks_seen, 0.0)
        return (ATTENDED_WEEKS + min(self.worked_share, 2.0) * seen) / (ATTENDED_WEEKS + seen)

    @property
    def remake_share(self) -> float:
        """Boxes to be made again for each that is finished: two in a hundred before any was; assumed."""
        return (0.02 * 25 + self.remade) / (25 + self.finished)


@dataclass(frozen=True)
class Bottleneck:
    """Skills whose work ends last: minutes to do with them, and minutes in a week that people have for it,
    on average after the first, of which only a part may be left."""

    skills: frozenset[str]
    minutes: float
    weekly: float


@dataclass(frozen=True)
class Forecast:
    """Weeks from now until all is done, as the trials say; infinite where it never is.

    low, middle, high: nine, five and one of ten trials take longer; 2.4 is in the third of the weeks given,
    with four tenths of its minutes worked. late: which skills hold it up.
    """

    low: float
    middle: float
    high: float
    late: Bottleneck | None

    @property
    def ends(self) -> bool:
        return math.isfinite(self.high)


def forecast(
    minutes: Mapping[str, float],
    workers: Sequence[Worker],
    pace: Pace | None = None,
    *,
    trials: int = TRIALS,
    seed: int = 1,
) -> Forecast:
    """Draw how long the open work takes.

    minutes: still to be worked by skill, as planned. workers: who works. pace: what happened so far.
    Raises ValueError for minutes below 0.
    Source: work flows from people to the skills they have, whatever order it comes in; it can be done by the
    end of a week if, and only if, for every set of skills whoever has one of them has had the time for all
    work of that set (D. Gale, A theorem on flows in networks, 1957). That leaves out that a step waits for
    the one before it, which the tasks' own weeks reckon with. Pace, attendance and remakes are drawn.
    """
    asked = {skill: float(value) for skill, value in minutes.items() if value}
    if any(value < 0 for value in asked.values()):
        raise ValueError("Minutes still to be worked cannot be below 0.")
    if not asked:
        return Forecast(0.0, 0.0, 0.0, None)
    pace = pace or Pace()
    mean, deviation = pace.factor
    chance = np.random.default_rng(seed)
    factor = np.exp(chance.normal(mean, deviation, trials)) * (1 + pace.remake_share)
    sets = skill_sets(asked)
    weekly = [_weekly(workers, skills) for skills in sets]
    never = [s for s, one in zip(sets, weekly, strict=True) if not _ever(one, _asked(asked, s))]
    if never:
        skills = never[0]
        return Forecast(NEVER, NEVER, NEVER, Bottleneck(skills, _asked(asked, skills), 0.0))
    weeks = _weeks_needed(asked, sets, weekly, factor.max() / max(pace.attended - 3 * ATTENDED_SD, 0.2))
    attended = np.clip(chance.normal(pace.attended, ATTENDED_SD, (trials, weeks)), 0.0, None)
    ends = np.zeros(trials)
    latest, slowest = -1.0, 0
    for place in may_be_last(
        [_padded(w, weeks) / _asked(asked, s) for s, w in zip(sets, weekly, strict=True)]
    ):
        skills, one = sets[place], weekly[place]
        done = np.cumsum(attended * _padded(one, weeks), axis=1)
        of_set = _reached(done, factor * _asked(asked, skills))
        ends = np.maximum(ends, of_set)
        if (middle := float(np.median(of_set))) > latest:
            latest, slowest = middle, place
    low, middle, high = (float(np.quantile(ends, share)) for share in (0.1, 0.5, 0.9))
    late = sets[slowest]
    at_first = weekly[slowest][1:] if len(weekly[slowest]) > 1 else weekly[slowest]
    at_first = at_first[: max(math.ceil(min(middle, weeks)) - 1, 1)]
    return Forecast(
        low,
        middle,
        high,
        Bottleneck(late, _asked(asked, late), float(np.mean(at_first))),
    )


def weeks_exactly(minutes: Mapping[str, float], workers: Sequence[Worker]) -> float:
    """Weeks that the work takes if all goes as planned, parts of a week as their share; infinite for never.

    The same theorem without chance. Raises nothing; no work takes no time.
    """
    asked = {skill: float(value) for skill, value in minutes.items() if value > 0}
    longest = 0.0
    for skills in skill_sets(asked):
        one = _weekly(workers, skills)
        if not _ever(one, _asked(asked, skills)):
            return NEVER
        weeks = _weeks_needed(asked, [skills], [one], 1.0)
        done = np.cumsum(_padded(one, weeks))[None, :]
        longest = max(longest, float(_reached(done, np.array([_asked(asked, skills)]))[0]))
    return longest


def skill_sets(skills: Collection[str]) -> list[frozenset[str]]:
    """Every set of one or more skills."""
    named = sorted(skills)
    return [frozenset(some) for count in range(1, len(named) + 1) for some in combinations(named, count)]


def _asked(asked: Mapping[str, float], skills: frozenset[str]) -> float:
    return sum(value for skill, value in asked.items() if skill in skills)


def _weekly(workers: Sequence[Worker], skills: frozenset[str]) -> Array:
    """Minutes in each week of whoever has one of some skills; the last value holds for ever after."""
    able = [worker.minutes for worker in workers if worker.skills & skills and len(worker.minutes)]
    longest = max((len(one) for one in able), default=1)
    total = np.zeros(longest)
    for one in able:
        total += np.concatenate([one, np.full(longest - len(one), one[-1])])
    return total


def _ever(weekly: Array, asked: float) -> bool:
    """Whether so many minutes are there at all, be it before the last of them leaves."""
    return bool(weekly[-1] > 0 or weekly.sum() >= asked)


def may_be_last(shares: Sequence[Array]) -> list[int]:
    """Which sets of skills can be the last to end, by place; the others need not be drawn.

    shares: by set and week, minutes there are over minutes asked. A set with no more than another in any week
    ends no sooner, whatever is drawn, since a trial's pace and attendance are the same for both.
    """
    kept: list[int] = []
    for place, share in enumerate(shares):
        if not any(bool((shares[other] <= share).all()) for other in kept):
            kept = [other for other in kept if not bool((share <= shares[other]).all())]
            kept.append(place)
    return kept


def _weeks_needed(
    asked: Mapping[str, float], sets: Sequence[frozenset[str]], weekly: Sequence[Array], slow: float
) -> int:
    """Weeks to look ahead so that even a slow trial ends in them, ten years at most."""
    longest = 1
    for skills, one in zip(sets, weekly, strict=True):
        need = max(_asked(asked, skills) * slow - float(one.sum()), 0.0)
        more = math.ceil(need / float(one[-1])) if one[-1] > 0 else 0
        longest = max(longest, len(one) + more + 1)
    return min(longest, MOST_WEEKS)


def _padded(weekly: Array, weeks: int) -> Array:
    if len(weekly) >= weeks:
        return weekly[:weeks]
    return np.concatenate([weekly, np.full(weeks - len(weekly), weekly[-1])])


def _reached(done: Array, asked: Array) -> Array:
    """When sums over the weeks reach what is asked, a week's own minutes spread evenly over it.

    done: trials × weeks, never falling. Returns weeks, infinite where it is not reached in them.
    """
    trials, weeks = done.shape
    place = (done < asked[:, None] - 1e-9).sum(axis=1)
    inside = np.minimum(place, weeks - 1)
    rows = np.arange(trials)
    before = np.where(inside > 0, done[rows, np.maximum(inside - 1, 0)], 0.0)
    span = done[rows, inside] - before
    share = np.divide(asked - before, span, out=np.zeros(trials), where=span > 0)
    return np.where(place < weeks, inside + np.clip(share, 0.0, 1.0), np.inf)
