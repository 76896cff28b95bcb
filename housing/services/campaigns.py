"""Planning a campaign: designs for its objects, blanks, cutting plan, tasks and budget in one go."""

import json
from itertools import batched

from django.db import transaction
from django.utils import timezone

from housing.models import (
    Blank,
    Campaign,
    CampaignObject,
    CuttingPlan,
    Design,
    HousedObject,
    Housing,
    HousingEvent,
)
from housing.queries.sheets import sheets_at_bench
from housing.services.budgets import make_budget
from housing.services.choosing import DesignChoice
from housing.services.drafts import (
    PLANNED_FIELDS,
    Draft,
    drafts_of,
    find_rows,
    needed_blanks,
    work_out,
    worked_out,
)
from housing.services.giving_out import assign_tasks
from housing.services.nesting import Progress, nest_blanks, refuse_too_large
from housing.services.outdating import outdate
from housing.services.plans import store_plan, waiting_blanks
from housing.services.unchanged import UnchangedBoxes, unchanged_boxes
from objects.core.refusals import Refusal
from objects.core.words import say

BLANK_FIELDS = ("part", "material", "x_mm", "y_mm", "flute_along", "geometry", "assembly")


class CampaignRefused(Refusal):
    """A campaign cannot be planned as it stands; the message is a sentence for the reader."""


def add_objects(*, campaign: Campaign, objects) -> int:
    """Take objects into a campaign; those already in it stay as they are. Returns how many were new."""
    with transaction.atomic():
        before = campaign.memberships.count()
        CampaignObject.objects.bulk_create(
            (CampaignObject(campaign=campaign, object=thing) for thing in objects), ignore_conflicts=True
        )
        outdate(Campaign.objects.filter(pk=campaign.pk))
        return campaign.memberships.count() - before


def choose_design(*, campaign: Campaign, objects, design: Design | None) -> int:
    """Set the design of some objects by hand, over the rules; None gives them back to the rules."""
    with transaction.atomic():
        add_objects(campaign=campaign, objects=objects)
        return CampaignObject.objects.filter(campaign=campaign, object__in=objects).update(
            chosen_design=design
        )


def set_batch(*, campaign: Campaign, objects, batch: int) -> int:
    """Set which batch some objects are due with. Returns how many; raises CampaignRefused below 1."""
    if batch < 1:
        raise CampaignRefused(say("There is no batch {batch}. Batches are counted from 1.", batch=batch))
    with transaction.atomic():
        add_objects(campaign=campaign, objects=objects)
        return CampaignObject.objects.filter(campaign=campaign, object__in=objects).update(batch=batch)


def plan_campaign(
    *, campaign: Campaign, by=None, keep: bool = False, progress: Progress = lambda *told: None
) -> CuttingPlan:
    """Plan everything that is not yet in work; sheets already cut and boxes being made stay untouched.

    keep: of the sheets that are not yet cut those stay too whose blanks are still needed as they were, and
    boxes on which nothing changed are not worked out again. Everything is worked out first and then stored
    in one short transaction, so that others can go on working meanwhile; the budget, which rests on what was
    stored, follows in another.
    Raises CampaignRefused when the campaign has no objects, or when it was planned or its housings moved on
    meanwhile.
    """
    if not campaign.memberships.exists():
        raise CampaignRefused(
            say(
                "“{campaign}” has no objects yet. Choose objects in the object list and add them to it.",
                campaign=campaign,
            )
        )
    _refuse_at_bench(campaign)
    progress(5, say("Choosing designs"))
    as_of = timezone.now()
    earlier = CuttingPlan.objects.filter(campaign=campaign).first() if keep else None
    choice = DesignChoice.of(campaign)
    unchanged = unchanged_boxes(campaign, choice, earlier) if earlier else UnchangedBoxes()
    drafts = drafts_of(campaign, besides=unchanged.boxes)
    before = {draft.housing.pk: draft.housing.status for draft in drafts if draft.housing.pk}
    before |= dict.fromkeys(unchanged.boxes, Housing.Status.PLANNED)
    progress(10, say("Working out the blanks"))
    for draft in drafts:
        work_out(draft, choice.choose(draft.contents))
    refuse_too_large(campaign=campaign, drafts=drafts)
    gone = find_rows(campaign, drafts)
    begun = list(waiting_blanks(campaign))
    layouts = nest_blanks(
        campaign=campaign,
        needed=needed_blanks(campaign, drafts, [*unchanged.blanks, *begun]),
        keep=earlier,
        progress=progress,
    )
    with transaction.atomic():
        progress(85, say("Storing the plan"))
        _refuse_if_moved(campaign, before, begun, earlier)
        _refuse_at_bench(campaign)
        _store(drafts, before, gone, by)
        for (reason, advice), boxes in unchanged.new_reasons.items():
            for some in batched(boxes, 1000):
                Housing.objects.filter(pk__in=some).update(design_reason=reason, advice=json.loads(advice))
        plan = store_plan(campaign=campaign, layouts=layouts, as_of=as_of, by=by)
        assign_tasks(campaign=campaign)
    progress(100, say("Working out the budget"))
    make_budget(campaign=campaign, by=by)
    return plan


