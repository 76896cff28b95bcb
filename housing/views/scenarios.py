"""Scenarios of a campaign: side by side, edited, copied, deleted, and worked out in the background."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from housing.core.scenarios import ScenarioRefused
from housing.forms.scenarios import ScenarioForm
from housing.models import Campaign, Scenario
from housing.queries.scenario_columns import columns_of, open_scenario_job, table_of
from housing.services.scenario_presets import PRESETS, preset
from housing.services.scenarios import copy_scenario, delete_scenario, save_scenario, start_scenarios
from housing.views import questions
from objects.readers import reader_of
from objects.roles import role_required
from objects.views.asking import asks_first


@require_safe
def scenario_list(request: HttpRequest, pk: int) -> HttpResponse:
    """The campaign as it is beside its scenarios."""
    campaign = get_object_or_404(Campaign, pk=pk)
    columns = columns_of(campaign)
    objects = {column.figures.objects for column in columns if column.figures}
    return render(
        request,
        "housing/scenario_list.html",
        {
            "campaign": campaign,
            "columns": columns,
            "rows": [
                (row.label, list(zip(columns, row.cells, strict=True)))
                for row in table_of(columns, campaign.currency)
            ],
            "presets": PRESETS,
            "job": open_scenario_job(campaign),
            "differ_in_objects": len(objects) > 1,
        },
    )


@role_required()
def scenario_new(request: HttpRequest, pk: int) -> HttpResponse:
    """A new scenario, blank or begun from one that is ready-made."""
    campaign = get_object_or_404(Campaign, pk=pk)
    begun = Scenario(campaign=campaign)
    try:
        begun = preset(campaign=campaign, key=request.GET.get("from", ""))
    except ScenarioRefused as refused:
        messages.error(request, str(refused))
    return _edit(request, begun, _("New scenario of {campaign}").format(campaign=campaign))


@role_required()
def scenario_edit(request: HttpRequest, pk: int) -> HttpResponse:
    scenario = _scenario(pk)
    return _edit(request, scenario, _("Edit “{scenario}”").format(scenario=scenario))


def _edit(request: HttpRequest, scenario: Scenario, heading: str) -> HttpResponse:
    form = ScenarioForm(request.POST or None, instance=scenario, unit=reader_of(request).unit)
    if request.method == "POST" and form.is_valid():
        try:
            saved = save_scenario(scenario=form.instance, by=request.user)
        except ScenarioRefused as refused:
            form.add_error(None, str(refused))
        else:
            if "work_out" in request.POST:
                return _work_out(request, saved.campaign, [saved])
            messages.success(
                request, _("“{saved}” is saved. Work it out to see its figures.").format(saved=saved)
            )
            return _to_list(saved)
    context: dict[str, Any] = {"form": form, "heading": heading, "campaign": scenario.campaign}
    return render(request, "housing/scenario_edit.html", context)


@require_POST
@role_required()
def scenario_copy(request: HttpRequest, pk: int) -> HttpResponse:
    scenario = _scenario(pk)
    try:
        copied = copy_scenario(scenario=scenario, by=request.user)
    except ScenarioRefused as refused:
        messages.error(request, str(refused))
        return _to_list(scenario)
    messages.success(request, _("This is the copy. Change what differs."))
    return redirect("housing:scenario-edit", pk=copied.pk)


@require_POST
@role_required()
@asks_first(questions.scenario)
def scenario_delete(request: HttpRequest, pk: int) -> HttpResponse:
    scenario = _scenario(pk)
    delete_scenario(scenario=scenario)
    messages.success(
        request, _("“{scenario}” is deleted. Nothing of the campaign changed.").format(scenario=scenario)
    )
    return _to_list(scenario)


@require_POST
@role_required()
def scenario_work_out(request: HttpRequest, pk: int) -> HttpResponse:
    scenario = _scenario(pk)
    return _work_out(request, scenario.campaign, [scenario])


@require_POST
@role_required()
def scenario_work_out_all(request: HttpRequest, pk: int) -> HttpResponse:
    campaign = get_object_or_404(Campaign, pk=pk)
    return _work_out(request, campaign, list(campaign.scenarios.all()))


def _work_out(request: HttpRequest, campaign: Campaign, scenarios: list[Scenario]) -> HttpResponse:
    """Begin to work scenarios out; if some of the campaign are being worked out already, show that."""
    try:
        job = open_scenario_job(campaign) or start_scenarios(
            campaign=campaign, scenarios=scenarios, by=request.user
        )
    except ScenarioRefused as refused:
        messages.error(request, str(refused))
        return redirect("housing:scenario-list", pk=campaign.pk)
    return redirect("housing:job-detail", pk=job.pk)


def _scenario(pk: int) -> Scenario:
    return get_object_or_404(Scenario.objects.select_related("campaign"), pk=pk)


def _to_list(scenario: Scenario) -> HttpResponse:
    return redirect("housing:scenario-list", pk=scenario.campaign_id)
