"""What each cutting plan of a campaign was when it was made; the plan itself is replaced by the next one."""

from decimal import Decimal

from django.conf import settings
from django.db import models
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext_lazy as _

from housing.core.plan_comparison import BoardFigures, KeptPlan, SheetContents
from housing.models.campaigns import Campaign


class PlanRecord(models.Model):
    """A plan in figures and names, for comparing it with another; nothing is cut from it."""

    campaign = models.ForeignKey(Campaign, on_delete=models.CASCADE, related_name="plan_records")
    made_at = models.DateTimeField(_("when the plan was made"), default=timezone.now)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    rules = models.JSONField(default=dict, help_text=_("What the plan went by: label to words."))
    boards = models.JSONField(default=list, help_text=_("The figures of each board; money as text."))
    sheets = models.JSONField(default=list, help_text=_("Each sheet with the names of the blanks on it."))
    note = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["campaign", "-pk"]  # in the order in which they were stored, the last one first

    def __str__(self) -> str:
        return _("Plan of {campaign} of {moment}").format(
            campaign=self.campaign, moment=date_format(self.made_at, "d F Y, H:i")
        )

    @property
    def cost(self) -> Decimal:
        """What all its sheets cost, those cut before it was made included."""
        return sum((Decimal(row["cost"]) + Decimal(row["cut_cost"]) for row in self.boards), Decimal())

    @property
    def sheet_count(self) -> int:
        return sum(row["sheets"] + row["cut_sheets"] for row in self.boards)

    def to_core(self) -> KeptPlan:
        return KeptPlan(
            rules=self.rules,
            boards=tuple(
                BoardFigures(
                    **row | {name: Decimal(row[name]) for name in ("cost", "least_cost", "cut_cost")}
                )
                for row in self.boards
            ),
            sheets=tuple(SheetContents(**row | {"blanks": tuple(row["blanks"])}) for row in self.sheets),
        )
