"""Campaigns: list, overview with rules and what waits, editing, work by person, and how far each is."""

from decimal import Decimal
from urllib.parse import urlencode

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseBadRequest
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe
from django_tables2 import RequestConfig

from housing.core.drawing.charts import Strip
from housing.forms.campaigns import CampaignForm, RuleForm
from housing.models import Campaign, DesignRule
from housing.queries.campaigns import (
    batch_counts,
    campaigns_with_counts,
    counts_by_status,
    has_sheets_to_keep,
    housed_by_week,
    loads,
    open_plan_job,
    unassigned,
    waiting_groups,
    work_by_step,
)
from housing.queries.designs import designs_lacking
from housing.queries.plans import plan_of
from housing.queries.progress import is_plan_current
from housing.queries.summary import plan_summary
from housing.services.rules import delete_rule, move_rule, save_rule
from housing.tables.campaigns import CampaignTable
from housing.views.home import SERIES
from objects.readers import reader_of
from objects.roles import role_required

PLACES = {"up": -1, "down": 1}


@require_safe
def campaign_list(request: HttpRequest) -> HttpResponse:
    table = CampaignTable(campaigns_with_counts())
    RequestConfig(request, paginate={"per_page": 50}).configure(table)
    return render(request, "housing/campaign_list.html", {"table": table})


@role_required()
def campaign_new(request: HttpRequest) -> HttpResponse:
    return _edit(request, Campaign(), "New campaign")


@role_required()
def campaign_edit(request: HttpRequest, pk: int) -> HttpResponse:
    campaign = get_object_or_404(Campaign, pk=pk)
    return _edit(request, campaign, f"Edit {campaign}")


def _edit(request: HttpRequest, campaign: Campaign, heading: str) -> HttpResponse:
    form = CampaignForm(request.POST or None, instance=campaign, unit=reader_of(request).unit)
    if request.method == "POST" and form.is_valid():
        saved = form.save()
        messages.success(request, f"{saved} is saved.")
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
            "hours": f"{summary['labour_hours']:,} hours of work",
            "rules": campaign.rules.select_related("design"),
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
def campaign_tasks(request: HttpRequest, pk: int) -> HttpResponse:
    campaign = get_object_or_404(Campaign, pk=pk)
    context = {"campaign": campaign, "loads": loads(campaign), "unassigned": unassigned(campaign)}
    return render(request, "housing/campaign_tasks.html", context)


@require_safe
def campaign_progress(request: HttpRequest, pk: int) -> HttpResponse:
    campaign = get_object_or_404(Campaign, pk=pk)
    counts = counts_by_status(campaign)
    return render(
        request,
        "housing/campaign_progress.html",
        {
            "campaign": campaign,
            "total": sum(counts.values()),
            "housed": counts.get("housed", 0),
            "strip": Strip(f"Objects of {campaign} by how far they are", counts, SERIES),
            "weeks": housed_by_week(campaign),
            "steps": work_by_step(campaign),
        },
    )


# ---- Rules -----------------------------------------------------------------------------------------------


@role_required()
def rule_new(request: HttpRequest, pk: int) -> HttpResponse:
    campaign = get_object_or_404(Campaign, pk=pk)
    return _edit_rule(request, DesignRule(campaign=campaign), f"New rule of {campaign}")


@role_required()
def rule_edit(request: HttpRequest, pk: int) -> HttpResponse:
    rule = get_object_or_404(DesignRule.objects.select_related("campaign"), pk=pk)
    return _edit_rule(request, rule, f"Edit rule {rule.position} of {rule.campaign}")


def _edit_rule(request: HttpRequest, rule: DesignRule, heading: str) -> HttpResponse:
    form = RuleForm(request.POST or None, instance=rule, unit=reader_of(request).unit)
    if request.method == "POST" and form.is_valid():
        save_rule(rule=form.instance)
        messages.success(request, "The rule is saved. Plan the campaign again to use it.")
        return _to_rules(rule)
    context = {"form": form, "heading": heading, "campaign": rule.campaign}
    return render(request, "housing/campaign_edit.html", context)


@require_POST
@role_required()
def rule_delete(request: HttpRequest, pk: int) -> HttpResponse:
    rule = get_object_or_404(DesignRule, pk=pk)
    delete_rule(rule=rule)
    messages.success(request, "The rule is deleted. Plan the campaign again to leave it out.")
    return _to_rules(rule)


@require_POST
@role_required()
def rule_move(request: HttpRequest, pk: int) -> HttpResponse:
    """Move a rule one place up or down."""
    rule = get_object_or_404(DesignRule, pk=pk)
    places = PLACES.get(request.POST.get("direction", ""))
    if places is None:
        return HttpResponseBadRequest("A rule moves up or down. Go back and use the buttons there.")
    move_rule(rule=rule, places=places)
    return _to_rules(rule)


def _to_rules(rule: DesignRule) -> HttpResponse:
    return redirect(f"{reverse('housing:campaign-detail', args=[rule.campaign_id])}#rules")
