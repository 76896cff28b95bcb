"""Boxes due at the bench, with the sheet they are cut from, for the tests of its pages."""

from django.utils import timezone

from housing.models import Housing, Person, PlannedSheet, Task
from objects.models import CatalogueObject
from tests.factories import make_campaign, make_sheet, make_tasks
from tests.housing.printing.boxes import make_box


def make_due(person: Person, *things: CatalogueObject) -> Housing:
    """A box with blanks as they are drawn, all its steps given to a person, on a sheet of its own."""
    box = make_box(*things)
    box.campaign = make_campaign()
    box.save()
    make_tasks(box, person=person)
    blanks = list(box.blanks.all())
    sheet = make_sheet(box, person=person, part="replaced")
    box.blanks.filter(part="replaced").delete()
    for place, blank in enumerate(blanks):
        sheet.placements.create(
            blank=blank, x_mm=5, y_mm=5 + 600 * place, along_mm=blank.x_mm, across_mm=blank.y_mm
        )
    return box


def sheet_of(box: Housing) -> PlannedSheet:
    return PlannedSheet.objects.get(placements__blank=box.blanks.first())


def task_of(box: Housing, step: str) -> Task:
    return box.tasks.get(step=step)


def all_cut(box: Housing) -> Housing:
    """The box as it is once its sheet is cut."""
    now = timezone.now()
    box.tasks.filter(step__in=["fetch", "cut"]).update(state="done", done_at=now)
    PlannedSheet.objects.filter(pk=sheet_of(box).pk).update(cut_at=now)
    Housing.objects.filter(pk=box.pk).update(status="in_work")
    return box