def _refuse_at_bench(campaign: Campaign) -> None:
    """Raises CampaignRefused while somebody has a sheet of the plan at the bench: it must not move."""
    for sheet in sheets_at_bench(campaign):
        whose = (
            say(", at the bench of {person}", person=sheet.person) if sheet.person else say(" at the bench")
        )
        raise CampaignRefused(
            say(
                "{sheet} of “{campaign}” was taken out of stock and is not cut yet{whose}. Note that it "
                "is cut, or put it back on its page, and plan again then.",
                sheet=sheet,
                campaign=campaign,
                whose=whose,
            )
        )


def _refuse_if_moved(
    campaign: Campaign, before: dict[int, str], begun: list[Blank], earlier: CuttingPlan | None
) -> None:
    Campaign.objects.select_for_update().get(pk=campaign.pk)
    if earlier and not CuttingPlan.objects.filter(pk=earlier.pk, made_at=earlier.made_at).exists():
        raise CampaignRefused(
            say("Somebody planned “{campaign}” meanwhile. Plan it again.", campaign=campaign)
        )
    housings = Housing.objects.select_for_update().filter(campaign=campaign)
    now = dict(housings.values_list("pk", "status"))
    waiting = set(waiting_blanks(campaign).values_list("pk", flat=True))
    if not before.items() <= now.items() or waiting != {blank.pk for blank in begun}:
        raise CampaignRefused(
            say(
                "Somebody began or dropped a box of “{campaign}” while it was being planned. Plan it again.",
                campaign=campaign,
            )
        )


def _store(drafts: list[Draft], before: dict[int, str], gone: list[int], by) -> None:
    new = [draft for draft in drafts if draft.housing.pk is None]
    Housing.objects.bulk_create([draft.housing for draft in new], batch_size=500)
    HousedObject.objects.bulk_create(
        HousedObject(housing=draft.housing, object=draft.contents[0]) for draft in new
    )
    changed = [
        draft.housing
        for draft in drafts
        if draft.housing.pk in before and draft.stored != worked_out(draft.housing)
    ]
    Housing.objects.bulk_update(changed, PLANNED_FIELDS, batch_size=200)
    blanks = [blank for draft in drafts for blank in draft.blanks]
    kept = [blank for blank in blanks if blank.pk]
    for some in batched(gone, 1000):
        Blank.objects.filter(pk__in=some).delete()
    Blank.objects.bulk_create(
        kept, batch_size=500, update_conflicts=True, unique_fields=["id"], update_fields=BLANK_FIELDS
    )
    Blank.objects.bulk_create((blank for blank in blanks if not blank.pk), batch_size=500)
    HousingEvent.objects.bulk_create(
        HousingEvent(housing=housing, status=housing.status, by=by, note=housing.problem_note[:300])
        for housing in (draft.housing for draft in drafts)
        if before.get(housing.pk) != housing.status
    )
