"""Stock as ledgers of sheets, supplies and offcuts: entries are added and reversed, never edited."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from boards.models.boards import Board, SheetSize
from boards.models.supplies import Supply


class Reason(models.TextChoices):
    """Why goods were written off."""

    MISCUT = "miscut", _("Cut or scored wrongly")
    DAMAGED = "damaged", _("Damaged in the store")
    DELIVERY = "delivery", _("Damaged when it came")
    AGED = "aged", _("Too old to use")
    MISSING = "missing", _("Not there")
    OTHER = "other", _("Something else")


class StockMovement(models.Model):
    """Sheets in or out. Each entry carries the balance it leads to; the database refuses one below zero."""

    class Kind(models.TextChoices):
        RECEIPT = "receipt", _("Received")
        USE = "use", _("Used")
        WRITE_OFF = "write_off", _("Written off")
        COUNT = "count", _("Counted")
        REVERSAL = "reversal", _("Reversed")

    sheet_size = models.ForeignKey(SheetSize, on_delete=models.PROTECT, related_name="movements")
    sequence = models.PositiveIntegerField(help_text=_("Counts the movements of one sheet size from 1."))
    kind = models.CharField(max_length=10, choices=Kind)
    quantity = models.IntegerField(help_text=_("Sheets: above zero comes in, below zero goes out."))
    balance = models.IntegerField(_("balance after it"), editable=False)
    reverses = models.OneToOneField(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="reversed_by"
    )
    counted = models.PositiveIntegerField(
        _("sheets counted"),
        null=True,
        blank=True,
        help_text=_("Of a stock count; quantity is the difference."),
    )
    reason = models.CharField(max_length=8, choices=Reason, blank=True, default="")
    paid_each = models.DecimalField(
        _("paid for a sheet"),
        max_digits=10,
        decimal_places=2,
        null=True,
        blank=True,
        help_text=_("Of a receipt."),
    )
    reference = models.CharField(
        _("what it is for"),
        max_length=60,
        blank=True,
        default="",
        db_index=True,
        help_text=_("Such as planned_sheet:12 for a sheet issued to a batch."),
    )
    entry_id = models.UUIDField(
        unique=True,
        null=True,
        blank=True,
        editable=False,
        help_text=_("So that a form sent twice counts once."),
    )
    note = models.CharField(max_length=200, blank=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["sheet_size", "sequence"]
        constraints = [
            models.UniqueConstraint(fields=["sheet_size", "sequence"], name="stock_movements_in_one_row"),
            models.CheckConstraint(condition=Q(balance__gte=0), name="stock_never_negative"),
            models.CheckConstraint(
                condition=Q(kind="receipt", quantity__gt=0)
                | Q(kind__in=["use", "write_off"], quantity__lt=0)
                | Q(kind="count", counted__isnull=False)
                | (Q(kind="reversal", reverses__isnull=False) & ~Q(quantity=0)),
                name="stock_movement_sign_fits_its_kind",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} {self.quantity:+d} {self.sheet_size}"


class SupplyMovement(models.Model):
    """Units of a supply in or out; balance and sign are kept as those of sheets are."""

    class Kind(models.TextChoices):
        RECEIPT = "receipt", _("Received")
        USE = "use", _("Used")
        WRITE_OFF = "write_off", _("Written off")
        COUNT = "count", _("Counted")
        REVERSAL = "reversal", _("Reversed")

    supply = models.ForeignKey(Supply, on_delete=models.PROTECT, related_name="movements")
    sequence = models.PositiveIntegerField(help_text=_("Counts the movements of one supply from 1."))
    kind = models.CharField(max_length=10, choices=Kind)
    quantity = models.DecimalField(
        _("units"), max_digits=10, decimal_places=3, help_text=_("Above zero comes in, below zero goes out.")
    )
    balance = models.DecimalField(_("balance after it"), max_digits=10, decimal_places=3, editable=False)
    counted = models.DecimalField(
        _("units counted"),
        max_digits=10,
        decimal_places=3,
        null=True,
        blank=True,
        help_text=_("Of a stock count."),
    )
    reverses = models.OneToOneField(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="reversed_by"
    )
    reason = models.CharField(max_length=8, choices=Reason, blank=True, default="")
    paid = models.DecimalField(
        _("paid in all"), max_digits=10, decimal_places=2, null=True, blank=True, help_text=_("Of a receipt.")
    )
    reference = models.CharField(_("what it is for"), max_length=60, blank=True, default="", db_index=True)
    entry_id = models.UUIDField(unique=True, null=True, blank=True, editable=False)
    note = models.CharField(max_length=200, blank=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["supply", "sequence"]
        constraints = [
            models.UniqueConstraint(fields=["supply", "sequence"], name="supply_movements_in_one_row"),
            models.CheckConstraint(condition=Q(balance__gte=0), name="supply_stock_never_negative"),
            models.CheckConstraint(
                condition=Q(kind="receipt", quantity__gt=0)
                | Q(kind__in=["use", "write_off"], quantity__lt=0)
                | Q(kind="count", counted__isnull=False)
                | (Q(kind="reversal", reverses__isnull=False) & ~Q(quantity=0)),
                name="supply_movement_sign_fits_its_kind",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} {self.quantity:+f} {self.supply}"


class Offcut(models.Model):
    """A rest of a sheet kept on the rack until it is used or thrown away."""

    board = models.ForeignKey(Board, on_delete=models.PROTECT, related_name="offcuts")
    along_mm = models.DecimalField(_("length along the flutes"), max_digits=10, decimal_places=4)
    across_mm = models.DecimalField(_("width across the flutes"), max_digits=10, decimal_places=4)
    note = models.CharField(max_length=200, blank=True)
    kept_at = models.DateTimeField(auto_now_add=True)
    kept_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    gone_at = models.DateTimeField(null=True, blank=True)
    gone_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    gone_note = models.CharField(max_length=200, blank=True, help_text=_("What became of it."))

    class Meta:
        ordering = ["-kept_at"]
        constraints = [
            models.CheckConstraint(
                condition=Q(along_mm__gt=0, across_mm__gt=0), name="offcut_sides_positive"
            ),
        ]

    def __str__(self) -> str:
        return f"Offcut {self.pk}: {self.along_mm:.0f} × {self.across_mm:.0f} mm {self.board.code}"


class RackEntry(models.Model):
    """What happened to an offcut: put on the rack, taken, thrown away, or one of these reversed."""

    class Kind(models.TextChoices):
        KEPT = "kept", _("Put on the rack")
        TAKEN = "taken", _("Taken to be cut")
        THROWN = "thrown", _("Thrown away")
        GONE = "gone", _("Found to be gone")
        REVERSAL = "reversal", _("Reversed")

    offcut = models.ForeignKey(Offcut, on_delete=models.PROTECT, related_name="entries")
    kind = models.CharField(max_length=8, choices=Kind)
    reverses = models.OneToOneField(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="reversed_by"
    )
    reference = models.CharField(_("what it is for"), max_length=60, blank=True, default="", db_index=True)
    note = models.CharField(max_length=200, blank=True)
    at = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["offcut", "pk"]
        verbose_name_plural = _("rack entries")
        constraints = [
            models.CheckConstraint(
                condition=Q(kind="reversal", reverses__isnull=False)
                | (~Q(kind="reversal") & Q(reverses__isnull=True)),
                name="rack_reversal_says_what",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()}: {self.offcut}"
