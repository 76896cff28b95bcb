"""How a reader likes lengths, paper, language and tables."""

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from objects.core.words import LANGUAGES


class Preferences(models.Model):
    """One reader's choices; whoever has made none reads inches on A4."""

    class LengthUnit(models.TextChoices):
        INCHES = "in", _("Inches and fractions")
        MILLIMETRES = "mm", _("Millimetres")

    class Paper(models.TextChoices):
        A4 = "A4", "A4"
        LETTER = "letter", _("US Letter")

    class Hand(models.TextChoices):
        RIGHT = "right", _("Right-handed")
        LEFT = "left", _("Left-handed")

    user = models.OneToOneField(
        settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="preferences"
    )
    length_unit = models.CharField(max_length=2, choices=LengthUnit, default=LengthUnit.INCHES)
    paper = models.CharField(max_length=6, choices=Paper, default=Paper.A4)
    language = models.CharField(
        max_length=5,
        choices=list(LANGUAGES.items()),
        blank=True,
        help_text=_("Blank: the one the browser asks for."),
    )
    hand = models.CharField(
        max_length=5,
        choices=Hand,
        default=Hand.RIGHT,
        help_text=_("On which side of a cut sheet the drawing lies."),
    )

    class Meta:
        verbose_name_plural = _("preferences")

    def __str__(self) -> str:
        return f"{self.user}: {self.get_length_unit_display()}, {self.get_paper_display()}"


class TableColumns(models.Model):
    """Which columns of one table a reader sees; whoever has chosen none sees the usual ones."""

    user = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="table_columns")
    table = models.CharField(max_length=60)
    columns = models.JSONField(
        default=list, help_text=_("The names of the columns that are shown, in their order.")
    )

    class Meta:
        verbose_name_plural = _("columns of tables")
        constraints = [
            models.UniqueConstraint(fields=["user", "table"], name="one_choice_of_columns_a_table"),
        ]

    def __str__(self) -> str:
        return f"{self.user}: {self.table}"
