"""How far a new museum is on its way to the first plan: four steps, each done once something is there."""

from dataclasses import dataclass

from django.urls import reverse

from boards.models import Board, SheetSize
from housing.models import Campaign, CuttingPlan, Design, HousedObject, Housing, Job
from housing.queries.campaigns import open_plan_job
from housing.queries.objects import POORLY_HOUSED, UNHOUSED, objects_with_status
from housing.queries.samples import taken_samples
from objects.core.words import noted, say
from objects.models import CatalogueObject

# Key, what to do in a few words, why.
STEPS = (
    ("boards", noted("Enter your boards"), noted("Which boards you buy, in which sheets and at what price.")),
    (
        "objects",
        noted("Take in your list of objects"),
        noted("A list from your catalogue, with sizes as they were written."),
    ),
    ("designs", noted("Describe your designs"), noted("The boxes you make, with their allowances.")),
    (
        "campaign",
        noted("Plan a campaign"),
        noted("Which objects are housed, with which design, and by whom."),
    ),
)


@dataclass(frozen=True)
class FirstStep:
    """One step. url: its place on the page of first steps; is_next: the first that is not done."""

    key: str
    words: str
    why: str
    is_done: bool
    is_next: bool

    @property
    def number(self) -> int:
        return [key for key, *_ in STEPS].index(self.key) + 1

    @property
    def url(self) -> str:
        return f"{reverse('housing:first-run')}#{self.key}"


def first_steps() -> tuple[FirstStep, ...]:
    """The four steps in their order."""
    done = {
        "boards": SheetSize.objects.exists(),
        "objects": CatalogueObject.objects.exists(),
        "designs": Design.objects.exists(),
        "campaign": CuttingPlan.objects.exists(),
    }
    following = next((key for key, is_done in done.items() if not is_done), "")
    return tuple(
        FirstStep(key, say(words), say(why), done[key], key == following) for key, words, why in STEPS
    )


def is_begun_museum(steps: tuple[FirstStep, ...]) -> bool:
    """Whether all four steps are done."""
    return all(step.is_done for step in steps)


@dataclass(frozen=True)
class Standing:
    """What the page of first steps shows besides the steps themselves.

    counts: records by kind. taken: kinds of samples that are here. job: the planning that goes on, or the
    last one where it failed. campaign: the planned one, else the newest. first_object: key of the object
    whose cut sheet is printed first.
    """

    counts: dict[str, int]
    taken: frozenset[str]
    in_need: int
    campaign: Campaign | None
    is_planned: bool
    job: Job | None
    first_object: int | None


def standing() -> Standing:
    planned = Campaign.objects.filter(plan__isnull=False).order_by("pk").first()
    campaign = planned or Campaign.objects.order_by("-pk").first()
    return Standing(
        counts={
            "boards": Board.objects.count(),
            "sheets": SheetSize.objects.count(),
            "objects": CatalogueObject.objects.count(),
            "designs": Design.objects.count(),
            "boxes": Housing.objects.filter(campaign=campaign, status=Housing.Status.PLANNED).count(),
            "waiting": Housing.objects.filter(campaign=campaign, status=Housing.Status.WAITING).count(),
        },
        taken=frozenset(taken_samples()),
        in_need=objects_in_need().count(),
        campaign=campaign,
        is_planned=planned is not None,
        job=_planning(campaign) if campaign and not planned else None,
        first_object=_first_object(planned) if planned else None,
    )


def objects_in_need():
    """Objects that need a box and have none yet."""
    return objects_with_status().filter(housing_status__in=(UNHOUSED, POORLY_HOUSED))


def _planning(campaign: Campaign) -> Job | None:
    """The planning of a campaign that waits or runs, or the last one."""
    jobs = Job.objects.filter(kind=Job.Kind.PLAN, parameters__campaign=campaign.pk)
    return open_plan_job(campaign) or jobs.order_by("-pk").first()


def _first_object(campaign: Campaign) -> int | None:
    """The object with the lowest number whose box has blanks."""
    boxes = Housing.objects.filter(campaign=campaign, blanks__isnull=False)
    ties = HousedObject.objects.filter(housing__in=boxes, is_live=True).order_by("object__number_key")
    return ties.values_list("object", flat=True).first()
