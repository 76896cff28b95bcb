"""Scenarios of a campaign: what they name, what cannot be so, and whether their figures still hold."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from hashlib import blake2b

from django.db.models import Max, Q, QuerySet
from django.utils.formats import date_format

from boards.models import Board, SheetSize, Supply
from housing.core.scenarios import Differences
from housing.models import Campaign, Design, Housing, Person, ReadyMadeBox, SizeFamily
from housing.queries.budgets import PERSON_FIGURES, inputs_of, terms_of
from objects.core.words import say

# ---- What scenarios name ---------------------------------------------------------------------------------


def designs_in_use(campaign: Campaign) -> QuerySet[Design]:
    """Designs that boxes, rules or choices by hand of a campaign name; all there are where none do."""
    named = Design.objects.filter(
        Q(pk__in=Housing.objects.filter(campaign=campaign).exclude(status="dropped").values("design"))
        | Q(pk__in=campaign.rules.exclude(design=None).values("design"))
        | Q(pk__in=campaign.memberships.exclude(chosen_design=None).values("chosen_design"))
    ).select_related("board")
    return named if named.exists() else Design.objects.select_related("board")


def free_name(campaign: Campaign, name: str) -> str:
    """The name, numbered where the campaign has a scenario of that name."""
    taken = set(campaign.scenarios.values_list("name", flat=True))
    number, free = 1, name
    while name and free in taken:
        number += 1
        free = f"{name[:112]} {number}"
    return free


def names_of(differences: Iterable[Differences]) -> dict[str, str]:
    """What the records that differences name are called, by kind and key."""
    wanted: dict[str, set[int]] = {kind: set() for kind in ("board", "design", "sizes", "person")}
    priced: dict[str, set[int]] = {"sheet": set(), "supply": set()}
    for one in differences:
        wanted["board"] |= {*one.board, *one.board.values()}
        wanted["design"] |= {*one.design, *one.design.values()}
        wanted["sizes"] |= {one.sizes} if one.sizes is not None else set()
        wanted["person"] |= set(one.people)
        for key in one.prices:
            kind, _, pk = key.partition(":")
            priced[kind].add(int(pk))
    names = {
        f"{kind}:{pk}": str(name)
        for kind, rows in (
            ("board", Board.objects.filter(pk__in=wanted["board"]).values_list("pk", "code")),
            ("design", Design.objects.filter(pk__in=wanted["design"]).values_list("pk", "name")),
            ("sizes", SizeFamily.objects.filter(pk__in=wanted["sizes"]).values_list("pk", "name")),
            ("person", Person.objects.filter(pk__in=wanted["person"]).values_list("pk", "name")),
            ("supply", Supply.objects.filter(pk__in=priced["supply"]).values_list("pk", "name")),
        )
        for pk, name in rows
    }
    for size in SheetSize.objects.filter(pk__in=priced["sheet"]).select_related("board"):
        names[f"sheet:{size.pk}"] = say(
            "A sheet of {code}, {along_mm:.1f} × {across_mm:.1f} mm,",
            code=size.board.code,
            along_mm=float(size.along_mm),
            across_mm=float(size.across_mm),
        )
    return names


def faults_of(campaign: Campaign, differences: Differences, today: date) -> Iterator[str]:
    """What keeps a scenario from being worked out, in sentences: what is wrong, and what to do."""
    boards = Board.objects.in_bulk({*differences.board, *differences.board.values()})
    with_sheets = set(SheetSize.objects.filter(board__in=boards).values_list("board", flat=True))
    for key in differences.board.values():
        if (board := boards.get(key)) is None:
            yield say("The board that stands in place of another is no longer there. Choose another one.")
        elif board.withdrawn_on and board.withdrawn_on <= today:
            yield say(
                "{board} is no longer sold since {day}, so nothing can be made of it. Choose another board.",
                board=board.code,
                day=date_format(board.withdrawn_on, "d F Y"),
            )
        elif key not in with_sheets:
            yield say(
                "{code} has no sheet size. Enter one on the board's page, or choose another board.",
                code=board.code,
            )
    if len(Design.objects.in_bulk(set(differences.design.values()))) < len(set(differences.design.values())):
        yield say("A design that stands in place of another is no longer there. Choose another one.")
    if differences.sizes is not None:
        family = SizeFamily.objects.filter(pk=differences.sizes, campaign=campaign).first()
        if family is None:
            yield say("The family of standard sizes is no longer there. Choose another one.")
        elif not family.result.get("sizes"):
            yield say("The sizes of “{family}” are not found yet. Find them first.", family=family)
    if not _people_left(campaign, differences):
        yield say("Nobody with hours takes part. Give one person hours at least.")


def _people_left(campaign: Campaign, differences: Differences) -> bool:
    """Whether somebody takes part; not judged where the scenario leaves the people alone."""
    if not differences.people:
        return True
    takes_part = Q(campaigns=campaign) | Q(pk__in=[pk for pk, hours in differences.people.items() if hours])
    people = Person.objects.filter(takes_part, is_active=True).distinct()
    return any(differences.people.get(person.pk, person.hours_per_week) for person in people)


# ---- Whether it still holds ------------------------------------------------------------------------------


def inputs_now(campaign: Campaign) -> dict[str, str]:
    """What scenarios of a campaign may rest on, by kind; equal texts mean equal figures."""
    return {
        "campaign": repr(
            [
                sorted(inputs_of(campaign).items()),
                terms_of(campaign).contingency_percent,
                Campaign.objects.values_list("changed_at", flat=True).get(pk=campaign.pk),
                campaign.objects_in_it.aggregate(last=Max("changed_at")),
                *campaign.memberships.order_by("object").values_list("object", "chosen_design", "batch"),
                *Design.objects.order_by("pk").values_list("pk", "changed_at", "board__changed_at"),
            ]
        ),
        "board": repr(list(SheetSize.objects.order_by("pk").values_list())),
        "people": repr(list(Person.objects.order_by("pk").values_list(*PERSON_FIGURES))),
        "ready_made": repr(list(ReadyMadeBox.objects.order_by("pk").values_list())),
        "sizes": repr(list(campaign.size_families.values_list("pk", "made_at", "design", "slack_mm"))),
    }


def inputs_of_scenario(now: Mapping[str, str], differences: Differences) -> str:
    """A fingerprint of all that one scenario rests on. now: as inputs_now() tells it."""
    kinds = [kind for kind in ("board", "people", "ready_made", "sizes") if getattr(differences, kind)]
    rests_on = [now[kind] for kind in ("campaign", *kinds)] + [repr(differences)]
    return blake2b("".join(rests_on).encode(), digest_size=8).hexdigest()
