"""The object list with what can be done from it, one object with its housing, and moving a housing on."""

from urllib.parse import urlencode

from django.contrib import messages
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse, HttpResponseBadRequest, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.safestring import mark_safe
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_POST, require_safe

from housing.core.drawing.blank_svg import Manner, blank_svg
from housing.core.drawing.closed_svg import closed_svg
from housing.core.enclosures.form import Part
from housing.core.folding import Box3
from housing.forms.need import NeedForm
from housing.forms.objects import ObjectActionForm, ObjectFilter
from housing.models import Hold, Housing
from housing.printing.scoring import scored_with
from housing.queries.handling import handling_of
from housing.queries.object_trail import question_for_conservator, trail_of
from housing.queries.objects import (
    boxes_in_hand,
    dropped_housings_of,
    housing_of,
    objects_with_status,
    status_name,
    with_batch,
)
from housing.queries.parts import stored_parts
from housing.queries.priority import with_score
from housing.services.campaigns import add_objects, choose_design, set_batch
from housing.services.housings import NEXT, HousingRefused, house_together, is_as_worked_out, move_housing
from housing.tables.objects import ObjectTable, known_sides
from housing.tables.pages import KnownLength
from housing.views import questions
from housing.views.bench_workers import may_work_on
from objects.core.cautions import cautions_for
from objects.core.words import noted, say
from objects.models import CatalogueObject
from objects.models.objects import HAZARD_SEPARATOR
from objects.queries.catalogue import LONGEST_KEY
from objects.readers import Reader, reader_of
from objects.roles import MAKER, has_role, role_required
from objects.views.asking import CONFIRMED, ask, asks_first
from objects.views.tables import shape, table_file, wants_file

PER_PAGE = 50
MOST_PRINTED = 500  # so that the address stays short enough for every server; assumed
ROOM_MM = (180, 130)  # for one drawing on the page
BEING_MADE = {Housing.Status.PLANNED, Housing.Status.IN_WORK, Housing.Status.MADE}
# What the button says that takes a box on to a status.
STEP_WORDS = {
    Housing.Status.IN_WORK: noted("Begin making it"),
    Housing.Status.MADE: noted("The box is made"),
    Housing.Status.HOUSED: noted("The object is housed"),
}


@require_safe
def object_list(request: HttpRequest) -> HttpResponse:
    chosen = ObjectFilter(request.GET, objects_with_status().select_related("location"))
    objects, campaign = with_score(chosen.qs, chosen.weights), chosen.chosen_campaign
    if campaign:
        objects = with_batch(objects, campaign)
    table = ObjectTable(objects, reader=reader_of(request), has_batch=campaign is not None)
    shape(request, table, {"per_page": PER_PAGE, "paginator_class": KnownLength, "length": chosen.number})
    if wants_file(request):
        return table_file(request, table)
    form = ObjectActionForm(auto_id="act_%s", narrowed_to=campaign)
    return render(
        request,
        "housing/object_list.html",
        {
            "filter": chosen,
            "table": table,
            "form": form,
            "need_form": NeedForm(auto_id="act_%s"),
            "number": chosen.number,
        },
    )


@require_POST
def object_act(request: HttpRequest) -> HttpResponse:
    """Do what was chosen with the objects ticked, or with all that match; then show the same list again."""
    back = f"{reverse('housing:object-list')}?{request.POST.get('filter', '')}"
    form = ObjectActionForm(request.POST)
    if not form.is_valid():
        for errors in form.errors.values():
            messages.error(request, " ".join(errors))
        return redirect(back)
    objects = objects_meant(request, form.cleaned_data["all_matching"])
    if not (number := objects.count()):
        messages.error(
            request, _("No object is ticked. Tick the objects you mean, or choose all that match.")
        )
        return redirect(back)
    action = form.cleaned_data["action"]
    if action in ObjectActionForm.PRINTS:
        if number > MOST_PRINTED:
            messages.error(
                request,
                _(
                    "{number:,} objects are too many for one print; {most_printed} at most. Filter further."
                ).format(number=number, most_printed=MOST_PRINTED),
            )
            return redirect(back)
        chosen = urlencode([("object", pk) for pk in objects.values_list("pk", flat=True)])
        return redirect(f"{reverse(ObjectActionForm.PRINTS[action])}?{chosen}")
    change = _change_batch if action == "batch" else _change
    return change(request, form, objects, back)


