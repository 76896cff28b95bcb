"""What a box weighs with its contents, and so who may lift it and how high it may be stacked."""

from dataclasses import dataclass

from housing.core.clearances import MM2_PER_M2
from housing.core.handling.lifting import Handling, assess
from housing.core.handling.stacking import StackingRefused, StoreConditions, stack
from housing.models import Housing
from objects.core.words import say
from objects.models import CatalogueObject

G_PER_KG = 1000


@dataclass(frozen=True)
class BoxHandling:
    """Gross weight in grams, None where something is not known; lifting and stacking in sentences."""

    gross_g: float | None
    lifting: Handling | None
    sentences: tuple[str, ...]
    boxes_high: int | None = None

    @property
    def two_people(self) -> bool:
        return self.lifting is not None and self.lifting.two_people


def handling_of(housing: Housing) -> BoxHandling:
    """How to lift and stack a box; its blanks, board and objects should have been fetched with it.

    Nothing is guessed: without a weight of every object and of the board there is only the sentence that says
    what to find out.
    """
    things = [tie.object for tie in housing.contents.all()]
    gross = gross_g(housing, things)
    if gross is None:
        return BoxHandling(None, None, (_missing(housing, things),))
    has_holes = any(o["name"] == "hand hole" for b in housing.blanks.all() for o in b.geometry["openings"])
    lifting = assess(gross / G_PER_KG, float(housing.outside_y_mm), has_holes)
    boxes, stacking = _stacking(housing, gross / G_PER_KG)
    return BoxHandling(gross, lifting, (lifting.sentence, stacking), boxes)


def gross_g(housing: Housing, things: list[CatalogueObject]) -> float | None:
    """Objects and board together, grams; None when one of them has no weight on record."""
    if housing.design is None or not housing.outside_y_mm or not things:
        return None
    grammage = housing.design.board.grammage_g_m2
    if grammage is None or any(thing.weight_g is None for thing in things):
        return None
    area = sum(blank.to_core().board_area_mm2 for blank in housing.blanks.all() if blank.is_board)
    return float(sum(thing.weight_g for thing in things)) + area / MM2_PER_M2 * float(grammage)


def _missing(housing: Housing, things: list[CatalogueObject]) -> str:
    unweighed = [thing.number for thing in things if thing.weight_g is None]
    if unweighed:
        return say(
            "Gross weight not known: weigh {unweighed} before the box is lifted or stacked.",
            unweighed=", ".join(unweighed[:3]),
        )
    return say("Gross weight not known: the board has no grammage. Ask its supplier.")


def _stacking(housing: Housing, gross_kg: float) -> tuple[int | None, str]:
    board = housing.design.board  # type: ignore[union-attr]
    if board.construction == board.Construction.SOLID:
        return None, say(
            "No stacking estimate: the formula is for corrugated board. Do not stack it unasked."
        )
    if not board.edge_crush_kn_m:
        return None, say(
            "No stacking estimate: the board's edge crush is not known. Ask its supplier for it."
        )
    inside = tuple(float(side) for side in (housing.inner_x_mm, housing.inner_y_mm, housing.inner_z_mm))
    try:
        made = stack(
            gross_kg, inside, board.to_core().caliper_mm, float(board.edge_crush_kn_m), StoreConditions()
        )
    except StackingRefused as refused:
        return None, str(refused)
    return made.boxes, made.sentence
