"""Layouts of sheets: choose which, look at them, take them as PDF."""

from dataclasses import replace

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from housing.forms.sheet_prints import SheetPrintForm
from housing.printing.asked import Asked
from housing.printing.kinds import SHEET_LAYOUTS
from housing.views.prints import answer
from objects.readers import reader_of


@require_http_methods(["GET", "HEAD", "POST"])
def print_sheet_layouts(request: HttpRequest) -> HttpResponse:
    """The layouts of the sheets in the address; without any, what there is to choose."""
    reader = reader_of(request)
    form = SheetPrintForm(request.GET, paper=reader.paper, hand=reader.hand)
    if not form.is_valid():
        return _choose(request, form, 400)
    if not form.has_selection or request.GET.get("choose"):
        return _choose(request, form, 200)
    if not (keys := form.sheets()):
        return _choose(request, form, 404, is_empty=True)
    clean = form.cleaned_data
    asked = Asked(
        what=SHEET_LAYOUTS.key,
        keys=tuple(keys),
        reader=replace(reader, hand=clean["hand"]),
        paper=clean["paper"],
        base_url=request.build_absolute_uri("/"),
        by=request.user.get_full_name() or request.user.get_username(),
    )
    address = request.GET.copy()
    address["choose"] = "1"
    address.pop("format", None)
    back = f"{reverse('housing:print-sheet-layouts')}?{address.urlencode()}"
    return answer(request, SHEET_LAYOUTS, asked, back)


def _choose(
    request: HttpRequest, form: SheetPrintForm, status: int, *, is_empty: bool = False
) -> HttpResponse:
    context = {"form": form, "is_empty": is_empty}
    return render(request, "housing/sheet_layouts_choose.html", context, status=status)
