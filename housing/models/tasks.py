"""A step of the work on one housing, given to one person."""

from django.db import models
from django.db.models import Q

from housing.models.housings import Housing
from housing.models.people import Person


class Task(models.Model):
    """One step for one housing: who, in which week of the campaign, how long it should and did take."""

    class Step(models.TextChoices):
        MEASURE = "measure", "Measure"
        CUT = "cut", "Mark out, score and cut"
        GLUE = "glue", "Fold and glue"
        FIT = "fit", "Pad, fit and label"
        RETURN = "return", "Return to shelf"

    class State(models.TextChoices):
        TO_DO = "to_do", "To do"
        STARTED = "started", "Started"
        DONE = "done", "Done"

    housing = models.ForeignKey(Housing, on_delete=models.CASCADE, related_name="tasks")
    step = models.CharField(max_length=8, choices=Step)
    sequence = models.PositiveIntegerField(help_text="Order of the steps of one housing.")
    person = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, blank=True, related_name="tasks")
    week = models.PositiveIntegerField(default=1)
    reason = models.CharField("why nobody has it", max_length=300, blank=True)
    state = models.CharField(max_length=8, choices=State, default=State.TO_DO)
    standard_minutes = models.DecimalField(
        "minutes by the standard times alone, without learning or what was logged",
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
