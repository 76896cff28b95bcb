"""A step of the work on one housing, given to one person."""

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from housing.models.housings import Housing
from housing.models.people import Person
from housing.models.plans import PlannedSheet


class Task(models.Model):
    """One step for one housing: who, in which week of the campaign, how long it should and did take."""

    class Step(models.TextChoices):
        MEASURE = "measure", _("Measure")
        FETCH = "fetch", _("Fetch board")
        CUT = "cut", _("Cut")
        SCORE = "score", _("Mark out and score")
        GLUE = "glue", _("Fold and glue")
        LID = "lid", _("Make the lid")
        FIT = "fit", _("Pad and fit")
        LABEL = "label", _("Label")
        RETURN = "return", _("Return to shelf")

    class State(models.TextChoices):
        TO_DO = "to_do", _("To do")
        STARTED = "started", _("Started")
        DONE = "done", _("Done")

    housing = models.ForeignKey(Housing, on_delete=models.CASCADE, related_name="tasks")
    step = models.CharField(max_length=8, choices=Step)
    sequence = models.PositiveIntegerField(help_text=_("Order of the steps of one housing."))
    person = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, blank=True, related_name="tasks")
    sheet = models.ForeignKey(
        PlannedSheet,
        on_delete=models.SET_NULL,
        null=True,
        blank=True,
        related_name="tasks",
        help_text=_("The first sheet that a blank of the box is cut from; what lies on it stays together."),
    )
    week = models.PositiveIntegerField(default=1, help_text=_("Counted from the campaign's work_from."))
    is_fixed = models.BooleanField(
        _("given by hand"), default=False, help_text=_("Stays with its person when work is given out again.")
    )
    reason = models.CharField(_("why this person, or why nobody"), max_length=300, blank=True)
    state = models.CharField(max_length=8, choices=State, default=State.TO_DO)
    standard_minutes = models.DecimalField(
        _("minutes by the standard times alone, without learning or what was logged"),
        max_digits=7,
        decimal_places=2,
        null=True,
        blank=True,
    )
    planned_minutes = models.DecimalField(max_digits=7, decimal_places=2)
    spent_minutes = models.DecimalField(max_digits=7, decimal_places=2, null=True, blank=True)
    started_at = models.DateTimeField(null=True, blank=True)
    done_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["week", "housing", "sequence"]
        indexes = [
            models.Index(fields=["person", "state", "week"], name="tasks_of_a_person"),
            models.Index(fields=["state", "step"], name="tasks_by_state_and_step"),
            # all that tells what a task waits for, so that the tasks themselves need not be read
            models.Index(fields=["housing", "sequence", "step", "state"], name="tasks_of_a_box"),
            models.Index(fields=["week", "housing", "sequence"], name="tasks_in_working_order"),
        ]
        constraints = [
            models.UniqueConstraint(fields=["housing", "step"], name="one_task_a_step"),
            models.CheckConstraint(condition=Q(planned_minutes__gte=0), name="task_minutes_not_negative"),
            models.CheckConstraint(
                condition=Q(spent_minutes__isnull=True) | Q(spent_minutes__gte=0),
                name="task_spent_not_negative",
            ),
            models.CheckConstraint(
                condition=~Q(state="done") | Q(done_at__isnull=False), name="task_done_has_a_date"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_step_display()}: {self.housing}"
