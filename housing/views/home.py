"""The home page: how far are we?"""

from dataclasses import dataclass
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from housing.core.drawing.charts import Bar, BarChart, Series, Strip
from housing.core.weeks import monday_of
from housing.forms.objects import STILL
from housing.models import Housing
from housing.queries.blocks import Block, blocks, open_questions
from housing.queries.first_run import first_steps, is_begun_museum
from housing.queries.objects import STATUS_NAMES
from housing.queries.progress import Group, progress, recent_steps
from housing.queries.stock_needs import sheets_waiting_for_board
from housing.queries.this_week import Done, done_since
from housing.queries.used import used_of_running

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
SHOWN_ROOMS = 6  # those with most still to do; the page of places shows them all


@dataclass(frozen=True)
class Tile:
    """A large figure with its words and the list behind it."""

    number: int
    words: str
    url: str


@require_safe
def home(request: HttpRequest) -> HttpResponse:
    counted = progress()
    steps = first_steps()
    monday = monday_of(timezone.localdate())
    counts = counted.all.counts
    return render(
        request,
        "housing/home.html",
        {
            "progress": counted.all,
            "still_url": list_of(status=STILL),
            "tiles": [
                Tile(counted.all.still_unhoused, _("still unhoused, all stages"), list_of(status=STILL)),
                Tile(counts[Housing.Status.PLANNED], _("of them planned"), list_of(status="planned")),
                Tile(counts[Housing.Status.IN_WORK], _("in work"), list_of(status="in_work")),
                Tile(counts[Housing.Status.MADE], _("in a made, still empty box"), list_of(status="made")),
                Tile(counts[Housing.Status.HOUSED], _("housed"), list_of(status="housed")),
            ],
            "rooms": counted.rooms[:SHOWN_ROOMS],
            "more_rooms": max(len(counted.rooms) - SHOWN_ROOMS, 0),
            "done": (done := done_since(monday)),
            "done_links": done_links(done),
            "used": used_of_running(),
            "questions": open_questions(),
            "no_board": sheets_waiting_for_board().count(),
            "strip": Strip(_("All objects by how far they are"), counted.all.counts, SERIES),
            "charts": [
                _chart(_("Still unhoused by location"), "location", counted.by_location),
                _chart(_("Still unhoused by classification"), "classification", counted.by_classification),
                _chart(_("Still unhoused by priority"), "priority", counted.by_priority),
            ],
            "blocks": block_links(blocks()),
            "recent": recent_steps(),
            "steps": steps,
            "is_started": is_begun_museum(steps),
        },
    )


@require_safe
def place_progress(request: HttpRequest) -> HttpResponse:
    """All rooms as grids of bays and shelves."""
    counted = progress()
    context = {"rooms": counted.rooms, "places": counted.places, "progress": counted.all}
    return render(request, "housing/progress_places.html", context)


def _chart(title: str, field: str, groups: tuple[Group, ...]) -> BarChart:
    return BarChart(
        title,
        tuple(
            Bar(
                group.label,
                group.counts,
                _("{still_unhoused:,} of {total:,}").format(
                    still_unhoused=group.still_unhoused, total=group.total
                ),
                list_of(**{field: group.key, **({"place_only": "yes"} if group.is_place_only else {})}),
            )
            for group in groups
        ),
        SERIES,
    )


def done_links(done: Done, **filters: str) -> dict[str, str]:
    """The lists behind what was done since a day, narrowed further where filters are given."""
    since = done.since.isoformat()
    tasks = urlencode({"state": "done", "person": "", "done_since": since, **filters})
    return {
        "made": list_of(reached="made", since=since, **filters),
        "housed": list_of(reached="housed", since=since, **filters),
        "tasks": f"{reverse('housing:task-list')}?{tasks}",
    }


def block_links(found: list[Block], **filters: str) -> list[tuple[Block, str]]:
    """Each block with the list of the objects that it counts."""
    return [(block, list_of(blocks=block.key, **filters)) for block in found]


def list_of(**filters: str) -> str:
    """The address of the object list with filters."""
    return f"{reverse('housing:object-list')}?{urlencode(filters)}"
