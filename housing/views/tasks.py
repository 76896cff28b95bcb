"""The work list: one's own work, for managers everybody's; beginning and finishing a task."""

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from housing.forms.tasks import OPEN, MinutesForm, TaskFilter
from housing.models import Task
from housing.queries.tasks import person_of, tasks_for, tasks_to_show
from housing.services.tasks import TaskRefused, finish_task, start_task
from housing.tables.tasks import TaskTable
from objects.readers import reader_of
from objects.roles import MAKER, has_role
from objects.views.tables import shape, table_file, wants_file

PER_PAGE = 50


@require_safe
def task_list(request: HttpRequest) -> HttpResponse:
    reader, person = reader_of(request), person_of(request.user)
    given = request.GET.copy()
    given.setdefault("state", OPEN)
    if reader.is_manager and person:
        given.setdefault("person", str(person.pk))
    tasks = tasks_to_show() if reader.is_manager else tasks_for(person)
    chosen = TaskFilter(given, tasks, sees_all=reader.is_manager)
    table = TaskTable(chosen.qs)
    shape(request, table, {"per_page": PER_PAGE})
    if wants_file(request):
        return table_file(request, table)
    return render(
        request,
        "housing/task_list.html",
        {"filter": chosen, "table": table, "person": person, "number": table.paginator.count},
    )


@require_POST
def task_start(request: HttpRequest, pk: int) -> HttpResponse:
    task = _task_for(request, pk)
    try:
        begun = start_task(task=task, person=person_of(request.user))
    except TaskRefused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, _("“{begun}” is begun.").format(begun=begun))
    return _back(request)


@require_POST
def task_done(request: HttpRequest, pk: int) -> HttpResponse:
    task = _task_for(request, pk)
    form = MinutesForm(request.POST)
    if not form.is_valid():
        messages.error(
            request, _("“{task}” is not finished.").format(task=task) + " " + " ".join(form.errors["minutes"])
        )
        return _back(request)
    try:
        done = finish_task(
            task=task,
            minutes=form.cleaned_data["minutes"],
            person=None if task.person else person_of(request.user),
            by=request.user,
        )
    except TaskRefused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, _("“{done}” is done.").format(done=done))
    return _back(request)


def _task_for(request: HttpRequest, pk: int) -> Task:
    """A task that the reader may work on: anybody their own, makers and managers all."""
    task = get_object_or_404(Task.objects.select_related("person"), pk=pk)
    is_own = task.person is not None and task.person == person_of(request.user)
    if not is_own and not has_role(request.user, MAKER):
        raise PermissionDenied(_("This is somebody else's task. Ask a maker or a manager."))
    return task


def _back(request: HttpRequest) -> HttpResponse:
    """To the page the button was on."""
    back = request.POST.get("next", "")
    if not url_has_allowed_host_and_scheme(back, {request.get_host()}, request.is_secure()):
        back = reverse("housing:task-list")
    return redirect(back)
