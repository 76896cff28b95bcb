"""What a plan costs, as it stood when the plan was made."""

from django.db import models

from boards.models import Board
from housing.models.designs import Design
from housing.models.plans import CuttingPlan


class Estimate(models.Model):
    """The estimate of one plan, with the prices it used."""

    plan = models.OneToOneField(CuttingPlan, on_delete=models.CASCADE, related_name="estimate")
    made_at = models.DateTimeField(auto_now_add=True)
    currency = models.CharField(max_length=3)
    rate_per_hour = models.DecimalField(max_digits=8, decimal_places=2)
    glue_price_kg = models.DecimalField(max_digits=8, decimal_places=2)

    class Meta:
        ordering = ["-made_at"]

    def __str__(self) -> str:
        return f"Estimate of {self.plan}"


class EstimateLine(models.Model):
    """One category of one design on one board; the estimate's totals are sums of these."""

    class Category(models.TextChoices):
        BOARD = "board", "Board"
        GLUE = "glue", "Glue"
        PADDING = "padding", "Padding"
        LABOUR = "labour", "Labour"

    class Unit(models.TextChoices):
        SQUARE_METRES = "m2", "m²"
        GRAMS = "g", "g"
        MINUTES = "min", "min"

    estimate = models.ForeignKey(Estimate, on_delete=models.CASCADE, related_name="lines")
    category = models.CharField(max_length=8, choices=Category)
    design = models.ForeignKey(Design, on_delete=models.PROTECT, related_name="+")
    board = models.ForeignKey(Board, on_delete=models.PROTECT, related_name="+")
    housings = models.PositiveIntegerField()
    quantity = models.DecimalField(max_digits=14, decimal_places=3)
    unit = models.CharField(max_length=3, choices=Unit)
    amount = models.DecimalField(max_digits=12, decimal_places=2)

    class Meta:
        ordering = ["estimate", "category", "design__name"]
        constraints = [
            models.UniqueConstraint(
                fields=["estimate", "category", "design", "board"], name="one_estimate_line_a_kind"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_category_display()} for {self.design}"
