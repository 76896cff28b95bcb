"""What the maker does, in order and in plain words, and what to beware of; no arithmetic is left to do."""

from collections.abc import Sequence

from housing.core.enclosures.form import Part
from housing.core.making import making_steps
from housing.models import Housing
from housing.printing.cut_lines import is_left
from housing.printing.papers import TWO_PEOPLE_G, contents_of, hazards_of, weight_g
from housing.printing.scoring import scoring_step
from housing.queries.handling import BoxHandling
from objects.core.words import decimal, say
from objects.models import CatalogueObject
from objects.readers import Reader


def steps_of(housing: Housing, parts: Sequence[Part], places: Sequence[str], reader: Reader) -> list[str]:
    """The steps for one box. parts: as they were worked out. places: sentences on where blanks come from."""
    design = housing.recipe
    shelf = next((thing.location for thing in contents_of(housing) if thing.location), None)
    steps = [*places, _laying(reader)]
    if any(part.blank.scores for part in parts):
        steps.append(scoring_step(design.board))
    if any(part.blank.cuts for part in parts):
        steps.append(
            say(
                "Cut in the order of the circles, the rule through both marks, only as far as the table "
                "says; take the hatched waste away."
            )
        )
    steps += [reader.sentence(step) for step in making_steps(parts)]
    if design.padding:
        steps.append(say("Line the floor and the walls with {padding}.", padding=design.padding))
    steps.append(say("Stick the label on, check the object number, put the object in."))
    steps.append(
        say("Take the box to {shelf}.", shelf=shelf)
        if shelf
        else say("Take the box to its place and write the place down.")
    )
    return steps


def _laying(reader: Reader) -> str:
    """How blanks lie before they are marked: the corner measured from is where the rule's end is held."""
    if is_left(reader):
        return say(
            "Lay each blank inside face up, the marked corner near you at the right. Make every mark on both "
            "facing edges."
        )
    return say(
        "Lay each blank inside face up, the marked corner near you at the left. Make every mark on both "
        "facing edges."
    )


def cautions_of(things: list[CatalogueObject], handling: BoxHandling) -> list[str]:
    """What to beware of, the hazards of the objects first."""
    hazards = hazards_of(things)
    cautions = []
    if hazards:
        cautions.append(
            say(
                "Hazards: {hazards}. Follow local codes and your safety officer, and ask a conservator "
                "before you handle or enclose the object.",
                hazards=", ".join(map(str, hazards)),
            )
        )
    if str(CatalogueObject.Hazard.NITRATE.label) in map(str, hazards):
        cautions.append(
            say("No hot glue near cellulose nitrate: it catches fire easily. Glue before it comes near.")
        )
    if handling.gross_g is not None:
        cautions += handling.sentences
    elif (weight := weight_g(things)) > TWO_PEOPLE_G:
        cautions.append(
            say(
                "Two people: the contents weigh {weight} kg. Lift and carry together.",
                weight=decimal(float(weight) / 1000, 1),
            )
        )
    cautions.append(
        say("Knife: fresh blade, metal rule with finger guard; cut away from the hand that holds it.")
    )
    cautions.append(say("Hot glue burns: keep fingers off nozzle and fresh glue."))
    return cautions
