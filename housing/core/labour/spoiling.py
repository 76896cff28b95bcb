"""What sheets that were cut and written off say about the share that is spoiled."""

from dataclasses import dataclass

import numpy as np

PRIOR_SHEETS = 100.0  # so many good sheets' worth of evidence the stated share counts; assumed
GRID = 20_001
LOW, HIGH = 0.05, 0.95


@dataclass(frozen=True)
class Spoiling:
    """Sheets spoiled on top of each good one. low, high: where it lies in nine cases of ten."""

    share: float
    low: float
    high: float


def spoiling(stated: float, cut: int, spoiled: int, worth: float = PRIOR_SHEETS) -> Spoiling:
    """Weigh the stated share with what happened.

    stated: sheets spoiled for each good one, 0 to 1; counts as `worth` good sheets. cut, spoiled: sheets cut
    for good, and written off. Returns shares of the good ones; where nothing was stated or spoiled, 0.
    Source: a beta distribution after binomial data (Gelman and others, Bayesian Data Analysis, section 2.4);
    the chance of a sheet being spoiled told as its odds, since what is bought on top of a good one is asked.
    """
    bad, good = stated * worth + spoiled, worth + cut
    if not bad:
        return Spoiling(0.0, 0.0, 0.0)
    low, high = (chance / (1 - chance) for chance in _beta_quantiles(bad, good))
    return Spoiling(bad / good, low, high)


def _beta_quantiles(a: float, b: float) -> tuple[float, float]:
    """Where a beta distribution reaches LOW and HIGH: its density summed over a grid of the logit.

    a, b above 0; the grid spans ten deviations of the logit on each side, whose variance is at most
    1/a + 1/b + 1/a² + 1/b². Source: numeric integration; checked against tables in test_spoiling.py.
    """
    centre, reach = np.log(a / b), 10 * np.sqrt(1 / a + 1 / b + 1 / a**2 + 1 / b**2)
    logit = np.linspace(centre - reach, centre + reach, GRID)
    # density of the logit, up to a constant: p^a (1 - p)^b
    log_density = -a * np.logaddexp(0, -logit) - b * np.logaddexp(0, logit)
    density = np.exp(log_density - log_density.max())
    summed = np.cumsum(density) - density / 2
    at = np.interp([LOW, HIGH], summed / density.sum(), logit)
    low, high = 1 / (1 + np.exp(-at))
    return float(low), float(high)
