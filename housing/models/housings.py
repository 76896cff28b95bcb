"""The housing: one object or a set of objects, and the enclosure made for it."""

from collections.abc import Mapping
from copy import copy
from decimal import Decimal
from typing import Any

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from housing.models.campaigns import Campaign
from housing.models.designs import Design
from objects.core.words import say
from objects.models import CatalogueObject

PADDING = "padding"
RECIPE = (PADDING, "height_allowance_mm", "side_allowance_mm")  # what advice puts in place of the design's


def recipe_of(advice: Mapping[str, Any]) -> dict[str, Any]:
    """Of what rules advised, what changes how a box is made: value by piece, and the padding's price."""
    given = {name: advice[name]["value"] for name in RECIPE if name in advice}
    if PADDING in given and (price := advice[PADDING].get("price_m2")) is not None:
        given["padding_price_m2"] = price
    return given


def marks_of(advice: Mapping[str, Any]) -> list[str]:
    """The keys of the marks that rules advised."""
    return [mark["value"] for mark in advice.get("marks", ())]


class Housing(models.Model):
    """An enclosure from plan to shelf. Sizes in mm, costs in the campaign's currency."""

    class Status(models.TextChoices):
        WAITING = "waiting", _("Waiting")
        PLANNED = "planned", _("Planned")
        IN_WORK = "in_work", _("In work")
        MADE = "made", _("Made, still empty")
        HOUSED = "housed", _("Housed")
        DROPPED = "dropped", _("Dropped")

    class Problem(models.TextChoices):
        NONE = "", _("None")
        UNMEASURED = "unmeasured", _("Not measured")
        CHECK = "check", _("Size to be checked")
        NO_DESIGN = "no_design", _("No design fits")
        REFUSED = "refused", _("Design does not work for this size")
        TOO_LARGE = "too_large", _("Larger than every sheet")
        REMAKE = "remake", _("To be made again")

    campaign = models.ForeignKey(
        Campaign, on_delete=models.PROTECT, null=True, blank=True, related_name="housings"
    )
    design = models.ForeignKey(
        Design, on_delete=models.PROTECT, null=True, blank=True, related_name="housings"
    )
    objects_in_it = models.ManyToManyField(CatalogueObject, through="HousedObject", related_name="housings")
    design_reason = models.CharField(_("why this design"), max_length=400, blank=True)
    advice = models.JSONField(
        _("what the rules advised"),
        default=dict,
        blank=True,
        help_text=_(
            "By piece of advice: its value, the rule's position, reason and source; and the conflicts."
        ),
    )
    status = models.CharField(max_length=8, choices=Status, default=Status.WAITING, db_index=True)
    problem = models.CharField(max_length=10, choices=Problem, default=Problem.NONE, blank=True)
    problem_note = models.CharField(max_length=600, blank=True)
    notes = models.JSONField(default=list, blank=True)
    supplies = models.JSONField(default=list, blank=True, help_text=_("What else it needs, and how many."))

    inner_x_mm = models.DecimalField(max_digits=10, decimal_places=4, null=True, blank=True)
    inner_y_mm = models.DecimalField(max_digits=10, decimal_places=4, null=True, blank=True)
    inner_z_mm = models.DecimalField(max_digits=10, decimal_places=4, null=True, blank=True)
    outside_x_mm = models.DecimalField(max_digits=10, decimal_places=4, null=True, blank=True)
    outside_y_mm = models.DecimalField(max_digits=10, decimal_places=4, null=True, blank=True)
    outside_z_mm = models.DecimalField(max_digits=10, decimal_places=4, null=True, blank=True)

    board_cost = models.DecimalField(max_digits=10, decimal_places=2, default=0)
    glue_cost = models.DecimalField(max_digits=10, decimal_places=2, default=0)
    padding_cost = models.DecimalField(max_digits=10, decimal_places=2, default=0)
    labour_cost = models.DecimalField(max_digits=10, decimal_places=2, default=0)
    other_cost = models.DecimalField(
        _("supplies, freight, supervision and the like"), max_digits=10, decimal_places=2, default=0
    )
    labour_minutes = models.DecimalField(max_digits=8, decimal_places=2, default=0)
    code = models.CharField(
        _("code on its label"),
        max_length=12,
        unique=True,
        null=True,
        blank=True,
        default=None,
        editable=False,
        help_text=_("Given when a label is first printed; never used for another box."),
    )
    remake_of = models.ForeignKey(
        "self",
        on_delete=models.SET_NULL,
        null=True,
        blank=True,
        related_name="remakes",
        help_text=_("The box that did not fit and that this one is made in place of."),
    )
    created_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(status__in=["waiting", "dropped"]) | Q(design__isnull=False),
                name="housing_in_hand_has_a_design",
            ),
            models.CheckConstraint(
                condition=Q(status__in=["waiting", "dropped"])
                | Q(inner_x_mm__gt=0, inner_y_mm__gt=0, inner_z_mm__gt=0),
                name="housing_in_hand_has_a_size",
            ),
            models.CheckConstraint(
                condition=~Q(status="waiting") | ~Q(problem=""), name="housing_waiting_says_why"
            ),
        ]

    def __str__(self) -> str:
        return self.box_number

    @property
    def box_number(self) -> str:
        return say("Box {number:04d}", number=self.pk)

    @property
    def cost(self):
        """Its share of the campaign's budget: board, glue, padding, labour and all else together."""
        return self.board_cost + self.glue_cost + self.padding_cost + self.labour_cost + self.other_cost

    @property
    def recipe(self) -> Design | None:
        """The design with the padding and allowances that the rules advise for this box; not to be saved."""
        design, given = self.design, recipe_of(self.advice)
        if design is None or not given or not design.to_form().is_padded:
            return design
        advised = copy(design)
        for name, value in given.items():
            setattr(advised, name, value if name == PADDING else Decimal(str(value)))
        return advised

    @property
    def inner_mm(self) -> tuple:
        """Clear inside in mm: height, width, depth."""
        return self.inner_z_mm, self.inner_x_mm, self.inner_y_mm

    @property
    def outside_mm(self) -> tuple:
        """Outside of the closed box in mm: height, width, depth."""
        return self.outside_z_mm, self.outside_x_mm, self.outside_y_mm


class HousedObject(models.Model):
    """That an object belongs in a housing. Only one such tie of an object is live at a time."""

    housing = models.ForeignKey(Housing, on_delete=models.CASCADE, related_name="contents")
    object = models.ForeignKey(CatalogueObject, on_delete=models.PROTECT, related_name="housing_ties")
    position = models.PositiveIntegerField(default=1)
    is_live = models.BooleanField(default=True)

    class Meta:
        ordering = ["housing", "position"]
        constraints = [
            models.UniqueConstraint(
                fields=["object"], condition=Q(is_live=True), name="one_live_housing_an_object"
            ),
            models.UniqueConstraint(fields=["housing", "object"], name="object_once_in_a_housing"),
        ]

    def __str__(self) -> str:
        return say("{object} in {box}", object=self.object, box=self.housing)


class HousingEvent(models.Model):
    """One step on a housing's way, with who and when: the dated trail."""

    housing = models.ForeignKey(Housing, on_delete=models.CASCADE, related_name="events")
    status = models.CharField(max_length=8, choices=Housing.Status)
    note = models.CharField(max_length=300, blank=True)
    at = models.DateTimeField(auto_now_add=True, db_index=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["at", "pk"]

    def __str__(self) -> str:
        return f"{self.housing} {self.get_status_display()}"
