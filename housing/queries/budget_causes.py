"""What each box of a campaign causes of each line of its budget, where records tell more than its facts."""

from collections import defaultdict
from collections.abc import Callable, Collection, Sequence

import numpy as np
from numpy.typing import NDArray

from boards.models import Supply
from housing.core.budget.facts import BoxFacts
from housing.core.budget.lines import BudgetLine, Section
from housing.core.budget.worked import person_of_each
from housing.models import Campaign, PlannedBlank, Task

type Weights = NDArray[np.float64]

# What of a box the usual supply of a kind goes by; a lining and what a form asks for go by their names.
OF_KIND: dict[str, Callable[[BoxFacts], float]] = {
    Supply.Kind.GLUE: lambda box: box.joint_m,
    Supply.Kind.LABEL: lambda box: float(not box.to_measure),
    Supply.Kind.TISSUE: lambda box: box.gap_litres,
    Supply.Kind.BATTING: lambda box: box.gap_litres,
}


def people_of_steps(campaign: Campaign) -> dict[tuple[str, str], str]:
    """Who does, or has done, each step of each box: keys of housing and person as text."""
    rows = (
        Task.objects.filter(housing__campaign=campaign)
        .exclude(person=None)
        .order_by()
        .values_list("housing", "step", "person")
    )
    return {(str(housing), step): str(person) for housing, step, person in rows}


def causes_of(
    campaign: Campaign,
    boxes: Sequence[BoxFacts],
    lines: Sequence[BudgetLine],
    minutes: dict[str, Weights],
    people: dict[tuple[str, str], str],
) -> dict[str, Weights]:
    """By key of a line what each box causes of it: area on its sheets, minutes of its person, its supplies.

    minutes: of each box by step. people: who does which step of which box.
    """
    causes = _areas(campaign, boxes) | _supplies(boxes)
    keys = [box.key for box in boxes]
    for line in lines:
        if line.section is Section.LABOUR and line.target.kind == "person" and line.step in minutes:
            is_hers = person_of_each(keys, line.step, people) == line.target.key
            causes[line.key] = minutes[line.step] * is_hers
    return causes


def _areas(campaign: Campaign, boxes: Sequence[BoxFacts]) -> dict[str, Weights]:
    """Area of each box's blanks on the planned sheets of each size."""
    places = {box.key: place for place, box in enumerate(boxes)}
    areas: defaultdict[str, Weights] = defaultdict(lambda: np.zeros(len(boxes)))
    rows = PlannedBlank.objects.filter(sheet__plan__campaign=campaign, sheet__offcut=None).order_by()
    for size, housing, along_mm, across_mm in rows.values_list(
        "sheet__sheet_size", "blank__housing", "along_mm", "across_mm"
    ):
        if (place := places.get(str(housing))) is not None:
            areas[f"sheet:{size}"][place] += float(along_mm * across_mm)
    return dict(areas)


def _supplies(boxes: Sequence[BoxFacts]) -> dict[str, Weights]:
    """What each box takes of each supply, and of each lining that no supply is listed for."""
    found = list(Supply.objects.order_by("pk"))
    listed = {supply.name.casefold() for supply in found}
    taken = {
        f"supply:{supply.pk}": np.array([_taken(box, supply, listed) for box in boxes], dtype=np.float64)
        for supply in found
    }
    linings = {box.lining for box in boxes if box.lining}
    return taken | {
        f"lining:{name}": np.array([box.lining_m2 * (box.lining == name) for box in boxes], dtype=np.float64)
        for name in linings
    }


def _taken(box: BoxFacts, supply: Supply, listed: Collection[str]) -> float:
    """In a unit of the use it is put to: metres, square metres, litres or pieces."""
    name = supply.name.casefold()
    lining = box.lining_m2 if box.lining.casefold() == name else 0.0
    of_kind = OF_KIND[supply.kind](box) if supply.is_usual and supply.kind in OF_KIND else 0.0
    return (
        lining
        + of_kind
        + sum(
            number * (metres or 1.0)
            for asked, number, metres in box.supplies
            if asked.casefold() == name or (metres and _is_any_tape(asked, supply, listed))
        )
    )


def _is_any_tape(asked: str, supply: Supply, listed: Collection[str]) -> bool:
    """Whether a form asks for a tape that is not listed, so that the usual one is taken."""
    is_usual_tape = supply.is_usual and supply.kind == Supply.Kind.TAPE
    return is_usual_tape and "tape" in asked and asked.casefold() not in listed
