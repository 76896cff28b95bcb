"""What people found at the shelf: every measurement and answer, with who, when and how."""

import uuid
from decimal import Decimal

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from objects.core.lengths import LARGEST_MM
from objects.core.measuring import Measurement, Tolerance
from objects.models.locations import Location
from objects.models.objects import HAZARD_SEPARATOR, CatalogueObject


class SurveyEntry(models.Model):
    """One look at an object: what was measured, in mm and g, and what was answered; blank is not said.

    Sizes that an object had from its list or its edit page are kept as entries too before they are replaced.
    """

    class How(models.TextChoices):
        TAPE = "tape", _("Tape or ruler")
        CALIPERS = "calipers", _("Calipers")
        BOX = "box", _("Measuring box or board")
        EYE = "eye", _("Estimated by eye")
        LIST = "list", _("Taken from the catalogue list")
        TYPED = "typed", _("Typed on the object's page")

    class State(models.TextChoices):
        GOOD = "good", _("Good")
        DIFFERS = "differs", _("Differs from the one before")
        SET_ASIDE = "set_aside", _("Set aside")

    class Found(models.TextChoices):
        HERE = "here", _("Where it is recorded")
        MISSING = "missing", _("Not found there")
        ELSEWHERE = "elsewhere", _("At another place")

    entry_id = models.UUIDField(
        unique=True,
        default=uuid.uuid4,
        editable=False,
        help_text=_("Given by the device, so that an entry sent twice is kept once."),
    )
    object = models.ForeignKey(CatalogueObject, on_delete=models.CASCADE, related_name="survey_entries")
    how = models.CharField(_("measured with"), max_length=8, choices=How, default=How.TAPE)
    height_mm = models.DecimalField(_("height"), max_digits=10, decimal_places=4, null=True, blank=True)
    width_mm = models.DecimalField(_("width"), max_digits=10, decimal_places=4, null=True, blank=True)
    depth_mm = models.DecimalField(_("depth"), max_digits=10, decimal_places=4, null=True, blank=True)
    weight_g = models.DecimalField(_("weight"), max_digits=10, decimal_places=1, null=True, blank=True)
    quantity = models.PositiveIntegerField(null=True, blank=True)
    may_lie = models.CharField(max_length=10, choices=CatalogueObject.MayLie, blank=True, default="")
    measured_with = models.CharField(
        _("included in the size"), max_length=8, choices=CatalogueObject.MeasuredWith, blank=True, default=""
    )
    fragility = models.CharField(max_length=13, choices=CatalogueObject.Fragility, blank=True, default="")
    projecting_parts = models.CharField(
        _("fragile parts that project"), max_length=200, blank=True, default=""
    )
    condition = models.CharField(max_length=10, choices=CatalogueObject.Condition, blank=True, default="")
    present_housing = models.CharField(
        max_length=10, choices=CatalogueObject.PresentHousing, blank=True, default=""
    )
    hazards = models.CharField(
        max_length=200, blank=True, default="", help_text=_("Separated by semicolons.")
    )
    photo = models.ImageField(upload_to="photos", blank=True)
    note = models.CharField(max_length=300, blank=True, default="")
    found = models.CharField(max_length=9, choices=Found, default=Found.HERE)
    place = models.ForeignKey(
        Location,
        on_delete=models.SET_NULL,
        null=True,
        blank=True,
        related_name="+",
        help_text=_("Where the person stood; none for what was said elsewhere than at a shelf."),
    )

    state = models.CharField(_("measurement"), max_length=9, choices=State, default=State.GOOD)
    state_note = models.CharField(max_length=300, blank=True, default="")
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    measured_at = models.DateTimeField(db_index=True, help_text=_("By the clock of the device."))
    received_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["-measured_at", "-pk"]
        verbose_name_plural = _("survey entries")
        constraints = [
            *(
                models.CheckConstraint(
                    condition=Q(**{f"{side}__isnull": True})
                    | Q(**{f"{side}__gt": 0, f"{side}__lte": int(LARGEST_MM)}),
                    name=f"survey_entry_{side}_positive",
                )
                for side in ("height_mm", "width_mm", "depth_mm")
            ),
            models.CheckConstraint(
                condition=Q(weight_g__isnull=True) | Q(weight_g__gt=0), name="survey_entry_weight_positive"
            ),
            models.CheckConstraint(
                condition=Q(quantity__isnull=True) | Q(quantity__gte=1),
                name="survey_entry_quantity_at_least_one",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.object.number} on {self.measured_at:%Y-%m-%d}"

    @property
    def sides_mm(self) -> tuple:
        """Height, width and depth in mm, None where not measured."""
        return self.height_mm, self.width_mm, self.depth_mm

    @property
    def is_measured(self) -> bool:
        """Whether at least one side was measured."""
        return any(side is not None for side in self.sides_mm)

    @property
    def hazard_list(self) -> list[str]:
        """Hazards as the labels a reader sees."""
        known = dict(CatalogueObject.Hazard.choices)
        return [str(known.get(hazard, hazard)) for hazard in self.hazards.split(HAZARD_SEPARATOR) if hazard]

    def to_core(self) -> Measurement:
        """The entry as the core compares it; a state note on a size from a list says that it is not sure."""
        is_from_list = self.how == self.How.LIST
        return Measurement(
            key=self.pk,
            how=self.how,
            sides_mm=self.sides_mm,
            at=self.measured_at,
            is_sure=self.how != self.How.EYE and not (is_from_list and self.state_note),
        )


class MeasuringRules(models.Model):
    """How far two measurements may differ before a person has to look; one record for the museum."""

    tolerance_mm = models.DecimalField(
        _("measurements may differ by"),
        max_digits=8,
        decimal_places=4,
        default=Decimal("3"),
        help_text=_("On each side; what differs by more is flagged."),
    )
    tolerance_percent = models.DecimalField(
        _("or by so much of the side"),
        max_digits=4,
        decimal_places=1,
        default=Decimal("1"),
        help_text=_("In per cent; the larger of the two counts."),
    )

    class Meta:
        verbose_name_plural = _("measuring rules")
        constraints = [
            models.CheckConstraint(condition=Q(pk=1), name="measuring_rules_only_once"),
            models.CheckConstraint(
                condition=Q(tolerance_mm__gte=0, tolerance_percent__gte=0, tolerance_percent__lte=100),
                name="measuring_tolerances_possible",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.tolerance_mm} mm or {self.tolerance_percent} %"

    def to_core(self) -> Tolerance:
        return Tolerance(self.tolerance_mm, self.tolerance_percent)
