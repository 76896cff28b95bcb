"""The form of a family of standard sizes."""

from django.utils.translation import gettext_lazy as _

from boards.forms import ExactLengthField, LengthsForm
from housing.models import SizeFamily
from housing.queries.sizes import designs_with_boxes


class SizeFamilyForm(LengthsForm):
    """What to look for: of which design, how many sizes, how much slack."""

    slack_mm = ExactLengthField(
        label=_("Largest gap around an object on a side"),
        initial=SizeFamily._meta.get_field("slack_mm").default,
        help_text=_("On top of the design's allowances. Padding has to fill it."),
    )

    class Meta:
        model = SizeFamily
        fields = ["name", "design", "sizes_wanted", "slack_mm", "volume_price"]
        help_texts = {
            "design": _("Only planned boxes of this design, with one object each, are looked at."),
            "volume_price": _("0 where room on the shelf costs nothing; more favours smaller boxes."),
        }

    limits = {"sizes_wanted": (1, 30), "volume_price": (0, None)}

    def __init__(self, *given, **named):
        super().__init__(*given, **named)
        self.fields["design"].queryset = designs_with_boxes(self.instance.campaign)
        self.fields["design"].empty_label = "Choose"
