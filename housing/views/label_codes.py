"""Where the code of a label leads: to the object in the box, or to a page that says why not."""

from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.cache import add_never_cache_headers
from django.views.decorators.http import require_safe

from housing.core.label_codes import read_code
from housing.models import Housing
from housing.queries.label_codes import box_of_code, boxes_instead, dropped_how


@require_safe
def label_code(request: HttpRequest, code: str) -> HttpResponse:
    """The object's page, or a list of several in one box; of a wrong or old code, what is wrong with it."""
    return _lead(request, code)


@require_safe
def cut_sheet_code(request: HttpRequest, code: str, version: str) -> HttpResponse:
    """The box at the bench, which says whether the sheet with this version is still good."""
    known = read_code(code)
    housing = box_of_code(known) if known else None
    if housing is None or housing.status == Housing.Status.DROPPED:
        return _lead(request, code)
    return redirect(f"{reverse('housing:bench-box', args=[housing.pk])}?{urlencode({'v': version})}")


@require_safe
def label_code_typed(request: HttpRequest) -> HttpResponse:
    """A code typed by hand, where no camera reads it."""
    typed = request.GET.get("code", "").strip()
    return _lead(request, typed) if typed else render(request, "housing/label_code.html", {"problem": ""})


def _lead(request: HttpRequest, typed: str) -> HttpResponse:
    code = read_code(typed)
    if code is None:
        return _refuse(request, typed, "misread")
    housing = box_of_code(code)
    if housing is None:
        return _refuse(request, typed, "unknown")
    if housing.status == Housing.Status.DROPPED:
        return say_dropped(request, housing, typed)
    contents = list(housing.contents.all())
    if len(contents) == 1:
        return redirect("housing:object-detail", contents[0].object_id)
    return render(request, "housing/label_code.html", {"housing": housing, "contents": contents})


def say_dropped(request: HttpRequest, housing: Housing, typed: str = "") -> HttpResponse:
    """That a box was dropped, by whom and when, and which box its objects have now."""
    context = {
        "problem": "old",
        "typed": typed,
        "housing": housing,
        "dropped": dropped_how(housing),
        "instead": boxes_instead(housing),
    }
    answer = render(request, "housing/label_code.html", context, status=410)
    add_never_cache_headers(answer)  # browsers keep a 410 for good, and the dropping may be undone
    return answer


def _refuse(request: HttpRequest, typed: str, problem: str) -> HttpResponse:
    return render(request, "housing/label_code.html", {"problem": problem, "typed": typed[:40]}, status=404)
