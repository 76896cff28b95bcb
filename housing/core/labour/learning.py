"""Learning: how the time of a box falls as more of its form are made."""

import math
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from objects.core.refusals import Refusal


class LearningRefused(Refusal):
    """A learning curve cannot be drawn from what was given; the message says which part."""


class Model(StrEnum):
    """What falls by a constant share with each doubling: nothing, a box's time, or the average."""

    NONE = "none"
    UNIT = "unit"
    AVERAGE = "average"


def exponent(rate: float) -> float:
    """The b of n^b. rate: share of the time left after doubling, 0.5 to 1. Returns log2(rate), 0 or less.

    Raises LearningRefused for any other rate.
    Source: Wright, Factors affecting the cost of airplanes, Journal of the Aeronautical Sciences 3, 1936.
    """
    if not 0.5 <= rate <= 1:
        raise LearningRefused(
            f"A learning rate of {rate:g} is not between 0.5 and 1, so nobody learns like that."
        )
    return math.log2(rate)


def unit_factors(numbers: NDArray[np.int64], rate: float, model: Model) -> NDArray[np.float64]:
    """Time of single boxes as multiples of the first one's.

    numbers: which boxes, counted from 1, any shape. rate: as for exponent(). Returns factors, the same shape.
    The unit model (Crawford) gives n^b; of the average model (Wright) a box takes what it adds to the total,
    n^(1+b) - (n-1)^(1+b).
    Raises LearningRefused for a number below 1.
    Source: Wright 1936, as above, for the average; the unit form as textbooks of cost estimating give it.
    """
    n = np.asarray(numbers, dtype=np.float64)
    if n.size and n.min() < 1:
        raise LearningRefused("Boxes are counted from 1.")
    if model is Model.NONE:
        return np.ones_like(n)
    b = exponent(rate)
    if model is Model.UNIT:
        return np.asarray(n**b)
    before = np.where(n > 1, np.maximum(n - 1, 1) ** (1 + b), 0.0)  # nothing before the first, at any rate
    return np.asarray(n ** (1 + b) - before)


def total_factor(number: int, rate: float, model: Model) -> float:
    """Time of the first so many boxes together, as a multiple of the first one's.

    number: 0 or more. Source: sums of unit_factors(); n^(1+b) of the average model, exactly.
    """
    if model is Model.AVERAGE and number:
        return float(number ** (1 + exponent(rate)))
    return float(unit_factors(np.arange(1, number + 1), rate, model).sum())
