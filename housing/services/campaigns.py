"""Planning a campaign: designs for its objects, blanks, cutting plan, estimate and tasks in one go."""

import json
from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field
from itertools import batched

from django.db import transaction
from django.db.models import Exists, OuterRef
from django.utils import timezone

from boards.core.board import BoardRefused
from housing.core.errors import EnclosureError
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
from housing.services.choosing import DesignChoice
from housing.services.estimates import make_estimate
from housing.services.housings import design_enclosure, set_sizes
from housing.services.nesting import NeededBlank, Progress, nest_blanks, refuse_too_large
from housing.services.outdating import outdate
from housing.services.plans import store_plan, waiting_blanks
from housing.services.tasks import assign_tasks
from housing.services.unchanged import UnchangedBoxes, unchanged_boxes
from objects.core.refusals import Refusal
from objects.models import CatalogueObject

OPEN = (Housing.Status.WAITING, Housing.Status.PLANNED)
SIZES = tuple(f"{which}_{side}_mm" for which in ("inner", "outside") for side in "xyz")
COSTS = ("board_cost", "glue_cost", "padding_cost", "labour_cost", "labour_minutes")
PLANNED_FIELDS = (
    "design_id", "design_reason", "advice", "status", "problem", "problem_note", "notes", "supplies",
    *SIZES, *COSTS,
)  # fmt: skip
BLANK_FIELDS = ("part", "material", "x_mm", "y_mm", "flute_along", "geometry", "assembly")


class CampaignRefused(Refusal):
    """A campaign cannot be planned as it stands; the message is a sentence for the reader."""


@dataclass
class Draft:
    """A housing being planned: its objects, the design chosen for it and the blanks it needs.

    stored: what was worked out for the housing before.
    """

    housing: Housing
    contents: list[CatalogueObject]
    design: Design | None = None
    blanks: list[Blank] = field(default_factory=list)
    stored: list = field(default_factory=list)

    @classmethod
    def of(cls, housing: Housing, *contents: CatalogueObject) -> "Draft":
        return cls(housing, list(contents), stored=_worked_out(housing) if housing.pk else [])

    def wait(self, problem: str, note: str) -> None:
        """Count the housing apart, with the reason; what an earlier plan worked out holds no longer."""
        for name in SIZES:
            setattr(self.housing, name, None)
        for name in COSTS:
            setattr(self.housing, name, 0)
        self.housing.notes = []
        self.housing.supplies = []
        self.housing.status = Housing.Status.WAITING
        self.housing.problem = problem
        self.housing.problem_note = note[:600]
        self.blanks = []


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
        raise CampaignRefused(f"There is no batch {batch}. Batches are counted from 1.")
    with transaction.atomic():
        add_objects(campaign=campaign, objects=objects)
        return CampaignObject.objects.filter(campaign=campaign, object__in=objects).update(batch=batch)


def plan_campaign(
    *, campaign: Campaign, by=None, keep: bool = False, progress: Progress = lambda *told: None
) -> CuttingPlan:
    """Plan everything that is not yet in work; sheets already cut and boxes being made stay untouched.

    keep: of the sheets that are not yet cut those stay too whose blanks are still needed as they were, and
    boxes on which nothing changed are not worked out again. Everything is worked out first and then stored
    in one short transaction, so that others can go on working meanwhile.
    Raises CampaignRefused when the campaign has no objects, or when it was planned or its housings moved on
    meanwhile.
    """
    if not campaign.memberships.exists():
        raise CampaignRefused(
            f"“{campaign}” has no objects yet. Choose objects in the object list and add them to it."
        )
    progress(5, "Choosing designs")
    as_of = timezone.now()
    earlier = CuttingPlan.objects.filter(campaign=campaign).first() if keep else None
    choice = DesignChoice.of(campaign)
    unchanged = unchanged_boxes(campaign, choice, earlier) if earlier else UnchangedBoxes()
    drafts = _drafts(campaign, besides=unchanged.boxes)
    before = {draft.housing.pk: draft.housing.status for draft in drafts if draft.housing.pk}
    before |= dict.fromkeys(unchanged.boxes, Housing.Status.PLANNED)
    progress(10, "Working out the blanks")
    for draft in drafts:
        chosen = choice.choose(draft.contents)
        draft.design, draft.housing.advice = chosen.design, chosen.advice
        draft.housing.design_reason = chosen.reason if chosen.design else ""
        _work_out(draft, missing=chosen.reason)
    refuse_too_large(campaign=campaign, drafts=drafts)
    gone = _find_rows(campaign, drafts)
    begun = list(waiting_blanks(campaign))
    layouts = nest_blanks(
        campaign=campaign,
        needed=_needed(campaign, drafts, [*unchanged.blanks, *begun]),
        keep=earlier,
        progress=progress,
    )
    with transaction.atomic():
        progress(85, "Storing the plan")
        _refuse_if_moved(campaign, before, begun, earlier)
        _store(drafts, before, gone, by)
        for (reason, advice), boxes in unchanged.new_reasons.items():
            for some in batched(boxes, 1000):
                Housing.objects.filter(pk__in=some).update(design_reason=reason, advice=json.loads(advice))
        plan = store_plan(campaign=campaign, layouts=layouts, as_of=as_of, by=by)
        stays = unchanged.boxes | unchanged.begun
        make_estimate(plan=plan, unchanged=stays.difference(*(layout.moved() for layout in layouts)))
        assign_tasks(campaign=campaign, unchanged=stays)
    progress(100, "Done")
    return plan


