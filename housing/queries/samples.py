"""The sample lists that come with the program: which were taken, what they made, and what stands on it."""

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from django.conf import settings
from django.db.models import Q, QuerySet
from django.urls import reverse

from boards.models import Board, Offcut, SheetSize, StockMovement
from housing.models import (
    Campaign,
    CampaignObject,
    Design,
    DesignRule,
    FitCheck,
    HousedObject,
    Housing,
    PlannedSheet,
    Task,
    WorkSpell,
)
from objects.core.words import noted, say
from objects.models import CatalogueObject, ImportedRow, ListImport

FOLDER = settings.BASE_DIR / "fixtures" / "samples"
KINDS = ("boards", "objects", "designs")  # designs name boards by their code, so boards come first
BEGUN = (Housing.Status.IN_WORK, Housing.Status.MADE, Housing.Status.HOUSED)

# Said of each that stands in the way.
OWN_OBJECTS = noted("it holds objects of your own besides those of the sample")
WORK_BEGUN = noted("work on its boxes has begun")
IN_A_BOX = noted("a box outside the campaigns of the sample is planned or made for it")
DESIGN_USED = noted("a box, a rule or an object of your own uses it")
BOARD_USED = noted("a design of your own is made of it")
STOCK_MOVED = noted("sheets of it were used, bought or counted since")
OFFCUTS_KEPT = noted("offcuts of it are on the rack")


@dataclass(frozen=True)
class InTheWay:
    """Something because of which the samples cannot be removed: what, where to look, and why."""

    words: str
    url: str
    why: str


def sample_file(kind: str) -> Path:
    """Where the sample list of a kind lies."""
    return FOLDER / f"{kind}.csv"


@cache
def sample_hash(kind: str) -> str:
    """The check sum by which a list that was taken in is known as the sample."""
    return hashlib.sha256(sample_file(kind).read_bytes()).hexdigest()


def taken_samples() -> dict[str, ListImport]:
    """The sample lists that were taken in and not removed since, by kind."""
    lists = ListImport.objects.defer("data", "sizes").filter(state=ListImport.State.SAVED)
    known = {(kind, sample_hash(kind)): kind for kind in KINDS}
    found = {known.get((listed.kind, listed.file_hash)): listed for listed in lists.order_by("pk")}
    return {kind: found[kind] for kind in KINDS if kind in found}


def records_of(kind: str) -> set[int]:
    """Keys of the records that the sample list of a kind made: objects, designs, or sheet sizes."""
    listed = taken_samples().get(kind)
    if listed is None:
        return set()
    return set(ImportedRow.objects.filter(listed=listed, is_added=True).values_list("record", flat=True))


def sample_objects() -> QuerySet[CatalogueObject]:
    return CatalogueObject.objects.filter(pk__in=records_of("objects"))


def sample_designs() -> QuerySet[Design]:
    return Design.objects.filter(pk__in=records_of("designs"))


def sample_sheet_sizes() -> QuerySet[SheetSize]:
    return SheetSize.objects.filter(pk__in=records_of("boards"))


def sample_boards() -> QuerySet[Board]:
    return Board.objects.filter(sheet_sizes__in=sample_sheet_sizes()).distinct()


def sample_campaigns() -> QuerySet[Campaign]:
    """Campaigns that hold objects of the sample; they go with it."""
    return Campaign.objects.filter(
        pk__in=CampaignObject.objects.filter(object__in=sample_objects()).values("campaign")
    )


def in_the_way() -> list[InTheWay]:
    """All because of which the samples cannot be removed: real work would go with them."""
    return [*_campaigns_in_the_way(), *_designs_in_the_way(), *_boards_in_the_way()]


def _campaigns_in_the_way() -> Iterator[InTheWay]:
    samples, campaigns = sample_objects(), sample_campaigns()
    mixed = set(
        CampaignObject.objects.filter(campaign__in=campaigns)
        .exclude(object__in=samples)
        .values_list("campaign", flat=True)
    )
    for campaign in campaigns:
        if campaign.pk in mixed:
            yield InTheWay(str(campaign), _campaign_page(campaign), say(OWN_OBJECTS))
        if _is_begun(campaign):
            yield InTheWay(str(campaign), _campaign_page(campaign), say(WORK_BEGUN))
    elsewhere = HousedObject.objects.filter(object__in=samples).exclude(housing__campaign__in=campaigns)
    for tie in elsewhere.select_related("object"):
        url = reverse("housing:object-detail", args=[tie.object_id])
        yield InTheWay(str(tie.object), url, say(IN_A_BOX))


def _campaign_page(campaign: Campaign) -> str:
    return reverse("housing:campaign-detail", args=[campaign.pk])


def _is_begun(campaign: Campaign) -> bool:
    """Whether anything was done for it that is more than planning."""
    boxes, sheets = Housing.objects.filter(campaign=campaign), PlannedSheet.objects.filter(
        plan__campaign=campaign
    )  # fmt: skip
    tasks = Task.objects.filter(housing__in=boxes)
    return (
        boxes.filter(status__in=BEGUN).exists()
        or sheets.filter(cut_at__isnull=False).exists()
        or tasks.exclude(state=Task.State.TO_DO).exists()
        or WorkSpell.objects.filter(Q(task__in=tasks) | Q(sheet__in=sheets)).exists()
        or FitCheck.objects.filter(housing__in=boxes).exists()
    )


def _designs_in_the_way() -> Iterator[InTheWay]:
    campaigns = sample_campaigns()
    boxes = Housing.objects.exclude(campaign__in=campaigns)
    rules = DesignRule.objects.exclude(campaign__in=campaigns)
    chosen = CampaignObject.objects.exclude(campaign__in=campaigns)
    used = (
        Q(pk__in=boxes.exclude(design=None).values("design"))
        | Q(pk__in=rules.exclude(design=None).values("design"))
        | Q(pk__in=chosen.exclude(chosen_design=None).values("chosen_design"))
    )
    for design in sample_designs().filter(used):
        yield InTheWay(str(design), reverse("housing:design-detail", args=[design.pk]), say(DESIGN_USED))


def _boards_in_the_way() -> Iterator[InTheWay]:
    for board in sample_boards():
        url = reverse("boards:board-detail", args=[board.pk])
        if Design.objects.filter(board=board).exclude(pk__in=sample_designs()).exists():
            yield InTheWay(str(board), url, say(BOARD_USED))
        if StockMovement.objects.filter(sheet_size__board=board, sequence__gt=1).exists():
            yield InTheWay(str(board), url, say(STOCK_MOVED))
        if Offcut.objects.filter(board=board).exists():
            yield InTheWay(str(board), url, say(OFFCUTS_KEPT))
