"""Boxes of a campaign worked out in memory: contents, design, size and blanks; nothing is stored."""

from collections import defaultdict
from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, field

from django.db.models import Exists, OuterRef

from boards.core.board import BoardRefused
from housing.core.enclosures import Enclosure
from housing.core.errors import EnclosureError
from housing.models import Blank, Campaign, Design, HousedObject, Housing
from housing.services.choosing import Choice
from housing.services.housings import design_enclosure, set_sizes
from housing.services.nesting import NeededBlank
from objects.core.words import say
from objects.models import CatalogueObject

OPEN = (Housing.Status.WAITING, Housing.Status.PLANNED)
SIZES = tuple(f"{which}_{side}_mm" for which in ("inner", "outside") for side in "xyz")
COSTS = ("board_cost", "glue_cost", "padding_cost", "labour_cost", "labour_minutes")
PLANNED_FIELDS = (
    "design_id", "design_reason", "advice", "status", "problem", "problem_note", "notes", "supplies",
    *SIZES, *COSTS,
)  # fmt: skip


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
        return cls(housing, list(contents), stored=worked_out(housing) if housing.pk else [])

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


type Maker = Callable[[Draft], Enclosure]


def enclosure_of(draft: Draft) -> Enclosure:
    """The enclosure that a draft's design, with what the rules advise, gives for its objects."""
    return design_enclosure(design=draft.housing.recipe, contents=draft.contents)


def drafts_of(campaign: Campaign, besides: Collection[int] = ()) -> list[Draft]:
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


def worked_out(housing: Housing) -> list:
    """What planning has worked out for a housing, to see whether it changes."""
    return [getattr(housing, name) for name in PLANNED_FIELDS]


def find_rows(campaign: Campaign, drafts: list[Draft]) -> list[int]:
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


def needed_blanks(campaign: Campaign, drafts: list[Draft], stored: Iterable[Blank]) -> Iterable[NeededBlank]:
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


def work_out(draft: Draft, chosen: Choice, make: Maker = enclosure_of) -> None:
    """Design, size and blanks of a housing, or the reason why there are none. make: its enclosure."""
    housing = draft.housing
    draft.design = housing.design = chosen.design
    housing.advice, housing.design_reason = chosen.advice, chosen.reason if chosen.design else ""
    for thing in draft.contents:
        which = f"{thing.number}: " if len(draft.contents) > 1 else ""
        if thing.size_state == CatalogueObject.SizeState.MISSING:
            lacking = say("Not fully measured. Measure height, width and depth.")
            draft.wait(Housing.Problem.UNMEASURED, which + lacking)
            return
        if thing.size_state == CatalogueObject.SizeState.CHECK:
            draft.wait(Housing.Problem.CHECK, which + (thing.dimensions_note or say("Check its size.")))
            return
    if draft.design is None:
        draft.wait(Housing.Problem.NO_DESIGN, chosen.reason)
        return
    try:
        enclosure = make(draft)
    except (EnclosureError, BoardRefused) as refused:
        draft.wait(Housing.Problem.REFUSED, f"{draft.design}: {refused}")
        return
    set_sizes(housing, enclosure)
    housing.status, housing.problem, housing.problem_note = Housing.Status.PLANNED, "", ""
    draft.blanks = [Blank.from_part(housing, part) for part in enclosure.parts]
