"""The forms of a person and of a grade: hours, skills, login, and what an hour costs or is worth."""

from decimal import Decimal

from django import forms
from django.utils.formats import date_format
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from boards.forms import LengthsForm, PercentField, day_input
from housing.models import Grade, Person
from housing.models.people import SKILL_SEPARATOR

MOST_ON_COSTS = Decimal(2)  # of the pay
# What decides who is given which work.
OF_WORK = frozenset(
    {"hours_per_week", "skills", "training", "handles_hazards", "starts_on", "ends_on", "is_active"}
)


class PersonForm(LengthsForm):
    """A member of staff, a volunteer or an intern."""

    skills = forms.MultipleChoiceField(
        choices=Person.Skill,
        required=False,
        widget=forms.CheckboxSelectMultiple,
        label=_("Skills"),
        help_text=_("Only work of these steps is given to the person."),
    )
    on_cost_share = PercentField(
        label=_("On-costs, on top of the pay"),
        most=MOST_ON_COSTS,
        required=False,
        help_text=_("Insurance, pension, holidays and the like. Blank: as the grade has it, else none."),
    )

    class Meta:
        model = Person
        fields = [
            "name", "kind", "hours_per_week", "grade", "rate_per_hour", "on_cost_share", "in_kind_rate",
            "skills", "training", "handles_hazards", "starts_on", "ends_on", "is_active", "user",
        ]  # fmt: skip
        labels = {
            "user": _("Login"),
            "hours_per_week": _("Hours a week"),
            "rate_per_hour": _("Paid for an hour"),
            "in_kind_rate": _("Worth of an hour that is given"),
        }
        help_texts = {
            "hours_per_week": _("For this work alone, on average. Planning gives out no more."),
            "grade": _("Takes what an hour costs from there, where nothing is entered here."),
            "handles_hazards": _(
                "Trained for it by the rules of your house; else no such object is given out."
            ),
            "is_active": _("Not ticked: no new work is given out, what was done stays."),
            "user": _("Whoever signs in with it sees this person's work."),
            "rate_per_hour": _("Without on-costs. 0: as the grade has it. Volunteers cost nothing."),
            "training": _("Newcomers are given boxes that are easy to make first."),
            "starts_on": _("Blank: works already."),
            "ends_on": _("Blank: not known yet. No work is given out for later days."),
            "in_kind_rate": _(
                "Of a volunteer, shown apart from the money: what is paid for similar work. "
                "Blank: as the grade has it."
            ),
        }
        widgets = {"starts_on": day_input(), "ends_on": day_input()}

    limits = {"hours_per_week": (0, 80), "rate_per_hour": (0, None), "in_kind_rate": (0, None)}

    def __init__(self, *given, **named):
        super().__init__(*given, **named)
        self.initial["skills"] = [skill for skill in self.instance.skills.split(SKILL_SEPARATOR) if skill]
        self.fields["user"].empty_label = "None"
        self.fields["grade"].empty_label = "None"
        self.fields["training"].required = False  # left out, it stays as it is

    def clean_skills(self) -> str:
        return SKILL_SEPARATOR.join(self.cleaned_data["skills"])

    def clean(self) -> dict:
        clean = super().clean()
        first, last = clean.get("starts_on"), clean.get("ends_on")
        if first and last and last < first:
            self.add_error(
                "ends_on",
                gettext("The first day is {day}; enter that day or a later one.").format(
                    day=date_format(first, "d F Y")
                ),
            )
        return clean

    @property
    def changes_work(self) -> bool:
        """Whether something was changed by which work is given out."""
        return not OF_WORK.isdisjoint(self.changed_data)


class GradeForm(LengthsForm):
    """What an hour of a kind of worker costs, or is worth where it is given."""

    on_cost_share = PercentField(
        label=_("On-costs, on top of the pay"),
        most=MOST_ON_COSTS,
        help_text=_("Insurance, pension, holidays and the like."),
    )

    class Meta:
        model = Grade
        fields = ["name", "rate_per_hour", "on_cost_share", "in_kind_rate", "source"]
        labels = {"rate_per_hour": _("Paid for an hour"), "in_kind_rate": _("Worth of an hour that is given")}
        help_texts = {
            "rate_per_hour": _("Without on-costs."),
            "in_kind_rate": _("What is paid for similar work; funders ask how it was found."),
            "source": _("Such as the pay scale with its year. It stands beside the figures in budgets."),
        }
        error_messages = {
            "source": {"required": _("Say where the figures come from, so that the budget can be defended.")},
            "name": {"unique": _("There is a grade of this name already. Edit that one, or choose another.")},
        }

    limits = {"rate_per_hour": (0, None), "in_kind_rate": (0, None)}

    def __init__(self, *given, **named):
        super().__init__(*given, **named)
        self.fields["source"].required = True