@role_required()
def _change_batch(request: HttpRequest, form: ObjectActionForm, objects: QuerySet, back: str) -> HttpResponse:
    campaign, batch = form.cleaned_data["campaign"], form.cleaned_data["batch"]
    number = set_batch(campaign=campaign, objects=objects, batch=batch)
    words = _("will be cut with batch {batch} when it is planned next.").format(batch=batch)
    messages.success(
        request,
        _("{objects} of “{campaign}” {words}").format(
            objects=_objects(number), campaign=campaign, words=words
        ),
    )
    return redirect(back)


@role_required(MAKER)
def _change(request: HttpRequest, form: ObjectActionForm, objects: QuerySet, back: str) -> HttpResponse:
    campaign, design = form.cleaned_data["campaign"], form.cleaned_data["design"]
    match form.cleaned_data["action"]:
        case "add":
            new = add_objects(campaign=campaign, objects=objects)
            messages.success(
                request,
                ngettext(
                    "{objects} was added to “{campaign}”.", "{objects} were added to “{campaign}”.", new
                ).format(objects=_objects(new), campaign=campaign),
            )
        case "design":
            number = choose_design(campaign=campaign, objects=objects, design=design)
            words = (
                _("will get the design “{design}”").format(design=design)
                if design
                else _("will follow the rules again")
            )
            messages.success(
                request,
                _("{objects} of “{campaign}” {words} when it is planned next.").format(
                    objects=_objects(number), campaign=campaign, words=words
                ),
            )
        case "together":
            if CONFIRMED not in request.POST and (boxes := boxes_in_hand(objects)):
                return ask(request, questions.set_made(boxes))
            try:
                housing = house_together(contents=list(objects), campaign=campaign, by=request.user)
            except HousingRefused as refused:
                messages.error(request, str(refused))
            else:
                add_objects(campaign=campaign, objects=objects)
                messages.success(
                    request,
                    _(
                        "{housing} is for these objects together; boxes planned for them singly are dropped. "
                        "Plan “{campaign}” next."
                    ).format(housing=housing, campaign=campaign),
                )
    return redirect(back)


def _objects(number: int) -> str:
    return ngettext("{number:,} object", "{number:,} objects", number).format(number=number)


def objects_meant(request: HttpRequest, all_matching: bool) -> QuerySet[CatalogueObject]:
    """The objects an action is for, ticked or all that the list's filter lets through."""
    if all_matching:
        matching = ObjectFilter(QueryDict(request.POST.get("filter", "")), objects_with_status()).qs
        return CatalogueObject.objects.filter(pk__in=matching.values("pk"))
    ticked = [pk for pk in request.POST.getlist("object") if pk.isdecimal() and len(pk) <= LONGEST_KEY]
    return CatalogueObject.objects.filter(pk__in=ticked)


@require_safe
def object_detail(request: HttpRequest, pk: int) -> HttpResponse:
    thing = get_object_or_404(objects_with_status().select_related("location"), pk=pk)
    housing = housing_of(thing)
    reader = reader_of(request)
    return render(
        request,
        "housing/object_detail.html",
        {
            "object": thing,
            "size": known_sides(reader, thing.sides_mm),
            "status_name": status_name(thing.housing_status),
            "cautions": cautions_for(thing.hazards.split(HAZARD_SEPARATOR) if thing.hazards else []),
            "housing": housing,
            "drawings": _drawings(housing, reader) if housing else [],
            "is_outdated": bool(housing) and housing.status in BEING_MADE and not is_as_worked_out(housing),
            "next_steps": _next_steps(request, housing) if housing else [],
            "can_drop": bool(housing) and has_role(request.user, MAKER),
            "handling": handling_of(housing) if housing and housing.blanks.all() else None,
            "dropped": dropped_housings_of(thing),
            "campaigns": thing.campaigns.all(),
            "trail": trail_of(thing),
            **_asking(request, thing, housing),
        },
    )


