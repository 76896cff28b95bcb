"""The phases of a campaign: list with their figures, and adding, changing and deleting one."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from housing.core.budget.months import Calendar
from housing.core.budget.phases import phase_figures
from housing.forms.phases import PhaseForm
from housing.models import Campaign, Phase
from housing.queries.budgets import changes_since, live_budget
from housing.queries.phases import phases_in, phases_of
from housing.views import questions
from objects.readers import reader_of
from objects.roles import role_required
from objects.views.asking import asks_first


@require_safe
def phase_list(request: HttpRequest, pk: int) -> HttpResponse:
    campaign = get_object_or_404(Campaign, pk=pk)
    stored = live_budget(campaign)
    context = {"campaign": campaign, "stored": stored, "currency": campaign.currency}
    if stored:
        found = phases_in(stored)
        context |= {
            "phases": found.phases,
            "problems": found.problems,
            "changes": changes_since(stored),
            "currency": stored.currency,
        }
    else:
        context["phases"] = phase_figures(phases_of(campaign), [], Calendar(), 0.0)
    return render(request, "housing/phase_list.html", context)


@role_required()
def phase_new(request: HttpRequest, pk: int) -> HttpResponse:
    campaign = get_object_or_404(Campaign, pk=pk)
    last = campaign.phases.order_by("last_batch").last()
    batch = last.last_batch + 1 if last else 1
    phase = Phase(campaign=campaign, first_batch=batch, last_batch=batch)
    return _edit(request, phase, _("New phase of {campaign}").format(campaign=campaign))


@role_required()
def phase_edit(request: HttpRequest, pk: int) -> HttpResponse:
    phase = get_object_or_404(Phase.objects.select_related("campaign"), pk=pk)
    return _edit(request, phase, _("Edit {phase}").format(phase=phase))


def _edit(request: HttpRequest, phase: Phase, heading: str) -> HttpResponse:
    form = PhaseForm(request.POST or None, instance=phase, unit=reader_of(request).unit)
    if request.method == "POST" and form.is_valid():
        saved = form.save()
        messages.success(request, _("“{saved}” is saved.").format(saved=saved))
        return redirect("housing:phase-list", pk=phase.campaign_id)
    context = {"form": form, "heading": heading, "campaign": phase.campaign}
    return render(request, "housing/phase_edit.html", context)


@require_POST
@role_required()
@asks_first(questions.phase)
def phase_delete(request: HttpRequest, pk: int) -> HttpResponse:
    phase = get_object_or_404(Phase, pk=pk)
    phase.delete()
    messages.success(request, _("“{phase}” is deleted. Baselines keep it as it was.").format(phase=phase))
    return redirect("housing:phase-list", pk=phase.campaign_id)
