"""The flat blank of one part of a housing, kept as it was computed so that old prints can be explained."""

from dataclasses import asdict

from django.db import models
from django.db.models import Q

from housing.core import blank as core
from housing.models.housings import Housing


class Blank(models.Model):
    """One blank to cut, sides in mm; the full drawing is kept beside the figures that are searched."""

    housing = models.ForeignKey(Housing, on_delete=models.CASCADE, related_name="blanks")
    part = models.CharField(max_length=20)
    x_mm = models.DecimalField(max_digits=10, decimal_places=4)
    y_mm = models.DecimalField(max_digits=10, decimal_places=4)
    flute_along = models.CharField(max_length=1, choices=[("x", "x"), ("y", "y")])
    geometry = models.JSONField()

    class Meta:
        ordering = ["housing", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["housing", "part"], name="one_blank_a_part"),
            models.CheckConstraint(condition=Q(x_mm__gt=0, y_mm__gt=0), name="blank_sides_positive"),
        ]

    def __str__(self) -> str:
        return f"{self.housing} {self.part}"

    @property
    def rise_mm(self) -> float:
        """Height of its walls on the flat."""
        return next(panel["height_mm"] for panel in self.geometry["panels"] if panel["name"] == "near wall")

    @classmethod
    def from_core(cls, housing: Housing, part: str, blank: core.Blank) -> "Blank":
        return cls(
            housing=housing,
            part=part,
            x_mm=round(blank.x_mm, 4),
            y_mm=round(blank.y_mm, 4),
            flute_along=blank.flute_along,
            geometry=asdict(blank),
        )

    def to_core(self) -> core.Blank:
        kept = dict(self.geometry)
        for name, kind in (
            ("panels", core.Rectangle),
            ("waste", core.Rectangle),
            ("cuts", core.Line),
            ("scores", core.Score),
        ):
            kept[name] = tuple(kind(**row) for row in kept[name])
        for name in kept:
            if "marks" in name:
                kept[name] = tuple(kept[name])
        return core.Blank(**kept)