def _asking(request: HttpRequest, thing: CatalogueObject, housing: Housing | None) -> dict[str, object]:
    """Whether the reader may ask a conservator about the box in hand, and what there is to confirm."""
    if housing is None or housing.status not in {Housing.Status.WAITING, *BEING_MADE}:
        return {"can_ask": False}
    waits = housing.holds.filter(reason=Hold.Reason.CONSERVATOR, answered_at=None).exists()
    return {
        "can_ask": not waits and may_work_on(request.user, housing=housing),
        "question": question_for_conservator(thing, housing),
    }


def _drawings(housing: Housing, reader: Reader) -> list[tuple[str, str]]:
    """(Caption, drawing) of each blank."""
    is_fluted = housing.design is None or housing.design.board.to_core().is_fluted
    parts = stored_parts(housing)
    drawn = [_closed(housing, parts, reader)] if housing.outside_x_mm and parts else []
    for blank in housing.blanks.all():
        name = blank.part.replace("_", " ").capitalize()
        drawing = blank_svg(
            blank.to_core(),
            title=_("{name} of {housing}").format(name=name, housing=housing),
            format_length=reader.length,
            paper_width_mm=ROOM_MM[0],
            paper_height_mm=ROOM_MM[1],
            manner=Manner(
                "flutes" if is_fluted else "grain",
                scored_with(housing.design.board) if housing.design else "",
            ),
        )
        size = _("{length} by {length2}").format(
            length=reader.length(blank.x_mm), length2=reader.length(blank.y_mm)
        )
        drawn.append(
            (
                _("{name}: blank {size}, drawn {scale}").format(name=name, size=size, scale=drawing.scale),
                mark_safe(drawing.svg),
            )
        )
    return drawn


def _closed(housing: Housing, parts: list[Part], reader: Reader) -> tuple[str, str]:
    """(Caption, drawing) of the closed box."""
    svg = closed_svg(
        parts,
        Box3(float(housing.outside_x_mm), float(housing.outside_y_mm), float(housing.outside_z_mm)),
        title=_("{housing} closed").format(housing=housing),
        format_length=reader.length,
    )
    return _("{housing} closed, outside {size}").format(
        housing=housing, size=reader.size(housing.outside_mm)
    ), mark_safe(svg)


def _next_steps(request: HttpRequest, housing: Housing) -> list[tuple[str, str]]:
    """Where the reader may move a housing on to: (status, words)."""
    if not has_role(request.user, MAKER):
        return []
    following = NEXT[housing.status] - {Housing.Status.DROPPED}
    return [(status.value, say(STEP_WORDS[status])) for status in Housing.Status if status in following]


@require_POST
@role_required(MAKER)
@asks_first(questions.box_moved)
def housing_move(request: HttpRequest, pk: int) -> HttpResponse:
    """Take a housing one step on, then go back to where the button was."""
    housing = get_object_or_404(Housing, pk=pk)
    status = request.POST.get("status", "")
    if status not in Housing.Status.values:
        return HttpResponseBadRequest(
            _("“{status}” is no step of a housing. Go back and use the buttons there.").format(status=status)
        )
    thing = housing.contents.first()
    try:
        moved = move_housing(
            housing=housing, status=status, by=request.user, note=request.POST.get("note", "").strip()[:300]
        )
    except HousingRefused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(
            request, _("{moved} is now “{status}”.").format(moved=moved, status=moved.get_status_display())
        )
    back = request.POST.get("next", "")
    if not url_has_allowed_host_and_scheme(back, {request.get_host()}, request.is_secure()):
        back = reverse("housing:object-detail", args=[thing.object_id]) if thing else reverse("housing:home")
    return redirect(back)
