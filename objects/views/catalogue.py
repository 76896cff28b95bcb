"""Pages of the catalogue: editing an object, its photo, the locations, and how a reader likes to read."""

from django.contrib import messages
from django.db import IntegrityError
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_safe

from objects.core.words import say
from objects.forms.catalogue import LocationForm, ObjectForm, PreferencesForm
from objects.models import CatalogueObject, Location, Preferences
from objects.queries.catalogue import location_tree
from objects.readers import reader_of
from objects.roles import SURVEYOR, role_required
from objects.services.catalogue import EditConflict, save_location, save_object

PHOTO_TYPES = {"jpg": "image/jpeg", "jpeg": "image/jpeg", "png": "image/png", "webp": "image/webp"}


@role_required(SURVEYOR)
def object_new(request: HttpRequest) -> HttpResponse:
    return _edit(request, CatalogueObject(), say("New object"))


@role_required(SURVEYOR)
def object_edit(request: HttpRequest, pk: int) -> HttpResponse:
    thing = get_object_or_404(CatalogueObject, pk=pk)
    return _edit(request, thing, say("Edit {name}", name=thing))


def _edit(request: HttpRequest, thing: CatalogueObject, heading: str) -> HttpResponse:
    form = ObjectForm(
        request.POST or None, request.FILES or None, instance=thing, unit=reader_of(request).unit
    )
    conflicts: list[str] = []
    if request.method == "POST" and form.is_valid():
        try:
            saved = save_object(
                thing=thing,
                changes=form.changes,
                seen_version=form.cleaned_data["version"],
                size_checked=form.cleaned_data.get("size_checked", False),
                by=request.user,
            )
        except EditConflict:
            conflicts = form.merge(get_object_or_404(CatalogueObject, pk=thing.pk))
        except IntegrityError:
            form.add_error("number", say("Somebody has just saved an object with this number."))
        else:
            messages.success(request, say("{name} is saved.", name=saved))
            return redirect("housing:object-detail", pk=saved.pk)
    return render(
        request,
        "objects/object_edit.html",
        {
            "form": form,
            "heading": heading,
            "object": thing,
            "conflicts": conflicts,
            "is_conflict": conflicts or form.data.get("version", "") != request.POST.get("version", ""),
        },
    )


@require_safe
def photo(request: HttpRequest, pk: int) -> FileResponse:
    """An object's photo, for those who are signed in."""
    thing = get_object_or_404(CatalogueObject.objects.exclude(photo=""), pk=pk)
    kind = PHOTO_TYPES.get(thing.photo.name.rpartition(".")[2].lower())
    if kind is None or not thing.photo.storage.exists(thing.photo.name):
        raise Http404(say("This object has no photo that can be shown."))
    answer = FileResponse(thing.photo.open("rb"), content_type=kind)
    answer["Cache-Control"] = "private, max-age=300"
    return answer


def location_list(request: HttpRequest) -> HttpResponse:
    return render(request, "objects/location_list.html", {"rows": location_tree()})


@role_required(SURVEYOR)
def location_new(request: HttpRequest) -> HttpResponse:
    return _edit_location(request, Location(parent=_place_asked_for(request)), say("New location"))


@role_required(SURVEYOR)
def location_edit(request: HttpRequest, pk: int) -> HttpResponse:
    place = get_object_or_404(Location, pk=pk)
    return _edit_location(request, place, say("Edit {name}", name=place))


def _place_asked_for(request: HttpRequest) -> Location | None:
    inside = request.GET.get("inside", "")
    return Location.objects.filter(pk=inside).first() if inside.isdecimal() else None


def _edit_location(request: HttpRequest, place: Location, heading: str) -> HttpResponse:
    form = LocationForm(request.POST or None, instance=place)
    if request.method == "POST" and form.is_valid():
        save_location(location=form.instance)
        messages.success(request, say("{name} is saved.", name=form.instance))
        return redirect("objects:location-list")
    return render(request, "objects/location_edit.html", {"form": form, "heading": heading})


def preferences(request: HttpRequest) -> HttpResponse:
    chosen = Preferences.objects.filter(user=request.user).first() or Preferences(user=request.user)
    form = PreferencesForm(request.POST or None, instance=chosen)
    if request.method == "POST" and form.is_valid():
        form.save()
        messages.success(request, say("Your choices are saved."))
        return redirect("objects:preferences")
    return render(request, "objects/preferences.html", {"form": form})
