"""Planning a campaign: designs for its objects, blanks, cutting plan, estimate and tasks in one go."""

from collections import defaultdict
from dataclasses import dataclass, field

from django.db import transaction
from django.utils import timezone

from boards.core.board import BoardRefused
from housing.core.choosing import ObjectFacts, Rule, choose
from housing.core.enclosures.form import BOARD
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
from housing.services.estimates import make_estimate
from housing.services.housings import design_enclosure, set_sizes
from housing.services.nesting import Progress, nest_blanks, refuse_too_large
from housing.services.outdating import outdate
from housing.services.plans import store_plan, waiting_blanks
from housing.services.tasks import assign_tasks
from objects.core.refusals import Refusal
from objects.models import CatalogueObject

OPEN = (Housing.Status.WAITING, Housing.Status.PLANNED)
SIZES = tuple(f"{which}_{side}_mm" for which in ("inner", "outside") for side in "xyz")
COSTS = ("board_cost", "glue_cost", "padding_cost", "labour_cost", "labour_minutes")
PLANNED_FIELDS = (
    "design", "design_reason", "status", "problem", "problem_note", "notes", "supplies", *SIZES, *COSTS
)  # fmt: skip


class CampaignRefused(Refusal):
    """A campaign cannot be planned as it stands; the message is a sentence for the reader."""


