"""Whose hours they are: the minutes of boxes by step, added up by whoever does that step of that box."""

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

type Minutes = NDArray[np.float64]
NOBODY = ""  # of a step that nobody has yet
MINUTES_PER_HOUR = 60


def person_of_each(
    keys: Sequence[str], step: str, people: Mapping[tuple[str, str], str]
) -> NDArray[np.object_]:
    """Who does a step of each box; NOBODY where it is not said. people: by box and step."""
    return np.array([people.get((key, step), NOBODY) for key in keys], dtype=object)


def hours_by_person(
    keys: Sequence[str], minutes: Mapping[str, Minutes], people: Mapping[tuple[str, str], str]
) -> dict[tuple[str, str], float]:
    """Hours by person and step, in the order of the steps and then of the names; those of 0 left out.

    keys: of boxes. minutes: of each box by step. people: who does a step of a box.
    """
    hours: dict[tuple[str, str], float] = {}
    for step, of_boxes in minutes.items():
        names, group = np.unique(person_of_each(keys, step, people), return_inverse=True)
        sums = np.bincount(group, weights=of_boxes, minlength=len(names))
        for name, total in zip(names, sums, strict=True):
            if total:
                hours[str(name), step] = float(total) / MINUTES_PER_HOUR
    return hours
