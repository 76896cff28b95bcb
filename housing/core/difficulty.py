"""How hard an enclosure is to make, from what there is to fold and to join."""

from housing.core.budget.facts import BoxFacts

EASY, ORDINARY, HARD = "easy", "ordinary", "hard"

# Each form is as hard as the hardest of these says: up to the first figure easy, up to the second ordinary.
# Assumed, no source: one tray, whose four walls and corner flaps are eight folds and four joints, is what
# newcomers are shown first; two such parts that have to slide over one another are what a practised person
# makes every day; more parts, folds or joints have to be kept square to one another.
BLANKS = (1, 2)
FOLDS = (8, 16)
JOINTS = (4, 10)
# Assumed: what is inserted, tied on or lined apart has to be fitted to the rest.
OTHER_PARTS = (1, 4)


def difficulty(box: BoxFacts) -> str:
    """EASY, ORDINARY or HARD, by the parts of board, folds, glue joints and other parts of a box.

    A box that is bought or not yet worked out has none of them and is easy.
    """
    counts = (
        (box.blanks, BLANKS),
        (box.folds, FOLDS),
        (box.joints, JOINTS),
        (len(box.supplies), OTHER_PARTS),
    )
    if any(number > most for number, (_, most) in counts):
        return HARD
    return ORDINARY if any(number > few for number, (few, _) in counts) else EASY
