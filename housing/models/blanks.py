"""The flat blank of one part of a housing, kept as it was computed so that old prints can be explained."""

from dataclasses import asdict, replace

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from boards.core.board import BoardSpec
from housing.core import blank as core
from housing.core.enclosures.form import BOARD, Part, Seat
from housing.core.folding import fold
from housing.core.panels import GlueJoint
from housing.models.housings import Housing


class Blank(models.Model):
    """One blank to cut, sides in mm; the full drawing is kept beside the figures that are searched."""

    housing = models.ForeignKey(Housing, on_delete=models.CASCADE, related_name="blanks")
    part = models.CharField(max_length=40)
    material = models.CharField(max_length=40, default=BOARD, help_text=_("What it is cut from."))
    x_mm = models.DecimalField(max_digits=10, decimal_places=4)
    y_mm = models.DecimalField(max_digits=10, decimal_places=4)
    flute_along = models.CharField(max_length=1, choices=[("x", "x"), ("y", "y")])
    geometry = models.JSONField()
    assembly = models.JSONField(default=dict, help_text=_("Where the part stands, how thick, what is glued."))

    class Meta:
        ordering = ["housing", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["housing", "part"], name="one_blank_a_part"),
            models.CheckConstraint(condition=Q(x_mm__gt=0, y_mm__gt=0), name="blank_sides_positive"),
        ]

    def __str__(self) -> str:
        return f"{self.housing} {self.part}"

    @property
    def is_board(self) -> bool:
        """Whether it is cut from the design's board; foam and cloth are neither nested nor paid as board."""
        return self.material == BOARD

    @classmethod
    def from_part(cls, housing: Housing, part: Part) -> "Blank":
        blank = part.blank
        return cls(
            housing=housing,
            part=part.name,
            material=part.material,
            assembly={
                "seat": part.seat.value,
                "at_mm": part.at_mm,
                "lift_mm": part.lift_mm,
                "thick_mm": part.thick_mm,
                "joints": [[joint.flap, joint.to, joint.is_edge] for joint in part.joints],
            },
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
            ("openings", core.CutOut),
        ):
            kept[name] = tuple(kind(**row) for row in kept.get(name, ()))
        for name in kept:
            if "marks" in name:
                kept[name] = tuple(kept[name])
        return core.Blank(**kept)

    def to_part(self, board: BoardSpec) -> Part:
        """The part folded again, from what was stored. board: what its enclosure is made of."""
        flat, how = self.to_core(), self.assembly
        return Part(
            self.part,
            flat,
            fold(flat, replace(board, caliper_mm=how["thick_mm"])),
            Seat(how["seat"]),
            material=self.material,
            at_mm=tuple(how["at_mm"]),
            lift_mm=how["lift_mm"],
            joints=tuple(GlueJoint(*joint) for joint in how["joints"]),
            thick_mm=how["thick_mm"],
        )
