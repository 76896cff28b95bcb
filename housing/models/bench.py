"""What happens at the bench: spells of work, entries, how boxes fitted, photos, and what holds boxes up."""

import uuid
from decimal import Decimal

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy as _

from housing.models.housings import Housing
from housing.models.people import Person
from housing.models.plans import PlannedSheet
from housing.models.tasks import Task
from objects.core.words import say


class WorkSpell(models.Model):
    """Time that a person spent at one task, or at cutting one sheet, without a pause; open while it runs."""

    task = models.ForeignKey(Task, on_delete=models.CASCADE, null=True, blank=True, related_name="spells")
    sheet = models.ForeignKey(
        PlannedSheet, on_delete=models.CASCADE, null=True, blank=True, related_name="spells"
    )
    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="spells")
    started_at = models.DateTimeField()
    ended_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["started_at", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(task__isnull=False, sheet__isnull=True)
                | Q(task__isnull=True, sheet__isnull=False),
                name="spell_at_a_task_or_a_sheet",
            ),
            models.CheckConstraint(
                condition=Q(ended_at__isnull=True) | Q(ended_at__gte=F("started_at")),
                name="spell_ends_after_it_began",
            ),
            models.UniqueConstraint(
                fields=["person"], condition=Q(ended_at__isnull=True), name="one_open_spell_a_person"
            ),
            models.UniqueConstraint(
                fields=["task"], condition=Q(ended_at__isnull=True), name="one_open_spell_a_task"
            ),
            models.UniqueConstraint(
                fields=["sheet"], condition=Q(ended_at__isnull=True), name="one_open_spell_a_sheet"
            ),
        ]

    def __str__(self) -> str:
        return say("{person} at {work}", person=self.person, work=self.task or self.sheet)


