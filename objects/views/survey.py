"""Measuring at the shelf: choosing a place, one object after another, and what a device keeps and sends."""

from hashlib import sha256
from pathlib import Path

from django.contrib import messages
from django.contrib.auth.decorators import login_not_required
from django.contrib.staticfiles import finders
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.templatetags.static import PrefixNode, static
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext_lazy as _
from django.views.decorators.csrf import ensure_csrf_cookie
from django.views.decorators.http import require_POST, require_safe

from objects.core.numbers import clean_number
from objects.core.retelling import retold
from objects.core.words import LANGUAGES, say
from objects.forms.survey import SurveyForm
from objects.models import CatalogueObject, Location, SurveyEntry
from objects.queries.catalogue import LONGEST_KEY
from objects.queries.survey import (
    MOST_OBJECTS,
    STATE_WORDS,
    next_in_turn,
    object_numbered,
    object_to_survey,
    objects_to_survey,
    survey_tree,
)
from objects.queries.survey_rows import survey_row
from objects.readers import reader_of
from objects.roles import SURVEYOR, role_required
from objects.services.sizes import person_name
from objects.services.survey import EntryRefused, Kept, record_entry
from objects.views.words import words_version

# What a device keeps so that the page opens without a connection.
ASSETS = (
    "vendor/bootstrap-5.3.9/bootstrap.min.css",
    "vendor/atkinson-hyperlegible-next-2.001/atkinson-hyperlegible-next.woff2",
    "vendor/dejavu-sans-2.37/dejavu-sans-regular.woff",
    "vendor/dejavu-sans-2.37/dejavu-sans-bold.woff",
    "django_htmx/htmx-2.min.js",
    *(f"housing/{name}.css" for name in ("tokens", "screen", "pictures", "guide", "survey")),
    *(f"housing/{name}.svg" for name in ("favicon", "icons")),
    "housing/survey.js",
    "housing/terms.js",
)
# What the card of an object says, a line each: key of its row, label.
CARD_LINES = (
    ("place", _("Kept at")),
    ("written", _("Size as written")),
    ("size", _("Size in use")),
    ("size_note", _("Note on the size")),
    ("weight", _("Weight")),
    ("quantity", _("Pieces")),
    ("materials", _("Materials")),
)
# Imported by survey.js by their plain names.
MODULES = tuple(
    f"housing/survey_{part}.js"
    for part in ("card", "fields", "lengths", "objects", "photo", "sending", "store")
) + ("housing/words.js",)


@require_safe
@role_required(SURVEYOR)
def survey_start(request: HttpRequest) -> HttpResponse:
    return render(request, "objects/survey_start.html", {"rows": survey_tree(), "most": MOST_OBJECTS})


@ensure_csrf_cookie
@role_required(SURVEYOR)
def survey_place(request: HttpRequest, pk: int) -> HttpResponse:
    """One object of a place and its form; without script it is sent and answered by the next object."""
    place = get_object_or_404(Location, pk=pk)
    reader = reader_of(request)
    form = SurveyForm(request.POST or None, request.FILES or None, unit=reader.unit)
    if request.method == "POST" and form.is_valid() and (kept := _keep(request, form, place)):
        _say(request, kept)
        return redirect(f"{reverse('objects:survey-place', args=[pk])}?after={kept.entry.object_id}")
    objects = objects_to_survey(place)
    if len(objects) > MOST_OBJECTS:
        return render(request, "objects/survey_too_many.html", {"place": place, "most": MOST_OBJECTS})
    chosen, problem = _chosen(request, objects)
    rows = [survey_row(thing, place, reader) for thing in objects]
    here = {row["id"]: row for row in rows}
    row = chosen and here.get(chosen.pk, survey_row(chosen, place, reader))
    return render(
        request,
        "objects/survey.html",
        {
            "place": place,
            "form": form,
            "rows": rows,
            "row": row,
            "is_stray": bool(row) and row["id"] not in here,
            "neighbours": _neighbours(rows, row),
            "left": sum(row["is_left"] for row in rows),
            "problem": problem,
            "card_lines": CARD_LINES,
            "state_words": {state: say(said) for state, said in STATE_WORDS.items()},
            "kept": {"place": place.pk, "made_at": timezone.now().isoformat(), "objects": rows},
        },
    )