@dataclass
class Draft:
    """A housing being planned: its objects, the design chosen for it and the blanks it needs.

    planned_design: the design it had before. is_unchanged: whether its stored blanks still hold.
    """

    housing: Housing
    contents: list[CatalogueObject]
    design: Design | None = None
    blanks: list[Blank] = field(default_factory=list)
    planned_design: int | None = None
    is_unchanged: bool = False

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
    in one short transaction, so that others can go on working
    meanwhile. Raises CampaignRefused when the campaign has no objects or its housings moved on meanwhile.
    """
    if not campaign.memberships.exists():
        raise CampaignRefused(
            f"“{campaign}” has no objects yet. Choose objects in the object list and add them to it."
        )
    progress(5, "Choosing designs")
    as_of = timezone.now()
    drafts = _drafts(campaign)
    _choose_designs(campaign, drafts)
    progress(10, "Working out the blanks")
    before = {draft.housing.pk: draft.housing.status for draft in drafts if draft.housing.pk}
    if keep:
        _leave_unchanged(campaign, drafts)
    for draft in drafts:
        if not draft.is_unchanged:
            _work_out(draft)
    refuse_too_large(campaign=campaign, drafts=drafts)
    blanks = [blank for draft in drafts for blank in draft.blanks]
    begun = waiting_blanks(campaign)
    layouts = nest_blanks(
        campaign=campaign,
        blanks=[*blanks, *begun],
        batches=_batches(campaign, drafts, begun),
        keep=keep,
        progress=progress,
    )
    with transaction.atomic():
        progress(85, "Storing the plan")
        _refuse_if_moved(campaign, before, begun)
        _store(drafts, before, by)
        plan = store_plan(campaign=campaign, layouts=layouts, as_of=as_of, by=by)
        make_estimate(plan=plan)
        assign_tasks(campaign=campaign)
    progress(100, "Done")
    return plan


def _drafts(campaign: Campaign) -> list[Draft]:
    """One draft a housing still open, and a new one for each object that has none."""
    ties = (
        HousedObject.objects.filter(is_live=True, object__memberships__campaign=campaign)
        .select_related("housing", "object__location")
        .order_by("housing_id", "position")
    )
    drafts: dict[int, Draft] = {}
    housed: set[int] = set()
    for tie in ties:
        housed.add(tie.object_id)
        if tie.housing.campaign_id == campaign.pk and tie.housing.status in OPEN:
            draft = Draft(tie.housing, [], planned_design=tie.housing.design_id)
            drafts.setdefault(tie.housing_id, draft).contents.append(tie.object)
    members = campaign.memberships.select_related("object__location").order_by("object__number_key")
    new = [
        Draft(Housing(campaign=campaign), [member.object])
        for member in members
        if member.object_id not in housed
    ]
    return [*drafts.values(), *new]


def _leave_unchanged(campaign: Campaign, drafts: list[Draft]) -> None:
    """Take the stored blanks of boxes whose objects, design and board are as they were when planned."""
    plan = CuttingPlan.objects.filter(campaign=campaign).first()
    if plan is None:
        return
    stored = defaultdict(list)
    for blank in Blank.objects.filter(
        housing__campaign=campaign, housing__status=Housing.Status.PLANNED, material=BOARD
    ).only("housing", "part", "material", "x_mm", "y_mm", "flute_along", "geometry"):
        stored[blank.housing_id].append(blank)
    for draft in drafts:
        design = draft.design
        if design is None or design.pk != draft.planned_design or draft.housing.pk not in stored:
            continue
        changes = [
            design.changed_at,
            design.board.changed_at,
            *(thing.changed_at for thing in draft.contents),
        ]
        if max(changes) <= plan.made_at:
            draft.is_unchanged, draft.blanks = True, stored[draft.housing.pk]
            for blank in draft.blanks:
                blank.housing = draft.housing
            draft.housing.design = design


def _batches(campaign: Campaign, drafts: list[Draft], begun: list[Blank]) -> dict[int, int]:
    """The batch of each blank, by its place: the first that any object of its box is due with."""
    of_object = dict(campaign.memberships.exclude(batch=1).values_list("object_id", "batch"))
    if not of_object:
        return {}
    due = [
        min(of_object.get(thing.pk, 1) for thing in draft.contents) for draft in drafts for _ in draft.blanks
    ]
    ties = HousedObject.objects.filter(housing__in={blank.housing_id for blank in begun})
    of_housing: dict[int, int] = {}
    for housing, thing in ties.values_list("housing_id", "object_id"):
        of_housing[housing] = min(of_housing.get(housing, 1_000_000), of_object.get(thing, 1))
    due += [of_housing[blank.housing_id] for blank in begun]
    return dict(enumerate(due))


def _refuse_if_moved(campaign: Campaign, before: dict[int, str], begun: list[Blank]) -> None:
    Campaign.objects.select_for_update().get(pk=campaign.pk)
    housings = Housing.objects.select_for_update().filter(pk__in=before)
    now = dict(housings.values_list("pk", "status"))
    if now != before or set(waiting_blanks(campaign)) != set(begun):
        raise CampaignRefused(
            f"Somebody began or dropped a box of “{campaign}” while it was being planned. Plan it again."
        )


def _choose_designs(campaign: Campaign, drafts: list[Draft]) -> None:
    designs = {design.pk: design for design in Design.objects.select_related("board")}
    by_hand = dict(
        campaign.memberships.exclude(chosen_design=None).values_list("object_id", "chosen_design_id")
    )
    rules = [
        Rule(
            design=str(rule.design_id),
            reason=rule.reason,
            classification=rule.classification,
            material=rule.material,
            weight_over_g=_number(rule.weight_over_g),
            largest_over_mm=_number(rule.largest_over_mm),
            largest_up_to_mm=_number(rule.largest_up_to_mm),
        )
        for rule in campaign.rules.all()
    ]
    for draft in drafts:
        chosen = next((by_hand[thing.pk] for thing in draft.contents if thing.pk in by_hand), None)
        if chosen is not None:
            draft.design, draft.housing.design_reason = designs[chosen], "Chosen by hand."
            continue
        rule = choose(_facts(draft.contents), rules)
        draft.design = designs[int(rule.design)] if rule else None
        draft.housing.design_reason = rule.reason if rule else ""


def _number(value) -> float | None:
    return None if value is None else float(value)


def _facts(contents: list[CatalogueObject]) -> ObjectFacts:
    sides = [side for thing in contents for side in thing.sides_mm if side is not None]
    weights = [thing.weight_g for thing in contents if thing.weight_g is not None]
    return ObjectFacts(
        classification=contents[0].classification,
        materials="; ".join(thing.materials for thing in contents),
        weight_g=float(sum(weights)) if weights else None,
        largest_mm=float(max(sides)) if sides else None,
    )


def _work_out(draft: Draft) -> None:
    """Size and blanks of a housing, or the reason why there are none."""
    housing = draft.housing
    housing.design = draft.design
    for thing in draft.contents:
        if thing.size_state == CatalogueObject.SizeState.MISSING:
            draft.wait(
                Housing.Problem.UNMEASURED,
                f"{thing.number} has no full measurements. Measure height, width and depth.",
            )
            return
        if thing.size_state == CatalogueObject.SizeState.CHECK:
            draft.wait(Housing.Problem.CHECK, f"{thing.number}: {thing.dimensions_note or 'check its size.'}")
            return
    if draft.design is None:
        draft.wait(
            Housing.Problem.NO_DESIGN,
            "No rule of the campaign matches. Add a rule, or choose a design for this object by hand.",
        )
        return
    try:
        enclosure = design_enclosure(design=draft.design, contents=draft.contents)
    except (EnclosureError, BoardRefused) as refused:
        draft.wait(Housing.Problem.REFUSED, f"{draft.design}: {refused}")
        return
    set_sizes(housing, enclosure)
    housing.status, housing.problem, housing.problem_note = Housing.Status.PLANNED, "", ""
    draft.blanks = [Blank.from_part(housing, part) for part in enclosure.parts]


def _store(drafts: list[Draft], before: dict[int, str], by) -> None:
    new = [draft for draft in drafts if draft.housing.pk is None]
    Housing.objects.bulk_create([draft.housing for draft in new], batch_size=500)
    HousedObject.objects.bulk_create(
        HousedObject(housing=draft.housing, object=draft.contents[0]) for draft in new
    )
    changed = [draft for draft in drafts if not draft.is_unchanged]
    kept = [draft.housing for draft in changed if draft.housing.pk in before]
    Housing.objects.bulk_update(kept, PLANNED_FIELDS, batch_size=200)
    Blank.objects.filter(housing__in=kept).delete()
    Blank.objects.bulk_create((blank for draft in changed for blank in draft.blanks), batch_size=500)
    HousingEvent.objects.bulk_create(
        HousingEvent(housing=housing, status=housing.status, by=by, note=housing.problem_note[:300])
        for housing in (draft.housing for draft in drafts)
        if before.get(housing.pk) != housing.status
    )
