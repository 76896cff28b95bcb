"""What is asked before something of the planner is deleted, dropped, put aside or undone."""

from collections.abc import Callable, Sequence
from typing import Any

from django.db.models import Model
from django.http import HttpRequest
from django.shortcuts import get_object_or_404
from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from boards.models import Board
from housing.models import (
    Absence,
    DesignRule,
    Grade,
    Housing,
    Job,
    Phase,
    ReadyMadeBox,
    Scenario,
    Selection,
    SizeFamily,
    StandardTime,
)
from housing.queries import consequences
from objects.models import ListImport
from objects.views.asking import Question

DELETE = gettext_lazy("Delete")


def about(
    model: type[Model],
    heading: Promise,
    said: Callable[[Any], Sequence[str]],
    button: Promise = DELETE,
    key: str = "pk",
) -> Callable[..., Question | None]:
    """The question about one record; none where nothing is said, since the view refuses then.

    heading: with %(name)s in it; key: which argument of the view tells the record.
    """

    def question(request: HttpRequest, **keys: int) -> Question | None:
        record = get_object_or_404(model, pk=keys[key])
        consequences = said(record)
        return Question(str(heading) % {"name": record}, consequences, str(button)) if consequences else None

    return question


absence = about(Absence, gettext_lazy("Delete: %(name)s?"), consequences.of_absence)
phase = about(Phase, gettext_lazy("Delete the phase “%(name)s”?"), consequences.of_phase)
grade = about(Grade, gettext_lazy("Delete the grade “%(name)s”?"), consequences.of_grade)
ready_made = about(ReadyMadeBox, gettext_lazy("Take “%(name)s” off the list?"), consequences.of_ready_made)
rule = about(DesignRule, gettext_lazy("Delete this rule: %(name)s?"), consequences.of_rule)
scenario = about(Scenario, gettext_lazy("Delete the scenario “%(name)s”?"), consequences.of_scenario)
selection = about(
    Selection, gettext_lazy("Delete the choice “%(name)s”?"), consequences.of_selection, key="selection"
)
size_family = about(
    SizeFamily, gettext_lazy("Delete the sizes “%(name)s”?"), consequences.of_size_family, key="family"
)
standard_time = about(
    StandardTime,
    gettext_lazy("Take back: %(name)s?"),
    consequences.of_standard_time,
    gettext_lazy("Take back"),
)
correction = about(
    Board,
    gettext_lazy("Forget what was measured of %(name)s?"),
    consequences.of_correction,
    gettext_lazy("Forget it"),
)
list_aside = about(
    ListImport,
    gettext_lazy("Put the list “%(name)s” aside?"),
    consequences.of_put_aside,
    gettext_lazy("Put it aside"),
)
list_undone = about(
    ListImport,
    gettext_lazy("Undo the list “%(name)s”?"),
    consequences.of_undoing,
    gettext_lazy("Undo the list"),
)
job = about(
    Job,
    gettext_lazy("Cancel: %(name)s?"),
    lambda job: (
        [_("What is set of it so far is kept for some days; you can go on with it.")]
        if job.kind == Job.Kind.PRINT
        else [
            _("What it has worked out so far is gone; nothing is saved of it."),
            _("It can be started again where it was begun."),
        ]
    ),
    gettext_lazy("Cancel the work"),
)


def job_cancelled(request: HttpRequest, pk: int) -> Question | None:
    """Work that is over, or is being stopped already, has nothing to lose."""
    at_work = Job.objects.filter(pk=pk, state__in=[Job.State.WAITING, Job.State.RUNNING], wish="")
    return job(request, pk=pk) if at_work.exists() else None


def box_moved(request: HttpRequest, pk: int) -> Question | None:
    """Only dropping a box loses something."""
    if request.POST.get("status") != Housing.Status.DROPPED:
        return None
    box = get_object_or_404(Housing, pk=pk)
    return Question(_("Drop %(box)s?") % {"box": box}, consequences.of_dropping([box]), _("Drop this box"))


def set_made(boxes: Sequence[Housing]) -> Question:
    """Objects that get a box together leave those planned for them singly."""
    names = ", ".join(map(str, boxes[:5])) + (" …" if len(boxes) > 5 else "")
    return Question(
        _("House these objects together and drop %(boxes)s?") % {"boxes": names},
        consequences.of_dropping(boxes),
        _("House together as a set"),
    )
