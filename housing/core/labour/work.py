"""Minutes of every element of every box: standard times, batches of alike blanks, learning and the log."""

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from housing.core.budget.facts import BoxFacts
from housing.core.labour.allowances import AllowanceOf, allowance_factor
from housing.core.labour.elements import ELEMENTS, SHIPPED, Driver, Element, Minutes
from housing.core.labour.learning import Model, unit_factors
from housing.core.steps import GLUE, LID, STEPS

COLUMN = {element: column for column, element in enumerate(ELEMENTS)}
# Making a box is what people get quicker at; the way to the shelf and back stays as long as it is.
LEARNED = tuple(COLUMN[e] for e in ELEMENTS if e not in (Element.MEASURE, Element.FETCH, Element.RETURN))

type Array = NDArray[np.float64]


@dataclass(frozen=True)
class StandardTimes:
    """Standard times for one of each element's driver.

    everywhere: by element, where it differs from what is shipped. of_design: by design and element.
    """

    everywhere: Mapping[Element, Minutes] = field(default_factory=dict)
    of_design: Mapping[tuple[str, Element], Minutes] = field(default_factory=dict)

    def of(self, element: Element, design: str = "") -> Minutes:
        """The time that holds for a design: its own, else the one for every design, else the shipped one."""
        return (
            self.of_design.get((design, element)) or self.everywhere.get(element) or SHIPPED[element].minutes
        )


@dataclass(frozen=True)
class WorkTerms:
    """What changes standard times.

    allowance_share, allowance_of: for rest. alike_share: time to mark out a blank like the one before, as a
    share of the first one's. learning, learning_rate, learning_rates (by form): see learning.py;
    learning_reference: number of the box of a form that takes the standard time; made_before: boxes of a form
    made already. corrections: by form and step, or by step alone with form "", what logged minutes say.
    """

    allowance_share: float = 0.0
    allowance_of: AllowanceOf = AllowanceOf.WORK
    alike_share: float = 1.0
    learning: Model = Model.NONE
    learning_rate: float = 1.0
    learning_rates: Mapping[str, float] = field(default_factory=dict)
    learning_reference: int = 1
    made_before: Mapping[str, int] = field(default_factory=dict)
    corrections: Mapping[tuple[str, str], float] = field(default_factory=dict)


def standard_minutes(boxes: Sequence[BoxFacts], times: StandardTimes, terms: WorkTerms) -> Array:
    """Minutes by the standard times alone: what is counted times its time, alike blanks and rest reckoned in.

    Returns boxes × ELEMENTS. Source: multiplication; worked by hand in test_work.py.
    """
    counted = np.array([_counts(box) for box in boxes], dtype=np.float64).reshape(len(boxes), len(ELEMENTS))
    counted[:, COLUMN[Element.MARK_OUT]] *= _marking_shares(boxes, terms.alike_share)
    designs = sorted({box.design for box in boxes})
    rows = {design: row for row, design in enumerate(designs)}
    each = np.array(
        [[times.of(e, design).likely for e in ELEMENTS] for design in designs] or [[0.0] * len(ELEMENTS)]
    )
    of_box = each[[rows[box.design] for box in boxes]] if boxes else each[:0]
    return np.asarray(counted * of_box * allowance_factor(terms.allowance_share, terms.allowance_of))


def work_minutes(boxes: Sequence[BoxFacts], times: StandardTimes, terms: WorkTerms) -> Array:
    """Minutes to be planned: the standard ones with learning and with what the log says.

    boxes: in the order in which they are made. Returns boxes × ELEMENTS, minutes.
    Raises LearningRefused, AllowanceRefused for shares that are none.
    Source: learning as learning.py says, the standard time holding for box `learning_reference` of a form.
    """
    minutes = standard_minutes(boxes, times, terms)
    minutes[:, LEARNED] *= learning_factors(boxes, terms)[:, None]
    return np.asarray(minutes * _corrections(boxes, terms.corrections))


