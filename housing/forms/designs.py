"""Forms of the designs: the recipe, and trying it on a size."""

from django import forms

from boards.forms import ExactLengthField, LengthsForm
from housing.models import Design

MINUTES = (
    "setup_minutes", "score_minutes_m", "cut_minutes_m", "joint_minutes", "padding_minutes", "fit_minutes",
    "return_minutes",
)  # fmt: skip


class DesignForm(LengthsForm):
    """The recipe: form, board, allowances, flap, lid, padding and minutes of work."""

    height_allowance_mm = ExactLengthField(label="Allowance on the height", may_be_zero=True)
    side_allowance_mm = ExactLengthField(label="Allowance on each side", may_be_zero=True)
    flap_width_mm = ExactLengthField(label="Flap width", required=False)
    lid_depth_mm = ExactLengthField(label="Lid depth")
    lid_clearance_mm = ExactLengthField(label="Lid clearance on each side", may_be_zero=True)

    class Meta:
        model = Design
        fields = [
            "name", "form", "board", "drawn", "height_allowance_mm", "side_allowance_mm", "flap_width_mm",
            "flaps_on_long_walls", "lid_depth_mm", "lid_clearance_mm", "padding", "padding_price_m2",
            *MINUTES, "notes",
        ]  # fmt: skip
        widgets = {"notes": forms.Textarea(attrs={"rows": 3})}

    limits = {"padding_price_m2": (0, None), **dict.fromkeys(MINUTES, (0, None))}

    def __init__(self, *given, **named):
        super().__init__(*given, **named)
        flap = self.fields["flap_width_mm"]
        flap.help_text += " Leave it blank for 63.5 mm (2 1/2 in), less on low walls."


class TrialForm(forms.Form):
    """A size to try a design on."""

    height = ExactLengthField()
    width = ExactLengthField()
    depth = ExactLengthField()

    def __init__(self, *given, unit: str, **named):
        super().__init__(*given, auto_id="try_%s", **named)
        for field in self.fields.values():
            field.read_in(unit)
