"""What logged minutes say about standard times: drawn toward the prior where jobs are few."""

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

PRIOR_SD = 0.35  # of the logarithm: two of three standard times hold within a factor of 1.4; assumed
BETWEEN_SD = 0.2  # of the logarithm, forms or people around the step as a whole; assumed
JOB_SD = 0.5  # of the logarithm, one job around its own time, until jobs enough tell better; assumed
LEAST_JOBS = 8  # from so many on the jobs' own scatter is used
WIDEST = math.log(8)  # a job eight times as long or as short as planned is a slip of the pen
Z90 = 1.6449


@dataclass(frozen=True)
class Logged:
    """One finished step: form, step, person, standard minutes and those that were logged, above 0 each."""

    form: str
    step: str
    person: str
    standard: float
    spent: float

    @property
    def log_ratio(self) -> float:
        return math.log(self.spent / self.standard)


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


def usable(logged: Sequence[Logged]) -> list[Logged]:
    """Jobs that can be learned from: without those of 0 minutes, or with what must be a slip of the pen."""
    return [one for one in logged if one.standard > 0 and one.spent > 0 and abs(one.log_ratio) <= WIDEST]


def posterior(ratios: Sequence[float], prior: float = 0.0, prior_sd: float = PRIOR_SD) -> Posterior:
    """Weigh a prior with what jobs say, both as normal distributions of the logarithm.

    ratios: logarithms of logged over standard minutes. prior, prior_sd: mean and deviation of the logarithm.
    The variance of one job is that of the jobs where there are LEAST_JOBS or more, else JOB_SD squared.
    Source: normal data with a normal prior: precisions add up, means are weighed by them (Gelman and others,
        Bayesian Data Analysis, section 2.5).
    """
    number = len(ratios)
    if not number:
        spread = Z90 * prior_sd
        return Posterior(
            math.exp(prior), None, math.exp(prior), math.exp(prior - spread), math.exp(prior + spread), 0
        )
    mean = math.fsum(ratios) / number
    variance = JOB_SD**2
    if number >= LEAST_JOBS:
        variance = max(math.fsum((one - mean) ** 2 for one in ratios) / (number - 1), 1e-4)
    weight_data, weight_prior = number / variance, 1 / prior_sd**2
    centre = (weight_data * mean + weight_prior * prior) / (weight_data + weight_prior)
    spread = Z90 / math.sqrt(weight_data + weight_prior)
    return Posterior(
        math.exp(prior), math.exp(mean), math.exp(centre),
        math.exp(centre - spread), math.exp(centre + spread), number,
    )  # fmt: skip


def by_step(logged: Sequence[Logged]) -> dict[str, Posterior]:
    """The factor of each step over all forms, toward 1."""
    groups: defaultdict[str, list[float]] = defaultdict(list)
    for one in usable(logged):
        groups[one.step].append(one.log_ratio)
    return {step: posterior(ratios) for step, ratios in groups.items()}


def by_form(logged: Sequence[Logged]) -> dict[tuple[str, str], Posterior]:
    """The factor of each form and step, toward that of the step over all forms."""
    steps = by_step(logged)
    groups: defaultdict[tuple[str, str], list[float]] = defaultdict(list)
    for one in usable(logged):
        groups[one.form, one.step].append(one.log_ratio)
    return {
        key: posterior(ratios, math.log(steps[key[1]].factor), BETWEEN_SD) for key, ratios in groups.items()
    }


def by_person(logged: Sequence[Logged]) -> dict[str, Posterior]:
    """The factor of each person against what is usual for the forms and steps they worked on, toward 1."""
    usual = by_form(logged)
    groups: defaultdict[str, list[float]] = defaultdict(list)
    for one in usable(logged):
        if one.person:
            groups[one.person].append(one.log_ratio - math.log(usual[one.form, one.step].factor))
    return {person: posterior(ratios, 0.0, BETWEEN_SD) for person, ratios in groups.items()}


def corrections(logged: Sequence[Logged]) -> Mapping[tuple[str, str], float]:
    """Factors as minutes are worked out with: by form and step, and by step alone for forms never made."""
    return {("", step): one.factor for step, one in by_step(logged).items()} | {
        key: one.factor for key, one in by_form(logged).items()
    }


def spoiled_share(prior_share: float, prior_sheets: float, cut: int, spoiled: int) -> float:
    """Share of sheets spoiled, the stated one worth so many sheets of evidence.

    prior_share: 0 to 1. cut, spoiled: sheets cut well, and written off. Returns 0 to 1.
    Source: the mean of a beta distribution after binomial data (Gelman and others, section 2.1).
    """
    return (prior_share * prior_sheets + spoiled) / (prior_sheets + cut + spoiled)
