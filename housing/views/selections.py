"""What can be done within limits: the limits, what was chosen and why, and what to do with it."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from housing.core.scenarios import ScenarioRefused
from housing.core.selecting import SelectionRefused
from housing.forms.selections import SKILLS, BatchForm, SelectionForm
from housing.models import Campaign, Housing, Job, Selection
from housing.queries.campaigns import open_job
from housing.queries.selections import selections_of
from housing.services.selections import find_selection, give_batches, scenario_of_selection, start_selecting
from housing.views import questions
from objects.models import CatalogueObject
from objects.readers import reader_of
from objects.roles import role_required
from objects.views.asking import asks_first

MOST_AT_ONCE = 300  # boxes chosen from while the page is waited for
SHOWN = 200  # chosen objects listed on the page


@require_safe
def selection_list(request: HttpRequest, pk: int) -> HttpResponse:
    campaign = get_object_or_404(Campaign, pk=pk)
    context = {
        "campaign": campaign,
        "selections": selections_of(campaign),
        "job": open_job(campaign, Job.Kind.SELECT),
    }
    return render(request, "housing/selection_list.html", context)


@role_required()
def selection_new(request: HttpRequest, pk: int) -> HttpResponse:
    campaign = get_object_or_404(Campaign, pk=pk)
    return _edit(
        request, Selection(campaign=campaign, by=request.user), _("What can be done with this much?")
    )


@role_required()
def selection_edit(request: HttpRequest, pk: int, selection: int) -> HttpResponse:
    return _edit(request, _selection(pk, selection), _("Edit the limits"))


def _selection(pk: int, selection: int) -> Selection:
    return get_object_or_404(selections_of(get_object_or_404(Campaign, pk=pk)), pk=selection)


def _edit(request: HttpRequest, selection: Selection, heading: str) -> HttpResponse:
    form = SelectionForm(request.POST or None, instance=selection, unit=reader_of(request).unit)
    if request.method == "POST" and form.is_valid():
        return _find(request, form.save())
    context = {"form": form, "heading": heading, "campaign": selection.campaign}
    return render(request, "housing/selection_edit.html", context)


@require_POST
@role_required()
def selection_find(request: HttpRequest, pk: int, selection: int) -> HttpResponse:
    return _find(request, _selection(pk, selection))


def _find(request: HttpRequest, selection: Selection) -> HttpResponse:
    """Choose at once, or as a job where there are many boxes; a refusal is said above the limits."""
    campaign = selection.campaign
    if campaign.housings.filter(status=Housing.Status.PLANNED).count() > MOST_AT_ONCE:
        return redirect("housing:job-detail", pk=start_selecting(selection=selection, by=request.user).pk)
    try:
        find_selection(selection=selection)
    except SelectionRefused as refused:
        messages.error(request, str(refused))
    return redirect("housing:selection-detail", pk=campaign.pk, selection=selection.pk)


@require_safe
def selection_detail(request: HttpRequest, pk: int, selection: int) -> HttpResponse:
    found = _selection(pk, selection)
    result, skills = found.result, dict(SKILLS)
    context = {"campaign": found.campaign, "selection": found, "result": result, "batch_form": BatchForm()}
    context["limits"] = [(skills.get(skill, skill), hours) for skill, hours in found.hours.items()]
    if result:
        asked = {*result["chosen"][:SHOWN]}
        for row in (*result["left"], *result["next"]):
            asked |= {*row.get("objects", ()), *row.get("added", ()), *row.get("dropped", ())}
        things = CatalogueObject.objects.in_bulk(asked)
        context |= {
            "chosen": _known(result["chosen"][:SHOWN], things),
            "uses": [{**use, "label": skills.get(use["name"], use["name"])} for use in result["uses"]],
            "next": [
                {
                    **gain,
                    "label": skills.get(gain["what"], gain["what"]),
                    "added": _known(gain["added"], things),
                    "dropped": _known(gain["dropped"], things),
                }
                for gain in result["next"]
            ],
            "left": [{**row, "objects": _known(row["objects"], things)} for row in result["left"]],
        }
    return render(request, "housing/selection_detail.html", context)


def _known(pks: list[int], things: dict[int, CatalogueObject]) -> list[CatalogueObject]:
    return [things[pk] for pk in pks if pk in things]


@require_POST
@role_required()
@asks_first(questions.selection)
def selection_delete(request: HttpRequest, pk: int, selection: int) -> HttpResponse:
    found = _selection(pk, selection)
    found.delete()
    messages.success(request, _("“{found}” is deleted; the campaign is as it was.").format(found=found))
    return redirect("housing:selection-list", pk=pk)


@require_POST
@role_required()
def selection_scenario(request: HttpRequest, pk: int, selection: int) -> HttpResponse:
    """Compare the campaign with only these objects, as a scenario."""
    found = _selection(pk, selection)
    if not found.result:
        messages.error(request, _("Nothing is chosen yet. Choose first."))
        return redirect("housing:selection-detail", pk=pk, selection=selection)
    try:
        made = scenario_of_selection(selection=found, by=request.user)
    except ScenarioRefused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(
            request, _("“{made}” is a scenario now. Work it out to nest its sheets.").format(made=made)
        )
    return redirect("housing:scenario-list", pk=pk)


@require_POST
@role_required()
def selection_batch(request: HttpRequest, pk: int, selection: int) -> HttpResponse:
    """Let the chosen objects be due with one batch."""
    found, form = _selection(pk, selection), BatchForm(request.POST)
    if not form.is_valid() or not found.result:
        messages.error(request, _("Enter a batch from 1 to 999, of objects that are chosen."))
    else:
        number = give_batches(selection=found, batch=form.cleaned_data["batch"])
        messages.success(
            request,
            _("{number:,} objects are due with batch {batch}. Plan the campaign again.").format(
                number=number, batch=form.cleaned_data["batch"]
            ),
        )
    return redirect("housing:selection-detail", pk=pk, selection=selection)
