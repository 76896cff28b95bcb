"""Grades: what an hour of a kind of worker costs."""

from django.contrib import messages
from django.db.models import Count
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from housing.forms.people import GradeForm
from housing.models import Grade
from housing.services.grades import GradeRefused, delete_grade
from housing.views import questions
from objects.readers import reader_of
from objects.roles import role_required
from objects.views.asking import asks_first


@require_safe
def grade_list(request: HttpRequest) -> HttpResponse:
    grades = Grade.objects.annotate(number=Count("people"))
    return render(request, "housing/grade_list.html", {"grades": grades})


@role_required()
def grade_new(request: HttpRequest) -> HttpResponse:
    return _edit(request, Grade(), _("New grade"))


@role_required()
def grade_edit(request: HttpRequest, pk: int) -> HttpResponse:
    grade = get_object_or_404(Grade, pk=pk)
    return _edit(request, grade, _("Edit {grade}").format(grade=grade))


def _edit(request: HttpRequest, grade: Grade, heading: str) -> HttpResponse:
    form = GradeForm(request.POST or None, instance=grade, unit=reader_of(request).unit)
    if request.method == "POST" and form.is_valid():
        saved = form.save()
        messages.success(
            request,
            _("{saved} is saved. Budgets with people of it show themselves out of date.").format(saved=saved),
        )
        return redirect("housing:grade-list")
    return render(request, "housing/grade_edit.html", {"form": form, "heading": heading})


@require_POST
@role_required()
@asks_first(questions.grade)
def grade_delete(request: HttpRequest, pk: int) -> HttpResponse:
    grade = get_object_or_404(Grade, pk=pk)
    try:
        delete_grade(grade=grade)
    except GradeRefused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, _("{grade} is deleted.").format(grade=grade))
    return redirect("housing:grade-list")
