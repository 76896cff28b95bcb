"""What planning a campaign again would change of designs, boards, padding and marks; nothing is stored."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from housing.core.choosing import PIECES, Piece, mark_names
from housing.models import Campaign, Housing
from housing.models.housings import RECIPE, marks_of, recipe_of
from housing.queries.choosing import SeenObject, boxes_to_choose_for
from housing.services.choosing import Choice, DesignChoice
from objects.core.words import say

NO_DESIGN = "No design"
type Cause = tuple[int | None, str]


@dataclass(frozen=True)
class Made:
    """How a box is made, in words: design, board, padding with allowances, and marks on its label."""

    design: str
    board: str
    padding: str
    marks: str


@dataclass(frozen=True)
class Change:
    """One box that planning again would change. now: None where there is no box yet.

    causes: for each thing that changes the position of the rule behind it, None for none, and why.
    """

    contents: tuple[SeenObject, ...]
    now: Made | None
    then: Made
    causes: tuple[Cause, ...]
    by_hand: bool

    @property
    def both(self) -> tuple[Made | None, Made]:
        """Now and then."""
        return self.now, self.then


@dataclass
class DryRun:
    """What planning again would change. overrides: objects whose design was chosen by hand; they keep it.

    begun: boxes being made or done, which planning never touches.
    """

    changes: list[Change] = field(default_factory=list)
    new: int = 0
    changed: int = 0
    same: int = 0
    without: int = 0
    overrides: int = 0
    begun: int = 0


def dry_run(campaign: Campaign) -> DryRun:
    """Choose for every open box as planning would, and compare with how each stands now."""
    choice, found = DesignChoice.of(campaign), DryRun()
    found.overrides = len(choice.by_hand)
    open_boxes = []
    for box in boxes_to_choose_for(campaign):
        if box.is_open:
            open_boxes.append(box)
        else:
            found.begun += 1
    stored = _stored(campaign)
    for box in open_boxes:
        chosen = choice.choose(box.contents)
        housing = stored.get(box.box) if box.box is not None else None
        then = Housing(design=chosen.design, advice=chosen.advice)
        found.without += chosen.design is None
        if housing is not None and _essence(housing) == _essence(then):
            found.same += 1
            continue
        found.new += housing is None
        found.changed += housing is not None
        found.changes.append(
            Change(
                contents=box.contents,
                now=_made(housing) if housing is not None else None,
                then=_made(then),
                causes=tuple(_causes(housing, chosen)),
                by_hand="by_hand" in chosen.advice,
            )
        )
    return found


def _stored(campaign: Campaign) -> dict[int, Housing]:
    housings = Housing.objects.filter(campaign=campaign).select_related("design__board")
    return housings.defer("notes", "supplies").in_bulk()


def _essence(housing: Housing) -> tuple[Any, ...]:
    """What makes two ways of making a box the same."""
    return housing.design_id, recipe_of(housing.advice), sorted(marks_of(housing.advice))


def _made(housing: Housing) -> Made:
    recipe = housing.recipe
    if recipe is None:
        return Made(NO_DESIGN, "", "", "")
    allowances = (
        f"{recipe.height_allowance_mm:.1f} mm on the height, {recipe.side_allowance_mm:.1f} mm a side"
    )
    return Made(
        design=recipe.name,
        board=recipe.board.code,
        padding=f"{recipe.padding or 'None'}; {allowances}",
        marks=", ".join(mark_names(marks_of(housing.advice))),
    )


def _causes(housing: Housing | None, chosen: Choice) -> Iterator[Cause]:
    """What changes about a box, each with the rule that says so."""
    before, after = housing.advice if housing is not None else {}, chosen.advice
    if housing is None or housing.design_id != (chosen.design and chosen.design.pk):
        yield _deciding(after), chosen.reason
    for piece in RECIPE:
        told, label = after.get(piece), say(PIECES[Piece(piece)])
        if told and told["value"] != before.get(piece, {}).get("value"):
            yield told["position"], f"{label}: {told['words']}. {told['reason']}".strip()
        elif piece in before and not told:
            yield None, f"{label}: no longer advised, so as the design has it."
    for told in after.get("marks", ()):
        if told["value"] not in marks_of(before):
            yield told["position"], f"Mark: {told['words']}. {told['reason']}".strip()
    if gone := [mark for mark in marks_of(before) if mark not in marks_of(after)]:
        yield None, f"Marks no longer advised: {', '.join(mark_names(gone))}."


def _deciding(advice: dict[str, Any]) -> int | None:
    """The position of the rule that decides the design: by its name, or by its form."""
    if "by_hand" in advice:
        return None
    decided = advice.get("design") or advice.get("form")
    return decided["position"] if decided else None
