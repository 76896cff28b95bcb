"""What an empty list says: what would be here, why it is not, and where to begin."""

from dataclasses import dataclass

from django.db.models import Model
from django.urls import reverse

from boards.models import Board, Supplier, Supply
from housing.models import Absence, Campaign, Design, FitCheck, Hold, Housing, Person, ReadyMadeBox, Task
from objects.core.words import noted, say
from objects.models import CatalogueObject, Location
from objects.readers import Reader

FIRST_STEPS = (noted("Take the first steps"), "housing:first-run", "", "")


@dataclass(frozen=True)
class Empty:
    """What stands in the place of an empty list.

    model: of whose records there is none. links: words, URL name, query, and the role that may follow it:
    "manager", "surveyor", "maker", or "" for everybody.
    """

    heading: str
    sentence: str
    model: type[Model]
    links: tuple[tuple[str, str, str, str], ...] = ()


@dataclass(frozen=True)
class EmptyPlace:
    """The same, said to one reader. links: words and address."""

    heading: str
    sentence: str
    links: tuple[tuple[str, str], ...]


PLACES = {
    "objects": Empty(
        noted("No objects yet"),
        noted(
            "Take in the list from your catalogue as it is: sizes may stand in words, and nothing is saved "
            "before you agree. Or enter one object by hand."
        ),
        CatalogueObject,
        (
            (noted("Take in a list"), "housing:import-start", "kind=objects", "surveyor"),
            (noted("New object"), "objects:object-new", "", "surveyor"),
            FIRST_STEPS,
        ),
    ),
    "need": Empty(
        noted("No objects yet"),
        noted(
            "As soon as objects are here, this page counts which of them need a box, by place and by "
            "kind."
        ),
        CatalogueObject,
        ((noted("Take in a list"), "housing:import-start", "kind=objects", "surveyor"), FIRST_STEPS),
    ),
    "figures": Empty(
        noted("Nothing to draw yet"),
        noted("As soon as objects are here, their sizes, their way into boxes and board are drawn here."),
        CatalogueObject,
        ((noted("Take in a list"), "housing:import-start", "kind=objects", "surveyor"), FIRST_STEPS),
    ),
    "export": Empty(
        noted("Nothing to take out yet"),
        noted("What you take in comes out again here, with the box and the place of each object."),
        CatalogueObject,
        ((noted("Take in a list"), "housing:import-start", "kind=objects", "surveyor"), FIRST_STEPS),
    ),
    "places": Empty(
        noted("No locations yet"),
        noted(
            "Enter the building first, then its rooms, bays and shelves. Lists of objects bring their "
            "locations along."
        ),
        Location,
        (
            (noted("New location"), "objects:location-new", "", "surveyor"),
            (noted("Take in a list"), "housing:import-start", "kind=objects", "surveyor"),
        ),
    ),
    "boards": Empty(
        noted("No boards yet"),
        noted(
            "Everything is measured by the board it is made of. Enter the boards you buy, each with its "
            "caliper, its sheets and their prices, or take in a list of them."
        ),
        Board,
        (
            (noted("New board"), "boards:board-new", "", "manager"),
            (noted("Take in a list"), "housing:import-start", "kind=boards", "manager"),
            FIRST_STEPS,
        ),
    ),
    "supplies": Empty(
        noted("No supply yet"),
        noted(
            "Enter the glue, tape, labels and paddings that you use, with packs and prices. Until they are "
            "here, budgets name them as missing."
        ),
        Supply,
        (
            (noted("New supply"), "boards:supply-new", "", "manager"),
            (noted("Take in a list"), "housing:import-start", "kind=supplies", "manager"),
        ),
    ),
    "suppliers": Empty(
        noted("No supplier yet"),
        noted("Without one, freight is not in any budget, and nobody knows when to order."),
        Supplier,
        ((noted("New supplier"), "boards:supplier-new", "", "manager"),),
    ),
    "stock": Empty(
        noted("Nothing is needed yet"),
        noted(
            "What is needed comes out of plans. Plan a campaign, and its board and supplies stand here."
        ),
        Task,
        ((noted("To the campaigns"), "housing:campaign-list", "", ""), FIRST_STEPS),
    ),
    "designs": Empty(
        noted("No designs yet"),
        noted(
            "A design says how a kind of box is made: its form, its board, and the room around the object. "
            "Make one, or take the samples and change them."
        ),
        Design,
        (
            (noted("New design"), "housing:design-new", "", "manager"),
            (noted("Take in a list"), "housing:import-start", "kind=designs", "manager"),
            FIRST_STEPS,
        ),
    ),
    "ready_made": Empty(
        noted("No ready-made boxes yet"),
        noted(
            "Enter the sizes that your suppliers sell, or take in a price list; a scenario can then buy"
            " them."
        ),
        ReadyMadeBox,
        (
            (noted("New box"), "housing:ready-made-new", "", "manager"),
            (noted("Take in a list"), "housing:import-start", "kind=ready_made", "manager"),
        ),
    ),
    "campaigns": Empty(
        noted("No campaigns yet."),
        noted(
            "A campaign says which objects are housed, how, and by whom. Make one, choose its objects in the "
            "object list, and plan it."
        ),
        Campaign,
        ((noted("New campaign"), "housing:campaign-new", "", "manager"), FIRST_STEPS),
    ),
    "people": Empty(
        noted("Nobody yet."),
        noted(
            "Enter who takes part, with hours a week and what each can do. Planning then gives out the work, "
            "and the budget knows what it costs."
        ),
        Person,
        (
            (noted("New person"), "housing:person-new", "", "manager"),
            (noted("Take in a list"), "housing:import-start", "kind=people", "manager"),
        ),
    ),
    "absences": Empty(
        noted("Nobody is away"),
        noted(
            "Days away are entered on the list of people, person by person; nobody is given work on "
            "them."
        ),
        Absence,
        ((noted("To the people"), "housing:person-list", "", ""),),
    ),
    "work": Empty(
        noted("No work yet"),
        noted(
            "There is nothing to do here. Work comes with a plan: each planned box gets its steps, one "
            "a task."
        ),
        Task,
        ((noted("To the campaigns"), "housing:campaign-list", "", ""), FIRST_STEPS),
    ),
    "bench": Empty(
        noted("Nothing to make yet"),
        noted(
            "The bench shows each person what comes next: a sheet to cut, then its boxes. It fills as soon "
            "as a campaign with people is planned."
        ),
        Task,
        ((noted("To the campaigns"), "housing:campaign-list", "", ""),
         (noted("To the people"), "housing:person-list", "", "")),
    ),
    "questions": Empty(
        noted("No question was asked yet"),
        noted(
            "Whoever works on a box can ask one on its page at the bench; the box waits until it is "
            "answered."
        ),
        Hold,
        ((noted("To the bench"), "housing:bench", "", "maker"),
         (noted("To the work list"), "housing:task-list", "", "")),
    ),
    "fit": Empty(
        noted("No box was tried yet"),
        noted(
            "Whoever finishes a box tries it at the bench before it goes back. What did not fit is counted "
            "here by its cause, with what it cost."
        ),
        FitCheck,
        ((noted("To the bench"), "housing:bench", "", "maker"),
         (noted("To the work list"), "housing:task-list", "", "")),
    ),
    "prints": Empty(
        noted("Nothing to print yet"),
        noted("Cut sheets and labels are printed of boxes. Boxes come with the plan of a campaign."),
        Housing,
        ((noted("To the campaigns"), "housing:campaign-list", "", ""), FIRST_STEPS),
    ),
    "report": Empty(
        noted("Nothing to report yet"),
        noted(
            "A report tells what was housed in a period, what it took and what it cost. It fills with "
            "the work."
        ),
        Housing,
        ((noted("To the campaigns"), "housing:campaign-list", "", ""), FIRST_STEPS),
    ),
}  # fmt: skip


def nothing_yet(key: str, reader: Reader) -> EmptyPlace | None:
    """What a reader is told where there is nothing at all; None where there is something."""
    empty = PLACES[key]
    if empty.model._default_manager.exists():
        return None
    return EmptyPlace(
        say(empty.heading),
        say(empty.sentence),
        tuple(
            (say(words), f"{reverse(name)}{'?' if query else ''}{query}")
            for words, name, query, role in empty.links
            if not role or reader.is_manager or role in reader.roles
        ),
    )
