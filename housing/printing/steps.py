"""What the maker does, in order and in plain words, and what to beware of; no arithmetic is left to do."""

from boards.models import Board
from housing.models import Housing
from housing.printing.papers import TWO_PEOPLE_G, contents_of, hazards_of, weight_g
from objects.models import CatalogueObject

# Common practice, no source: how a fold of each kind is made, and on which face.
SCORED = {
    Board.Fold.INSIDE: (
        "outside",
        "Carry the marks of the scores over the edge, turn the blank over, join them with the rule and cut "
        "half through the board on the outside face.",
    ),
    Board.Fold.MIDDLE: (
        "inside",
        "Join the marks of the scores with the rule and crease along it on the inside face with a bone "
        "folder; do not cut.",
    ),
    Board.Fold.OUTSIDE: (
        "inside",
        "Join the marks of the scores with the rule and relieve the board along it on the inside face, half "
        "through.",
    ),
}


def scored_face(board: Board) -> str:
    """The face scores are made on."""
    return SCORED[Board.Fold(board.fold_share)][0]


def steps_of(housing: Housing, places: list[str]) -> list[str]:
    """The steps for one box. places: where each blank comes from, one sentence a part."""
    design = housing.design
    receiving = "short" if design.flaps_on_long_walls else "long"
    all_parts = "each blank" if len(places) > 1 else "the blank"
    shelf = next((thing.location for thing in contents_of(housing) if thing.location), None)
    steps = [
        *places,
        f"Lay {all_parts} inside face up, the marked corner at your left hand and nearest to you. Make every "
        "mark of the drawing on both facing edges.",
        SCORED[Board.Fold(design.board.fold_share)][1],
        "Lay the rule through both marks of each cut, cut only as far as the table says, and take the "
        "hatched waste away.",
        f"Fold all walls and flaps up. Glue the four flaps to the outside of the {receiving} walls and hold "
        "them until the glue has set.",
    ]
    if design.has_lid:
        steps.append("Make the lid in the same way and try it on the base: it must slide down without force.")
    if design.padding:
        steps.append(f"Line the floor and the walls with {design.padding}.")
    steps.append("Stick the label on, check the object number, put the object in.")
    steps.append(
        f"Take the box to {shelf}." if shelf else "Take the box to its place and write the place down."
    )
    return steps


def cautions_of(things: list[CatalogueObject]) -> list[str]:
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
    if (weight := weight_g(things)) > TWO_PEOPLE_G:
        cautions.append(f"Two people: the contents weigh {weight / 1000:.1f} kg. Lift and carry together.")
    cautions.append("Knife: fresh blade, metal rule with finger guard; cut away from the hand that holds it.")
    cautions.append("Hot glue burns: keep fingers off nozzle and fresh glue.")
    return cautions
