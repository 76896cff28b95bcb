"""What of a cutting plan is shown, and in which order."""

from datetime import date

import django_filters
from django import forms
from django.db.models import QuerySet
from django.utils.translation import gettext_lazy as _

from boards.models import Board
from housing.models import CuttingPlan, PlannedSheet
from housing.queries.periods import start_of

ORDERS = {"batch": ("batch", "position"), "board": ("board__code", "position")}


class SheetFilter(django_filters.FilterSet):
    """Filters and order of the sheets of a plan, kept in the address."""

    order = django_filters.ChoiceFilter(
        label=_("In the order of"),
        choices=[("board", _("Boards"))],
        method="in_order",
        empty_label=_("Their numbers"),
    )
    board = django_filters.ModelChoiceFilter(
        queryset=Board.objects.none(), empty_label=_("All"), label=_("Board")
    )
    batch = django_filters.ChoiceFilter(label=_("Batch"), choices=[], empty_label=_("All"))
    cut = django_filters.ChoiceFilter(
        label=_("Cut or not"),
        choices=[("no", _("Still to cut")), ("yes", _("Cut"))],
        method="by_cut",
        empty_label=_("All"),
    )

    cut_since = django_filters.DateFilter(
        label=_("Cut since"), method="that_were_cut", widget=forms.DateInput(attrs={"type": "date"})
    )

    class Meta:
        model = PlannedSheet
        fields: list[str] = []

    def __init__(self, *given, plan: CuttingPlan, batches: list[int], **named):
        super().__init__(*given, **named)
        self.filters["board"].queryset = Board.objects.filter(pk__in=plan.sheets.values("board"))
        if len(batches) > 1:
            self.filters["batch"].extra["choices"] = [
                (batch, _("Batch {batch}").format(batch=batch)) for batch in batches
            ]
            self.filters["order"].extra["choices"] = [("batch", "Batches"), ("board", "Boards")]
        else:
            del self.filters["batch"]

    def that_were_cut(self, sheets: QuerySet, name: str, value: date) -> QuerySet:
        return sheets.filter(cut_at__gte=start_of(value))

    def in_order(self, sheets: QuerySet, name: str, value: str) -> QuerySet:
        return sheets.order_by(*ORDERS[value])

    def by_cut(self, sheets: QuerySet, name: str, value: str) -> QuerySet:
        return sheets.filter(cut_at__isnull=value == "no")
