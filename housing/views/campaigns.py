"""Campaigns: list, overview with conflicts and what waits, editing, and how far each is."""

from decimal import Decimal
from urllib.parse import urlencode

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from housing.core.drawing.charts import Strip
from housing.core.weeks import monday_of
from housing.forms.campaigns import CampaignForm
from housing.models import Campaign
from housing.queries.blocks import blocks, open_questions
from housing.queries.campaigns import (
    batch_counts,
    campaigns_with_counts,
    counts_by_status,
    has_sheets_to_keep,
    housed_by_week,
    open_plan_job,
    waiting_groups,
    work_by_step,
)
from housing.queries.conflicts import conflict_groups
from housing.queries.designs import designs_lacking
from housing.queries.misfits import remake_costs
from housing.queries.plans import plan_of
from housing.queries.progress import is_plan_current
from housing.queries.stock_needs import sheets_waiting_for_board
from housing.queries.summary import plan_summary
from housing.queries.this_week import done_since
from housing.queries.used import used_of
from housing.tables.campaigns import CampaignTable
from housing.views.home import SERIES, block_links, done_links, list_of
from objects.readers import reader_of
from objects.roles import role_required
from objects.views.tables import shape, table_file, wants_file


@require_safe
def campaign_list(request: HttpRequest) -> HttpResponse:
    table = CampaignTable(campaigns_with_counts())
    shape(request, table, {"per_page": 50})
    if wants_file(request):
        return table_file(request, table)
    return render(request, "housing/campaign_list.html", {"table": table})


@role_required()
def campaign_new(request: HttpRequest) -> HttpResponse:
    return _edit(request, Campaign(), _("New campaign"))


@role_required()
def campaign_edit(request: HttpRequest, pk: int) -> HttpResponse:
    campaign = get_object_or_404(Campaign, pk=pk)
    return _edit(request, campaign, _("Edit {campaign}").format(campaign=campaign))


def _edit(request: HttpRequest, campaign: Campaign, heading: str) -> HttpResponse:
    form = CampaignForm(request.POST or None, instance=campaign, unit=reader_of(request).unit)
    if request.method == "POST" and form.is_valid():
        saved = form.save()
        messages.success(request, _("{saved} is saved.").format(saved=saved))
        return redirect("housing:campaign-detail", pk=saved.pk)
    context = {"form": form, "heading": heading, "campaign": campaign}
    return render(request, "housing/campaign_edit.html", context)


@require_safe
def campaign_detail(request: HttpRequest, pk: int) -> HttpResponse:
    campaign = get_object_or_404(Campaign, pk=pk)
    objects, summary = reverse("housing:object-list"), plan_summary(campaign)
    return render(
        request,
        "housing/campaign_detail.html",
        {
            "campaign": campaign,
            "plan": plan_of(campaign),
            "is_current": is_plan_current(campaign),
            "can_keep": has_sheets_to_keep(campaign),
            "job": open_plan_job(campaign),
            "summary": summary,
            "objects_url": f"{objects}?campaign={campaign.pk}",
            "cost": f"{Decimal(summary['cost']):,.2f} {campaign.currency}",
            "hours": _("{hours:,} hours of work").format(hours=summary["labour_hours"]),
            "rules": campaign.rules.select_related("design"),
            "conflicts": conflict_groups(campaign),
            "lacking": designs_lacking(campaign),
            "people": campaign.people.all(),
            "batches": batch_counts(campaign),
            "waiting": [
                (group, f"{objects}?{urlencode({'campaign': campaign.pk, 'problem': group.problem})}")
                for group in waiting_groups(campaign)
            ],
        },
    )


@require_safe
def campaign_progress(request: HttpRequest, pk: int) -> HttpResponse:
    campaign = get_object_or_404(Campaign, pk=pk)
    counts, narrowed = counts_by_status(campaign), {"campaign": str(campaign.pk)}
    done = done_since(monday_of(timezone.localdate()), campaign)
    return render(
        request,
        "housing/campaign_progress.html",
        {
            "campaign": campaign,
            "total": sum(counts.values()),
            "housed": counts.get("housed", 0),
            "total_url": list_of(**narrowed),
            "housed_url": list_of(status="housed", **narrowed),
            "strip": Strip(
                _("Objects of {campaign} by how far they are").format(campaign=campaign), counts, SERIES
            ),
            "weeks": housed_by_week(campaign),
            "steps": work_by_step(campaign),
            "done": done,
            "done_links": done_links(done, **narrowed),
            "blocks": block_links(blocks(campaign), **narrowed),
            "questions": open_questions(campaign),
            "no_board": sheets_waiting_for_board().filter(plan__campaign=campaign).count(),
            "used": used_of([campaign]),
            "remakes": remake_costs(campaign),
        },
    )
