"""The form that explains a finished tray."""

from django import forms
from django.utils.translation import gettext_lazy as _

from boards.forms import ExactLengthField
from boards.models import Board
from housing.core.explaining import Explanation, FinishedTray, NotExplained, explain


class ExplainForm(forms.Form):
    """A tray as it was drawn and as it was measured when finished."""

    board = forms.ModelChoiceField(Board.objects.all(), empty_label=None, label=_("Board"))
    drawn_x = ExactLengthField(label=_("Drawn: floor from left to right, score to score"))
    drawn_y = ExactLengthField(label=_("Drawn: floor from front to back, score to score"))
    outside_x = ExactLengthField(label=_("Measured outside: left to right, over the flaps"))
    outside_y = ExactLengthField(label=_("Measured outside: front to back, over the flaps"))
    drawn_z = ExactLengthField(label=_("Drawn: height of the walls"), required=False)
    outside_z = ExactLengthField(label=_("Measured outside: height"), required=False)
    caliper = ExactLengthField(label=_("Caliper, if the tray has no flaps outside"), required=False)

    def __init__(self, *given, unit: str, **named):
        super().__init__(*given, **named)
        for field in self.fields.values():
            if isinstance(field, ExactLengthField):
                field.read_in(unit)
        self.explanation: Explanation | None = None

    def clean(self) -> dict:
        clean = super().clean()
        if not self.errors:
            sizes = {
                f"{name}_mm": None if clean[name] is None else float(clean[name])
                for name in self.fields
                if name != "board"
            }
            try:
                self.explanation = explain(FinishedTray(**sizes))
            except NotExplained as refused:
                raise forms.ValidationError(str(refused)) from refused
        return clean
