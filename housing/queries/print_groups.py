"""Boxes to print by what each file of a ZIP is of: a box, the place its objects are kept, who cuts it."""

from collections.abc import Iterable, Sequence
from itertools import batched

from housing.models import HousedObject, Task
from housing.models.housings import Housing
from objects.core.words import say

BOX, LOCATION, PERSON = "box", "location", "person"
AT_ONCE = 500  # keys in one query; SQLite takes some 32,000, PostgreSQL more


def boxes_by(what: str, boxes: Sequence[int]) -> dict[str, list[int]]:
    """Keys of boxes by the name of their file, in the order in which the first of each comes.

    what: BOX for a file each, LOCATION for one a place, PERSON for one for whoever cuts the blanks, or has
    the first step of a box that is not cut.
    """
    names = {BOX: _names_of_boxes, LOCATION: _names_of_places, PERSON: _names_of_people}[what](boxes)
    groups: dict[str, list[int]] = {}
    for box in boxes:
        if box in names:
            groups.setdefault(names[box], []).append(box)
    return groups


def _names_of_boxes(boxes: Iterable[int]) -> dict[int, str]:
    numbers = {box: f"{Housing(pk=box).box_number} {number}" for box, number, _ in _first_objects(boxes)}
    return numbers


def _names_of_places(boxes: Iterable[int]) -> dict[int, str]:
    return {box: path or say("no location") for box, _, path in _first_objects(boxes)}


def _names_of_people(boxes: Iterable[int]) -> dict[int, str]:
    names = dict.fromkeys((box for box, _, _ in _first_objects(boxes)), say("nobody yet"))
    steps = ("housing", "person__name")
    for some in batched(boxes, AT_ONCE):
        of_boxes = Task.objects.filter(housing__in=some, person__isnull=False)
        # the last to be written counts: the first step of all, and above it that of cutting
        names |= dict(of_boxes.order_by("-sequence").values_list(*steps))
        names |= dict(of_boxes.filter(step=Task.Step.CUT).values_list(*steps))
    return names


def _first_objects(boxes: Iterable[int]) -> Iterable[tuple[int, str, str | None]]:
    """Each box with the number and the place of the first object in it."""
    found: dict[int, tuple[int, str, str | None]] = {}
    for some in batched(boxes, AT_ONCE):
        ties = HousedObject.objects.filter(housing__in=some, is_live=True).order_by("-position")
        for row in ties.values_list("housing", "object__number", "object__location__path"):
            found[row[0]] = row
    return [found[box] for box in boxes if box in found]
