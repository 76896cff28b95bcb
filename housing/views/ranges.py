"""The ranges of the uncertain inputs of a campaign's budget."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _

from housing.forms.ranges import RangesForm
from housing.models import Campaign
from housing.queries.budgets import terms_of
from housing.services.ranges import causes_of_terms, set_ranges
from objects.roles import role_required


@role_required()
def campaign_ranges(request: HttpRequest, pk: int) -> HttpResponse:
    """Show and change them; the button that puts the shipped ones back sends no figures."""
    campaign = get_object_or_404(Campaign, pk=pk)
    if request.method == "POST" and "reset" in request.POST:
        set_ranges(campaign=campaign, ranges={})
        messages.success(
            request, _("The shipped ranges hold again. Work the budget out to see what they do.")
        )
        return redirect("housing:campaign-ranges", pk=campaign.pk)
    form = RangesForm(request.POST or None, causes=causes_of_terms(terms_of(campaign)))
    if request.method == "POST" and form.is_valid():
        set_ranges(campaign=campaign, ranges=form.ranges())
        messages.success(request, _("The ranges are saved. Work the budget out to see what they do."))
        return redirect("housing:campaign-budget", pk=campaign.pk)
    return render(request, "housing/campaign_ranges.html", {"campaign": campaign, "form": form})
