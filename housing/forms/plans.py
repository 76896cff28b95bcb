"""What of a cutting plan is shown, and in which order."""

import django_filters
from django.db.models import QuerySet

from boards.models import Board
from housing.models import CuttingPlan, PlannedSheet

ORDERS = {"batch": ("batch", "position"), "board": ("board__code", "position")}


class SheetFilter(django_filters.FilterSet):
    """Filters and order of the sheets of a plan, kept in the address."""

    order = django_filters.ChoiceFilter(
        label="In the order of", choices=[("board", "Boards")], method="in_order", empty_label="Their numbers"
    )
    board = django_filters.ModelChoiceFilter(queryset=Board.objects.none(), empty_label="All")
    batch = django_filters.ChoiceFilter(label="Batch", choices=[], empty_label="All")
    cut = django_filters.ChoiceFilter(
        label="Cut or not",
        choices=[("no", "Still to cut"), ("yes", "Cut")],
        method="by_cut",
        empty_label="All",
    )

    class Meta:
        model = PlannedSheet
        fields: list[str] = []

    def __init__(self, *given, plan: CuttingPlan, batches: list[int], **named):
        super().__init__(*given, **named)
        self.filters["board"].queryset = Board.objects.filter(pk__in=plan.sheets.values("board"))
        if len(batches) > 1:
            self.filters["batch"].extra["choices"] = [(batch, f"Batch {batch}") for batch in batches]
            self.filters["order"].extra["choices"] = [("batch", "Batches"), ("board", "Boards")]
        else:
            del self.filters["batch"]

    def in_order(self, sheets: QuerySet, name: str, value: str) -> QuerySet:
        return sheets.order_by(*ORDERS[value])

    def by_cut(self, sheets: QuerySet, name: str, value: str) -> QuerySet:
        return sheets.filter(cut_at__isnull=value == "no")
