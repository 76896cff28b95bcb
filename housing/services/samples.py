"""Removing the sample lists, with all that was planned of them, before real work begins."""

from django.db import transaction
from django.utils import timezone

from boards.models import StockMovement, Supplier
from housing.models import Campaign, Housing, Job
from housing.queries.samples import (
    InTheWay,
    in_the_way,
    sample_boards,
    sample_campaigns,
    sample_designs,
    sample_objects,
    sample_sheet_sizes,
    taken_samples,
)
from objects.core.refusals import Refusal
from objects.core.words import say
from objects.models import ListImport, Location, SurveyEntry


class SamplesRefused(Refusal):
    """The samples cannot be taken or removed; in_the_way: the reasons, each with where to look."""

    def __init__(self, message: str, in_the_way: list[InTheWay] | None = None) -> None:
        super().__init__(message)
        self.in_the_way = in_the_way or []


@transaction.atomic
def remove_samples(*, by=None) -> dict[str, int]:
    """Remove the campaigns, boxes, objects, designs and boards of the samples, and the places these made.

    Returns how many of each went. Raises SamplesRefused where none was taken, where real work would go with
    them, and while one of their campaigns is being planned; then nothing is removed.
    """
    lists = taken_samples()
    if not lists:
        raise SamplesRefused(say("No sample is here that could be removed."))
    campaigns = list(Campaign.objects.select_for_update().filter(pk__in=sample_campaigns().values("pk")))
    if found := in_the_way():
        raise SamplesRefused(
            say("Nothing was removed: work of your own rests on the samples. See what stands in the way."),
            found,
        )
    _refuse_while_planned(campaigns)
    objects, designs = list(sample_objects()), list(sample_designs())
    sizes, boards = list(sample_sheet_sizes()), list(sample_boards())
    Housing.objects.filter(campaign__in=campaigns).delete()
    Campaign.objects.filter(pk__in=[campaign.pk for campaign in campaigns]).delete()
    _delete(objects)
    _delete(designs)
    suppliers = {size.supplier_id for size in sizes}
    StockMovement.objects.filter(sheet_size__in=sizes).delete()
    _delete(sizes)
    gone = [board for board in boards if not board.sheet_sizes.exists()]
    _delete(gone)
    Supplier.objects.filter(pk__in=suppliers, sheet_sizes=None, supplies=None, ready_made_boxes=None).delete()
    _delete_places(lists.values())
    now = timezone.now()
    for listed in lists.values():
        listed.state, listed.undone_at, listed.undone_by = ListImport.State.UNDONE, now, by
        listed.save(update_fields=["state", "undone_at", "undone_by"])
    return {
        "campaigns": len(campaigns), "objects": len(objects), "designs": len(designs), "boards": len(gone),
    }  # fmt: skip


def _refuse_while_planned(campaigns: list[Campaign]) -> None:
    jobs = Job.objects.exclude(state__in=Job.OVER)
    keys = [campaign.pk for campaign in campaigns]
    if jobs.filter(parameters__campaign__in=keys).exists():
        raise SamplesRefused(
            say("A campaign of the samples is being worked on this moment. Remove them once that has ended.")
        )
    Job.objects.filter(parameters__campaign__in=keys).delete()  # their results are no longer there


def _delete(records: list) -> None:
    if records:
        type(records[0])._default_manager.filter(pk__in=[record.pk for record in records]).delete()


def _delete_places(lists) -> None:
    """The places that the lists made and nobody uses, from the shelves up to the buildings."""
    made = {key for listed in lists for key in listed.reading.get("places_made", ())}
    visited = SurveyEntry.objects.exclude(place=None).values("place")
    empty = Location.objects.filter(pk__in=made, kept_here=None, children=None).exclude(pk__in=visited)
    while empty.delete()[0]:
        pass
