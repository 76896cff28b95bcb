"""The pages for the maker at the bench: what is due, one sheet, one box at a time."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.cache import patch_cache_control
from django.views.decorators.csrf import ensure_csrf_cookie
from django.views.decorators.http import require_POST, require_safe

from boards.models import Reason
from housing.core.versions import read_version
from housing.forms.bench import WhoForm
from housing.models import Housing, Person, PlannedSheet, Task, WorkSpell
from housing.printing.box_pages import box_page
from housing.printing.planned_sheets import drawn_sheets
from housing.queries.bench import bench_day
from housing.queries.bench_boxes import box_at_bench, boxes_of_sheet
from housing.queries.plans import add_objects
from housing.queries.prints import boxes_to_print
from housing.queries.sheets import issue_of
from housing.queries.waits import open_holds
from housing.services.bench_entries import last_entry
from housing.services.spells import clocked
from housing.views.bench_workers import CHOSEN, may_work_on, worker_of
from housing.views.label_codes import say_dropped
from objects.readers import reader_of
from objects.roles import MAKER, role_required

Step, Status = Task.Step, Housing.Status


@require_safe
@ensure_csrf_cookie
def bench(request: HttpRequest) -> HttpResponse:
    """What the person has to do today, in working order."""
    person = worker_of(request)
    day = bench_day(person, timezone.localdate()) if person else None
    return _page(request, "housing/bench.html", person, {"day": day})


@require_POST
@role_required(MAKER)
def bench_person(request: HttpRequest) -> HttpResponse:
    """“I am …” on a tablet that several people share; kept until somebody else says so or signs in."""
    form = WhoForm(request.POST)
    if form.is_valid():
        request.session[CHOSEN] = form.cleaned_data["person"].pk
    else:
        messages.error(request, " ".join(form.errors["person"]))
    return redirect("housing:bench")


@require_safe
@ensure_csrf_cookie
def bench_sheet(request: HttpRequest, pk: int) -> HttpResponse:
    """One sheet, drawn large, with its cuts in order and what to do with it."""
    sheets = PlannedSheet.objects.select_related(
        "board", "sheet_size", "offcut", "person", "cut_by", "plan__campaign"
    ).prefetch_related("placements")
    sheet = get_object_or_404(sheets, pk=pk)
    add_objects([sheet])
    boxes = boxes_of_sheet(sheet)
    waits = [words for held in open_holds([box.pk for box in boxes]).values() for words in held]
    return _page(
        request,
        "housing/bench_sheet.html",
        worker_of(request),
        {
            "sheet": sheet,
            "made": drawn_sheets([sheet], reader_of(request)),
            "boxes": boxes,
            "waits": waits,
            "is_issued": issue_of(sheet) is not None,
            "spell": _running(sheet),
            "clock": clocked(sheet, timezone.now()),
            "reasons": Reason.choices,
            "can_work": may_work_on(request.user, sheet=sheet),
        },
    )


@require_safe
@ensure_csrf_cookie
def bench_box(request: HttpRequest, pk: int) -> HttpResponse:
    """One box: cautions first, then its drawing, its steps and what to do now."""
    if dropped := Housing.objects.filter(pk=pk, status=Status.DROPPED).first():
        return say_dropped(request, dropped)
    found = boxes_to_print([pk])
    housing = found[0] if found else get_object_or_404(Housing, pk=pk)
    person = worker_of(request)
    box = box_at_bench(housing, timezone.localdate())
    due = box.next_for(person)
    task = due.task if due else None
    page = box_page(housing, reader_of(request))
    return _page(
        request,
        "housing/bench_box.html",
        person,
        {
            "housing": housing,
            "page": page,
            **_sheet_in_hand(request.GET.get("v", ""), page.version),
            "step": _step(request.GET.get("step", ""), len(page.steps)),
            "box": box,
            "due": due,
            "task": task,
            "is_of_sheet": bool(task and task.step in (Step.FETCH, Step.CUT) and task.sheet),
            "spell": _running(task) if task else None,
            "clock": clocked(task, timezone.now()) if task else None,
            "next_box": _next_box(housing),
            "can_work": may_work_on(request.user, housing=housing),
            "can_do": task is not None and may_work_on(request.user, task=task),
        },
    )


def _page(request: HttpRequest, template: str, person: Person | None, shown: dict[str, Any]) -> HttpResponse:
    """A page of the bench with who works there and what was done last. It is asked for anew each time, since
    what it says is out of date after every step."""
    context = {
        **shown,
        "person": person,
        "who": WhoForm(initial={"person": person}) if reader_of(request).is_maker else None,
        "last": last_entry(by=request.user),
        "entry_address": reverse("housing:bench-entry"),
        "undo_address": reverse("housing:bench-undo"),
    }
    answer = render(request, template, context)
    patch_cache_control(answer, private=True, no_cache=True)
    return answer


def _running(at_what: Task | PlannedSheet) -> WorkSpell | None:
    """The clock that runs at a task or a sheet, with whose it is."""
    return at_what.spells.filter(ended_at=None).select_related("person").first()


def _step(asked: str, most: int) -> int | None:
    """The step to show by itself, from 1 on; None for all at once."""
    if asked == "all" or not most:
        return None
    return min(max(int(asked), 1), most) if asked.isdecimal() and len(asked) < 4 else 1


def _sheet_in_hand(typed: str, current: str) -> dict[str, object]:
    """What the version of the cut sheet that somebody holds tells: whether it is the one that holds now."""
    held = read_version(typed) if typed else None
    return {
        "held": held or typed[:12],
        "is_old_sheet": bool(held and current and held != current),
        "is_misread_sheet": bool(typed and not held),
    }


def _next_box(housing: Housing) -> Housing | None:
    """The next box cut from the same sheet that is not on its shelf yet."""
    others = Housing.objects.filter(
        blanks__placements__sheet__placements__blank__housing=housing,
        status__in=[Status.PLANNED, Status.IN_WORK, Status.MADE],
    ).exclude(pk=housing.pk)
    after = others.filter(pk__gt=housing.pk).order_by("pk").first()
    return after or others.order_by("pk").first()
