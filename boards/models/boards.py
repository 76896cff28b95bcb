"""A board and the sheet sizes it comes in."""

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from boards.core.board import BoardSpec


class Board(models.Model):
    """A kind of board: what it is made of, how thick it is and how it folds."""

    class Construction(models.TextChoices):
        SINGLE_WALL = "single_wall", _("Single wall corrugated")
        DOUBLE_WALL = "double_wall", _("Double wall corrugated")
        SOLID = "solid", _("Solid board")

    class Fold(models.TextChoices):
        INSIDE = "0", _("Cut-scored on the outside (nothing lost inside)")
        MIDDLE = "0.5", _("Creased (half a caliper lost inside)")
        OUTSIDE = "1", _("Relieved from the inside (a whole caliper lost inside)")

    code = models.CharField(max_length=20, unique=True)
    name = models.CharField(max_length=120)
    construction = models.CharField(max_length=12, choices=Construction, default=Construction.SINGLE_WALL)
    flute = models.CharField(
        max_length=4, blank=True, help_text=_("Flute letter, such as B or E; blank for solid.")
    )
    caliper_mm = models.DecimalField(_("caliper"), max_digits=7, decimal_places=4)
    fold_share = models.CharField(_("how it is folded"), max_length=4, choices=Fold, default=Fold.MIDDLE)
    grammage_g_m2 = models.DecimalField(_("grammage"), max_digits=7, decimal_places=1, null=True, blank=True)
    is_buffered = models.BooleanField(_("buffered"), default=True)
    standards = models.CharField(
        _("anything else stated"),
        max_length=300,
        blank=True,
        help_text=_("What is said of it besides the statements that it meets a standard."),
    )
    edge_crush_kn_m = models.DecimalField(
        _("edge crush"), max_digits=6, decimal_places=2, null=True, blank=True, help_text=_("kN/m, if known.")
    )
    measured_caliper_mm = models.DecimalField(max_digits=7, decimal_places=4, null=True, blank=True)
    measured_fold_share = models.DecimalField(max_digits=5, decimal_places=4, null=True, blank=True)
    measured_note = models.CharField(max_length=200, blank=True)
    withdrawn_on = models.DateField(_("no longer sold from"), null=True, blank=True)
    changed_at = models.DateTimeField(auto_now=True)

    class Meta:
        ordering = ["code"]
        constraints = [
            models.CheckConstraint(
                condition=Q(measured_caliper_mm__isnull=True, measured_fold_share__isnull=True)
                | Q(
                    measured_caliper_mm__isnull=False,
                    measured_fold_share__isnull=False,
                    measured_caliper_mm__gt=0,
                    measured_fold_share__gte=0,
                    measured_fold_share__lte=1,
                ),
                name="board_correction_whole_and_possible",
            ),
            models.CheckConstraint(condition=Q(caliper_mm__gt=0), name="board_caliper_positive"),
            models.CheckConstraint(
                condition=Q(grammage_g_m2__isnull=True) | Q(grammage_g_m2__gt=0),
                name="board_grammage_positive",
            ),
            models.CheckConstraint(condition=~Q(code=""), name="board_has_a_code"),
        ]

    def __str__(self) -> str:
        return f"{self.code} {self.name}"

    @property
    def is_corrected(self) -> bool:
        """Whether a finished box told caliper and fold share; they go before those that were stated."""
        return self.measured_caliper_mm is not None

    def to_core(self) -> BoardSpec:
        corrected = self.is_corrected
        return BoardSpec(
            caliper_mm=float(self.measured_caliper_mm if corrected else self.caliper_mm),
            fold_share=float(self.measured_fold_share if corrected else self.fold_share),
            grammage_g_m2=float(self.grammage_g_m2) if self.grammage_g_m2 else None,
            is_fluted=self.construction != self.Construction.SOLID,
        )


class SheetSize(models.Model):
    """A size a board is sold in; its length lies along the flutes or the grain."""

    board = models.ForeignKey(Board, on_delete=models.CASCADE, related_name="sheet_sizes")
    along_mm = models.DecimalField(_("length along the flutes"), max_digits=10, decimal_places=4)
    across_mm = models.DecimalField(_("width across the flutes"), max_digits=10, decimal_places=4)
    price = models.DecimalField(_("price per sheet"), max_digits=10, decimal_places=2)
    is_offered = models.BooleanField(_("can be bought"), default=True)
    pack = models.PositiveSmallIntegerField(
        _("sheets in a pack"),
        default=1,
        help_text=_("Packs are bought whole; 1 where single sheets are sold."),
    )
    supplier = models.ForeignKey(
        "boards.Supplier", on_delete=models.SET_NULL, null=True, blank=True, related_name="sheet_sizes"
    )
    priced_on = models.DateField(_("price holds from"), null=True, blank=True)
    reorder_level = models.PositiveIntegerField(
        _("order again at"), null=True, blank=True, help_text=_("Sheets in stock; blank: nobody is warned.")
    )

    class Meta:
        ordering = ["board__code", "along_mm", "across_mm"]
        constraints = [
            models.UniqueConstraint(
                fields=["board", "along_mm", "across_mm"], name="sheet_size_once_a_board"
            ),
            models.CheckConstraint(condition=Q(along_mm__gt=0, across_mm__gt=0), name="sheet_sides_positive"),
            models.CheckConstraint(condition=Q(price__gte=0), name="sheet_price_not_negative"),
            models.CheckConstraint(condition=Q(pack__gt=0), name="sheet_pack_positive"),
        ]

    def __str__(self) -> str:
        return f"{self.board.code} {self.along_mm:.0f} × {self.across_mm:.0f} mm"
