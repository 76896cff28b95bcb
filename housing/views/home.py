"""The home page: how far are we?"""

from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from boards.models import Board
from housing.core.drawing.charts import Bar, BarChart, Series, Strip
from housing.forms.objects import STILL
from housing.models import Campaign, Design
from housing.queries.objects import STATUS_NAMES
from housing.queries.progress import Group, blocked_housings, progress, recent_steps

# The further an object is, the darker; what never needed a box is drawn last.
GREYS = {
    "housed": "#333333",
    "made": "#5e5e5e",
    "in_work": "#8a8a8a",
    "planned": "#cccccc",
    "waiting": "#dedede",
    "poorly_housed": "#efefef",
    "unhoused": "#ffffff",
    "housed_before": "#777777",
    "not_needed": "#f4f4f4",
}
SERIES = tuple(Series(key, STATUS_NAMES[key], grey) for key, grey in GREYS.items())


@require_safe
def home(request: HttpRequest) -> HttpResponse:
    counted = progress()
    steps = _first_steps(counted.all.total)
    return render(
        request,
        "housing/home.html",
        {
            "progress": counted.all,
            "still_url": _list_of(status=STILL),
            "strip": Strip("All objects by how far they are", counted.all.counts, SERIES),
            "charts": [
                _chart("Still unhoused by location", "location", counted.by_location),
                _chart("Still unhoused by classification", "classification", counted.by_classification),
            ],
            "blocks": [
                (label, number, _list_of(problem=problem)) for problem, label, number in blocked_housings()
            ],
            "recent": recent_steps(),
            "steps": steps,
            "is_started": all(done for *_, done in steps),
        },
    )


def _chart(title: str, field: str, groups: tuple[Group, ...]) -> BarChart:
    return BarChart(
        title,
        tuple(
            Bar(
                group.label,
                group.counts,
                f"{group.still_unhoused:,} of {group.total:,}",
                _list_of(**{field: group.key, **({"place_only": "yes"} if group.is_place_only else {})}),
            )
            for group in groups
        ),
        SERIES,
    )


def _list_of(**filters: str) -> str:
    return f"{reverse('housing:object-list')}?{urlencode(filters)}"


def _first_steps(objects: int) -> list[tuple[str, str, str, bool]]:
    """What a new museum does first: (words, why, where it leads, whether it is done)."""
    return [
        (
            "Enter your boards",
            "Which boards you buy, in which sheets and at what price.",
            reverse("boards:board-list"),
            Board.objects.exists(),
        ),
        (
            "Take in your list of objects",
            "A list from your catalogue, with sizes as they were written.",
            reverse("housing:import-start"),
            objects > 0,
        ),
        (
            "Describe your designs",
            "The boxes you make, with their allowances.",
            reverse("housing:design-list"),
            Design.objects.exists(),
        ),
        (
            "Plan a campaign",
            "Which objects are housed, with which design, and by whom.",
            reverse("housing:campaign-list"),
            Campaign.objects.exists(),
        ),
    ]
