"""The form of a standard time, for every design or for one."""

from django import forms
from django.utils.translation import gettext_lazy as _

from housing.core.labour.elements import SHIPPED, Element
from housing.models import StandardTime

LONGEST = 1440  # minutes in a day


class StandardTimeForm(forms.ModelForm):
    """At best, most likely and at worst, in that order, with where they come from."""

    class Meta:
        model = StandardTime
        fields = ["low", "likely", "high", "source"]
        labels = {
            "low": _("Minutes at best"),
            "likely": _("Minutes most likely"),
            "high": _("Minutes at worst"),
            "source": _("Where it comes from"),
        }
        help_texts = {
            "likely": _(
                "Budgets and tasks are worked out with this one; the others say how far it may be off."
            ),
            "source": _("Such as: timed at our bench, 12 boxes, March; or author, title, year and page."),
        }
        widgets = {"source": forms.Textarea(attrs={"rows": 2})}
        error_messages = {
            "source": {"required": _("Say where the time comes from, so that the budget can be defended.")}
        }

    def __init__(self, *given, **named):
        super().__init__(*given, **named)
        for name in ("low", "likely", "high"):
            self.fields[name].widget.attrs |= {"min": 0, "max": LONGEST, "step": "any"}

    def clean(self) -> dict:
        clean = super().clean()
        minutes = {name: clean.get(name) for name in ("low", "likely", "high")}
        for name, value in minutes.items():
            if value is not None and not 0 <= value <= LONGEST:
                self.add_error(name, _("Enter 0 to {longest:,} minutes.").format(longest=LONGEST))
                return clean
        low, likely, high = minutes.values()
        if low is not None and likely is not None and likely < low:
            self.add_error(
                "likely",
                _("Less than at best, {normalize:f}. Enter as much or more.").format(
                    normalize=low.normalize()
                ),
            )
        if likely is not None and high is not None and high < likely:
            self.add_error(
                "high",
                _("Less than most likely, {normalize:f}. Enter as much or more.").format(
                    normalize=likely.normalize()
                ),
            )
        self._refuse_shipped_source(clean)
        return clean

    def _refuse_shipped_source(self, clean: dict) -> None:
        """What is shipped is assumed, so its source says nothing of other minutes."""
        shipped = SHIPPED.get(clean.get("element") or self.instance.element)
        if shipped is None or clean.get("source") != shipped.source or self.errors:
            return
        typed = tuple(float(clean[name]) for name in ("low", "likely", "high"))
        if typed != (shipped.minutes.low, shipped.minutes.likely, shipped.minutes.high):
            self.add_error(
                "source", _("This is the source of the shipped minutes. Say where yours come from.")
            )

    def validate_constraints(self) -> None:
        """The order and the place of the time are told beside its fields."""

    def clean_source(self) -> str:
        return " ".join(self.cleaned_data["source"].split())

    @property
    def element(self) -> str:
        return SHIPPED[Element(self.instance.element)].name


class NewStandardTimeForm(StandardTimeForm):
    """A standard time for one design."""

    class Meta(StandardTimeForm.Meta):
        fields = ["element", "design", *StandardTimeForm.Meta.fields]

    def __init__(self, *given, **named):
        super().__init__(*given, **named)
        self.fields["design"].required = True
        self.fields["design"].empty_label = _("Choose a design")

    def clean(self) -> dict:
        clean = super().clean()
        element, design = clean.get("element"), clean.get("design")
        if element and design and StandardTime.objects.filter(element=element, design=design).exists():
            self.add_error(
                "design",
                _("“{design}” has its own time for this already. Edit that one in the list.").format(
                    design=design
                ),
            )
        return clean
