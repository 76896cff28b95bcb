"""What is asked about a budget as a whole: a name to freeze it under, and how far its contingency reaches."""

from django import forms
from django.utils.translation import gettext_lazy as _

from housing.models import Budget, BudgetTerms


class FreezeForm(forms.ModelForm):
    """The name of a baseline."""

    class Meta:
        model = Budget
        fields = ["name"]
        labels = {"name": _("Name of the baseline")}
        help_texts = {"name": _("Such as a grant or the year, so that you find it again.")}

    def __init__(self, *given, **named):
        super().__init__(*given, **named)
        self.fields["name"].required = True
        self.fields["name"].error_messages["required"] = _("Enter a name, such as the grant's.")


class ContingencyForm(forms.ModelForm):
    """Up to which of 100 cases the contingency reaches."""

    class Meta:
        model = BudgetTerms
        fields = ["contingency_percent"]
        labels = {"contingency_percent": _("Enough in so many of 100 cases")}

    def __init__(self, *given, **named):
        super().__init__(*given, **named)
        self.fields["contingency_percent"] = forms.IntegerField(
            label=self.fields["contingency_percent"].label,
            min_value=1,
            max_value=99,
            error_messages=dict.fromkeys(
                ("invalid", "required", "min_value", "max_value"), _("Enter a whole number from 1 to 99.")
            ),
        )
