"""Who would do the work of a scenario, and in which week it would end; no task is made or changed."""

from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from django.utils import timezone
from numpy.typing import NDArray

from housing.core.assignment import Work, Worker, assign
from housing.core.budget.facts import BoxFacts
from housing.core.difficulty import ORDINARY, difficulty
from housing.core.scenarios import Differences
from housing.core.steps import SKILL_OF_STEP, STEPS, waits_for
from housing.models import Campaign, Housing, Person, Task
from housing.queries.giving_out import first_day_of_work, taking_part
from housing.queries.giving_out import workers_of as usual_workers
from housing.queries.open_work import BY_FORM

State = Task.State


@dataclass(frozen=True)
class GivenOut:
    """people: who does a step of a box, by key of the box and step. last_week: counted from 1, 0 for no work.

    nobody: why some steps have nobody, each reason with how many steps.
    """

    people: dict[tuple[str, str], str] = field(default_factory=dict)
    last_week: int = 0
    nobody: dict[str, int] = field(default_factory=dict)


def workers_of(campaign: Campaign, differences: Differences) -> list[Worker]:
    """The people who take part, with the hours that the scenario gives them and their days away."""
    people = {person.pk: person for person in taking_part(campaign)}
    others = [pk for pk, hours in differences.people.items() if hours and pk not in people]
    people |= Person.objects.filter(is_active=True).in_bulk(others)
    for pk, hours in differences.people.items():
        if pk in people:
            people[pk].hours_per_week = hours  # not stored
    there = [person for person in people.values() if differences.people.get(person.pk) != 0]
    return usual_workers(there, first_day_of_work(campaign, timezone.localdate()))


def give_out(
    campaign: Campaign,
    boxes: Sequence[BoxFacts],
    minutes: Mapping[str, NDArray[np.float64]],
    begun: Collection[str],
    hazardous: Collection[str],
    workers: Sequence[Worker],
) -> GivenOut:
    """Share out what is still to be done of some boxes, in the way tasks are given out.

    boxes: in the order of their tasks. minutes: of each box by step. begun: keys of boxes that have the tasks
    they are stored with. hazardous: keys of boxes with hazards. What is done stays with whoever did it, what
    is begun with whoever has begun it, what was given by hand with whoever was given it. Sheets do not count,
    since a scenario may have others.
    """
    stored = _stored_tasks(campaign)
    there_are = {worker.key for worker in workers}
    people: dict[tuple[str, str], str] = {}
    work: list[tuple[bool, tuple[str, str], Work]] = []
    for place, box in enumerate(boxes):
        there: list[str] = []
        for step in STEPS:
            state, person, is_fixed = stored.get((box.key, step), (State.TO_DO, "", False))
            if state == State.DONE:
                if person:
                    people[box.key, step] = person
                continue
            spent = round(float(minutes[step][place]), 2)
            if not spent or (box.key in begun and (box.key, step) not in stored):
                continue
            key = f"{box.key}:{step}"
            item = Work(
                key=key,
                skill=SKILL_OF_STEP[step],
                minutes=spent,
                priority=box.priority,
                location=box.location,
                is_hazardous=box.key in hazardous,
                after=tuple(f"{box.key}:{one}" for one in waits_for(step, there)),
                kept_with=person if state == State.STARTED and person else None,
                score=box.score,
                fixed_to=person if is_fixed and person in there_are else None,
                difficulty=difficulty(box) if step in BY_FORM else ORDINARY,
            )
            work.append((state == State.TO_DO, (box.key, step), item))
            there.append(step)
    work.sort(key=lambda each: each[0])
    schedule = assign([item for _, _, item in work], workers)
    nobody: Counter[str] = Counter()
    for (_, of, _), one in zip(work, schedule.assigned, strict=True):
        if one.worker_key:
            people[of] = one.worker_key
        else:
            nobody[one.reason] += 1
    return GivenOut(people, schedule.last_week, dict(nobody))


def _stored_tasks(campaign: Campaign) -> dict[tuple[str, str], tuple[str, str, bool]]:
    """State, person, and whether given by hand, of the tasks there are, by key of the box and step."""
    rows = Task.objects.filter(housing__campaign=campaign).exclude(housing__status=Housing.Status.DROPPED)
    return {
        (str(housing), step): (state, str(person) if person else "", is_fixed)
        for housing, step, state, person, is_fixed in rows.order_by().values_list(
            "housing", "step", "state", "person", "is_fixed"
        )
    }
