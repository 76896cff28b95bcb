"""The budget of a campaign: page, working it out again, terms, contingency, baselines."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from housing.core.budget.comparing import section_differences
from housing.core.budget.lines import APART, SECTION_NAMES
from housing.core.budget.sharing import SHOWN_APART
from housing.forms.budget_terms import BudgetTermsForm
from housing.forms.budgets import ContingencyForm, FreezeForm
from housing.models import Budget, Campaign, Job
from housing.queries.budgets import baselines, changes_since, live_budget, read_budget, terms_of, told_budget
from housing.queries.campaigns import open_job
from housing.queries.plans import plan_of
from housing.services.budgets import BudgetRefused, freeze_budget, make_budget, set_contingency
from housing.services.jobs import start_job
from housing.views.charts import chart_file, cost_chart
from objects.core.words import say
from objects.readers import reader_of
from objects.roles import role_required

MOST_AT_ONCE = 500  # boxes whose budget is worked out while the page is waited for


@require_safe
def campaign_budget(request: HttpRequest, pk: int) -> HttpResponse:
    campaign = get_object_or_404(Campaign, pk=pk)
    context = _live(campaign)
    if context["stored"] and (file := chart_file(request, {"cost": context["cost_chart"]})):
        return file
    return render(request, "housing/campaign_budget.html", context)


def _live(campaign: Campaign, **forms) -> dict:
    """What the page of the live budget shows. forms: those that were refused, in place of fresh ones."""
    stored = live_budget(campaign)
    context = {
        "campaign": campaign,
        "plan": plan_of(campaign),
        "job": open_job(campaign, Job.Kind.BUDGET) or open_job(campaign, Job.Kind.PLAN),
        "baselines": list(baselines(campaign)),
        **_shown(stored),
    }
    if stored:
        percent = {"contingency_percent": stored.content["percent"]}
        context |= {
            "changes": changes_since(stored),
            "freeze_form": forms.get("freeze") or FreezeForm(),
            "contingency_form": forms.get("contingency") or ContingencyForm(initial=percent),
        }
    return context


def _shown(stored: Budget | None) -> dict:
    """A stored budget with its lines by section; those apart from the money come last."""
    if stored is None:
        return {"stored": None}
    budget = told_budget(stored)
    sections = [
        (say(SECTION_NAMES[section]), section in APART, budget.of(section), total)
        for section, total in budget.section_totals().items()
    ]
    rest = stored.money - sum(total for key, total in budget.section_totals().items() if key in SHOWN_APART)
    chart = cost_chart(
        ((words, total) for words, is_apart, _lines, total in sections if not is_apart), budget.currency
    )
    return {
        "cost_chart": chart,
        "rest": rest,
        "stored": stored,
        "budget": budget,
        "content": stored.content,
        "sections": [row for row in sections if not row[1]],
        "apart": [row for row in sections if row[1]],
        "breakdowns": [
            (_("By design"), "Design", stored.content["by_design"]),
            (_("By board"), "Board", stored.content["by_board"]),
        ],
    }


@require_POST
@role_required()
def campaign_budget_make(request: HttpRequest, pk: int) -> HttpResponse:
    """Work the budget out again: at once, or as a job where there are many boxes."""
    campaign = get_object_or_404(Campaign, pk=pk)
    if campaign.housings.count() <= MOST_AT_ONCE:
        try:
            make_budget(campaign=campaign, by=request.user)
        except BudgetRefused as refused:
            messages.error(request, str(refused))
        else:
            messages.success(request, _("The budget is worked out again."))
        return redirect("housing:campaign-budget", pk=campaign.pk)
    job = open_job(campaign, Job.Kind.BUDGET) or start_job(
        kind=Job.Kind.BUDGET,
        title=_("Work out the budget of “{campaign}”").format(campaign=campaign),
        parameters={"campaign": campaign.pk},
        by=request.user,
    )
    return redirect("housing:job-detail", pk=job.pk)


@role_required()
def campaign_budget_terms(request: HttpRequest, pk: int) -> HttpResponse:
    campaign = get_object_or_404(Campaign, pk=pk)
    unit = reader_of(request).unit
    form = BudgetTermsForm(request.POST or None, instance=terms_of(campaign), unit=unit)
    if request.method == "POST" and form.is_valid():
        form.save()
        messages.success(request, _("The terms are saved. Work the budget out again to have them in it."))
        return redirect("housing:campaign-budget", pk=campaign.pk)
    return render(request, "housing/budget_terms.html", {"campaign": campaign, "form": form})


@require_POST
@role_required()
def campaign_budget_contingency(request: HttpRequest, pk: int) -> HttpResponse:
    """Choose how far the contingency reaches; the range itself stays as it was worked out."""
    campaign = get_object_or_404(Campaign, pk=pk)
    form = ContingencyForm(request.POST, instance=terms_of(campaign))
    if form.is_valid():
        try:
            set_contingency(campaign=campaign, percent=form.cleaned_data["contingency_percent"])
        except BudgetRefused as refused:
            messages.error(request, str(refused))
        else:
            messages.success(request, _("The contingency is changed."))
        return redirect("housing:campaign-budget", pk=campaign.pk)
    return render(request, "housing/campaign_budget.html", _live(campaign, contingency=form))


@require_POST
@role_required()
def campaign_budget_freeze(request: HttpRequest, pk: int) -> HttpResponse:
    """Keep the budget of now, unchanging, under a name."""
    campaign = get_object_or_404(Campaign, pk=pk)
    form = FreezeForm(request.POST)
    if form.is_valid():
        try:
            frozen = freeze_budget(campaign=campaign, name=form.cleaned_data["name"], by=request.user)
        except BudgetRefused as refused:
            form.add_error("name", str(refused))
        else:
            messages.success(
                request,
                _("“{frozen_name}” is frozen: nothing changes it any more.").format(frozen_name=frozen.name),
            )
            return redirect("housing:campaign-baseline", pk=campaign.pk, budget=frozen.pk)
    return render(request, "housing/campaign_budget.html", _live(campaign, freeze=form))


@require_safe
def campaign_baseline(request: HttpRequest, pk: int, budget: int) -> HttpResponse:
    """A frozen budget as it was, beside the live one."""
    campaign = get_object_or_404(Campaign, pk=pk)
    stored = get_object_or_404(baselines(campaign), pk=budget)
    live = live_budget(campaign)
    context = {"campaign": campaign, "live": live, **_shown(stored)}
    if live:
        context |= {
            "differences": section_differences(context["budget"], read_budget(live)),
            "more": live.money - stored.money,
        }
    return render(request, "housing/campaign_baseline.html", context)
