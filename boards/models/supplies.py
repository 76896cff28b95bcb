"""What is bought besides board, from whom, in which packs, and what more of it costs less."""

from decimal import Decimal

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _
from django.utils.translation import pgettext_lazy

from boards.models.boards import SheetSize


class Supplier(models.Model):
    """Somebody who sells boards or supplies, and what having them sent costs. Shares from 0 to 1."""

    name = models.CharField(max_length=120, unique=True)
    freight_each = models.DecimalField(
        _("freight of an order"), max_digits=8, decimal_places=2, default=Decimal("0")
    )
    freight_share = models.DecimalField(
        _("freight as a share of the goods"), max_digits=5, decimal_places=4, default=Decimal("0")
    )
    freight_free_from = models.DecimalField(
        _("free of freight from goods worth"), max_digits=10, decimal_places=2, null=True, blank=True
    )
    lead_days = models.PositiveSmallIntegerField(_("days until it comes"), null=True, blank=True)
    note = models.CharField(_("how to order"), max_length=300, blank=True)

    class Meta:
        ordering = ["name"]
        constraints = [
            models.CheckConstraint(
                condition=Q(freight_each__gte=0, freight_share__gte=0, freight_share__lte=1)
                & (Q(freight_free_from__isnull=True) | Q(freight_free_from__gte=0)),
                name="supplier_freight_possible",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def freight_percent(self) -> Decimal:
        """The share of the goods, in per cent."""
        return self.freight_share * 100


class Supply(models.Model):
    """Something that boxes take besides board, such as glue, tape or foam, as it is bought and used up.

    It is counted in its unit and bought in packs of so many units. The usual one of a kind is taken where a
    design names no other; a padding is found by its name.
    """

    class Kind(models.TextChoices):
        GLUE = "glue", _("Glue")
        TAPE = "tape", _("Tape")
        LABEL = "label", pgettext_lazy("to stick on a box", "Label")
        FOAM = "foam", _("Foam or lining")
        TISSUE = "tissue", _("Tissue")
        BATTING = "batting", _("Batting")
        OTHER = "other", _("Something else")

    class Unit(models.TextChoices):
        PIECE = "piece", _("piece")
        STICK = "stick", _("stick")
        KILOGRAM = "kg", _("kg")
        METRE = "m", "m"
        SQUARE_METRE = "m2", "m²"
        SHEET = "sheet", _("sheet")

    name = models.CharField(max_length=120, unique=True)
    kind = models.CharField(max_length=8, choices=Kind)
    unit = models.CharField(_("counted in"), max_length=6, choices=Unit)
    pack = models.DecimalField(_("units in a pack"), max_digits=10, decimal_places=3, default=Decimal("1"))
    price = models.DecimalField(_("price of a pack"), max_digits=10, decimal_places=2, null=True, blank=True)
    priced_on = models.DateField(_("price holds from"), null=True, blank=True)
    supplier = models.ForeignKey(
        Supplier, on_delete=models.SET_NULL, null=True, blank=True, related_name="supplies"
    )
    on_hand = models.DecimalField(_("units on hand"), max_digits=10, decimal_places=3, default=Decimal("0"))
    reorder_level = models.DecimalField(
        _("order again at"),
        max_digits=10,
        decimal_places=3,
        null=True,
        blank=True,
        help_text=_("Units on hand; blank: nobody is warned."),
    )
    spoilage_share = models.DecimalField(
        _("spoiled"), max_digits=5, decimal_places=4, default=Decimal("0.05"), help_text=_("A share, 0 to 1.")
    )
    grams_each = models.DecimalField(
        _("grams in a unit"), max_digits=8, decimal_places=2, null=True, blank=True, help_text=_("Of glue.")
    )
    fills_litres = models.DecimalField(
        _("litres of gap that a unit fills"),
        max_digits=8,
        decimal_places=3,
        null=True,
        blank=True,
        help_text=_("Of tissue or batting put around the object."),
    )
    is_usual = models.BooleanField(_("the usual one of its kind"), default=False)
    withdrawn_on = models.DateField(_("no longer sold from"), null=True, blank=True)
    source = models.CharField(_("where the figures come from"), max_length=300, blank=True)

    class Meta:
        ordering = ["kind", "name"]
        verbose_name_plural = _("supplies")
        constraints = [
            models.CheckConstraint(
                condition=Q(pack__gt=0, on_hand__gte=0, spoilage_share__gte=0, spoilage_share__lt=1),
                name="supply_pack_and_spoilage_possible",
            ),
            models.CheckConstraint(
                condition=Q(price__isnull=True) | Q(price__gte=0), name="supply_price_not_negative"
            ),
            models.CheckConstraint(
                condition=(Q(grams_each__isnull=True) | Q(grams_each__gt=0))
                & (Q(fills_litres__isnull=True) | Q(fills_litres__gt=0)),
                name="supply_measures_positive",
            ),
            models.UniqueConstraint(
                fields=["kind"], condition=Q(is_usual=True), name="one_usual_supply_a_kind"
            ),
        ]

    def __str__(self) -> str:
        return self.name


class PriceBreak(models.Model):
    """What a sheet, or a pack of a supply, costs where at least so many of them are bought at once."""

    sheet_size = models.ForeignKey(
        SheetSize, on_delete=models.CASCADE, null=True, blank=True, related_name="price_breaks"
    )
    supply = models.ForeignKey(
        Supply, on_delete=models.CASCADE, null=True, blank=True, related_name="price_breaks"
    )
    least = models.PositiveIntegerField(_("from so many"), help_text=_("Sheets, or packs of a supply."))
    price = models.DecimalField(_("price of each"), max_digits=10, decimal_places=2)

    class Meta:
        ordering = ["sheet_size", "supply", "least"]
        constraints = [
            models.CheckConstraint(
                condition=Q(sheet_size__isnull=False, supply__isnull=True)
                | Q(sheet_size__isnull=True, supply__isnull=False),
                name="price_break_of_a_sheet_or_a_supply",
            ),
            models.CheckConstraint(condition=Q(least__gt=1, price__gt=0), name="price_break_possible"),
            models.UniqueConstraint(fields=["sheet_size", "least"], name="one_price_break_a_sheet_count"),
            models.UniqueConstraint(fields=["supply", "least"], name="one_price_break_a_pack_count"),
        ]

    def __str__(self) -> str:
        return f"{self.price} from {self.least} of {self.sheet_size or self.supply}"
