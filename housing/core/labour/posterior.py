"""What logged minutes say about standard times: drawn toward the prior where jobs are few.

Each form's own factor on a step is spread around that of the step, which is spread around 1; logged minutes
are spread around what the form's factor makes of the standard time. All three are normal distributions of
the logarithm. Factors are of sums of minutes, not of typical jobs, so that what is planned adds up to what is
logged even where few jobs take much longer than most.
"""

import math
from collections import defaultdict
from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass

PRIOR_SD = 0.35  # of the logarithm: two of three standard times hold within a factor of 1.4; assumed
BETWEEN_SD = 0.2  # of the logarithm, forms or people around the step as a whole; assumed
JOB_SD = 0.5  # one job around its own time, as a share of it, before any was logged; assumed
JOB_WORTH = 8  # so many jobs of evidence JOB_SD counts for; assumed
WIDEST = math.log(8)  # a job eight times as long or as short as planned is a slip of the pen
Z90 = 1.6449


@dataclass(frozen=True)
class Logged:
    """One finished step: form, step, person, minutes it should have taken and those that were logged.

    standard: by the standard times, with what learning makes of them. Both above 0.
    """

    form: str
    step: str
    person: str
    standard: float
    spent: float

    @property
    def log_ratio(self) -> float:
        return math.log(self.spent / self.standard)


@dataclass(frozen=True)
class Estimate:
    """A logarithm that is not known exactly: mean and variance of a normal distribution."""

    mean: float
    variance: float


@dataclass(frozen=True)
class Posterior:
    """A factor on standard times. prior, data, factor: before, of the jobs alone, and both weighed.

    low, high: where the factor lies in nine cases of ten. jobs: how many there were.
    """

    prior: float
    data: float | None
    factor: float
    low: float
    high: float
    jobs: int


def usable(logged: Iterable[Logged]) -> list[Logged]:
    """Jobs that can be learned from: without those of 0 minutes, or with what must be a slip of the pen."""
    return [one for one in logged if one.standard > 0 and one.spent > 0 and abs(one.log_ratio) <= WIDEST]


def weigh(prior: Estimate, data: Estimate) -> Estimate:
    """A prior and what was observed, both normal: precisions add up, means are weighed by them.

    Source: Gelman and others, Bayesian Data Analysis, section 2.5.
    """
    precision = 1 / prior.variance + 1 / data.variance
    mean = (prior.mean / prior.variance + data.mean / data.variance) / precision
    return Estimate(mean, 1 / precision)


def pooled(groups: Iterable[Estimate], between_sd: float) -> Estimate:
    """What groups say together about the centre they are spread around.

    groups: one or more, each with the variance of its own figure. between_sd: of the groups around the
    centre. Source: Gelman and others, Bayesian Data Analysis, section 5.4, means weighed by the inverse of
    own and common variance.
    """
    weights = [(1 / (between_sd**2 + group.variance), group.mean) for group in groups]
    precision = math.fsum(weight for weight, _ in weights)
    return Estimate(math.fsum(weight * mean for weight, mean in weights) / precision, 1 / precision)


def drawn_in(group: Estimate, centre: Estimate, between_sd: float) -> Estimate:
    """A group's own figure, drawn toward a centre that is itself not known exactly.

    centre: as all groups, this one among them, say. Source: as pooled(), the distribution of a group for a
    given centre, averaged over the centre.
    """
    own = 1 / (1 / group.variance + 1 / between_sd**2)
    pull = own / between_sd**2
    mean = (1 - pull) * group.mean + pull * centre.mean
    return Estimate(mean, own + pull**2 * centre.variance)


def data_of(jobs: Sequence[Logged]) -> Estimate:
    """The logarithm of all logged minutes over all standard minutes of one or more jobs, and its variance.

    Source: the ratio of two sums, its relative variance that of one job times the sum of squared shares
    (delta method); the variance of a job is that of the jobs, drawn toward JOB_SD² as JOB_WORTH jobs more
    would (Gelman and others, section 2.6, scaled inverse chi-square).
    """
    standard = math.fsum(job.standard for job in jobs)
    ratio = math.fsum(job.spent for job in jobs) / standard
    scatter = math.fsum((job.spent / job.standard / ratio - 1) ** 2 for job in jobs)
    of_one = (JOB_WORTH * JOB_SD**2 + scatter) / (JOB_WORTH + len(jobs) - 1)
    return Estimate(math.log(ratio), of_one * math.fsum((job.standard / standard) ** 2 for job in jobs))


def by_step(logged: Sequence[Logged]) -> dict[str, Posterior]:
    """The factor of each step over all forms, toward 1."""
    return {
        step: _told(Estimate(0, PRIOR_SD**2), *_centre(forms.values()), sum(map(len, forms.values())))
        for step, forms in _by_step_and_form(logged).items()
    }


def by_form(logged: Sequence[Logged]) -> dict[tuple[str, str], Posterior]:
    """The factor of each form and step, toward that of the step over all forms."""
    found = {}
    for step, forms in _by_step_and_form(logged).items():
        _, centre = _centre(forms.values())
        for form, jobs in forms.items():
            data = data_of(jobs)
            found[form, step] = _told(centre, data, drawn_in(data, centre, BETWEEN_SD), len(jobs))
    return found


def by_person(logged: Sequence[Logged]) -> dict[str, Posterior]:
    """The factor of each person against what is usual for the forms and steps they worked on, toward 1."""
    usual, prior = by_form(logged), Estimate(0, BETWEEN_SD**2)
    jobs_of = _grouped((job.person, job) for job in usable(logged) if job.person)
    found = {}
    for person, jobs in jobs_of.items():
        data = data_of(
            [
                Logged(job.form, job.step, person, job.standard * usual[job.form, job.step].factor, job.spent)
                for job in jobs
            ]
        )
        found[person] = _told(prior, data, weigh(prior, data), len(jobs))
    return found


def corrections(logged: Sequence[Logged]) -> Mapping[tuple[str, str], float]:
    """Factors as minutes are worked out with: by form and step, and by step alone for forms never made."""
    return {("", step): one.factor for step, one in by_step(logged).items()} | {
        key: one.factor for key, one in by_form(logged).items()
    }


def _centre(forms: Iterable[Sequence[Logged]]) -> tuple[Estimate, Estimate]:
    """Of a step: what its forms say together, and that weighed with the prior."""
    data = pooled([data_of(jobs) for jobs in forms], BETWEEN_SD)
    return data, weigh(Estimate(0, PRIOR_SD**2), data)


def _by_step_and_form(logged: Sequence[Logged]) -> dict[str, dict[str, list[Logged]]]:
    of_step = _grouped((job.step, job) for job in usable(logged))
    return {step: _grouped((job.form, job) for job in jobs) for step, jobs in of_step.items()}


def _grouped[Key: Hashable](pairs: Iterable[tuple[Key, Logged]]) -> dict[Key, list[Logged]]:
    groups: defaultdict[Key, list[Logged]] = defaultdict(list)
    for key, job in pairs:
        groups[key].append(job)
    return dict(groups)


def _told(prior: Estimate, data: Estimate, found: Estimate, jobs: int) -> Posterior:
    spread = Z90 * math.sqrt(found.variance)
    return Posterior(
        math.exp(prior.mean), math.exp(data.mean), math.exp(found.mean),
        math.exp(found.mean - spread), math.exp(found.mean + spread), jobs,
    )  # fmt: skip
