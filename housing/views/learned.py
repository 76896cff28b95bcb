"""What was learned from logged minutes and cut sheets, and whether a campaign's budget goes by it."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from housing.models import Campaign
from housing.queries.budgets import terms_of
from housing.queries.learned import learned
from housing.services.budgets import use_log
from objects.roles import role_required


@require_safe
def campaign_learned(request: HttpRequest, pk: int) -> HttpResponse:
    campaign = get_object_or_404(Campaign, pk=pk)
    terms = terms_of(campaign)
    context = {"campaign": campaign, "terms": terms, "learned": learned(terms)}
    return render(request, "housing/campaign_learned.html", context)


@require_POST
@role_required()
def campaign_learned_use(request: HttpRequest, pk: int) -> HttpResponse:
    """Let the budget go by what was learned, or by the stated figures alone."""
    campaign = get_object_or_404(Campaign, pk=pk)
    is_used = request.POST.get("use") == "yes"
    use_log(campaign=campaign, is_used=is_used)
    goes_by = _("what was logged") if is_used else _("the stated figures alone")
    messages.success(
        request,
        _("Tasks and budget go by {goes_by} once the campaign is planned again.").format(goes_by=goes_by),
    )
    return redirect("housing:campaign-learned", pk=campaign.pk)
