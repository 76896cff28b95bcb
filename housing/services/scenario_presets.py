"""Scenarios that are often wanted, begun with what is different in them."""

from dataclasses import dataclass

from django.db.models import Count

from boards.models import Board
from housing.core.scenarios import Differences, ReadyMade, ScenarioRefused, to_json
from housing.models import Campaign, Scenario
from housing.queries.scenarios import designs_in_use, free_name
from objects.core.words import say


@dataclass(frozen=True)
class Preset:
    """One of them: its key, its name, and what it is about in a sentence."""

    key: str
    name: str
    about: str


PRESETS = (
    Preset("custom", "All boxes to measure", "Every box made for its objects, as the campaign plans them."),
    Preset("sizes", "Standard sizes", "Boxes in few sizes, as a family of sizes has them."),
    Preset("buy", "Buy where one fits", "Ready-made boxes where one fits, the rest made."),
    Preset("urgent", "Only priority A", "Only boxes with an object of priority A."),
    Preset("board", "Another board", "Another board in place of the one that most boxes use."),
)
NAMES = {one.key: one.name for one in PRESETS}


def preset(*, campaign: Campaign, key: str) -> Scenario:
    """A scenario as a preset begins it, not saved; blank for the key "".

    Raises ScenarioRefused where the campaign lacks what it needs.
    """
    begin = {
        "": Differences,
        "custom": Differences,
        "sizes": lambda: _standard_sizes(campaign),
        "buy": lambda: Differences(ready_made=ReadyMade()),
        "urgent": lambda: Differences(only_priorities=("A",)),
        "board": lambda: _another_board(campaign),
    }
    if key not in begin:
        raise ScenarioRefused(say("There is no such scenario to begin from. This one begins blank."))
    differences = begin[key]()
    return Scenario(
        campaign=campaign, name=free_name(campaign, NAMES.get(key, "")), differences=to_json(differences)
    )


def _standard_sizes(campaign: Campaign) -> Differences:
    family = campaign.size_families.exclude(made_at=None).order_by("-made_at").first()
    if family is None:
        raise ScenarioRefused(
            say(
                "There is no family of standard sizes yet. Find one on the campaign's page of standard "
                "sizes, then begin this scenario again."
            )
        )
    return Differences(sizes=family.pk)


def _another_board(campaign: Campaign) -> Differences:
    """The board of most designs replaced by the next thicker one of its kind, else the next thinner one."""
    used = Board.objects.filter(designs__in=designs_in_use(campaign))
    most = used.annotate(number=Count("pk")).order_by("-number", "code").first()
    if most is None:
        raise ScenarioRefused(say("No design of the campaign names a board yet. Enter designs first."))
    others = (
        Board.objects.filter(withdrawn_on=None, is_buffered=most.is_buffered, sheet_sizes__isnull=False)
        .exclude(pk=most.pk)
        .distinct()
        .order_by("caliper_mm", "code")
    )
    thicker = others.filter(caliper_mm__gte=most.caliper_mm).first() or others.last()
    if thicker is None:
        raise ScenarioRefused(say("There is no other board with a sheet size to take. Enter one first."))
    return Differences(board={most.pk: thicker.pk})
