"""Budgets: the figures a campaign's budget rests on, the budget itself, its frozen baselines, and phases."""

from decimal import Decimal

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from housing.models.campaigns import Campaign
from housing.models.people import Person


def _share(label: str, default: str, help_text: str = "") -> models.DecimalField:
    return models.DecimalField(
        label, max_digits=5, decimal_places=4, default=Decimal(default), help_text=help_text
    )


class BudgetTerms(models.Model):
    """The figures that a campaign's budget rests on besides its plan; shares from 0 to 1."""

    class AllowanceOf(models.TextChoices):
        WORK = "work", _("A share of the time worked")
        SHIFT = "shift", _("A share of the whole shift")

    class Learning(models.TextChoices):
        NONE = "none", _("No learning: every box takes the standard time")
        UNIT = "unit", _("Each doubling lowers the time of a single box")
        AVERAGE = "average", _("Each doubling lowers the average of all boxes so far")

    campaign = models.OneToOneField(Campaign, on_delete=models.CASCADE, related_name="budget_terms")
    allowance_share = _share("allowance for rest", "0.11")
    allowance_of = models.CharField(max_length=5, choices=AllowanceOf, default=AllowanceOf.WORK)
    learning = models.CharField(max_length=7, choices=Learning, default=Learning.NONE)
    learning_rate = _share(
        "time left after doubling", "0.9", "0.9: what took 10 minutes takes 9 when twice as many are made."
    )
    learning_rates = models.JSONField(
        _("time left after doubling, by form"), default=dict, blank=True, help_text=_("Where it differs.")
    )
    learning_reference = models.PositiveSmallIntegerField(
        _("box of a form that takes the standard time"), default=20
    )
    alike_share = _share("marking out a blank like the one before", "0.5", "A share of the first one's time.")
    supervision_share = _share("hours of supervision for an hour of volunteers or interns", "0")
    supervisor = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, blank=True, related_name="+")
    indirect_share = _share("indirect costs, a share of all others", "0")
    board_spoilage_share = _share("sheets spoiled", "0.03")
    glue_bead_mm = models.DecimalField(
        _("bead of glue"),
        max_digits=5,
        decimal_places=2,
        default=Decimal("3"),
        help_text=_("Its diameter in mm."),
    )
    beads_per_joint = models.PositiveSmallIntegerField(_("beads beside each other in a joint"), default=2)
    labels_each = models.PositiveSmallIntegerField(_("labels on a box"), default=1)
    gap_filled_share = _share("gap around the object filled with tissue", "0.5")
    uses_logged_times = models.BooleanField(_("logged minutes correct the standard times"), default=True)
    contingency_percent = models.PositiveSmallIntegerField(
        _("contingency up to the figure not exceeded in so many of 100 cases"), default=80
    )
    ends_on = models.DateField(_("to be done by"), null=True, blank=True)
    funder_note = models.TextField(_("words for the funder"), blank=True)
    in_kind_source = models.CharField(
        _("where the value of given hours comes from"), max_length=300, blank=True
    )
    ranges = models.JSONField(
        _("ranges of uncertain inputs"),
        default=dict,
        blank=True,
        help_text=_("By cause: at best, most likely, at worst, as multiples; where they differ."),
    )

    class Meta:
        verbose_name_plural = "budget terms"
        constraints = [
            models.CheckConstraint(
                condition=Q(
                    allowance_share__gte=0, allowance_share__lt=1, learning_rate__gte=Decimal("0.5"),
                    learning_rate__lte=1, learning_reference__gt=0, alike_share__gte=0, alike_share__lte=1,
                    supervision_share__gte=0, supervision_share__lte=1, indirect_share__gte=0,
                    indirect_share__lte=1, board_spoilage_share__gte=0, board_spoilage_share__lt=1,
                    glue_bead_mm__gt=0, gap_filled_share__gte=0, gap_filled_share__lte=1,
                    contingency_percent__gte=1, contingency_percent__lte=99,
                ),
                name="budget_terms_possible",
            ),
        ]  # fmt: skip

    def __str__(self) -> str:
        return _("Figures for the budget of {campaign}").format(campaign=self.campaign)


class Budget(models.Model):
    """A campaign's budget as it was worked out; one is live and worked out again, the others are frozen."""

    campaign = models.ForeignKey(Campaign, on_delete=models.CASCADE, related_name="budgets")
    made_at = models.DateTimeField(_("when the records were read that it rests on"), default=timezone.now)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    frozen_at = models.DateTimeField(null=True, blank=True)
    name = models.CharField(max_length=120, blank=True, help_text=_("Of a frozen one, such as a grant."))
    currency = models.CharField(max_length=3)
    money = models.DecimalField(_("to be paid, without contingency"), max_digits=14, decimal_places=2)
    contingency = models.DecimalField(max_digits=14, decimal_places=2, default=Decimal("0"))
    is_complete = models.BooleanField(default=True)
    boxes = models.PositiveIntegerField(default=0)
    hours = models.DecimalField(max_digits=12, decimal_places=2, default=Decimal("0"))
    content = models.JSONField(help_text=_("Lines, problems, range, months, assumptions; money as text."))

    class Meta:
        ordering = ["campaign", "-made_at"]
        constraints = [
            models.UniqueConstraint(
                fields=["campaign"], condition=Q(frozen_at__isnull=True), name="one_live_budget_a_campaign"
            ),
            models.CheckConstraint(
                condition=Q(frozen_at__isnull=True) | ~Q(name=""), name="frozen_budget_has_a_name"
            ),
        ]

    def __str__(self) -> str:
        return _("{name} of {campaign}").format(name=self.name or _("Budget"), campaign=self.campaign)

    @property
    def asked_for(self) -> Decimal:
        return self.money + self.contingency


class Phase(models.Model):
    """A part of a campaign with dates and money of its own, such as a grant period: some of its batches."""

    campaign = models.ForeignKey(Campaign, on_delete=models.CASCADE, related_name="phases")
    name = models.CharField(max_length=120)
    starts_on = models.DateField()
    ends_on = models.DateField()
    money = models.DecimalField(_("money for it"), max_digits=12, decimal_places=2, null=True, blank=True)
    first_batch = models.PositiveSmallIntegerField(_("from batch"), default=1)
    last_batch = models.PositiveSmallIntegerField(_("to batch"), default=1)
    note = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ["campaign", "starts_on", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["campaign", "name"], name="one_phase_of_a_name"),
            models.CheckConstraint(
                condition=Q(ends_on__gte=F("starts_on")), name="phase_ends_after_it_starts"
            ),
            models.CheckConstraint(
                condition=Q(first_batch__gt=0, last_batch__gte=F("first_batch")),
                name="phase_batches_in_order",
            ),
            models.CheckConstraint(
                condition=Q(money__isnull=True) | Q(money__gte=0), name="phase_money_not_negative"
            ),
        ]

    def __str__(self) -> str:
        return self.name
