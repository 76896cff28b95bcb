"""Days away: who is away in the coming weeks, and the days of one person entered, changed and deleted."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from housing.forms.absences import AbsenceForm
from housing.models import Absence, Person
from housing.queries.absences import absences_ahead, campaigns_to_give_out, span_of, weeks_away
from housing.views import questions
from objects.roles import role_required
from objects.views.asking import asks_first

WEEKS = 12
GIVE_OUT = "Give out the work again so that the weeks of the campaigns follow."


@require_safe
def absence_list(request: HttpRequest) -> HttpResponse:
    today = timezone.localdate()
    ahead = list(absences_ahead(today))
    return render(
        request,
        "housing/absence_list.html",
        {
            "ahead": ahead,
            "weeks": weeks_away(ahead, today, WEEKS),
            "campaigns": campaigns_to_give_out(),
            "people": Person.objects.filter(is_active=True),
        },
    )


@role_required()
def absence_new(request: HttpRequest, person: int) -> HttpResponse:
    who = get_object_or_404(Person, pk=person)
    return _edit(request, Absence(person=who), _("Days away of {who}").format(who=who))


@role_required()
def absence_edit(request: HttpRequest, pk: int) -> HttpResponse:
    absence = get_object_or_404(Absence.objects.select_related("person"), pk=pk)
    return _edit(request, absence, _("Change days away of {person}").format(person=absence.person))


def _edit(request: HttpRequest, absence: Absence, heading: str) -> HttpResponse:
    form = AbsenceForm(request.POST or None, instance=absence)
    if request.method == "POST" and form.is_valid():
        saved = form.save()
        messages.success(
            request,
            _("{person} is away {span_of}. {give_out}").format(
                person=saved.person, span_of=span_of(saved), give_out=GIVE_OUT
            ),
        )
        return redirect(_person_page(saved))
    context = {"form": form, "heading": heading, "person": absence.person}
    return render(request, "housing/absence_edit.html", context)


@require_POST
@role_required()
@asks_first(questions.absence)
def absence_delete(request: HttpRequest, pk: int) -> HttpResponse:
    absence = get_object_or_404(Absence.objects.select_related("person"), pk=pk)
    absence.delete()
    messages.success(
        request,
        _("{person} is no longer away {span_of}. {give_out}").format(
            person=absence.person, span_of=span_of(absence), give_out=GIVE_OUT
        ),
    )
    return redirect(_person_page(absence))


def _person_page(absence: Absence) -> str:
    return reverse("housing:person-edit", args=[absence.person_id]) + "#away"
