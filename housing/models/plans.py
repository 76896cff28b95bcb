"""The cutting plan: which blank comes out of which sheet, and how far the plan is from the least possible."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from boards.models import Board, Offcut, SheetSize
from housing.models.blanks import Blank
from housing.models.campaigns import Campaign
from housing.models.people import Person


class CuttingPlan(models.Model):
    """All sheets of a campaign, as planned at one moment; planning again replaces what is not yet cut."""

    campaign = models.OneToOneField(Campaign, on_delete=models.CASCADE, related_name="plan")
    made_at = models.DateTimeField(_("when the records were read that it rests on"), default=timezone.now)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    kerf_mm = models.DecimalField(max_digits=6, decimal_places=3)
    trim_mm = models.DecimalField(max_digits=6, decimal_places=3)

    class Meta:
        ordering = ["-made_at"]

    def __str__(self) -> str:
        return _("Cutting plan of {campaign}").format(campaign=self.campaign)


class BoardPlan(models.Model):
    """The new sheets of one board in a plan beside the lower bound: what no plan could do better than."""

    plan = models.ForeignKey(CuttingPlan, on_delete=models.CASCADE, related_name="board_plans")
    board = models.ForeignKey(Board, on_delete=models.PROTECT, related_name="+")
    cost = models.DecimalField(max_digits=12, decimal_places=2)
    least_cost = models.DecimalField(_("lower bound of the cost"), max_digits=12, decimal_places=2)
    sheets = models.PositiveIntegerField()
    least_sheets = models.PositiveIntegerField(_("lower bound of the sheets"))
    used_share = models.FloatField(help_text=_("Area of the blanks over the area of the sheets, 0 to 1."))

    class Meta:
        ordering = ["plan", "board__code"]
        constraints = [
            models.UniqueConstraint(fields=["plan", "board"], name="one_board_plan_a_board"),
            models.CheckConstraint(condition=Q(cost__gte=0, least_cost__gte=0), name="board_plan_costs"),
        ]

    def __str__(self) -> str:
        return _("{code} in {plan}").format(code=self.board.code, plan=self.plan)

    @property
    def percent_above_least(self) -> float:
        """How far the cost lies above the lower bound, at most, in per cent."""
        return float(self.cost / self.least_cost - 1) * 100 if self.least_cost else 0.0


class PlannedSheet(models.Model):
    """A sheet or an offcut and what is cut from it; x runs along the flutes. Lengths in mm."""

    plan = models.ForeignKey(CuttingPlan, on_delete=models.CASCADE, related_name="sheets")
    position = models.PositiveIntegerField()
    board = models.ForeignKey(Board, on_delete=models.PROTECT, related_name="+")
    sheet_size = models.ForeignKey(
        SheetSize, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    batch = models.PositiveSmallIntegerField(_("first batch that it is cut for"), default=1)
    offcut = models.ForeignKey(Offcut, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    along_mm = models.DecimalField(max_digits=10, decimal_places=4)
    across_mm = models.DecimalField(max_digits=10, decimal_places=4)
    price = models.DecimalField(max_digits=10, decimal_places=2)
    cuts = models.JSONField(default=list)
    offcuts = models.JSONField(default=list)
    person = models.ForeignKey(
        Person,
        on_delete=models.SET_NULL,
        null=True,
        blank=True,
        related_name="sheets",
        verbose_name=_("cut by"),
    )
    week = models.PositiveIntegerField(_("week in which it is to be cut"), default=1)
    cut_at = models.DateTimeField(null=True, blank=True)
    cut_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["plan", "position"]
        constraints = [
            models.UniqueConstraint(fields=["plan", "position"], name="one_sheet_at_a_position"),
            models.CheckConstraint(
                condition=Q(sheet_size__isnull=False, offcut__isnull=True)
                | Q(sheet_size__isnull=True, offcut__isnull=False),
                name="planned_from_a_sheet_or_an_offcut",
            ),
        ]

    def __str__(self) -> str:
        return _("Sheet {position}").format(position=self.position)


class PlannedBlank(models.Model):
    """Where a blank lies on its sheet, from the sheet's corner, in mm; x runs along the flutes."""

    sheet = models.ForeignKey(PlannedSheet, on_delete=models.CASCADE, related_name="placements")
    blank = models.ForeignKey(Blank, on_delete=models.CASCADE, related_name="placements")
    x_mm = models.DecimalField(max_digits=10, decimal_places=4)
    y_mm = models.DecimalField(max_digits=10, decimal_places=4)
    along_mm = models.DecimalField(max_digits=10, decimal_places=4)
    across_mm = models.DecimalField(max_digits=10, decimal_places=4)
    turned = models.BooleanField(default=False)
    host = models.ForeignKey(
        "self",
        on_delete=models.CASCADE,
        null=True,
        blank=True,
        related_name="guests",
        help_text=_("The blank from whose waste corner it is cut; none if it lies on the sheet itself."),
    )

    class Meta:
        ordering = ["sheet", "y_mm", "x_mm"]
        constraints = [
            models.UniqueConstraint(fields=["sheet", "blank"], name="blank_once_on_a_sheet"),
        ]

    def __str__(self) -> str:
        return _("{blank} on {sheet}").format(blank=self.blank, sheet=self.sheet)
