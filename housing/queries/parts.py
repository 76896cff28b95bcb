"""The parts of a housing's enclosure as they were worked out, folded again from the stored blanks."""

from housing.core.enclosures.form import Part
from housing.models import Housing


def stored_parts(housing: Housing) -> list[Part]:
    """The parts in their order; none before the housing is planned."""
    blanks = list(housing.blanks.all())
    if not blanks or housing.design is None:
        return []
    board = housing.design.board.to_core()
    return [blank.to_part(board) for blank in blanks]