def _chosen(request: HttpRequest, objects: list[CatalogueObject]) -> tuple[CatalogueObject | None, str]:
    """The object to show, and what is wrong with the number asked for."""
    asked = request.POST if request.method == "POST" else request.GET
    if number := clean_number(asked.get("number", ""))[:60]:
        thing = next((each for each in objects if each.number.casefold() == number.casefold()), None)
        thing = thing or object_numbered(number)
        if thing is not None:
            return thing, ""
        return None, say(
            "There is no object “{number}” in the catalogue. Look at its label again.", number=number
        )
    keys = {name: int(key) for name in ("object", "after") if _is_key(key := asked.get(name, ""))}
    if "object" in keys:
        thing = next((each for each in objects if each.pk == keys["object"]), None)
        return thing or object_to_survey(keys["object"]), ""
    return next_in_turn(objects, keys.get("after")), ""


def _is_key(text: str) -> bool:
    return text.isdecimal() and len(text) <= LONGEST_KEY


def _neighbours(rows: list[dict], row: dict | None) -> dict[str, int]:
    """The keys of the object before, and of the one after which to go on when this one is skipped."""
    at = next((i for i, each in enumerate(rows) if row and each["id"] == row["id"]), None)
    return {} if at is None else {"before": rows[at - 1]["id"], "this": rows[at]["id"]}


def _keep(request: HttpRequest, form: SurveyForm, place: Location) -> Kept | None:
    """The entry as kept; None when it was refused, the form then saying why."""
    try:
        return record_entry(**form.entry, by=request.user, place=place)
    except EntryRefused as refused:
        form.refuse(refused.problems)
        return None


def _say(request: HttpRequest, kept: Kept) -> None:
    messages.success(request, say("Kept for {object}.", object=kept.entry.object))
    if notice := _notice(kept):
        messages.warning(request, notice)


def _notice(kept: Kept) -> str:
    """What the person at the shelf should know of an entry just kept."""
    entry = kept.entry
    if entry.state == SurveyEntry.State.DIFFERS:
        return say(
            "{number}: this differs from the size measured before. {reason} Measure again if "
            "you can; the size is decided on the object's page.",
            number=entry.object.number,
            reason=retold(entry.state_note),
        )
    return f"{entry.object.number}: {retold(entry.state_note)}" if entry.state_note else ""


@require_safe
@role_required(SURVEYOR)
def survey_objects(request: HttpRequest, pk: int) -> JsonResponse:
    """The objects of a place as they are now, what others sent included."""
    place, reader = get_object_or_404(Location, pk=pk), reader_of(request)
    rows = [survey_row(thing, place, reader) for thing in objects_to_survey(place)[:MOST_OBJECTS]]
    return JsonResponse({"place": place.pk, "made_at": timezone.now().isoformat(), "objects": rows})


@require_POST
@role_required(SURVEYOR)
def survey_entries(request: HttpRequest, pk: int) -> JsonResponse:
    """An entry that a device had kept: answered with the object as it is now, or with what is wrong."""
    place, reader = get_object_or_404(Location, pk=pk), reader_of(request)
    if request.POST.get("user") != str(request.user.pk):
        said = say(
            "{person_name} is signed in, but somebody else made this entry.",
            person_name=person_name(request.user),
        )
        return JsonResponse({"sentence": said}, status=409)
    form = SurveyForm(request.POST, request.FILES, unit=reader.unit)
    if not form.is_valid() or (kept := _keep(request, form, place)) is None:
        problems = {name: [str(said) for said in errors] for name, errors in form.errors.items()}
        return JsonResponse({"problems": problems}, status=422)
    thing = object_to_survey(kept.entry.object_id)
    return JsonResponse(
        {
            "entry_id": str(kept.entry.entry_id),
            "object": survey_row(thing, place, reader),
            "notice": reader.sentence(_notice(kept)),
        }
    )


@require_safe
@login_not_required  # a browser looks for a newer one at any time; it holds nothing of the collection
def survey_worker(request: HttpRequest) -> HttpResponse:
    """The script that lets pages of the survey be opened without a connection."""
    content = sha256()
    for name in (*ASSETS, *MODULES):
        content.update(Path(finders.find(name)).read_bytes())
    for language in LANGUAGES:
        content.update(words_version(language).encode())
    plain = PrefixNode.handle_simple("STATIC_URL")
    assets = [*map(static, ASSETS), *(f"{plain}{name}" for name in MODULES)]
    answer = render(
        request,
        "objects/survey_worker.js",
        {
            "version": content.hexdigest()[:12],
            "assets": assets,
            "words": [reverse("objects:words", args=[language]) for language in LANGUAGES],
            "plain": plain,
            "said": {
                "title": say("No connection"),
                "what_to_do": say(
                    "This place was not opened on this device while there was a connection. Go where "
                    "there is one and open it. What you saved is kept."
                ),
                "others": say("These can be opened now:"),
            },
        },
        content_type="text/javascript",
    )
    answer["Cache-Control"] = "no-cache"
    return answer
