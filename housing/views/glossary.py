"""The glossary: every word of the trade that pages use, in groups, to be searched and linked to."""

from collections.abc import Iterable

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_safe

from housing.core.drawing.glossary_svg import glossary_svg
from housing.core.glossary import TERMS, Said, found

LONGEST_SEARCH = 60


@require_safe
def glossary(request: HttpRequest) -> HttpResponse:
    asked = request.GET.get("q", "")[:LONGEST_SEARCH].strip()
    sections = _with_pictures(found(asked))
    shown = sum(len(terms) for *_, terms in sections)
    context = {"asked": asked, "sections": sections, "shown": shown, "total": len(TERMS)}
    return render(request, "housing/glossary.html", context)


def _with_pictures(groups: Iterable[tuple[str, str, list[Said]]]) -> list[tuple[str, str, list]]:
    """The groups with, beside each term, its drawing; a drawing of several terms stands at the first."""
    drawn: set[str] = set()
    answer = []
    for key, heading, terms in groups:
        rows = []
        for one in terms:
            picture = one.term.picture
            is_first = bool(picture) and picture not in drawn
            drawn.add(picture)
            svg = mark_safe(glossary_svg(picture)) if is_first else ""  # noqa: S308  drawn by us
            rows.append((one, svg))
        answer.append((key, heading, rows))
    return answer
