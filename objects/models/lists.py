"""A list that was handed in: kept as it came until a person has seen what was understood and agreed."""

from django.conf import settings
from django.db import models


class ListImport(models.Model):
    """One uploaded list, what its columns were taken for, and what became of it."""

    class Kind(models.TextChoices):
        OBJECTS = "objects", "Objects"
        LOCATIONS = "locations", "Locations"
        BOARDS = "boards", "Boards and sheets"
        PEOPLE = "people", "People"
        DESIGNS = "designs", "Designs"
        RULES = "rules", "Design rules"

    class State(models.TextChoices):
        STAGED = "staged", "Waiting for your agreement"
        SAVED = "saved", "Saved"
        DROPPED = "dropped", "Dropped"

    kind = models.CharField(max_length=10, choices=Kind, default=Kind.OBJECTS)
    state = models.CharField(max_length=8, choices=State, default=State.STAGED)
    file_name = models.CharField(max_length=200)
    file_hash = models.CharField("SHA-256 of the file", max_length=64)
    data = models.BinaryField()
    columns = models.JSONField(default=dict, help_text="Our field to the list's column.")
    unit = models.CharField(max_length=2, blank=True, help_text="Unit of figures written without one.")
    counts = models.JSONField(default=dict)
    problems = models.JSONField(
        default=list, help_text="Rows refused or to be checked: line, row, status, sentences."
    )
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    created_at = models.DateTimeField(auto_now_add=True)
    saved_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-created_at"]

    def __str__(self) -> str:
        return f"{self.file_name} ({self.get_kind_display()})"
