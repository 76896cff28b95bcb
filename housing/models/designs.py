"""The housing design: a named recipe that turns an object's size into an enclosure."""

from decimal import Decimal

from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from boards.models import Board
from housing.core.clearances import Allowances
from housing.core.enclosures import ENCLOSURES
from housing.core.enclosures.form import Form
from housing.core.enclosures.options import Choices, read_choices
from housing.core.errors import OptionRefused
from housing.core.marking_out import COMPENSATED, NOMINAL, STEPS_MM, MarkingOut
from objects.core.words import say

ROUNDINGS = [(name, name) for name in STEPS_MM if name]


def form_choices() -> list[tuple[str, str]]:
    """The forms there are; a function, so that a new form needs no migration."""
    return [(form.key, say(form.name)) for form in ENCLOSURES.values()]


class Design(models.Model):
    """A recipe: form and its options, board, allowances, padding. Lengths in mm."""

    class Drawn(models.TextChoices):
        COMPENSATED = COMPENSATED, _("Compensated: the clear inside is what was asked")
        NOMINAL = NOMINAL, _("Nominal: the wanted size drawn straight on the board")

    name = models.CharField(max_length=120, unique=True)
    form = models.CharField(max_length=40, choices=form_choices, default="lidded_tray")
    board = models.ForeignKey(Board, on_delete=models.PROTECT, related_name="designs")
    drawn = models.CharField(
        _("how the blank is drawn"), max_length=12, choices=Drawn, default=Drawn.COMPENSATED
    )
    height_allowance_mm = models.DecimalField(
        _("allowance on the height"), max_digits=8, decimal_places=4, default=Decimal("25.4")
    )
    side_allowance_mm = models.DecimalField(
        _("allowance on each side"), max_digits=8, decimal_places=4, default=Decimal("25.4")
    )
    options = models.JSONField(
        _("choices of the form"),
        default=dict,
        blank=True,
        help_text=_("Those that differ from the form's own, by key; lengths in mm."),
    )
    rounding = models.CharField(
        _("positions rounded to"), max_length=8, choices=ROUNDINGS, blank=True, default=""
    )
    lining_mm = models.DecimalField(
        _("thickness of the lining"),
        max_digits=8,
        decimal_places=4,
        default=Decimal("0"),
        help_text=_("Of what lines floor and walls; the enclosure is made so much larger."),
    )
    padding = models.CharField(
        max_length=120, blank=True, help_text=_("What lines floor and walls; blank for none.")
    )
    padding_price_m2 = models.DecimalField(
        _("padding price per m²"), max_digits=8, decimal_places=2, default=Decimal("0")
    )
    asks_for = models.JSONField(
        _("standards its board must meet"), default=list, blank=True, help_text=_("Keys of the standards.")
    )
    notes = models.TextField(blank=True)
    changed_at = models.DateTimeField(auto_now=True)

    class Meta:
        ordering = ["name"]
        constraints = [
            models.CheckConstraint(
                condition=Q(height_allowance_mm__gte=0, side_allowance_mm__gte=0),
                name="design_allowances_not_negative",
            ),
            models.CheckConstraint(condition=Q(lining_mm__gte=0), name="design_lining_not_negative"),
            models.CheckConstraint(condition=Q(padding_price_m2__gte=0), name="design_padding_price"),
        ]

    def __str__(self) -> str:
        return self.name

    def to_form(self) -> Form:
        return ENCLOSURES[self.form]

    def clean(self) -> None:
        """Raises ValidationError for a choice that the form does not offer or refuses."""
        try:
            self.to_choices()
        except OptionRefused as refused:
            raise ValidationError({"options": str(refused)}) from refused

    def to_allowances(self) -> Allowances:
        return Allowances(float(self.height_allowance_mm), float(self.side_allowance_mm))

    def to_choices(self) -> Choices:
        return read_choices(self.to_form().options, self.options)

    def to_marking_out(self) -> MarkingOut:
        return MarkingOut(self.drawn, STEPS_MM[self.rounding])
