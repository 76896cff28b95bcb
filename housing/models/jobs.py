"""Long work in the background, as the reader sees it: how far it is, and what came of it."""

from django.conf import settings
from django.db import models


class Job(models.Model):
    """One piece of long work: planning a campaign, a big print, saving a long list."""

    class Kind(models.TextChoices):
        PLAN = "plan", "Plan a campaign"
        PRINT = "print", "Make a print"
        IMPORT = "import", "Save a list"

    class State(models.TextChoices):
        WAITING = "waiting", "Waiting for its turn"
        RUNNING = "running", "Running"
        DONE = "done", "Done"
        FAILED = "failed", "Failed"

    kind = models.CharField(max_length=8, choices=Kind)
    title = models.CharField(max_length=200)
    state = models.CharField(max_length=8, choices=State, default=State.WAITING)
    percent = models.PositiveSmallIntegerField(default=0)
    stage = models.CharField("what it is doing", max_length=200, blank=True)
    message = models.TextField("what came of it", blank=True)
    parameters = models.JSONField(default=dict)
    result_url = models.CharField(max_length=300, blank=True)
    file = models.FileField(upload_to="prints", blank=True)
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
        return self.state in (self.State.DONE, self.State.FAILED)
