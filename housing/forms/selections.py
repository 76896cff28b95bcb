"""The limits within which to choose, and the objects that must or must not be in."""

from decimal import Decimal

from django import forms
from django.utils.translation import gettext_lazy as _

from boards.forms import LengthsForm
from housing.core.steps import SKILL_OF_STEP
from housing.models import Person, Selection
from objects.models import CatalogueObject

SKILLS = [(skill, Person.Skill(skill).label) for skill in dict.fromkeys(SKILL_OF_STEP.values())]
PK_LISTS = ("must", "must_not")


class SelectionForm(LengthsForm):
    """Limits; objects are typed by their numbers, one a line; of a set all in one line, separated by ;"""

    must = forms.CharField(
        label=_("Objects that must be in"), required=False, widget=forms.Textarea(attrs={"rows": 3}),
        help_text=_("Object numbers, one a line."),
    )  # fmt: skip
    must_not = forms.CharField(
        label=_("Objects that must not be in"), required=False, widget=forms.Textarea(attrs={"rows": 3}),
        help_text=_("Object numbers, one a line."),
    )  # fmt: skip
    sets = forms.CharField(
        label=_("Objects kept together"), required=False, widget=forms.Textarea(attrs={"rows": 3}),
        help_text=_("A set a line, its object numbers separated by semicolons."),
    )  # fmt: skip

    class Meta:
        model = Selection
        fields = ["name", "money", "ends_on", "whole_locations"]
        widgets = {"ends_on": forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")}
        help_texts = {
            "money": _("For board in whole packs, other goods and paid work. Blank: no limit."),
            "ends_on": _("The hours that people have until then are a limit. Blank: no such limit."),
        }

    limits = {"money": (0, None)}

    def __init__(self, *given, **named):
        super().__init__(*given, **named)
        for skill, words in SKILLS:
            self.fields[f"hours_{skill}"] = forms.DecimalField(
                label=_("Hours at most: {words}").format(words=words.lower()),
                required=False,
                min_value=0,
                max_value=100_000,
                decimal_places=1,
                initial=self.instance.hours.get(skill),
            )
        for name in PK_LISTS:
            self.initial[name] = "\n".join(self._numbers(getattr(self.instance, name)))
        self.initial["sets"] = "\n".join("; ".join(self._numbers(kept)) for kept in self.instance.sets)

    def _numbers(self, pks: list[int]) -> list[str]:
        found = dict(CatalogueObject.objects.filter(pk__in=pks).values_list("pk", "number"))
        return [found[pk] for pk in pks if pk in found]

    def clean_must(self) -> list[int]:
        return self._keys(self.cleaned_data["must"].splitlines())

    def clean_must_not(self) -> list[int]:
        return self._keys(self.cleaned_data["must_not"].splitlines())

    def clean_sets(self) -> list[list[int]]:
        sets = [
            self._keys(line.split(";")) for line in self.cleaned_data["sets"].splitlines() if line.strip()
        ]
        if any(len(kept) < 2 for kept in sets):
            raise forms.ValidationError(
                _("A set has two objects or more. Separate their numbers by semicolons.")
            )
        return sets

    def _keys(self, numbers: list[str]) -> list[int]:
        """Keys of objects of the campaign. Refuses numbers that are none of its objects."""
        asked = list(dict.fromkeys(number.strip() for number in numbers if number.strip()))
        members = CatalogueObject.objects.filter(campaigns=self.instance.campaign, number__in=asked)
        found = dict(members.values_list("number", "pk"))
        if unknown := [number for number in asked if number not in found]:
            raise forms.ValidationError(
                (
                    _(
                        "{numbers} and others are not in the campaign. Check the numbers, or add the "
                        "objects to the "
                        "campaign first."
                    )
                    if len(unknown) > 5
                    else _(
                        "{numbers} is not in the campaign. Check the number, or add the object to the "
                        "campaign first."
                    )
                ).format(numbers=", ".join(unknown[:5]))
            )
        return [found[number] for number in asked]

    def clean(self) -> dict:
        cleaned = super().clean() or {}
        both = set(cleaned.get("must") or ()) & set(cleaned.get("must_not") or ())
        if both:
            self.add_error(
                "must_not",
                _("{numbers} is on both lists.").format(numbers=", ".join(self._numbers(sorted(both)))),
            )
        hours = {skill: cleaned.get(f"hours_{skill}") for skill, _ in SKILLS}
        self.hours = {skill: str(value) for skill, value in hours.items() if isinstance(value, Decimal)}
        is_limited = cleaned.get("money") is not None or self.hours or cleaned.get("ends_on")
        if not is_limited and not self.errors:
            self.add_error(None, _("Without a limit everything can be done. Enter money, hours or a date."))
        return cleaned

    def save(self, commit: bool = True) -> Selection:
        self.instance.hours = self.hours
        for name in (*PK_LISTS, "sets"):
            setattr(self.instance, name, self.cleaned_data[name])
        self.instance.made_at, self.instance.result = None, {}
        return super().save(commit)


class BatchForm(forms.Form):
    """With which batch the chosen objects are due."""

    batch = forms.IntegerField(label=_("Batch"), min_value=1, max_value=999, initial=1)
