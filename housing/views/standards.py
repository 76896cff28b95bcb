"""Standard times of the work: list, for every design or for one, and back to what is shipped."""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from housing.core.labour.elements import SHIPPED, Element
from housing.forms.standards import NewStandardTimeForm, StandardTimeForm
from housing.models import StandardTime
from housing.queries.standard_list import FOR_ONE, element_rows, time_of_every_design
from housing.services.standards import record_standard_time, reset_standard_time
from housing.views import questions
from objects.core.words import say
from objects.roles import role_required
from objects.views.asking import asks_first

AFTER = "Budgets that rest on it show themselves out of date. Plan a campaign again to have it in its tasks."


@require_safe
def standard_list(request: HttpRequest) -> HttpResponse:
    return render(request, "housing/standard_list.html", {"rows": element_rows()})


@role_required()
def standard_edit(request: HttpRequest, element: str) -> HttpResponse:
    """The time of an element for every design."""
    if element not in list(Element):
        raise Http404(_("There is no work element “{element}”.").format(element=element))
    return _edit(request, StandardTimeForm, time_of_every_design(Element(element)))


@role_required()
def standard_new(request: HttpRequest) -> HttpResponse:
    """The time of an element for one design."""
    element = request.GET.get("element", "")
    return _edit(request, NewStandardTimeForm, StandardTime(element=element if element in SHIPPED else ""))


@role_required()
def standard_time_edit(request: HttpRequest, pk: int) -> HttpResponse:
    return _edit(request, StandardTimeForm, get_object_or_404(StandardTime, pk=pk))


def _edit(request: HttpRequest, form_class: type[StandardTimeForm], time: StandardTime) -> HttpResponse:
    form = form_class(request.POST or None, instance=time)
    if request.method == "POST" and form.is_valid():
        name = form.element
        if record_standard_time(time=form.save(commit=False)):
            messages.success(request, _("“{name}” is saved. {after}").format(name=name, after=AFTER))
        else:
            messages.success(
                request,
                _("“{name}” is as it is without an entry of its own, so none is kept.").format(name=name),
            )
        return redirect("housing:standard-list")
    # what was typed may have changed the record that the form holds, not the stored one
    shipped = SHIPPED.get(time.element)
    return render(
        request,
        "housing/standard_edit.html",
        {
            "form": form,
            "heading": _("{name}: standard time").format(name=say(shipped.name))
            if shipped
            else _("Standard time of a design"),
            "for_one": say(FOR_ONE[shipped.driver]) if shipped else "",
            "design": time.design if time.pk else None,
        },
    )


@require_POST
@role_required()
@asks_first(questions.standard_time)
def standard_reset(request: HttpRequest, pk: int) -> HttpResponse:
    """Back to what holds without the entry."""
    time = get_object_or_404(StandardTime, pk=pk)
    minutes, _source = reset_standard_time(time=time)
    messages.success(
        request,
        _("“{element}” is {likely:g} minutes again, {low:g} to {high:g}. {after}").format(
            element=time.get_element_display(),
            likely=minutes.likely,
            low=minutes.low,
            high=minutes.high,
            after=AFTER,
        ),
    )
    return redirect("housing:standard-list")
