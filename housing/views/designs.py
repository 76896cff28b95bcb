"""The designs: list, one design with a live trial on any size, and editing it."""

from dataclasses import dataclass

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_safe
from django_tables2 import RequestConfig

from boards.core.board import BoardRefused
from housing.core.drawing.blank_svg import blank_svg
from housing.core.enclosures import ENCLOSURES, Enclosure, EnclosurePart
from housing.core.errors import EnclosureError
from housing.forms.designs import DesignForm, TrialForm
from housing.models import Design
from housing.queries.designs import designs_with_counts
from housing.services.housings import design_enclosure
from housing.tables.designs import DesignTable
from objects.models import CatalogueObject
from objects.readers import Reader, reader_of
from objects.roles import role_required

ROOM_MM = (170, 120)  # for one drawing on the page
EXAMPLE = {"height": "10 in", "width": "8 3/4 in", "depth": "7 1/8 in"}
SQUARE_METRE = 1e6


@require_safe
def design_list(request: HttpRequest) -> HttpResponse:
    table = DesignTable(designs_with_counts())
    RequestConfig(request, paginate={"per_page": 50}).configure(table)
    return render(request, "housing/design_list.html", {"table": table})


@require_safe
def design_detail(request: HttpRequest, pk: int) -> HttpResponse:
    design = get_object_or_404(Design.objects.select_related("board"), pk=pk)
    return _show(request, design, TrialForm(EXAMPLE, unit=reader_of(request).unit))


@require_safe
def design_try(request: HttpRequest, pk: int) -> HttpResponse:
    """The design on the size typed, at once; the whole page for a browser without script."""
    design = get_object_or_404(Design.objects.select_related("board"), pk=pk)
    return _show(request, design, TrialForm(request.GET, unit=reader_of(request).unit))


def _show(request: HttpRequest, design: Design, form: TrialForm) -> HttpResponse:
    trial = _try(design, form, reader_of(request))
    part = "#trial" if request.htmx else ""
    return render(
        request,
        f"housing/design_detail.html{part}",
        {"design": design, "form": form, "trial": trial, "suits": ENCLOSURES[design.form].suits},
    )


@dataclass(frozen=True)
class TriedPart:
    """One part of a trial: its name, blank sides and marks in mm, and its drawing."""

    name: str
    sides_mm: tuple[float, float]
    marks_x: str
    marks_y: str
    caption: str
    svg: str


@dataclass(frozen=True)
class Trial:
    """What a design gives for a size, or the sentence with which it refuses."""

    refusal: str = ""
    inside_mm: tuple[float, ...] = ()
    outside_mm: tuple[float, ...] = ()
    board_m2: float = 0.0
    weight_g: float | None = None
    notes: tuple[str, ...] = ()
    parts: tuple[TriedPart, ...] = ()


def _try(design: Design, form: TrialForm, reader: Reader) -> Trial:
    if not form.is_valid():
        lines = (f"{form[name].label}: {' '.join(errors)}" for name, errors in form.errors.items())
        return Trial(refusal=" ".join(lines))
    thing = CatalogueObject(**{f"{side}_mm": length for side, length in form.cleaned_data.items()})
    try:
        made = design_enclosure(design=design, contents=[thing])
    except (EnclosureError, BoardRefused) as refused:
        return Trial(refusal=str(refused))
    return _trial(design, made, reader)


def _trial(design: Design, made: Enclosure, reader: Reader) -> Trial:
    used_m2 = sum(part.blank.board_area_mm2 for part in made.parts) / SQUARE_METRE
    grammage = design.board.grammage_g_m2
    return Trial(
        inside_mm=(made.inside.z_mm, made.inside.x_mm, made.inside.y_mm),
        outside_mm=(made.outside.z_mm, made.outside.x_mm, made.outside.y_mm),
        board_m2=sum(part.blank.gross_area_mm2 for part in made.parts) / SQUARE_METRE,
        weight_g=used_m2 * float(grammage) if grammage else None,
        notes=made.notes,
        parts=tuple(_part(design, part, reader) for part in made.parts),
    )


def _part(design: Design, part: EnclosurePart, reader: Reader) -> TriedPart:
    blank, name = part.blank, part.name.replace("_", " ").capitalize()
    drawing = blank_svg(
        blank,
        title=f"{name} of {design}",
        format_length=reader.length,
        paper_width_mm=ROOM_MM[0],
        paper_height_mm=ROOM_MM[1],
        direction="flutes" if design.board.to_core().is_fluted else "grain",
    )
    return TriedPart(
        name=name,
        sides_mm=(blank.x_mm, blank.y_mm),
        marks_x=" · ".join(reader.length(mark) for mark in blank.marks_x),
        marks_y=" · ".join(reader.length(mark) for mark in blank.marks_y),
        caption=f"{name}, drawn {drawing.scale}",
        svg=mark_safe(drawing.svg),
    )


@role_required()
def design_new(request: HttpRequest) -> HttpResponse:
    return _edit(request, Design(), "New design")


@role_required()
def design_edit(request: HttpRequest, pk: int) -> HttpResponse:
    design = get_object_or_404(Design, pk=pk)
    return _edit(request, design, f"Edit {design}")


def _edit(request: HttpRequest, design: Design, heading: str) -> HttpResponse:
    form = DesignForm(request.POST or None, instance=design, unit=reader_of(request).unit)
    if request.method == "POST" and form.is_valid():
        saved = form.save()
        refusal = _try(saved, TrialForm(EXAMPLE, unit="in"), reader_of(request)).refusal
        if refusal:
            messages.warning(request, f"Saved, but the example object cannot be boxed with it: {refusal}")
        else:
            messages.success(request, f"{saved} is saved. Plan the campaigns again to use it.")
        return redirect("housing:design-detail", pk=saved.pk)
    return render(request, "housing/design_edit.html", {"form": form, "heading": heading, "design": design})
