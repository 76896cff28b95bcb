"""Stock as a ledger: movements are added and reversed, never edited; offcuts on the rack."""

from django.conf import settings
from django.db import models
from django.db.models import Q

from boards.models.boards import Board, SheetSize


class StockMovement(models.Model):
    """Sheets in or out. Each entry carries the balance it leads to; the database refuses one below zero."""

    class Kind(models.TextChoices):
        RECEIPT = "receipt", "Received"
        USE = "use", "Used"
        WRITE_OFF = "write_off", "Written off"
        REVERSAL = "reversal", "Reversed"

    sheet_size = models.ForeignKey(SheetSize, on_delete=models.PROTECT, related_name="movements")
    sequence = models.PositiveIntegerField(help_text="Counts the movements of one sheet size from 1.")
    kind = models.CharField(max_length=10, choices=Kind)
    quantity = models.IntegerField(help_text="Sheets: above zero comes in, below zero goes out.")
    balance = models.IntegerField("balance after it", editable=False)
    reverses = models.OneToOneField(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="reversed_by"
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
                | (Q(kind="reversal", reverses__isnull=False) & ~Q(quantity=0)),
                name="stock_movement_sign_fits_its_kind",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} {self.quantity:+d} {self.sheet_size}"


class Offcut(models.Model):
    """A rest of a sheet kept on the rack until it is used or thrown away."""

    board = models.ForeignKey(Board, on_delete=models.PROTECT, related_name="offcuts")
    along_mm = models.DecimalField("length along the flutes", max_digits=10, decimal_places=4)
    across_mm = models.DecimalField("width across the flutes", max_digits=10, decimal_places=4)
    note = models.CharField(max_length=200, blank=True)
    kept_at = models.DateTimeField(auto_now_add=True)
    kept_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    gone_at = models.DateTimeField(null=True, blank=True)
    gone_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    gone_note = models.CharField(max_length=200, blank=True, help_text="What became of it.")

    class Meta:
        ordering = ["-kept_at"]
        constraints = [
            models.CheckConstraint(
                condition=Q(along_mm__gt=0, across_mm__gt=0), name="offcut_sides_positive"
            ),
        ]

    def __str__(self) -> str:
        return f"Offcut {self.pk}: {self.along_mm:.0f} × {self.across_mm:.0f} mm {self.board.code}"
