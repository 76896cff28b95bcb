"""Three-point figures: at best, most likely, at worst, as PERT reads them."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from objects.core.refusals import Refusal

TABLE_SIZE = 4096  # equally likely values that stand for a distribution where millions are drawn


class RangeRefused(Refusal):
    """Three figures are no range; the message says why."""


@dataclass(frozen=True)
class ThreePoint:
    """A figure at best (low), most likely and at worst (high), in one unit.

    Raises RangeRefused unless low <= likely <= high.
    Source: mean (a + 4m + b) / 6 and standard deviation (b - a) / 6, the usual reading of PERT (Malcolm,
        Roseboom, Clark and Fazar, Operations Research 7, 1959).
    """

    low: float
    likely: float
    high: float

    def __post_init__(self) -> None:
        if not self.low <= self.likely <= self.high:
            raise RangeRefused(
                f"{self.low:g}, {self.likely:g} and {self.high:g} are not in order: low, likely, high."
            )

    @property
    def mean(self) -> float:
        return (self.low + 4 * self.likely + self.high) / 6

    @property
    def is_certain(self) -> bool:
        return self.low == self.high

    @property
    def shapes(self) -> tuple[float, float]:
        """Shapes of the beta distribution between low and high with mean() and mode `likely`.

        Source: beta-PERT: 1 + 4 (m - a)/(b - a) and 1 + 4 (b - m)/(b - a), Vose, Risk Analysis, 2008.
        """
        width = self.high - self.low
        return 1 + 4 * (self.likely - self.low) / width, 1 + 4 * (self.high - self.likely) / width

    @property
    def variance(self) -> float:
        """Of the beta-PERT that is drawn from, (mean - low)(high - mean) / 7."""
        return (self.mean - self.low) * (self.high - self.mean) / 7

    @property
    def pert_variance(self) -> float:
        """((b - a) / 6)^2, what PERT itself takes; equal to variance only for some ranges."""
        return ((self.high - self.low) / 6) ** 2

    def draw(self, rng: np.random.Generator, number: int) -> NDArray[np.float64]:
        """So many independent values. Source: numpy's beta generator, stretched."""
        if self.is_certain:
            return np.full(number, self.likely)
        a, b = self.shapes
        return self.low + (self.high - self.low) * rng.beta(a, b, number)

    def table(self) -> NDArray[np.float64]:
        """TABLE_SIZE values, all equally likely, with the exact mean and variance of the distribution.

        They are the quantiles in the middles of equal slices, found by adding up the density at fine
        steps, then stretched by the little that mean and variance lack.
        """
        if self.is_certain:
            return np.full(TABLE_SIZE, self.likely)
        a, b = self.shapes
        edges = np.linspace(0, 1, 1 << 17)
        middles = (edges[1:] + edges[:-1]) / 2
        density = middles ** (a - 1) * (1 - middles) ** (b - 1)
        cumulative = np.concatenate(([0.0], np.cumsum(density)))
        at = (np.arange(TABLE_SIZE) + 0.5) / TABLE_SIZE
        values = self.low + (self.high - self.low) * np.interp(at, cumulative / cumulative[-1], edges)
        scale = (self.variance / values.var()) ** 0.5
        return np.asarray(self.mean + (values - values.mean()) * scale)
