"""How a reader likes lengths and paper."""

from django.conf import settings
from django.db import models


class Preferences(models.Model):
    """One reader's choices; whoever has made none reads inches on A4."""

    class LengthUnit(models.TextChoices):
        INCHES = "in", "Inches and fractions"
        MILLIMETRES = "mm", "Millimetres"

    class Paper(models.TextChoices):
        A4 = "A4", "A4"
        LETTER = "letter", "US Letter"

    user = models.OneToOneField(
        settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="preferences"
    )
    length_unit = models.CharField(max_length=2, choices=LengthUnit, default=LengthUnit.INCHES)
    paper = models.CharField(max_length=6, choices=Paper, default=Paper.A4)

    class Meta:
        verbose_name_plural = "preferences"

    def __str__(self) -> str:
        return f"{self.user}: {self.get_length_unit_display()}, {self.get_paper_display()}"
