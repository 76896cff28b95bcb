"""What the maker does, in order and in plain words, and what to beware of; no arithmetic is left to do."""

from housing.core.making import making_steps
from housing.models import Housing
from housing.printing.papers import TWO_PEOPLE_G, contents_of, hazards_of, weight_g
from housing.printing.scoring import scoring_step
from housing.queries.handling import BoxHandling
from housing.queries.parts import stored_parts
from objects.models import CatalogueObject
from objects.readers import Reader


def steps_of(housing: Housing, places: list[str], reader: Reader) -> list[str]:
    """The steps for one box. places: where each blank comes from, one sentence a part."""
    design = housing.recipe
    parts = stored_parts(housing)
    shelf = next((thing.location for thing in contents_of(housing) if thing.location), None)
    all_parts = "each blank" if len(parts) > 1 else "the blank"
    steps = [
        *places,
        f"Lay {all_parts} inside face up, the marked corner at your left hand and nearest to you. Make every "
        "mark of the drawing on both facing edges.",
    ]
    if any(part.blank.scores for part in parts):
        steps.append(scoring_step(design.board))
    if any(part.blank.cuts for part in parts):
        steps.append(
            "Lay the rule through both marks of each cut, cut only as far as the table says, and take the "
            "hatched waste away."
        )
    steps += [reader.sentence(step) for step in making_steps(parts)]
    if design.padding:
        steps.append(f"Line the floor and the walls with {design.padding}.")
    steps.append("Stick the label on, check the object number, put the object in.")
    steps.append(
        f"Take the box to {shelf}." if shelf else "Take the box to its place and write the place down."
    )
    return steps


def cautions_of(things: list[CatalogueObject], handling: BoxHandling) -> list[str]:
    """What to beware of, the hazards of the objects first."""
    hazards = hazards_of(things)
    cautions = []
    if hazards:
        cautions.append(
            f"Hazards: {', '.join(hazards)}. Follow local codes and your safety officer, and ask a "
            "conservator before you handle or enclose the object."
        )
    if CatalogueObject.Hazard.NITRATE.label in hazards:
        cautions.append(
            "No hot glue near cellulose nitrate: it catches fire easily. Glue before it comes near."
        )
    if handling.gross_g is not None:
        cautions += handling.sentences
    elif (weight := weight_g(things)) > TWO_PEOPLE_G:
        cautions.append(f"Two people: the contents weigh {weight / 1000:.1f} kg. Lift and carry together.")
    cautions.append("Knife: fresh blade, metal rule with finger guard; cut away from the hand that holds it.")
    cautions.append("Hot glue burns: keep fingers off nozzle and fresh glue.")
    return cautions
