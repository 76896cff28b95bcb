"""Searching from the field on every page: straight to the one thing meant, else what was found by kind."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext
from django.views.decorators.http import require_safe

from housing.models import Housing
from housing.queries.search import COUNTED, FEW, KINDS, MOST, Found, Hit, only_exact, search
from objects.readers import Reader, reader_of

# The heading of each kind and its sign.
NAMES = {
    "object": (gettext_lazy("Objects"), "object"),
    "box": (gettext_lazy("Boxes"), "mark"),
    "board": (gettext_lazy("Boards"), "board"),
    "person": (gettext_lazy("People"), "people"),
    "campaign": (gettext_lazy("Campaigns"), "campaign"),
    "design": (gettext_lazy("Designs"), "design"),
    "location": (gettext_lazy("Locations"), "location"),
    "supply": (gettext_lazy("Supplies"), "supply"),
    "supplier": (gettext_lazy("Suppliers"), "supply"),
    "sheet": (gettext_lazy("Planned sheets"), "board"),
    "offcut": (gettext_lazy("Offcuts"), "board"),
}


@dataclass(frozen=True)
class Line:
    """A hit as it is shown: what it is, a line that tells it from others, and where it leads."""

    words: str
    note: str
    address: str
    is_exact: bool


@dataclass(frozen=True)
class Group:
    """The hits of one kind; all_words and all_address lead to the rest of them, if there are more."""

    name: str
    sign: str
    lines: list[Line]
    all_words: str
    all_address: str


@require_safe
def search_results(request: HttpRequest) -> HttpResponse:
    """What was found. By Enter one exact hit leads straight there; while typing only the lines are given."""
    typed, kind = request.GET.get("q", "").strip(), request.GET.get("kind", "")
    kind = kind if kind in KINDS else ""
    reader = reader_of(request)
    found = search(typed, kind=kind, limit=MOST if kind else FEW)
    if not request.htmx and not kind and (hit := only_exact(found)):
        return redirect(line_of(hit, reader).address)
    context = {
        "typed": typed,
        "kind": NAMES[kind][0] if kind else "",
        "found": [_group(one, typed, reader, is_alone=bool(kind)) for one in found],
        "cut_at": MOST if kind and any(one.has_more for one in found) else None,
    }
    template = "housing/search_lines.html" if request.htmx else "housing/search.html"
    return render(request, template, context)


def _group(found: Found, typed: str, reader: Reader, *, is_alone: bool) -> Group:
    name, sign = NAMES[found.kind]
    lines = [line_of(hit, reader) for hit in found.hits]
    if is_alone or not found.has_more:
        return Group(name, sign, lines, "", "")
    if found.is_more:
        words = _("All that match, more than %(number)s") % {"number": f"{COUNTED:,}"}
    else:
        words = ngettext("All %(number)s that match", "All %(number)s that match", found.number)
        words %= {"number": f"{found.number:,}"}
    return Group(name, sign, lines, words, _all_address(found.kind, typed))


def _all_address(kind: str, typed: str) -> str:
    if kind == "object":
        return f"{reverse('housing:object-list')}?{urlencode({'q': typed})}"
    return f"{reverse('housing:search')}?{urlencode({'q': typed, 'kind': kind})}"


def line_of(hit: Hit, reader: Reader) -> Line:
    words, note, address = WRITTEN[hit.kind](hit.thing, reader)
    return Line(words, note, address, hit.is_exact)


def _object(thing: Any, reader: Reader) -> tuple[str, str, str]:
    return str(thing), str(thing.location or ""), reverse("housing:object-detail", args=[thing.pk])


def _box(box: Housing, reader: Reader) -> tuple[str, str, str]:
    """Its page at the bench; of a dropped one the page that says which box came in its place."""
    objects = ", ".join(str(tie.object) for tie in list(box.contents.all())[:3])
    note = f"{box.get_status_display()} · {objects}" if objects else str(box.get_status_display())
    return str(box), note, reverse("housing:bench-box", args=[box.pk])


def _person(person: Any, reader: Reader) -> tuple[str, str, str]:
    """The page to change a person is for managers; others see the list of people."""
    name = reverse("housing:person-edit", args=[person.pk]) if reader.is_manager else ""
    return str(person), str(person.get_kind_display()), name or reverse("housing:person-list")


def _location(place: Any, reader: Reader) -> tuple[str, str, str]:
    address = f"{reverse('housing:object-list')}?{urlencode({'location': place.pk})}"
    return place.name, f"{place.get_kind_display()} · {place.path}", address


def _sheet(sheet: Any, reader: Reader) -> tuple[str, str, str]:
    size = reader.size((sheet.along_mm, sheet.across_mm))
    address = reverse("housing:bench-sheet", args=[sheet.pk])
    return f"{sheet} · {sheet.plan.campaign}", f"{sheet.board.code} {size}", address


def _offcut(offcut: Any, reader: Reader) -> tuple[str, str, str]:
    size = reader.size((offcut.along_mm, offcut.across_mm))
    words = _("Offcut %(number)s") % {"number": offcut.pk}
    return words, f"{offcut.board.code} {size}", reverse("boards:offcut-detail", args=[offcut.pk])


def _leads_to(route: str, note: Callable[[Any], object]) -> Callable[[Any, Reader], tuple[str, str, str]]:
    return lambda thing, reader: (str(thing), str(note(thing)), reverse(route, args=[thing.pk]))


WRITTEN: dict[str, Callable[[Any, Reader], tuple[str, str, str]]] = {
    "object": _object,
    "box": _box,
    "board": _leads_to("boards:board-detail", lambda board: board.get_construction_display()),
    "person": _person,
    "campaign": _leads_to("housing:campaign-detail", lambda one: _("Closed") if one.is_closed else _("Open")),
    "design": _leads_to("housing:design-detail", lambda design: design.get_form_display()),
    "location": _location,
    "supply": _leads_to("boards:supply-detail", lambda supply: supply.get_kind_display()),
    "supplier": lambda one, reader: (str(one), one.note, f"{reverse('boards:supply-list')}#suppliers"),
    "sheet": _sheet,
    "offcut": _offcut,
}
