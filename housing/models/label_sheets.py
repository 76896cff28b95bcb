"""Label sheets as somebody measured them: described once, chosen by name whenever labels are printed."""

from decimal import Decimal

from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from housing.core.label_sheets import LabelLayout


def _length(words: str, **given) -> models.DecimalField:
    return models.DecimalField(words, max_digits=8, decimal_places=4, **given)


class LabelSheet(models.Model):
    """A sheet of equal labels, or a roll with one a page. Sizes in mm; what is right and beneath follows."""

    name = models.CharField(_("name"), max_length=80, unique=True)
    page_width_mm = _length(_("width of the page"))
    page_height_mm = _length(_("height of the page"))
    columns = models.PositiveIntegerField(_("labels across"), validators=[MinValueValidator(1)])
    rows = models.PositiveIntegerField(_("labels down"), validators=[MinValueValidator(1)])
    left_mm = _length(_("margin on the left"), default=Decimal(0))
    top_mm = _length(_("margin above"), default=Decimal(0))
    label_width_mm = _length(_("width of a label"))
    label_height_mm = _length(_("height of a label"))
    gap_x_mm = _length(_("gap between columns"), default=Decimal(0))
    gap_y_mm = _length(_("gap between rows"), default=Decimal(0))
    offset_x_mm = _length(_("move to the right"), default=Decimal(0))
    offset_y_mm = _length(_("move down"), default=Decimal(0))

    class Meta:
        ordering = ["name"]
        constraints = [
            models.CheckConstraint(condition=~Q(name=""), name="label_sheet_has_a_name"),
            models.CheckConstraint(condition=Q(columns__gte=1, rows__gte=1), name="label_sheet_has_labels"),
            models.CheckConstraint(
                condition=Q(label_width_mm__gt=0, label_height_mm__gt=0), name="label_sheet_labels_have_size"
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def to_core(self) -> LabelLayout:
        """The sheet as the core knows it; raises LayoutRefused."""
        return LabelLayout(
            float(self.page_width_mm),
            float(self.page_height_mm),
            self.columns,
            self.rows,
            float(self.label_width_mm),
            float(self.label_height_mm),
            float(self.left_mm),
            float(self.top_mm),
            float(self.gap_x_mm),
            float(self.gap_y_mm),
            float(self.offset_x_mm),
            float(self.offset_y_mm),
        )
