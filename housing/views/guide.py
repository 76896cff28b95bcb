"""The guide: a first campaign in a few short pages, each with pictures of the pages it speaks of."""

from dataclasses import dataclass

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext_lazy as _
from django.views.decorators.http import require_safe


@dataclass(frozen=True)
class GuidePage:
    """One page. key: part of its address and of its template's name; about: what it says, in a sentence."""

    key: str
    title: str
    about: str

    @property
    def template(self) -> str:
        return f"housing/guide_{self.key}.html"


PAGES = (
    GuidePage("lists", _("Boards and the list"), _("What you buy, and what you have.")),
    GuidePage("need", _("What is unhoused"), _("Which objects need a box, and which come first.")),
    GuidePage("designs", _("Designs and rules"), _("Which box for which object, and why.")),
    GuidePage("plan", _("Plan and budget"), _("From boxes to sheets, hours and money.")),
    GuidePage("bench", _("Work at the bench"), _("Who does what, and what comes next.")),
    GuidePage("shelf", _("Labels and back to the shelf"), _("The object gets its place again.")),
    GuidePage("report", _("Progress and report"), _("How far you are, and when it will be done.")),
)  # fmt: skip


@require_safe
def guide(request: HttpRequest) -> HttpResponse:
    """The pages of the guide in their order."""
    return render(request, "housing/guide.html", {"pages": PAGES})


@require_safe
def guide_page(request: HttpRequest, page: str) -> HttpResponse:
    """One page of the guide, with the one before and the one after."""
    place = next((place for place, each in enumerate(PAGES) if each.key == page), None)
    if place is None:
        raise Http404("The guide has no such page. Its first page lists all of them.")
    context = {
        "page": PAGES[place],
        "number": place + 1,
        "total": len(PAGES),
        "before": PAGES[place - 1] if place else None,
        "after": PAGES[place + 1] if place + 1 < len(PAGES) else None,
    }
    return render(request, PAGES[place].template, context)
