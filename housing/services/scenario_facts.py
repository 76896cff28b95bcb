"""The boxes of a scenario as a budget knows them: those begun as they are stored, the others from memory."""

from dataclasses import dataclass, replace

from django.db.models import prefetch_related_objects

from housing.core.budget.facts import BoxFacts
from housing.core.priority import HUNDREDTHS
from housing.models import Campaign, Housing
from housing.queries.box_facts import TO_MEASURE, facts_of_box, facts_of_campaign
from housing.queries.priority import scores_in
from housing.services.drafts import Draft
from housing.services.scenario_boxes import WorkedOut

Status = Housing.Status
BEGUN = (Status.IN_WORK, Status.MADE, Status.HOUSED)
NEW = 10**12  # keys of boxes that are not stored count on from here, behind those of all that are


@dataclass(frozen=True)
class ScenarioFacts:
    """Boxes of a scenario as a budget knows them. begun: keys of those that are stored and begun or done.

    to_measure: boxes that wait to be measured. hazardous: keys of boxes with hazards.
    """

    boxes: list[BoxFacts]
    to_measure: list[BoxFacts]
    begun: frozenset[str]
    hazardous: frozenset[str]


def facts_of_scenario(campaign: Campaign, boxes: WorkedOut) -> ScenarioFacts:
    """All boxes in the order of the work: those begun or done as stored, the others as worked out."""
    begun = Housing.objects.filter(campaign=campaign, status__in=BEGUN)
    begun_keys = frozenset(map(str, begun.values_list("pk", flat=True)))
    stored = [box for box in facts_of_campaign(campaign) if box.key in begun_keys] if begun_keys else []
    drafts = [*boxes.made, *(draft for draft, _ in boxes.bought), *boxes.waiting]
    prefetch_related_objects([thing for draft in drafts for thing in draft.contents], "location")
    keys = {id(draft): str(draft.housing.pk or NEW + place) for place, draft in enumerate(drafts)}
    batches = dict(campaign.memberships.values_list("object", "batch"))
    scores = scores_in(campaign)

    def facts_of(draft: Draft) -> BoxFacts:
        return facts_of_box(
            draft.housing,
            draft.blanks,
            draft.housing.recipe,
            draft.contents,
            key=keys[id(draft)],
            batch=min(batches.get(thing.pk, 1) for thing in draft.contents),
            score=max(scores.get(thing.pk, 0) for thing in draft.contents) / HUNDREDTHS,
        )

    made = [facts_of(draft) for draft in boxes.made]
    bought = [replace(facts_of(draft), ready_made=fit.box.key) for draft, fit in boxes.bought]
    wait = [draft for draft in boxes.waiting if draft.housing.problem in TO_MEASURE]
    hazards = {keys[id(draft)] for draft in drafts if any(thing.hazards for thing in draft.contents)}
    of_begun = begun.exclude(objects_in_it__hazards="").values_list("pk", flat=True)
    return ScenarioFacts(
        sorted([*stored, *made, *bought], key=_in_order),
        [_only_to_measure(facts_of(draft)) for draft in sorted(wait, key=lambda each: int(keys[id(each)]))],
        begun_keys,
        frozenset({*hazards, *map(str, of_begun)}),
    )


def _in_order(box: BoxFacts) -> tuple[int, str, float, str, int]:
    return box.batch, box.priority, -box.score, box.location, int(box.key)


def _only_to_measure(box: BoxFacts) -> BoxFacts:
    """A box of which no more is known than how many objects are to be measured, and where they are."""
    return BoxFacts(
        key=box.key, form="", design="", board="", objects=box.objects, to_measure=True,
        priority=box.priority, score=box.score, location=box.location,
    )  # fmt: skip
