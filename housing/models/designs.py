"""The housing design: a named recipe that turns an object's size into an enclosure."""

from decimal import Decimal

from django.db import models
from django.db.models import Q

from boards.models import Board
from housing.core.clearances import Allowances
from housing.core.enclosures import ENCLOSURES
from housing.core.enclosures.form import COMPENSATED, NOMINAL, FormOptions
from housing.core.estimate import LabourFigures

FORM_CHOICES = [(form.key, form.name) for form in ENCLOSURES.values()]


def _minutes(default: str, label: str) -> models.DecimalField:
    return models.DecimalField(label, max_digits=6, decimal_places=2, default=Decimal(default))


class Design(models.Model):
    """A recipe: form, board, allowances, flap, lid, padding and the figures for labour. Lengths in mm."""

    class Drawn(models.TextChoices):
        COMPENSATED = COMPENSATED, "Compensated: the clear inside is what was asked"
        NOMINAL = NOMINAL, "Nominal: the wanted size drawn straight on the board"

    name = models.CharField(max_length=120, unique=True)
    form = models.CharField(max_length=40, choices=FORM_CHOICES, default="lidded_tray")
    board = models.ForeignKey(Board, on_delete=models.PROTECT, related_name="designs")
    drawn = models.CharField(
        "how the blank is drawn", max_length=12, choices=Drawn, default=Drawn.COMPENSATED
    )
    height_allowance_mm = models.DecimalField(
        "allowance on the height", max_digits=8, decimal_places=4, default=Decimal("25.4")
    )
    side_allowance_mm = models.DecimalField(
        "allowance on each side", max_digits=8, decimal_places=4, default=Decimal("25.4")
    )
    flap_width_mm = models.DecimalField(
        "flap width",
        max_digits=8,
        decimal_places=4,
        null=True,
        blank=True,
        help_text="Leave blank for 63.5 mm (2 1/2 in), less on low walls.",
    )
    flaps_on_long_walls = models.BooleanField("flaps grow from the long walls", default=True)
    lid_depth_mm = models.DecimalField("lid depth", max_digits=8, decimal_places=4, default=Decimal("88.9"))
    lid_clearance_mm = models.DecimalField(
        "lid clearance on each side", max_digits=8, decimal_places=4, default=Decimal("3.175")
    )
    padding = models.CharField(
        max_length=120, blank=True, help_text="What lines floor and walls; blank for none."
    )
    padding_price_m2 = models.DecimalField(
        "padding price per m²", max_digits=8, decimal_places=2, default=Decimal("0")
    )
    setup_minutes = _minutes("8", "minutes to fetch and set out")
    score_minutes_m = _minutes("1.2", "minutes per metre scored")
    cut_minutes_m = _minutes("1.5", "minutes per metre cut")
    joint_minutes = _minutes("1", "minutes per glue joint")
    padding_minutes = _minutes("3", "minutes to pad")
    fit_minutes = _minutes("6", "minutes to fit, label and photograph")
    return_minutes = _minutes("4", "minutes to return it to its shelf")
    notes = models.TextField(blank=True)
    changed_at = models.DateTimeField(auto_now=True)

    class Meta:
        ordering = ["name"]
        constraints = [
            models.CheckConstraint(
                condition=Q(height_allowance_mm__gte=0, side_allowance_mm__gte=0),
                name="design_allowances_not_negative",
            ),
            models.CheckConstraint(
                condition=Q(flap_width_mm__isnull=True) | Q(flap_width_mm__gt=0), name="design_flap_positive"
            ),
            models.CheckConstraint(
                condition=Q(lid_depth_mm__gt=0, lid_clearance_mm__gte=0), name="design_lid_possible"
            ),
            models.CheckConstraint(condition=Q(padding_price_m2__gte=0), name="design_padding_price"),
            models.CheckConstraint(
                condition=Q(
                    setup_minutes__gte=0,
                    score_minutes_m__gte=0,
                    cut_minutes_m__gte=0,
                    joint_minutes__gte=0,
                    padding_minutes__gte=0,
                    fit_minutes__gte=0,
                    return_minutes__gte=0,
                ),
                name="design_minutes_not_negative",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def has_lid(self) -> bool:
        return ENCLOSURES[self.form].has_lid

    def to_allowances(self) -> Allowances:
        return Allowances(float(self.height_allowance_mm), float(self.side_allowance_mm))

    def to_options(self) -> FormOptions:
        return FormOptions(
            flap_width_mm=float(self.flap_width_mm) if self.flap_width_mm is not None else None,
            flaps_on_long_walls=self.flaps_on_long_walls,
            lid_depth_mm=float(self.lid_depth_mm),
            lid_clearance_mm=float(self.lid_clearance_mm),
            drawn=self.drawn,
        )

    def to_labour(self) -> LabourFigures:
        return LabourFigures(
            setup_minutes=float(self.setup_minutes),
            score_minutes_m=float(self.score_minutes_m),
            cut_minutes_m=float(self.cut_minutes_m),
            joint_minutes=float(self.joint_minutes),
            padding_minutes=float(self.padding_minutes),
            fit_minutes=float(self.fit_minutes),
            return_minutes=float(self.return_minutes),
        )