def _drafts(campaign: Campaign, besides: Collection[int]) -> list[Draft]:
    """One draft a housing still open, apart from some, and a new one for each object that has none."""
    ties = HousedObject.objects.filter(
        is_live=True, object__memberships__campaign=campaign, housing__campaign=campaign,
        housing__status__in=OPEN,
    ).order_by("housing_id", "position")  # fmt: skip
    asked = [pk for pk, housing in ties.values_list("pk", "housing_id") if housing not in besides]
    found = HousedObject.objects.select_related("housing", "object").in_bulk(asked)
    drafts: dict[int, Draft] = {}
    for tie in map(found.__getitem__, asked):
        if tie.housing_id in drafts:
            drafts[tie.housing_id].contents.append(tie.object)
        else:
            drafts[tie.housing_id] = Draft.of(tie.housing, tie.object)
    live = HousedObject.objects.filter(is_live=True, object=OuterRef("object"))
    members = campaign.memberships.filter(~Exists(live)).select_related("object")
    new = [
        Draft.of(Housing(campaign=campaign), member.object)
        for member in members.order_by("object__number_key")
    ]
    return [*drafts.values(), *new]


def _worked_out(housing: Housing) -> list:
    return [getattr(housing, name) for name in PLANNED_FIELDS]


def _find_rows(campaign: Campaign, drafts: list[Draft]) -> list[int]:
    """Let the blanks of housings that have the same parts as before take the place of the stored ones.

    Returns the stored ones of other housings among these, which are of no use any more.
    """
    stored: defaultdict[int, dict[int, str]] = defaultdict(dict)
    rows = Blank.objects.filter(housing__campaign=campaign, housing__status__in=OPEN)
    for housing, pk, part in rows.values_list("housing", "pk", "part"):
        stored[housing][pk] = part
    gone: list[int] = []
    for draft in drafts:
        of_housing = stored[draft.housing.pk]
        if [*of_housing.values()] == [blank.part for blank in draft.blanks]:
            for blank, pk in zip(draft.blanks, of_housing, strict=True):
                blank.pk = pk
        else:
            gone += of_housing
    return gone


def _needed(campaign: Campaign, drafts: list[Draft], stored: list[Blank]) -> Iterable[NeededBlank]:
    """The blanks to be nested, those of drafts and stored ones, each due with the first object of its box."""
    of_object = dict(campaign.memberships.exclude(batch=1).values_list("object_id", "batch"))
    for draft in drafts:
        batch = min(of_object.get(thing.pk, 1) for thing in draft.contents)
        for blank in draft.blanks:
            if blank.is_board:
                yield NeededBlank(blank, draft.housing.design.board_id, batch, blank.geometry["waste"])
    of_housing = _batches(campaign, of_object) if of_object else {}
    for blank in stored:
        yield NeededBlank(blank, blank.board_id, of_housing.get(blank.housing_id, 1), blank.waste)


def _batches(campaign: Campaign, of_object: Mapping[int, int]) -> dict[int, int]:
    """The batch of each housing: the first that any object of it is due with."""
    of_housing: dict[int, int] = {}
    ties = HousedObject.objects.filter(housing__campaign=campaign)
    for housing, thing in ties.order_by().values_list("housing_id", "object_id"):
        batch = of_object.get(thing, 1)
        of_housing[housing] = min(of_housing.get(housing, batch), batch)
    return of_housing


def _refuse_if_moved(
    campaign: Campaign, before: dict[int, str], begun: list[Blank], earlier: CuttingPlan | None
) -> None:
    Campaign.objects.select_for_update().get(pk=campaign.pk)
    if earlier and not CuttingPlan.objects.filter(pk=earlier.pk, made_at=earlier.made_at).exists():
        raise CampaignRefused(f"Somebody planned “{campaign}” meanwhile. Plan it again.")
    housings = Housing.objects.select_for_update().filter(campaign=campaign)
    now = dict(housings.values_list("pk", "status"))
    waiting = set(waiting_blanks(campaign).values_list("pk", flat=True))
    if not before.items() <= now.items() or waiting != {blank.pk for blank in begun}:
        raise CampaignRefused(
            f"Somebody began or dropped a box of “{campaign}” while it was being planned. Plan it again."
        )


def _work_out(draft: Draft, missing: str) -> None:
    """Size and blanks of a housing, or the reason why there are none. missing: why it has no design."""
    housing = draft.housing
    housing.design = draft.design
    for thing in draft.contents:
        which = f"{thing.number}: " if len(draft.contents) > 1 else ""
        if thing.size_state == CatalogueObject.SizeState.MISSING:
            lacking = "Not fully measured. Measure height, width and depth."
            draft.wait(Housing.Problem.UNMEASURED, which + lacking)
            return
        if thing.size_state == CatalogueObject.SizeState.CHECK:
            draft.wait(Housing.Problem.CHECK, which + (thing.dimensions_note or "Check its size."))
            return
    if draft.design is None:
        draft.wait(Housing.Problem.NO_DESIGN, missing)
        return
    try:
        enclosure = design_enclosure(design=housing.recipe, contents=draft.contents)
    except (EnclosureError, BoardRefused) as refused:
        draft.wait(Housing.Problem.REFUSED, f"{draft.design}: {refused}")
        return
    set_sizes(housing, enclosure)
    housing.status, housing.problem, housing.problem_note = Housing.Status.PLANNED, "", ""
    draft.blanks = [Blank.from_part(housing, part) for part in enclosure.parts]


def _store(drafts: list[Draft], before: dict[int, str], gone: list[int], by) -> None:
    new = [draft for draft in drafts if draft.housing.pk is None]
    Housing.objects.bulk_create([draft.housing for draft in new], batch_size=500)
    HousedObject.objects.bulk_create(
        HousedObject(housing=draft.housing, object=draft.contents[0]) for draft in new
    )
    changed = [
        draft.housing
        for draft in drafts
        if draft.housing.pk in before and draft.stored != _worked_out(draft.housing)
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
