"""Standard sizes of a campaign: families, what was found, and the scenario that uses them."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from housing.core.drawing.curve_chart import curve_svg
from housing.core.scenarios import ScenarioRefused
from housing.forms.sizes import SizeFamilyForm
from housing.models import Campaign, Job, SizeFamily
from housing.queries.campaigns import open_job
from housing.queries.sizes import families_of
from housing.services.size_families import scenario_with_sizes, start_finding
from housing.views import questions
from objects.readers import reader_of
from objects.roles import role_required
from objects.views.asking import asks_first


@require_safe
def size_family_list(request: HttpRequest, pk: int) -> HttpResponse:
    campaign = get_object_or_404(Campaign, pk=pk)
    context = {
        "campaign": campaign,
        "families": families_of(campaign),
        "job": open_job(campaign, Job.Kind.SIZES),
    }
    return render(request, "housing/size_family_list.html", context)


@role_required()
def size_family_new(request: HttpRequest, pk: int) -> HttpResponse:
    campaign = get_object_or_404(Campaign, pk=pk)
    return _edit(request, SizeFamily(campaign=campaign, by=request.user), _("New family of sizes"))


@role_required()
def size_family_edit(request: HttpRequest, pk: int, family: int) -> HttpResponse:
    return _edit(request, get_object_or_404(families_of_pk(pk), pk=family), _("Edit the family of sizes"))


def families_of_pk(pk: int):
    return families_of(get_object_or_404(Campaign, pk=pk))


def _edit(request: HttpRequest, family: SizeFamily, heading: str) -> HttpResponse:
    form = SizeFamilyForm(request.POST or None, instance=family, unit=reader_of(request).unit)
    if request.method == "POST" and form.is_valid():
        saved = form.save()
        job = start_finding(family=saved, by=request.user)
        return redirect("housing:job-detail", pk=job.pk)
    context = {"form": form, "heading": heading, "campaign": family.campaign}
    return render(request, "housing/size_family_edit.html", context)


@require_safe
def size_family_detail(request: HttpRequest, pk: int, family: int) -> HttpResponse:
    found = get_object_or_404(families_of_pk(pk), pk=family)
    result = found.result
    context = {"campaign": found.campaign, "family": found, "result": result}
    if result:
        context |= {
            "rows": [
                ((z, x, y), number, money)
                for (x, y, z), number, money in zip(
                    result["sizes"], result["counts"], result["money"], strict=True
                )
            ],
            "saving": result["all_custom"] - result["total"],
            "chart": curve_svg(
                _("Cost against the number of sizes"),
                [(point["number"], point["money"]) for point in result["curve"]],
                found.campaign.currency,
            ),
        }
    return render(request, "housing/size_family_detail.html", context)


@require_POST
@role_required()
def size_family_find(request: HttpRequest, pk: int, family: int) -> HttpResponse:
    found = get_object_or_404(families_of_pk(pk), pk=family)
    return redirect("housing:job-detail", pk=start_finding(family=found, by=request.user).pk)


@require_POST
@role_required()
@asks_first(questions.size_family)
def size_family_delete(request: HttpRequest, pk: int, family: int) -> HttpResponse:
    found = get_object_or_404(families_of_pk(pk), pk=family)
    found.delete()
    messages.success(request, _("“{found}” is deleted.").format(found=found))
    return redirect("housing:size-family-list", pk=pk)


@require_POST
@role_required()
def size_family_scenario(request: HttpRequest, pk: int, family: int) -> HttpResponse:
    """Compare the campaign with boxes in these sizes, as a scenario."""
    found = get_object_or_404(families_of_pk(pk), pk=family)
    try:
        made = scenario_with_sizes(family=found, by=request.user)
    except ScenarioRefused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, _("“{made}” is a scenario now. Work it out to compare.").format(made=made))
    return redirect("housing:scenario-list", pk=pk)
