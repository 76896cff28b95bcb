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
        READY_MADE = "ready_made", "Ready-made boxes"
        SUPPLIES = "supplies", "Supplies and their suppliers"

    class State(models.TextChoices):
        STAGED = "staged", "Waiting for your agreement"
        SAVED = "saved", "Saved"
        DROPPED = "dropped", "Dropped"
        UNDONE = "undone", "Undone"

    class Format(models.TextChoices):
        DELIMITED = "delimited", "Text with delimiters"
        SPREADSHEET = "xlsx", "Spreadsheet"
        LIDO = "lido", "LIDO records"

    kind = models.CharField(max_length=10, choices=Kind, default=Kind.OBJECTS)
    state = models.CharField(max_length=8, choices=State, default=State.STAGED)
    format = models.CharField(max_length=9, choices=Format, default=Format.DELIMITED)
    file_name = models.CharField(max_length=200)
    file_hash = models.CharField("SHA-256 of the file", max_length=64)
    data = models.BinaryField()
    columns = models.JSONField(default=dict, help_text="Our field to the list's column.")
    unit = models.CharField(max_length=2, blank=True, help_text="Unit of figures written without one.")
    counts = models.JSONField(default=dict)
    reading = models.JSONField(
        "how the file was read",
        default=dict,
        blank=True,
        help_text="Headings, encoding, delimiter, sheet, notes; as a person was shown them.",
    )
    sizes = models.BinaryField(
        null=True,
        editable=False,
        help_text="What its sizes were read as, packed; kept until it is saved as it was shown.",
    )
    read_at = models.DateTimeField("when its rows were read for the preview", null=True, blank=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    created_at = models.DateTimeField(auto_now_add=True)
    saved_at = models.DateTimeField(null=True, blank=True)
    undone_at = models.DateTimeField(null=True, blank=True)
    undone_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["-created_at"]

    def __str__(self) -> str:
        return f"{self.file_name} ({self.get_kind_display()})"


class ImportedRow(models.Model):
    """What one row of a list was understood as and what became of it; kept so that it can be undone.

    Of a list that waits, the first rows and every problem row; of a saved one, every row.
    """

    class Status(models.TextChoices):
        REFUSED = "refused", "Refused"
        CHECK = "check", "To be checked"
        CHANGED = "changed", "Changed"
        NEW = "new", "New"
        UNCHANGED = "unchanged", "Unchanged"

    listed = models.ForeignKey(ListImport, on_delete=models.CASCADE, related_name="rows")
    line = models.PositiveIntegerField(help_text="In the file, headings being line 1.")
    key = models.CharField("what the row is about", max_length=200, blank=True)
    status = models.CharField(max_length=9, choices=Status)
    record = models.PositiveBigIntegerField("key of its record", null=True, blank=True)
    is_added = models.BooleanField("the record was made by this row", default=False)
    changes = models.JSONField(default=dict, blank=True, help_text="Field to [old, new], as stored.")
    messages = models.JSONField(default=list, blank=True, help_text="Sentences for a person.")
    shown = models.JSONField(
        "what was understood", default=dict, blank=True, help_text="Of a list that waits: field to value."
    )

    class Meta:
        ordering = ["line"]
        constraints = [
            models.UniqueConstraint(fields=["listed", "line"], name="imported_row_once_a_line"),
        ]
        indexes = [models.Index(fields=["listed", "status", "line"], name="imported_row_by_status")]

    def __str__(self) -> str:
        return f"Line {self.line} of {self.listed}"


class ColumnMemory(models.Model):
    """Which field a person took a heading for, so that the next list with it is read the same way."""

    kind = models.CharField(max_length=10, choices=ListImport.Kind)
    heading = models.CharField("heading in plain letters", max_length=200)
    field = models.CharField(max_length=40, blank=True, help_text="Blank: it is not used.")
    last_used_at = models.DateTimeField(auto_now=True)

    class Meta:
        verbose_name_plural = "column memories"
        constraints = [
            models.UniqueConstraint(fields=["kind", "heading"], name="column_remembered_once_a_kind"),
        ]

    def __str__(self) -> str:
        return f"{self.heading}: {self.field or 'not used'}"
