"""A list that was handed in: kept as it came until a person has seen what was understood and agreed."""

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _


class ListImport(models.Model):
    """One uploaded list, what its columns were taken for, and what became of it."""

    class Kind(models.TextChoices):
        OBJECTS = "objects", _("Objects")
        LOCATIONS = "locations", _("Locations")
        BOARDS = "boards", _("Boards and sheets")
        PEOPLE = "people", _("People")
        DESIGNS = "designs", _("Designs")
        RULES = "rules", _("Design rules")
        READY_MADE = "ready_made", _("Ready-made boxes")
        SUPPLIES = "supplies", _("Supplies and their suppliers")

    class State(models.TextChoices):
        STAGED = "staged", _("Waiting for your agreement")
        SAVED = "saved", _("Saved")
        DROPPED = "dropped", _("Dropped")
        UNDONE = "undone", _("Undone")

    class Format(models.TextChoices):
        DELIMITED = "delimited", _("Text with delimiters")
        SPREADSHEET = "xlsx", _("Spreadsheet")
        LIDO = "lido", _("LIDO records")

    kind = models.CharField(max_length=10, choices=Kind, default=Kind.OBJECTS)
    state = models.CharField(max_length=8, choices=State, default=State.STAGED)
    format = models.CharField(max_length=9, choices=Format, default=Format.DELIMITED)
    file_name = models.CharField(max_length=200)
    file_hash = models.CharField(_("SHA-256 of the file"), max_length=64)
    data = models.BinaryField()
    columns = models.JSONField(default=dict, help_text=_("Our field to the list's column."))
    unit = models.CharField(max_length=2, blank=True, help_text=_("Unit of figures written without one."))
    counts = models.JSONField(default=dict)
    reading = models.JSONField(
        _("how the file was read"),
        default=dict,
        blank=True,
        help_text=_("Headings, encoding, delimiter, sheet, notes; as a person was shown them."),
    )
    sizes = models.BinaryField(
        null=True,
        editable=False,
        help_text=_("What its sizes were read as, packed; kept until it is saved as it was shown."),
    )
    read_at = models.DateTimeField(_("when its rows were read for the preview"), null=True, blank=True)
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
        REFUSED = "refused", _("Refused")
        CHECK = "check", _("To be checked")
        CHANGED = "changed", _("Changed")
        NEW = "new", _("New")
        UNCHANGED = "unchanged", _("Unchanged")

    listed = models.ForeignKey(ListImport, on_delete=models.CASCADE, related_name="rows")
    line = models.PositiveIntegerField(help_text=_("In the file, headings being line 1."))
    key = models.CharField(_("what the row is about"), max_length=200, blank=True)
    status = models.CharField(max_length=9, choices=Status)
    record = models.PositiveBigIntegerField(_("key of its record"), null=True, blank=True)
    is_added = models.BooleanField(_("the record was made by this row"), default=False)
    changes = models.JSONField(default=dict, blank=True, help_text=_("Field to [old, new], as stored."))
    messages = models.JSONField(default=list, blank=True, help_text=_("Sentences for a person."))
    shown = models.JSONField(
        _("what was understood"),
        default=dict,
        blank=True,
        help_text=_("Of a list that waits: field to value."),
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
    heading = models.CharField(_("heading in plain letters"), max_length=200)
    field = models.CharField(max_length=40, blank=True, help_text=_("Blank: it is not used."))
    last_used_at = models.DateTimeField(auto_now=True)

    class Meta:
        verbose_name_plural = _("column memories")
        constraints = [
            models.UniqueConstraint(fields=["kind", "heading"], name="column_remembered_once_a_kind"),
        ]

    def __str__(self) -> str:
        return f"{self.heading}: {self.field or 'not used'}"
