"""Long work in the background, as the reader sees it: how far it is, and what came of it."""

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _


class Job(models.Model):
    """One piece of long work: planning a campaign, a big print, saving a long list."""

    class Kind(models.TextChoices):
        PLAN = "plan", _("Plan a campaign")
        PRINT = "print", _("Make a print")
        READ = "read", _("Read a list")
        IMPORT = "import", _("Save a list")
        UNDO = "undo", _("Undo a list")
        EXPORT = "export", _("Write a list")
        BUDGET = "budget", _("Work out a budget")
        SCENARIO = "scenario", _("Work out a scenario")
        SIZES = "sizes", _("Find standard sizes")
        SELECT = "select", _("Choose within limits")
        ASSIGN = "assign", _("Give out the work")
        REPORT = "report", _("Write a report")

    class State(models.TextChoices):
        WAITING = "waiting", _("Waiting for its turn")
        RUNNING = "running", _("Running")
        DONE = "done", _("Done")
        FAILED = "failed", _("Failed")
        CANCELLED = "cancelled", _("Cancelled")

    class Wish(models.TextChoices):
        GO_ON = "", _("Go on")
        FINISH = "finish", _("Take the best so far")
        CANCEL = "cancel", _("Cancel")

    OVER = (State.DONE, State.FAILED, State.CANCELLED)

    kind = models.CharField(max_length=8, choices=Kind)
    title = models.CharField(max_length=200)
    state = models.CharField(max_length=10, choices=State, default=State.WAITING)
    wish = models.CharField(
        _("what is wished of it meanwhile"), max_length=8, choices=Wish, default=Wish.GO_ON, blank=True
    )
    percent = models.PositiveSmallIntegerField(default=0)
    stage = models.CharField(_("what it is doing"), max_length=200, blank=True)
    standing = models.JSONField(
        _("how it stands meanwhile"),
        default=dict,
        blank=True,
        help_text=_("Words and figures by their label."),
    )
    message = models.TextField(_("what came of it"), blank=True)
    parameters = models.JSONField(default=dict)
    result_url = models.CharField(max_length=300, blank=True)
    file = models.FileField(upload_to="prints", blank=True)
    language = models.CharField(_("language of what it says"), max_length=5, default="en")
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    created_at = models.DateTimeField(auto_now_add=True)
    started_at = models.DateTimeField(null=True, blank=True)
    finished_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-created_at"]

    def __str__(self) -> str:
        return self.title

    @property
    def is_over(self) -> bool:
        return self.state in self.OVER

    @property
    def standing_lines(self) -> list[tuple[str, str]]:
        """Label and text of how it stands; above_least reads as "Above least"."""
        return [(label.replace("_", " ").capitalize(), text) for label, text in self.standing.items()]
