"""The designs: list, one design with a live trial on any size, and editing it."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from boards.core.board import BoardRefused
from boards.core.standards import standard_of
from housing.core.enclosures.options import Kind, Option, Value
from housing.core.errors import EnclosureError
from housing.forms.designs import DesignForm, TrialForm
from housing.models import Design
from housing.printing.trials import Trial, make_trial
from housing.queries.designs import design_as_asked, designs_with_counts, standards_lacking
from housing.services.housings import design_enclosure
from housing.tables.designs import DesignTable
from objects.core.words import say
from objects.models import CatalogueObject
from objects.readers import Reader, reader_of
from objects.roles import role_required
from objects.views.tables import shape, table_file, wants_file

EXAMPLE = {"height": "10 in", "width": "8 3/4 in", "depth": "7 1/8 in"}
FLAT_EXAMPLES = {
    **dict.fromkeys(("four_flap", "slipcase"), {"height": "30 mm", "width": "171 mm", "depth": "241 mm"}),
    **dict.fromkeys(("folder", "portfolio"), {"height": "5 mm", "width": "406 mm", "depth": "508 mm"}),
    "rolled_tube": {"height": "2 mm", "width": "900 mm", "depth": "3000 mm"},
}


@require_safe
def design_list(request: HttpRequest) -> HttpResponse:
    table = DesignTable(designs_with_counts())
    shape(request, table, {"per_page": 50})
    if wants_file(request):
        return table_file(request, table)
    return render(request, "housing/design_list.html", {"table": table})


@require_safe
def design_detail(request: HttpRequest, pk: int) -> HttpResponse:
    design = get_object_or_404(Design.objects.select_related("board"), pk=pk)
    example = _example(design)
    unit = reader_of(request).unit
    form = TrialForm(_unbound(example, design, unit), unit=unit, design=design)
    return _show(request, design, form)


@require_safe
def design_try(request: HttpRequest, pk: int) -> HttpResponse:
    """The design on what was typed, at once; the whole page for a browser without script."""
    design = get_object_or_404(Design.objects.select_related("board"), pk=pk)
    return _show(request, design, TrialForm(request.GET, unit=reader_of(request).unit, design=design))


@require_POST
@role_required()
def design_keep(request: HttpRequest, pk: int) -> HttpResponse:
    """Keep what was tried: board, drawing, rounding and options, not the size."""
    design = get_object_or_404(Design, pk=pk)
    form = TrialForm(request.POST, unit=reader_of(request).unit, design=design)
    if form.is_valid():
        form.tried().save()
        messages.success(
            request, _("{design} is changed. Plan the campaigns again to use it.").format(design=design)
        )
    else:
        messages.error(request, _("Nothing was changed. {refusals}").format(refusals=_refusals(form)))
    return redirect("housing:design-detail", pk=design.pk)


def _example(design: Design) -> dict[str, str]:
    return FLAT_EXAMPLES.get(design.form, EXAMPLE)


def _unbound(example: dict[str, str], design: Design, unit: str) -> QueryDict:
    """The example and the design's own choices, as a browser would send them."""
    form = TrialForm(unit=unit, design=design)
    sent = QueryDict(mutable=True)
    sent.update(example)
    for field in form:
        value = field.value()
        if field.name not in example and value not in (None, "", False):
            sent[field.name] = str(field.field.prepare_value(value))
    return sent


def _show(request: HttpRequest, design: Design, form: TrialForm) -> HttpResponse:
    trial = try_design(form, reader_of(request))
    part = "#trial" if request.htmx else ""
    return render(
        request,
        f"housing/design_detail.html{part}",
        {
            "design": design,
            "form": form,
            "trial": trial,
            "suits": say(design.to_form().suits),
            "limits": say(design.to_form().limits),
            "asks_for": [standard_of(key).name for key in design.asks_for],
            "lacks": standards_lacking(design),
            "chosen": _chosen(design, reader_of(request)),
        },
    )


def _chosen(design: Design, reader: Reader) -> list[tuple[str, str]]:
    """Label and value of each option of the design's form, in words."""
    return [
        (say(option.label), _in_words(option, design.options.get(option.key, option.default), reader))
        for option in design.to_form().options
    ]


def _in_words(option: Option, value: Value, reader: Reader) -> str:
    if value is None:
        return say(option.help) or say("As the form has it")
    if option.kind is Kind.LENGTH:
        return reader.length(value)
    if option.kind is Kind.YES_NO:
        return say("Yes") if value else say("No")
    return say(dict(option.words).get(str(value), str(value)))


def _refusals(form: TrialForm) -> str:
    lines = (f"{form[name].label}: {' '.join(errors)}" for name, errors in form.errors.items())
    return " ".join(lines)


def try_design(form: TrialForm, reader: Reader) -> Trial:
    """What comes out for what was typed, or the sentence with which it is refused."""
    if not form.is_valid():
        return Trial(refusal=_refusals(form))
    clean, tried = form.cleaned_data, form.tried()
    thing = CatalogueObject(**{f"{side}_mm": clean[side] for side in ("height", "width", "depth")})
    try:
        made = design_enclosure(design=tried, contents=[thing])
    except (EnclosureError, BoardRefused) as refused:
        return Trial(refusal=str(refused))
    return make_trial(tried, made, reader)


@role_required()
def design_new(request: HttpRequest) -> HttpResponse:
    return _edit(request, design_as_asked(request.GET), _("New design"))


@require_safe
@role_required()
def design_options(request: HttpRequest) -> HttpResponse:
    """The fields of the options of another form, while a design is edited."""
    form = DesignForm(initial={"form": request.GET.get("form")}, unit=reader_of(request).unit)
    return render(request, "housing/design_edit.html#options", {"form": form})


@role_required()
def design_edit(request: HttpRequest, pk: int) -> HttpResponse:
    design = get_object_or_404(Design, pk=pk)
    return _edit(request, design, _("Edit {design}").format(design=design))


def _edit(request: HttpRequest, design: Design, heading: str) -> HttpResponse:
    form = DesignForm(request.POST or None, instance=design, unit=reader_of(request).unit)
    if request.method == "POST" and form.is_valid():
        saved = form.save()
        example = TrialForm(_unbound(_example(saved), saved, "mm"), unit="mm", design=saved)
        refusal = try_design(example, reader_of(request)).refusal
        if refusal:
            messages.warning(
                request,
                _("Saved, but the example object cannot be boxed with it: {refusal}").format(refusal=refusal),
            )
        else:
            messages.success(
                request, _("{saved} is saved. Plan the campaigns again to use it.").format(saved=saved)
            )
        return redirect("housing:design-detail", pk=saved.pk)
    return render(request, "housing/design_edit.html", {"form": form, "heading": heading, "design": design})
