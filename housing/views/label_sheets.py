"""Label sheets: described once by their measures, shown as they are, tried on paper."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.safestring import mark_safe
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from housing.core.drawing.label_sheet_svg import BOX_MM, label_sheet_svg
from housing.core.label_sheets import LabelLayout
from housing.forms.label_sheets import LabelSheetForm
from housing.models import LabelSheet
from housing.pdf import pdf_problem, render_pdf
from housing.printing.label_tests import as_measured, exact, label_test_context, sides
from housing.queries.label_sheets import label_sheets
from objects.readers import Reader, reader_of
from objects.roles import MAKER, role_required

SMALL_MM = (32.0, 32.0)


@require_safe
def label_sheet_list(request: HttpRequest) -> HttpResponse:
    rows = [(sheet, sheet.to_core()) for sheet in label_sheets()]
    reader = reader_of(request)
    shown = [(sheet, layout, _figures(layout, reader), _drawing(layout, SMALL_MM)) for sheet, layout in rows]
    return render(request, "housing/label_sheet_list.html", {"sheets": shown})


@role_required(MAKER)
def label_sheet_new(request: HttpRequest) -> HttpResponse:
    return _edit(request, LabelSheet(), _("New label sheet"))


@role_required(MAKER)
def label_sheet_edit(request: HttpRequest, pk: int) -> HttpResponse:
    sheet = get_object_or_404(LabelSheet, pk=pk)
    return _edit(request, sheet, _("Label sheet “{name}”").format(name=sheet))


@require_http_methods(["GET", "HEAD", "POST"])
@role_required(MAKER)
def label_sheet_delete(request: HttpRequest, pk: int) -> HttpResponse:
    """Asks first; the description is typed by hand and would have to be measured again."""
    sheet = get_object_or_404(LabelSheet, pk=pk)
    if request.method != "POST":
        return render(request, "housing/label_sheet_delete.html", {"sheet": sheet})
    sheet.delete()
    messages.success(request, _("The label sheet “{name}” is deleted.").format(name=sheet))
    return redirect("housing:label-sheet-list")


@require_safe
def label_sheet_test(request: HttpRequest, pk: int) -> HttpResponse:
    """One page with the outlines, to be laid over a real sheet; as a page or as PDF."""
    sheet = get_object_or_404(LabelSheet, pk=pk)
    context = label_test_context(sheet.name, sheet.to_core(), reader_of(request))
    problem = pdf_problem()
    if request.GET.get("format") != "pdf":
        context |= {
            "back_url": reverse("housing:label-sheet-list"),
            "pdf_url": f"{request.path}?format=pdf",
            "pdf_problem": problem,
        }
        return render(request, "print/label_test.html", context)
    if problem:
        return render(request, "housing/print_no_pdf.html", {"problem": problem}, status=503)
    return HttpResponse(
        render_pdf(render_to_string("print/label_test.html", context)),
        content_type="application/pdf",
        headers={"Content-Disposition": 'inline; filename="label-sheet.pdf"'},
    )


def _edit(request: HttpRequest, sheet: LabelSheet, heading: str) -> HttpResponse:
    """The form with the sheet drawn beside it; it may be looked at before it is saved."""
    form = LabelSheetForm(request.POST or None, instance=sheet, unit=reader_of(request).unit)
    only_look = "look" in request.POST
    layout = sheet.to_core() if sheet.pk and not request.POST else None
    if request.method == "POST" and form.is_valid():
        layout = form.layout
        if not only_look:
            saved = form.save()
            messages.success(request, _("The label sheet “{name}” is kept.").format(name=saved))
            return redirect("housing:label-sheet-list")
    context = {"form": form, "heading": heading, "layout": layout, "look": request.htmx and only_look}
    if layout:
        context |= {"drawing": _drawing(layout), "figures": _figures(layout, reader_of(request))}
    page = "housing/label_sheet_edit.html" + ("#look" if context["look"] else "")
    return render(request, page, context)


def _figures(layout: LabelLayout, reader: Reader) -> dict[str, str]:
    """The sheet's measures in words, exact enough to be compared with a ruler."""
    reader = as_measured(layout, reader)
    return {
        "page": sides(layout.page_width_mm, layout.page_height_mm, reader),
        "label": sides(layout.label_width_mm, layout.label_height_mm, reader),
        **{
            name: exact(getattr(layout, f"{name}_mm"), reader)
            for name in ("left", "right", "top", "bottom", "gap_x", "gap_y")
        },
    }


def _drawing(layout: LabelLayout, most_mm: tuple[float, float] = BOX_MM) -> str:
    return mark_safe(label_sheet_svg(layout, most_mm=most_mm))
