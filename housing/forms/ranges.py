"""The ranges of a campaign's uncertain inputs, as percentages of the stated figures."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from housing.core.budget.causes import Cause
from housing.core.budget.ranges import RangeRefused, ThreePoint
from objects.core.words import say

ENDS = (("low", _("At best")), ("likely", _("Most likely")), ("high", _("At worst")))
PERCENT = Decimal(100)
HIGHEST = 1000


def _told(cause: Cause) -> Cause:
    """A cause with its words in the reader's language."""
    return replace(cause, name=say(cause.name), words=say(cause.words), source=say(cause.source))


class RangesForm(forms.Form):
    """Three percentages a cause; 100 is the stated figure itself."""

    def __init__(self, *given: Any, causes: dict[str, Cause], **named: Any) -> None:
        super().__init__(*given, **named)
        self.causes = causes
        for key, cause in causes.items():
            for end, words in ENDS:
                self.fields[f"{key}-{end}"] = forms.DecimalField(
                    label=f"{say(cause.name)}: {words.lower()}",
                    min_value=0,
                    max_value=HIGHEST,
                    decimal_places=1,
                    initial=f"{getattr(cause.range, end) * 100:g}",
                )

    def rows(self) -> list[tuple[Cause, list[forms.BoundField]]]:
        """Each cause with its three fields."""
        return [
            (_told(cause), [self[f"{key}-{end}"] for end, _ in ENDS]) for key, cause in self.causes.items()
        ]

    def clean(self) -> dict[str, Any]:
        """Refuses three figures that are not in order, beside the middle one."""
        cleaned = super().clean() or {}
        for key in self.causes:
            points = [cleaned.get(f"{key}-{end}") for end, _ in ENDS]
            if None not in points:
                try:
                    ThreePoint(*(float(point) for point in points if point is not None))
                except RangeRefused:
                    low, likely, high = (f"{point.normalize():f} %" for point in points)
                    self.add_error(
                        f"{key}-likely",
                        _(
                            "{likely} does not lie between {low} at best and {high} at worst. Put the "
                            "three in order."
                        ).format(likely=likely, low=low, high=high),
                    )
        return cleaned

    def ranges(self) -> dict[str, tuple[float, float, float]]:
        """What was entered, as multiples by cause."""
        return {
            key: (self._multiple(key, "low"), self._multiple(key, "likely"), self._multiple(key, "high"))
            for key in self.causes
        }

    def _multiple(self, key: str, end: str) -> float:
        return float(self.cleaned_data[f"{key}-{end}"] / PERCENT)
