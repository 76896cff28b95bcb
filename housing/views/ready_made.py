"""The price list of boxes that are sold ready-made."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from housing.forms.ready_made import ReadyMadeForm
from housing.models import ReadyMadeBox
from housing.queries.ready_made import boxes_on_the_list
from housing.views import questions
from objects.readers import reader_of
from objects.roles import role_required
from objects.views.asking import asks_first


@require_safe
def ready_made_list(request: HttpRequest) -> HttpResponse:
    boxes = boxes_on_the_list(today=timezone.localdate())
    return render(request, "housing/ready_made_list.html", {"boxes": boxes})


@role_required()
def ready_made_new(request: HttpRequest) -> HttpResponse:
    return _edit(request, ReadyMadeBox(), _("New ready-made box"))


@role_required()
def ready_made_edit(request: HttpRequest, pk: int) -> HttpResponse:
    box = get_object_or_404(ReadyMadeBox, pk=pk)
    return _edit(request, box, _("Edit {box}").format(box=box))


def _edit(request: HttpRequest, box: ReadyMadeBox, heading: str) -> HttpResponse:
    form = ReadyMadeForm(request.POST or None, instance=box, unit=reader_of(request).unit)
    if request.method == "POST" and form.is_valid():
        saved = form.save()
        messages.success(request, _("{saved} is on the list.").format(saved=saved))
        return redirect("housing:ready-made-list")
    return render(request, "housing/ready_made_edit.html", {"form": form, "heading": heading})


@require_POST
@role_required()
@asks_first(questions.ready_made)
def ready_made_delete(request: HttpRequest, pk: int) -> HttpResponse:
    box = get_object_or_404(ReadyMadeBox, pk=pk)
    box.delete()
    messages.success(
        request,
        _("{box} is off the list. Scenarios that bought it show themselves out of date.").format(box=box),
    )
    return redirect("housing:ready-made-list")
