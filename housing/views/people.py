"""The people who take part: list, and one of them."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from housing.forms.people import PersonForm
from housing.models import Person
from housing.queries.absences import campaigns_to_give_out
from housing.queries.people import people_with_counts
from housing.tables.people import PersonTable
from objects.readers import reader_of
from objects.roles import role_required
from objects.views.tables import shape, table_file, wants_file


@require_safe
def person_list(request: HttpRequest) -> HttpResponse:
    table = PersonTable(people_with_counts(timezone.localdate()), can_edit=reader_of(request).is_manager)
    shape(request, table, {"per_page": 50})
    if wants_file(request):
        return table_file(request, table)
    return render(request, "housing/person_list.html", {"table": table})


@role_required()
def person_new(request: HttpRequest) -> HttpResponse:
    return _edit(request, Person(), _("New person"))


@role_required()
def person_edit(request: HttpRequest, pk: int) -> HttpResponse:
    person = get_object_or_404(Person, pk=pk)
    return _edit(request, person, _("Edit {person}").format(person=person))


def _edit(request: HttpRequest, person: Person, heading: str) -> HttpResponse:
    form = PersonForm(request.POST or None, instance=person, unit=reader_of(request).unit)
    if request.method == "POST" and form.is_valid():
        saved = form.save()
        budgets = _("Budgets with this person show themselves out of date.")
        if form.changes_work and campaigns_to_give_out(saved).exists():
            messages.success(
                request,
                _("{saved} is saved. Give out the work again so that it follows. {budgets}").format(
                    saved=saved, budgets=budgets
                ),
            )
            return redirect(reverse("housing:person-edit", args=[saved.pk]) + "#give-out")
        messages.success(request, _("{saved} is saved. {budgets}").format(saved=saved, budgets=budgets))
        return redirect("housing:person-list")
    context = {"form": form, "heading": heading}
    if person.pk:
        context |= {
            "person": person,
            "absences": person.absences.all(),
            "campaigns": campaigns_to_give_out(person),
        }
    return render(request, "housing/person_edit.html", context)
