"""The collection in figures: how large objects are, how housing them goes on, what becomes of board."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from housing.core.drawing.charts import percent
from housing.core.figures import size_classes
from housing.models import PlannedSheet
from housing.queries.figures import boxes_there_are, housed_by_month, not_measured, sides_known, use_by
from housing.views.charts import chart_file, progress_chart, sheet_use_chart, sizes_chart
from objects.readers import reader_of


@require_safe
def figures(request: HttpRequest) -> HttpResponse:
    unit, sides, boxes = reader_of(request).unit, sides_known(), boxes_there_are()
    classes = size_classes(sides, boxes, unit)
    campaigns = use_by(PlannedSheet.objects.order_by("pk"), "plan__campaign", "plan__campaign__name")
    charts = {
        "sizes": sizes_chart(classes, unit, has_boxes=len(boxes) > 0),
        "progress": progress_chart(housed_by_month()),
        "board": sheet_use_chart(
            _("What becomes of the board of each campaign"),
            ((reverse("housing:campaign-plan", args=[pk]), use) for (pk, _name), use in campaigns),
        ),
    }
    if file := chart_file(request, charts):
        return file
    fitting = sum(one.fitting for one in classes)
    context = {
        "charts": charts,
        "measured": len(sides),
        "not_measured": not_measured(),
        "boxes": len(boxes),
        "fitting": fitting,
        "fitting_share": percent(fitting, len(sides)),
    }
    return render(request, "housing/figures.html", context)
