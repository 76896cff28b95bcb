"""Ways of doing a campaign: scenarios, standard sizes, boxes sold ready-made, choices within limits."""

from decimal import Decimal

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from boards.models import Supplier
from housing.models.campaigns import Campaign
from housing.models.designs import Design


class ReadyMadeBox(models.Model):
    """A box that can be bought, with its clear inside. Sizes in mm, price of a pack."""

    name = models.CharField(max_length=120, unique=True)
    supplier = models.ForeignKey(
        Supplier, on_delete=models.SET_NULL, null=True, blank=True, related_name="ready_made_boxes"
    )
    inner_x_mm = models.DecimalField(_("width inside"), max_digits=10, decimal_places=4)
    inner_y_mm = models.DecimalField(_("depth inside"), max_digits=10, decimal_places=4)
    inner_z_mm = models.DecimalField(_("height inside"), max_digits=10, decimal_places=4)
    wall_mm = models.DecimalField(_("thickness of its walls"), max_digits=7, decimal_places=4, default=0)
    pack = models.PositiveSmallIntegerField(_("boxes in a pack"), default=1)
    price = models.DecimalField(_("price of a pack"), max_digits=10, decimal_places=2, null=True, blank=True)
    priced_on = models.DateField(_("price holds from"), null=True, blank=True)
    withdrawn_on = models.DateField(_("no longer sold from"), null=True, blank=True)
    is_buffered = models.BooleanField(_("of buffered board"), default=True)
    note = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ["name"]
        verbose_name_plural = "ready-made boxes"
        constraints = [
            models.CheckConstraint(
                condition=Q(inner_x_mm__gt=0, inner_y_mm__gt=0, inner_z_mm__gt=0, wall_mm__gte=0, pack__gt=0),
                name="ready_made_box_has_a_size",
            ),
            models.CheckConstraint(
                condition=Q(price__isnull=True) | Q(price__gte=0), name="ready_made_price_not_negative"
            ),
        ]

    def __str__(self) -> str:
        return self.name


class SizeFamily(models.Model):
    """A search for few box sizes that serve many objects, and what it found. Lengths in mm."""

    campaign = models.ForeignKey(Campaign, on_delete=models.CASCADE, related_name="size_families")
    name = models.CharField(max_length=120)
    design = models.ForeignKey(Design, on_delete=models.CASCADE, related_name="+")
    sizes_wanted = models.PositiveSmallIntegerField(_("how many sizes"), default=8)
    slack_mm = models.DecimalField(
        _("largest gap around an object on a side"), max_digits=8, decimal_places=4, default=Decimal("40")
    )
    volume_price = models.DecimalField(
        _("worth of a litre of storage"), max_digits=8, decimal_places=4, default=0
    )
    made_at = models.DateTimeField(null=True, blank=True)
    result = models.JSONField(
        default=dict, blank=True, help_text=_("Sizes, who gets which, cost against number, gap.")
    )
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["campaign", "name"]
        verbose_name_plural = "size families"
        constraints = [
            models.UniqueConstraint(fields=["campaign", "name"], name="one_size_family_of_a_name"),
            models.CheckConstraint(
                condition=Q(sizes_wanted__gt=0, slack_mm__gte=0, volume_price__gte=0),
                name="size_family_possible",
            ),
        ]

    def __str__(self) -> str:
        return self.name


class Scenario(models.Model):
    """Another way of doing a campaign: only what differs from it is kept, and what came of it."""

    campaign = models.ForeignKey(Campaign, on_delete=models.CASCADE, related_name="scenarios")
    name = models.CharField(max_length=120)
    note = models.CharField(max_length=300, blank=True)
    position = models.PositiveSmallIntegerField(default=1)
    differences = models.JSONField(default=dict, blank=True)
    made_at = models.DateTimeField(_("when the records were read that it rests on"), null=True, blank=True)
    result = models.JSONField(default=dict, blank=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["campaign", "position", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["campaign", "name"], name="one_scenario_of_a_name"),
        ]

    def __str__(self) -> str:
        return self.name


class Selection(models.Model):
    """Which objects to house within limits of money, hours and time, and why these. Hours by skill."""

    campaign = models.ForeignKey(Campaign, on_delete=models.CASCADE, related_name="selections")
    name = models.CharField(max_length=120)
    money = models.DecimalField(_("money at most"), max_digits=12, decimal_places=2, null=True, blank=True)
    hours = models.JSONField(_("hours at most, by skill"), default=dict, blank=True)
    ends_on = models.DateField(_("to be done by"), null=True, blank=True)
    must = models.JSONField(_("objects that must be in"), default=list, blank=True)
    must_not = models.JSONField(_("objects that must not be in"), default=list, blank=True)
    sets = models.JSONField(_("objects kept together"), default=list, blank=True)
    whole_locations = models.BooleanField(_("locations are finished whole"), default=False)
    made_at = models.DateTimeField(_("when the records were read that it rests on"), null=True, blank=True)
    result = models.JSONField(
        default=dict, blank=True, help_text=_("Objects chosen, value, gap, use of limits.")
    )
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["campaign", "name"]
        constraints = [
            models.UniqueConstraint(fields=["campaign", "name"], name="one_selection_of_a_name"),
            models.CheckConstraint(
                condition=Q(money__isnull=True) | Q(money__gte=0), name="selection_money_not_negative"
            ),
        ]

    def __str__(self) -> str:
        return self.name
