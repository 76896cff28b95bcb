"""The form of a person: hours, skills and login."""

from django import forms

from boards.forms import LengthsForm
from housing.models import Person
from housing.models.people import SKILL_SEPARATOR


class PersonForm(LengthsForm):
    """A member of staff, a volunteer or an intern."""

    skills = forms.MultipleChoiceField(
        choices=Person.Skill, required=False, widget=forms.CheckboxSelectMultiple
    )

    class Meta:
        model = Person
        fields = [
            "name", "kind", "hours_per_week", "rate_per_hour", "skills", "handles_hazards", "is_active",
            "user",
        ]  # fmt: skip
        labels = {"user": "Login", "hours_per_week": "Hours a week", "rate_per_hour": "Cost of an hour"}
        help_texts = {"user": "Whoever signs in with it sees this person's work."}

    limits = {"hours_per_week": (0, 80), "rate_per_hour": (0, None)}

    def __init__(self, *given, **named):
        super().__init__(*given, **named)
        self.initial["skills"] = [skill for skill in self.instance.skills.split(SKILL_SEPARATOR) if skill]
        self.fields["user"].empty_label = "None"

    def clean_skills(self) -> str:
        return SKILL_SEPARATOR.join(self.cleaned_data["skills"])
