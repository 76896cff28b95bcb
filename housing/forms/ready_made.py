"""The form of a box that is sold ready-made."""

from django import forms
from django.utils.translation import gettext_lazy as _

from boards.forms import ExactLengthField, LengthsForm
from housing.models import ReadyMadeBox


class ReadyMadeForm(LengthsForm):
    """Its clear inside, and what a pack of it costs."""

    inner_x_mm = ExactLengthField(label=_("Width inside"))
    inner_y_mm = ExactLengthField(label=_("Depth inside"))
    inner_z_mm = ExactLengthField(label=_("Height inside, lid closed"))
    wall_mm = ExactLengthField(label=_("Thickness of its walls"), may_be_zero=True, required=False)

    class Meta:
        model = ReadyMadeBox
        fields = [
            "name", "supplier", "inner_x_mm", "inner_y_mm", "inner_z_mm", "wall_mm", "pack", "price",
            "priced_on", "withdrawn_on", "is_buffered", "note",
        ]  # fmt: skip
        widgets = {
            "priced_on": forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
            "withdrawn_on": forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        }
        help_texts = {
            "price": _("Without one, or with 0, no scenario buys it."),
            "is_buffered": _("As the supplier states it."),
        }

    limits = {"pack": (1, 10_000), "price": (0, None)}

    def __init__(self, *given, unit: str, **named):
        super().__init__(*given, unit=unit, **named)
        self.fields["supplier"].empty_label = _("Not entered")

    def clean_wall_mm(self):
        return self.cleaned_data["wall_mm"] or 0