class BenchEntry(models.Model):
    """One thing that somebody did at the bench, kept once however often it is sent.

    detail: what was entered, and what was there before, so that the entry can be undone.
    """

    class What(models.TextChoices):
        START = "start", _("Begun")
        PAUSE = "pause", _("Paused")
        DONE = "done", _("Done")
        SHEET_CUT = "sheet_cut", _("Sheet cut")
        SPOILED = "spoiled", _("Sheet spoiled")
        FITS = "fits", _("Fits")
        ADJUST = "adjust", _("Did not fit, was adjusted")
        REMAKE = "remake", _("Does not fit, to be made again")
        HOUSED = "housed", _("Housed")
        PHOTO = "photo", _("Photographed")
        HOLD = "hold", _("Question asked")
        ANSWER = "answer", _("Question answered")
        UNDO = "undo", _("Undone")

    entry_id = models.UUIDField(
        unique=True, default=uuid.uuid4, editable=False, help_text=_("Given by the device that sends it.")
    )
    what = models.CharField(max_length=9, choices=What)
    housing = models.ForeignKey(
        Housing, on_delete=models.CASCADE, null=True, blank=True, related_name="bench_entries"
    )
    task = models.ForeignKey(
        Task, on_delete=models.SET_NULL, null=True, blank=True, related_name="bench_entries"
    )
    sheet = models.ForeignKey(
        PlannedSheet, on_delete=models.SET_NULL, null=True, blank=True, related_name="bench_entries"
    )
    person = models.ForeignKey(
        Person, on_delete=models.SET_NULL, null=True, blank=True, related_name="bench_entries"
    )
    minutes = models.DecimalField(max_digits=7, decimal_places=2, null=True, blank=True)
    detail = models.JSONField(default=dict, blank=True)
    message = models.CharField(_("what was answered"), max_length=400, blank=True)
    undoes = models.OneToOneField(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="undone_by"
    )
    at = models.DateTimeField(_("when, by the clock of the device"), db_index=True)
    received_at = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["-at", "-pk"]
        verbose_name_plural = "bench entries"
        constraints = [
            models.CheckConstraint(
                condition=Q(what="undo", undoes__isnull=False) | (~Q(what="undo") & Q(undoes__isnull=True)),
                name="bench_undo_says_what",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_what_display()}: {self.task or self.sheet or self.housing}"


class FitCheck(models.Model):
    """How a finished box fitted before it went back to its shelf; where it did not, why, and what it cost."""

    class Cause(models.TextChoices):
        MEASUREMENT = "measurement", _("The object was measured wrongly")
        BLANK = "blank", _("The blank was worked out or drawn wrongly")
        CUTTING = "cutting", _("It was cut or scored wrongly")
        BOARD = "board", _("The board was faulty or the wrong one")
        PADDING = "padding", _("Too much or too little padding")
        OTHER = "other", _("Something else")

    class Side(models.TextChoices):
        HEIGHT = "height", _("Height")
        WIDTH = "width", _("Width")
        DEPTH = "depth", _("Depth")

    class Remedy(models.TextChoices):
        NONE = "", _("None needed")
        ADJUST = "adjust", _("Adjusted")
        REMAKE = "remake", _("To be made again")

    housing = models.ForeignKey(Housing, on_delete=models.CASCADE, related_name="fit_checks")
    fits = models.BooleanField(_("the object fits"))
    lid_closes = models.BooleanField(_("the lid closes"))
    nothing_touches = models.BooleanField(_("nothing presses or rubs"))
    cause = models.CharField(max_length=11, choices=Cause, blank=True, default="")
    side = models.CharField(max_length=6, choices=Side, blank=True, default="")
    short_mm = models.DecimalField(
        _("short by"),
        max_digits=8,
        decimal_places=4,
        null=True,
        blank=True,
        help_text=_("Below 0: too large by."),
    )
    remedy = models.CharField(max_length=6, choices=Remedy, blank=True, default=Remedy.NONE)
    minutes = models.DecimalField(
        _("minutes of adjusting"), max_digits=7, decimal_places=2, null=True, blank=True
    )
    board_cost = models.DecimalField(_("board lost"), max_digits=10, decimal_places=2, default=0)
    work_cost = models.DecimalField(_("work lost"), max_digits=10, decimal_places=2, default=0)
    note = models.CharField(max_length=300, blank=True)
    is_void = models.BooleanField(_("undone"), default=False)
    at = models.DateTimeField(db_index=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["-at", "-pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(fits=True, lid_closes=True, nothing_touches=True) | ~Q(cause="", remedy=""),
                name="fit_check_says_why_and_what",
            ),
            models.CheckConstraint(
                condition=Q(board_cost__gte=0, work_cost__gte=0)
                & (Q(minutes__isnull=True) | Q(minutes__gte=0)),
                name="fit_check_costs_not_negative",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.housing}: {say('fits') if self.is_good else say('does not fit')}"

    @property
    def is_good(self) -> bool:
        return self.fits and self.lid_closes and self.nothing_touches

    @property
    def amount_mm(self) -> Decimal | None:
        """By how much the box was too small or too large."""
        return None if self.short_mm is None else abs(self.short_mm)


class HousedPhoto(models.Model):
    """A photo of the housed object, the one after; the object's own photo is the one before."""

    housing = models.ForeignKey(Housing, on_delete=models.CASCADE, related_name="photos")
    photo = models.ImageField(upload_to="photos")
    at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["-at", "-pk"]

    def __str__(self) -> str:
        return say("Photo of {box}", box=self.housing)


class Hold(models.Model):
    """A question that a box waits for; its work rests until somebody answers it."""

    class Reason(models.TextChoices):
        CONSERVATOR = "conservator", _("For a conservator")
        MEASUREMENT = "measurement", _("For a measurement")
        BOARD = "board", _("For board or supplies")
        OTHER = "other", _("For something else")

    housing = models.ForeignKey(Housing, on_delete=models.CASCADE, related_name="holds")
    reason = models.CharField(max_length=11, choices=Reason, default=Reason.CONSERVATOR)
    question = models.CharField(max_length=400)
    asked_at = models.DateTimeField()
    asked_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    answer = models.CharField(max_length=400, blank=True)
    answered_at = models.DateTimeField(null=True, blank=True)
    answered_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["asked_at", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["housing", "reason"],
                condition=Q(answered_at__isnull=True),
                name="one_open_hold_a_reason",
            ),
            models.CheckConstraint(condition=~Q(question=""), name="hold_asks_something"),
        ]

    def __str__(self) -> str:
        return say("{box} waits: {reason}", box=self.housing, reason=self.get_reason_display())
