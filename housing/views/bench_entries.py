"""What is sent from the bench: kept once however often it comes, and answered to people or to a script."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import gettext_lazy as _
from django.views.decorators.http import require_POST

from housing.forms.bench import DETAIL, EntryForm, UndoForm
from housing.models import BenchEntry, Housing, Person, PlannedSheet, Task
from housing.queries.tasks import person_of
from housing.services import bench_kinds
from housing.services.bench_entries import Ask, BenchRefused, record, undo
from housing.views.bench_workers import NOT_YOURS, may_work_on, worker_of
from objects.core.refusals import Refusal
from objects.roles import MAKER, has_role

__all__ = ["bench_entry", "bench_kinds", "bench_undo"]  # importing the kinds makes them known
UNIT = f"{DETAIL}unit"  # of whoever reads the page, not typed
GONE = {
    "task": _(
        "That step is not in the plan any more: the campaign was planned again since. Reload the page."
    ),
    "sheet": _(
        "That sheet is not in the plan any more: the campaign was planned again since. Reload the page."
    ),
    "housing": _("That box is not there any more. Reload the page."),
}
ASKED = {  # what else forms ask, in words
    "minutes": _("minutes"),
    "fits": _("the object fits"),
    "lid_closes": _("the lid closes"),
    "nothing_touches": _("nothing presses or rubs"),
    "all_well": _("all is well"),
    "cause": _("cause"),
    "side": _("side"),
    "short": _("by how much"),
    "direction": _("short or large"),
    "note": _("note"),
    "reason": _("reason"),
    "question": _("question"),
    "answer": _("answer"),
    "place": _("place"),
}
OF_KEY = {"task": Task, "sheet": PlannedSheet, "housing": Housing}
WRONG, REFUSED, SIGN_IN = 400, 409, 401


class NotYours(Refusal):
    """An entry about somebody else's work."""


@require_POST
def bench_entry(request: HttpRequest) -> HttpResponse:
    if _is_of_another_login(request):
        return _ask_to_sign_in()
    form = EntryForm(request.POST, request.FILES)
    if not form.is_valid():
        return _refuse(request, form.problems, WRONG)
    clean = form.cleaned_data
    # Kept already: answered as the first time, even if what it was about is gone since.
    entry = BenchEntry.objects.filter(entry_id=clean["entry_id"], by=request.user).first()
    is_new = False
    if entry is None:
        try:
            kept = record(entry_id=clean["entry_id"], ask=_ask(request, form))
        except Refusal as refused:
            return _refuse(request, str(refused), REFUSED)
        entry, is_new = kept.entry, kept.is_new
    return _answer(request, entry, is_new)


@require_POST
def bench_undo(request: HttpRequest) -> HttpResponse:
    if _is_of_another_login(request):
        return _ask_to_sign_in()
    form = UndoForm(request.POST)
    if not form.is_valid():
        return _refuse(request, form.problems, WRONG)
    entry = form.cleaned_data["entry"]
    if entry.by_id != request.user.pk and not has_role(request.user, MAKER):
        return _refuse(request, _("Only whoever entered this, or a maker, can undo it."), REFUSED)
    was_undone = BenchEntry.objects.filter(undoes=entry).exists()
    try:
        undone = undo(entry=entry, by=request.user, entry_id=form.cleaned_data["entry_id"])
    except Refusal as refused:
        return _refuse(request, str(refused), REFUSED)
    return _answer(request, undone, not was_undone)


def _ask(request: HttpRequest, form: EntryForm) -> Ask:
    """What is asked for, with the records it is about. Raises a Refusal where one is gone or not theirs."""
    clean = form.cleaned_data
    about = {}
    for name, model in OF_KEY.items():
        about[name] = model.objects.filter(pk=clean[name]).first() if clean[name] else None
        if clean[name] and about[name] is None:
            raise BenchRefused(GONE[name])
    if not may_work_on(request.user, **about):
        raise NotYours(NOT_YOURS)
    return Ask(
        what=clean["what"],
        by=request.user,
        at=clean["at"],
        person=_person(request, clean["person"]),
        minutes=clean["minutes"],
        detail=clean["detail"],
        photo=clean["photo"],
        **about,
    )


def _person(request: HttpRequest, key: int | None) -> Person | None:
    """Who did it: the person the page was made for, whoever is chosen on the tablet by now."""
    if key is None:
        return worker_of(request)
    person = Person.objects.filter(pk=key).first()
    if person is None:
        raise BenchRefused(_("The person whose work this is was removed. Choose who you are again."))
    if person != person_of(request.user) and not has_role(request.user, MAKER):
        raise NotYours(_("Your login can enter only your own work. Reload the page."))
    return person


def _is_of_another_login(request: HttpRequest) -> bool:
    """Whether an entry that waited on a device was made by somebody who was signed in there before."""
    sent_by = request.POST.get("user", "")
    return bool(sent_by) and sent_by != str(request.user.pk)


def _ask_to_sign_in() -> JsonResponse:
    words = _("This was entered under another login. It waits on the device for whoever entered it.")
    return JsonResponse({"kept": False, "message": words}, status=SIGN_IN)


def _answer(request: HttpRequest, entry: BenchEntry, is_new: bool) -> HttpResponse:
    address = _next(request) or _page_of(entry)
    messages.success(request, entry.message)
    if not _is_script(request):
        return redirect(address)
    said = {"kept": True, "is_new": is_new, "entry_id": str(entry.entry_id), "message": entry.message}
    return JsonResponse(said | {"url": address})


def _refuse(request: HttpRequest, message: str, status: int) -> HttpResponse:
    """Says why; without script with all that was entered, so that nothing typed is lost."""
    if _is_script(request):
        return JsonResponse({"kept": False, "message": message}, status=status)
    typed = [
        (ASKED.get(key := name.removeprefix(DETAIL), key.replace("_", " ")), value)
        for name, value in request.POST.items()
        if value and name != UNIT and (name.startswith(DETAIL) or name == "minutes")
    ]
    context = {"message": message, "typed": typed, "back": _next(request) or reverse("housing:bench")}
    return render(request, "housing/bench_refused.html", context, status=status)


def _page_of(entry: BenchEntry) -> str:
    """Where to go on after an entry."""
    if entry.sheet_id:
        return reverse("housing:bench-sheet", args=[entry.sheet_id])
    if entry.housing_id:
        return reverse("housing:bench-box", args=[entry.housing_id])
    return reverse("housing:bench")


def _is_script(request: HttpRequest) -> bool:
    return request.accepts("application/json") and not request.accepts("text/html")


def _next(request: HttpRequest) -> str:
    """The page the form was on, if it says so and is one of ours."""
    back = request.POST.get("next", "")
    return back if url_has_allowed_host_and_scheme(back, {request.get_host()}, request.is_secure()) else ""