def learning_factors(boxes: Sequence[BoxFacts], terms: WorkTerms) -> Array:
    """What learning multiplies the standard time of each box by; boxes bought ready-made are not counted."""
    if terms.learning is Model.NONE:
        return np.ones(len(boxes))
    places: defaultdict[str, list[int]] = defaultdict(list)
    for place, box in enumerate(boxes):
        if not box.ready_made:
            places[box.form].append(place)
    factors = np.ones(len(boxes))
    for form, of_form in places.items():
        rate = terms.learning_rates.get(form, terms.learning_rate)
        before = terms.made_before.get(form, 0)
        numbers = np.arange(before + 1, before + len(of_form) + 1)
        reference = unit_factors(np.array([terms.learning_reference]), rate, terms.learning)[0]
        factors[of_form] = unit_factors(numbers, rate, terms.learning) / reference
    return factors


def by_step(boxes: Sequence[BoxFacts], minutes: Array) -> dict[str, Array]:
    """Minutes of each box by step of the work. minutes: boxes × ELEMENTS.

    Folding and gluing are shared between the lid and the rest as their folds and joints are.
    """
    steps = {
        step: minutes[:, [COLUMN[e] for e in ELEMENTS if SHIPPED[e].step == step]].sum(axis=1)
        for step in STEPS
    }
    of_lid = np.zeros(len(boxes))
    for element, counted, all_of in (
        (Element.FOLD, [box.lid_folds for box in boxes], [box.folds for box in boxes]),
        (Element.GLUE, [box.lid_joints for box in boxes], [box.joints for box in boxes]),
    ):
        shares = np.array(counted, dtype=np.float64) / np.maximum(np.array(all_of, dtype=np.float64), 1.0)
        of_lid += minutes[:, COLUMN[element]] * shares
    return steps | {GLUE: steps[GLUE] - of_lid, LID: of_lid}


def _counts(box: BoxFacts) -> list[float]:
    """How many of each element's driver a box has. A bought one is only fetched, lined and fitted."""
    made = 0.0 if box.ready_made else 1.0
    counts = {
        Driver.BOX: 1.0,
        Driver.OBJECT: float(box.objects),
        Driver.BLANK: made * box.blanks,
        Driver.CUT_METRE: made * box.cut_m,
        Driver.SCORE_METRE: made * box.score_m,
        Driver.FOLD: made * box.folds,
        Driver.JOINT: made * box.joints,
        Driver.LINING: box.lining_m2,
    }
    measured = float(box.objects) if box.to_measure else 0.0
    return [measured if e is Element.MEASURE else counts[SHIPPED[e].driver] for e in ELEMENTS]


def _marking_shares(boxes: Sequence[BoxFacts], alike_share: float) -> Array:
    """What marking out a box's blanks takes of its full time: all of it for the first of its like."""
    seen: Counter[str] = Counter()
    shares = np.ones(len(boxes))
    for place, box in enumerate(boxes):
        if box.alike and not box.ready_made:
            if seen[box.alike]:
                shares[place] = alike_share
            seen[box.alike] += 1
    return shares


def _corrections(boxes: Sequence[BoxFacts], corrections: Mapping[tuple[str, str], float]) -> Array:
    """What the log multiplies each element of each box by: what is known of its form, else of any form."""
    forms = sorted({box.form for box in boxes})
    rows = {form: row for row, form in enumerate(forms)}
    table = np.array(
        [
            [corrections.get((form, step), corrections.get(("", step), 1.0)) for step in _STEP_OF_COLUMN]
            for form in forms
        ]
    ).reshape(len(forms), len(ELEMENTS))
    return table[[rows[box.form] for box in boxes]] if boxes else np.ones((0, len(ELEMENTS)))


_STEP_OF_COLUMN = tuple(SHIPPED[element].step for element in ELEMENTS)
