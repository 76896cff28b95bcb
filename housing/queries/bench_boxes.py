"""One box at the bench, and the boxes of one sheet."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.db.models import Prefetch, prefetch_related_objects

from housing.models import (
    BenchEntry,
    FitCheck,
    Hold,
    HousedObject,
    Housing,
    Person,
    PlannedSheet,
    Task,
    WorkSpell,
)
from housing.queries.handling import BoxHandling, handling_of
from housing.queries.waits import TaskDue, tasks_due
from objects.core.cautions import cautions_for
from objects.models import CatalogueObject
from objects.models.objects import HAZARD_SEPARATOR

SHOWN_ENTRIES = 30


@dataclass(frozen=True)
class BoxAtBench:
    """One box with all its steps, the sheets its blanks are cut from, what is in it and what to mind with it.

    holds: open questions. fit_checks: how it fitted, the last first. running: clocks of its steps that run.
    """

    housing: Housing
    tasks: Sequence[TaskDue]
    sheets: Sequence[PlannedSheet]
    contents: Sequence[CatalogueObject]
    handling: BoxHandling
    holds: Sequence[Hold]
    fit_checks: Sequence[FitCheck]
    running: Sequence[WorkSpell]
    entries: Sequence[BenchEntry]

    @property
    def next(self) -> TaskDue | None:
        """The first step that is open, None once all is done."""
        return next((due for due in self.tasks if due.task.state != Task.State.DONE), None)

    @property
    def hazards(self) -> list[str]:
        """Hazards of what is in it, each once, in the words that readers see."""
        return list(dict.fromkeys(hazard for thing in self.contents for hazard in thing.hazard_list))

    @property
    def cautions(self) -> list[str]:
        """What to mind with these."""
        keys = (key for thing in self.contents for key in thing.hazards.split(HAZARD_SEPARATOR) if key)
        return cautions_for(dict.fromkeys(keys))

    def next_for(self, person: Person | None) -> TaskDue | None:
        """The first open step of a person's, or of anybody's where they have none."""
        own = [due for due in self.tasks if due.task.state != Task.State.DONE and due.task.person == person]
        return own[0] if own else self.next


def box_at_bench(housing: Housing, today: date) -> BoxAtBench:
    """All that the page of one box at the bench shows besides its drawings."""
    prefetch_related_objects([housing], "blanks", "contents__object__location", "design__board")
    tasks = list(housing.tasks.select_related("person", "sheet", "housing__campaign").order_by("sequence"))
    dues = tasks_due({housing.pk: tasks}, today)
    sheets = PlannedSheet.objects.filter(placements__blank__housing=housing).select_related("board", "offcut")
    return BoxAtBench(
        housing=housing,
        tasks=[dues[task.pk] for task in tasks],
        sheets=list(sheets.distinct().order_by("position")),
        contents=[tie.object for tie in housing.contents.all()],
        handling=handling_of(housing),
        holds=list(housing.holds.filter(answered_at=None).select_related("asked_by")),
        fit_checks=list(housing.fit_checks.filter(is_void=False).select_related("by")),
        running=list(
            WorkSpell.objects.filter(task__in=tasks, ended_at=None).select_related("person", "task__housing")
        ),
        entries=list(
            housing.bench_entries.select_related("person", "by", "task", "sheet", "undone_by")[:SHOWN_ENTRIES]
        ),
    )


def boxes_of_sheet(sheet: PlannedSheet) -> list[Housing]:
    """The boxes with a blank on a sheet, in the order of their numbers, each with its contents and tasks."""
    boxes = Housing.objects.filter(blanks__placements__sheet=sheet).distinct().order_by("pk")
    ties = HousedObject.objects.filter(is_live=True).select_related("object__location")
    return list(boxes.prefetch_related(Prefetch("contents", ties), "tasks"))
