"""When a campaign will be done, and what a day lost or a volunteer more would change."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.utils.safestring import mark_safe
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from housing.core.drawing.burnup_chart import BurnUp, burnup_svg
from housing.forms.forecast import ForecastForm
from housing.models import Campaign
from housing.queries.forecast import burn_up, finish_of


@require_safe
def campaign_forecast(request: HttpRequest, pk: int) -> HttpResponse:
    campaign, today = get_object_or_404(Campaign, pk=pk), timezone.localdate()
    finish = finish_of(campaign, today)
    chart = burn_up(campaign, today, finish)
    form = ForecastForm(request.GET or None, campaign=campaign)
    tried, status = None, 200
    if form.is_bound:
        if not form.is_valid():
            status = 400
        elif (changes := form.changes()).is_any:
            tried = finish_of(campaign, today, changes, before=finish)
    days = (tried.middle - finish.middle).days if tried and tried.middle and finish.middle else None
    context = {
        "campaign": campaign,
        "finish": finish,
        "tried": tried,
        "days": days,
        "sooner": -days if days else 0,
        "form": form,
        "chart": chart,
        "svg": mark_safe(burnup_svg(_("Boxes of {campaign} done by week").format(campaign=campaign), chart)),
        "rows": _rows(chart),
    }
    return render(request, "housing/campaign_forecast.html", context, status=status)


def _rows(chart: BurnUp) -> list[tuple]:
    """The table behind the picture: the Monday of each week with its figures, a dash where there is none."""
    lines = (chart.done, chart.planned, chart.low, chart.middle, chart.high)
    told = [["—" if value is None else f"{value:,.0f}" for value in line] for line in lines]
    return list(zip(chart.weeks, *told, strict=True))
