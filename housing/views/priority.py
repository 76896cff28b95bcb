"""How the priority score weighs its factors for a campaign, tried on its objects before it is saved."""

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from housing.forms.need import WeightsForm
from housing.models import Campaign
from housing.queries.priority import reordered, stake_of
from housing.services.priority import set_weights
from objects.readers import reader_of

SHOWN = 20


@require_http_methods(["GET", "HEAD", "POST"])
def campaign_weights(request: HttpRequest, pk: int) -> HttpResponse:
    """The weights with the objects that come first by them; in the address they are only tried."""
    campaign = get_object_or_404(Campaign, pk=pk)
    if request.method == "POST":
        return _save(request, campaign)
    form = WeightsForm(request.GET if _is_trial(request) else None, weights=campaign.weights)
    return _page(request, campaign, form)


def _is_trial(request: HttpRequest) -> bool:
    return bool(set(request.GET) & set(WeightsForm(weights={}).fields))


def _save(request: HttpRequest, campaign: Campaign) -> HttpResponse:
    if not reader_of(request).is_manager:
        raise PermissionDenied(_("This needs the role manager. Ask a manager to weigh the factors."))
    form = WeightsForm(request.POST, weights=campaign.weights)
    if not form.is_valid():
        return _page(request, campaign, form)
    set_weights(campaign=campaign, weights=form.weights)
    messages.success(
        request,
        _("The weights of {campaign} are saved. Its work follows them when it is planned next.").format(
            campaign=campaign
        ),
    )
    return redirect("housing:campaign-weights", pk=campaign.pk)


def _page(request: HttpRequest, campaign: Campaign, form: WeightsForm) -> HttpResponse:
    tried = form.weights if form.is_bound and form.is_valid() else dict(campaign.weights)
    context = {
        "campaign": campaign,
        "form": form,
        "rows": reordered(campaign, tried, SHOWN),
        "is_trial": form.is_bound and form.is_valid(),
        "is_published_scale": all(weight == 1 for weight in tried.values()),
    }
    if request.htmx:
        return render(request, "housing/campaign_weights.html#first", context)
    return render(request, "housing/campaign_weights.html", {**context, "stake": stake_of(campaign)})
