"""What went wrong with boxes that did not fit: counted by cause, and by kind of object and side.

Where boxes for one kind of object are wrong on one side again and again, and by like amounts, the fault lies
not in single boxes but in how they are measured or made. When that is said follows a stated rule.
"""

import math
from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from statistics import NormalDist, fmean, stdev

from objects.core.words import say

Z95 = NormalDist().inv_cdf(0.975)
USUAL_SHARE = 0.1  # so many boxes in ten may be wrong by chance before anybody asks why; assumed
LEAST_LENGTHS = 3  # with fewer amounts their spread says nothing; assumed
# Where Student's t leaves 2.5 % above it, by degrees of freedom; between two rows the upper, more careful one
# holds. Source: the published table of Fisher, Statistical Methods for Research Workers, table IV (1925),
# from memory; the test works each out again by summing the density.
T95 = (
    (1, 12.706), (2, 4.303), (3, 3.182), (4, 2.776), (5, 2.571), (6, 2.447), (7, 2.365), (8, 2.306),
    (9, 2.262), (10, 2.228), (12, 2.179), (15, 2.131), (20, 2.086), (30, 2.042), (60, 2.000), (120, 1.980),
)  # fmt: skip


@dataclass(frozen=True)
class Misfit:
    """One fit check in which something was wrong.

    box: its key. group: the kind of object. cause, side: keys; side "" for none in particular. short_mm: by
    how much the box was too small, below 0 for too large, None where nobody said.
    """

    box: int
    group: str
    cause: str
    side: str = ""
    short_mm: float | None = None


@dataclass(frozen=True)
class Spread:
    """How much boxes were short by, mm. sd: None for fewer than two. number: so many amounts."""

    number: int
    mean_mm: float
    sd_mm: float | None

    @property
    def error_mm(self) -> float | None:
        """The standard error of the mean."""
        return None if self.sd_mm is None else self.sd_mm / math.sqrt(self.number)


@dataclass(frozen=True)
class SideRow:
    """One kind of object and one side. tried: boxes of that kind; misfits: those wrong on that side.

    low, high: where the share lies in 95 of 100 cases. cause: the most frequent one. is_systematic: by the
    rule of is_systematic().
    """

    group: str
    side: str
    tried: int
    misfits: int
    low: float
    high: float
    spread: Spread | None
    cause: str
    is_systematic: bool

    @property
    def share(self) -> float:
        return self.misfits / self.tried


def wilson(found: int, tried: int, z: float = Z95) -> tuple[float, float]:
    """Where a share lies that was found in so many of those tried, as two ratios from 0 to 1.

    Raises ValueError unless 0 <= found <= tried and tried > 0.
    Source: Wilson, Probable inference, the law of succession, and statistical inference, Journal of the
    American Statistical Association 22 (1927), 209-212: the score interval, which stays right for few.
    """
    if not 0 <= found <= tried or not tried:
        raise ValueError(say("{found} of {tried} is no share.", found=found, tried=tried))
    share, z2 = found / tried, z * z
    middle = (share + z2 / (2 * tried)) / (1 + z2 / tried)
    reach = z / (1 + z2 / tried) * math.sqrt(share * (1 - share) / tried + z2 / (4 * tried * tried))
    return max(middle - reach, 0.0), min(middle + reach, 1.0)


def spread_of(lengths_mm: Sequence[float]) -> Spread | None:
    """Mean and spread of some amounts, mm; None for none."""
    if not lengths_mm:
        return None
    sd = stdev(lengths_mm) if len(lengths_mm) > 1 else None
    return Spread(len(lengths_mm), fmean(lengths_mm), sd)


def is_systematic(low: float, spread: Spread | None) -> bool:
    """Whether boxes are wrong on a side by a fault that repeats.

    low: the lower end of wilson(). True when that lies above USUAL_SHARE, and the mean amount is farther from
    0 than t times its standard error, for at least LEAST_LENGTHS amounts: the one-sample t-test at 5 %.
    Source: Student, The probable error of a mean, Biometrika 6 (1908), 1-25. Both thresholds are assumed.
    """
    if spread is None or spread.error_mm is None or spread.number < LEAST_LENGTHS or low <= USUAL_SHARE:
        return False
    return abs(spread.mean_mm) > t95(spread.number - 1) * spread.error_mm


def t95(freedom: int) -> float:
    """Where Student's t leaves 2.5 % above it, for degrees of freedom from 1 on; never too small."""
    return next(t for least, t in reversed(T95) if freedom >= least)


def by_side(tried: Iterable[tuple[int, str]], misfits: Collection[Misfit]) -> list[SideRow]:
    """Each kind of object and side on which something was wrong, systematic ones and larger shares first.

    tried: (box, kind of object) of every box that was tried; one tried several times counts once. misfits:
    of these, in the order of time; of several of one box on one side the last tells the amount.
    """
    number = Counter(dict(tried).values())
    of_side: defaultdict[tuple[str, str], dict[int, Misfit]] = defaultdict(dict)
    for one in misfits:
        if one.side:
            of_side[one.group, one.side][one.box] = one
    rows = [_row(group, side, number[group], list(of.values())) for (group, side), of in of_side.items()]
    return sorted(rows, key=lambda row: (not row.is_systematic, -row.low, row.group, row.side))


def _row(group: str, side: str, tried: int, misfits: Sequence[Misfit]) -> SideRow:
    low, high = wilson(len(misfits), tried)
    spread = spread_of([one.short_mm for one in misfits if one.short_mm is not None])
    cause, _ = Counter(one.cause for one in misfits).most_common(1)[0]
    return SideRow(group, side, tried, len(misfits), low, high, spread, cause, is_systematic(low, spread))
