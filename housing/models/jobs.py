"""Long work in the background, as the reader sees it: how far it is, and what came of it."""

from django.conf import settings
from django.db import models


class Job(models.Model):
    """One piece of long work: planning a campaign, a big print, saving a long list."""

    class Kind(models.TextChoices):
        PLAN = "plan", "Plan a campaign"
        PRINT = "print", "Make a print"
        READ = "read", "Read a list"
        IMPORT = "import", "Save a list"
        UNDO = "undo", "Undo a list"
        EXPORT = "export", "Write a list"
        BUDGET = "budget", "Work out a budget"
        SCENARIO = "scenario", "Work out a scenario"
        SIZES = "sizes", "Find standard sizes"
        SELECT = "select", "Choose within limits"
        ASSIGN = "assign", "Give out the work"
        REPORT = "report", "Write a report"

    class State(models.TextChoices):
        WAITING = "waiting", "Waiting for its turn"
        RUNNING = "running", "Running"
        DONE = "done", "Done"
        FAILED = "failed", "Failed"
        CANCELLED = "cancelled", "Cancelled"

    class Wish(models.TextChoices):
        GO_ON = "", "Go on"
        FINISH = "finish", "Take the best so far"
        CANCEL = "cancel", "Cancel"

    OVER = (State.DONE, State.FAILED, State.CANCELLED)

    kind = models.CharField(max_length=8, choices=Kind)
    title = models.CharField(max_length=200)
    state = models.CharField(max_length=10, choices=State, default=State.WAITING)
    wish = models.CharField(
        "what is wished of it meanwhile", max_length=8, choices=Wish, default=Wish.GO_ON, blank=True
    )
    percent = models.PositiveSmallIntegerField(default=0)
    stage = models.CharField("what it is doing", max_length=200, blank=True)
    standing = models.JSONField(
        "how it stands meanwhile", default=dict, blank=True, help_text="Words and figures by their label."
    )
    message = models.TextField("what came of it", blank=True)
    parameters = models.JSONField(default=dict)
    result_url = models.CharField(max_length=300, blank=True)
    file = models.FileField(upload_to="prints", blank=True)
    language = models.CharField("language of what it says", max_length=5, default="en")
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
