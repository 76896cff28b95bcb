"""The boxes of a campaign as a scenario has them, worked out in memory: made, bought, waiting, left out."""

from collections.abc import Iterator, Mapping
from copy import copy
from dataclasses import dataclass, field, replace
from decimal import Decimal

from boards.models import Board
from housing.core.budget.lines import Problem, Target
from housing.core.choosing import Piece
from housing.core.clearances import InnerSize, inner_size, lined
from housing.core.enclosures import Enclosure, make_enclosure
from housing.core.orientation import orientations
from housing.core.ready_made import BoughtBox, Fit, Limits, Room, choose, fit, holds_as_a_box
from housing.core.scenarios import Differences
from housing.models import Campaign, Design, Housing, SizeFamily
from housing.queries.ready_made import ListedBox, boxes_to_buy
from housing.services.choosing import Choice, DesignChoice
from housing.services.drafts import Draft, drafts_of, enclosure_of, work_out
from housing.services.enclosing import measured
from housing.services.nesting import Progress
from objects.core.words import say, say_count

BUFFERED = {"buffered": True, "unbuffered": False}
TELL_EVERY = 200  # boxes between two reports of how far it is


@dataclass
class WorkedOut:
    """Open boxes of a campaign. made: with their blanks; bought: each with the box that is bought for it.

    waiting: those that cannot be worked out, their housings saying why. left_out: how many are not asked for.
    notes: what to look at, in words.
    """

    made: list[Draft] = field(default_factory=list)
    bought: list[tuple[Draft, Fit]] = field(default_factory=list)
    waiting: list[Draft] = field(default_factory=list)
    left_out: int = 0
    notes: list[Problem] = field(default_factory=list)


def boxes_of_scenario(
    campaign: Campaign,
    differences: Differences,
    family: SizeFamily | None,
    price_list: list[ListedBox],
    progress: Progress,
) -> WorkedOut:
    """Work out the open boxes with what is different; nothing is stored. family: of standard sizes."""
    choice, swaps = DesignChoice.of(campaign), _Swaps(differences)
    sizes = _StandardSizes(family) if family else None
    found, drafts = WorkedOut(), drafts_of(campaign)
    asked = [draft for draft in drafts if _is_asked_for(draft, differences)]
    found.left_out = len(drafts) - len(asked)
    for number, draft in enumerate(asked):
        if number % TELL_EVERY == 0:
            progress(
                2 + 10 * number // len(asked),
                say("Working out box {number:,} of {count:,}", number=number + 1, count=len(asked)),
            )
        chosen = swaps.apply(choice.choose(draft.contents))
        if not (sizes and sizes.work_out(draft, chosen)):
            work_out(draft, chosen)
        is_made = draft.housing.status == Housing.Status.PLANNED
        (found.made if is_made else found.waiting).append(draft)
    if differences.ready_made:
        limits = Limits(differences.ready_made.slack_mm, differences.ready_made.heaviest_g)
        _buy(found, price_list, limits)
    found.notes += [*swaps.notes(), *(sizes.notes() if sizes else ())]
    return found


def _is_asked_for(draft: Draft, differences: Differences) -> bool:
    if differences.only_priorities:
        most_urgent = min(thing.priority for thing in draft.contents)
        if most_urgent not in differences.only_priorities:
            return False
    only = differences.only_objects
    return only is None or any(thing.pk in only for thing in draft.contents)


# ---- Other designs and boards ----------------------------------------------------------------------------


class _Swaps:
    """Designs and boards that stand in place of others, each looked up once."""

    def __init__(self, differences: Differences) -> None:
        self.board, self.design = differences.board, differences.design
        self.designs = Design.objects.select_related("board").in_bulk(set(self.design.values()))
        self.boards = Board.objects.in_bulk(set(self.board.values()))
        self._on_other: dict[tuple[int, int], Design] = {}
        self.against = 0  # boxes on board of another kind than the rules advise

    def apply(self, chosen: Choice) -> Choice:
        design = chosen.design
        if design is None:
            return chosen
        design = self.designs.get(self.design.get(design.pk, 0), design)
        if board := self.boards.get(self.board.get(design.board_id, 0)):
            design = self._on_board(design, board)
            advised = BUFFERED.get(_value(chosen.advice, Piece.BOARD_KIND))
            self.against += advised is not None and advised != board.is_buffered
        return chosen if design is chosen.design else replace(chosen, design=design)

    def _on_board(self, design: Design, board: Board) -> Design:
        key = design.pk, board.pk
        if key not in self._on_other:
            other = copy(design)
            other.board = board
            self._on_other[key] = other
        return self._on_other[key]

    def notes(self) -> Iterator[Problem]:
        if self.against:
            yield Problem(
                say(
                    "The other board is buffered, or unbuffered, against the rules for {boxes}",
                    boxes=_boxes(self.against),
                ),
                say("These boxes would lie on a board that the rules advise against"),
                say("Take another board, or ask a conservator before it is bought"),
                Target("rules"),
                makes_incomplete=False,
            )


def _value(advice: Mapping, piece: Piece) -> str:
    return str(advice.get(piece.value, {}).get("value", ""))


# ---- Standard sizes --------------------------------------------------------------------------------------


class _StandardSizes:
    """A family of sizes: boxes of its objects are made in one of them, where it still holds them."""

    def __init__(self, family: SizeFamily) -> None:
        self.design, self.limits = family.design, Limits(float(family.slack_mm))
        self.sizes = [InnerSize(*map(float, sides)) for sides in family.result["sizes"]]
        self.of = {int(pk): int(index) for pk, index in family.result["of"].items()}
        self._made: dict[tuple[object, ...], Enclosure] = {}
        self.custom = 0

    def work_out(self, draft: Draft, chosen: Choice) -> bool:
        """Work a box out in its standard size; False, with nothing done, where it has none that holds it."""
        index = self.of.get(draft.contents[0].pk)
        if index is None or len(draft.contents) > 1 or chosen.design is None:
            self.custom += 1
            return False
        standard = replace(chosen, design=self.design)
        work_out(draft, standard, make=enclosure_of)
        size = BoughtBox("", "", self.sizes[index], Decimal())
        is_made = draft.housing.status == Housing.Status.PLANNED
        if not (is_made and fit(Room("", (_inside(draft),)), size, self.limits)):
            self.custom += 1
            return False
        work_out(draft, standard, make=lambda draft: self._enclosure(draft, index))
        return True

    def _enclosure(self, draft: Draft, index: int) -> Enclosure:
        recipe = draft.housing.recipe
        key = index, recipe.board_id
        if key not in self._made:
            self._made[key] = make_enclosure(
                recipe.form,
                self.sizes[index],
                recipe.board.to_core(),
                recipe.to_choices(),
                recipe.to_marking_out(),
            )
        return self._made[key]

    def notes(self) -> Iterator[Problem]:
        if self.custom:
            yield Problem(
                say(
                    "{boxes} made to measure, since no standard size was found to hold them",
                    boxes=_boxes(self.custom),
                ),
                say("They are in the figures, in sizes of their own"),
                say("Find the family of sizes again if many objects have come or changed since"),
                Target("sizes"),
                makes_incomplete=False,
            )


# ---- Bought ----------------------------------------------------------------------------------------------


def room_of(draft: Draft) -> Room | None:
    """The clear inside that the contents of a box need, for every way they may lie; None for a form that no
    plain box stands in for."""
    recipe, housing = draft.housing.recipe, draft.housing
    if not holds_as_a_box(recipe.form) or not all(blank.is_board for blank in draft.blanks):
        return None
    if len(draft.contents) == 1:
        ways = tuple(
            lined(inner_size(way.size, recipe.to_allowances()), float(recipe.lining_mm))
            for way in orientations(measured(draft.contents[0]))
        )
    else:  # side by side, as they were arranged
        ways = (_inside(draft),)
    weights = [thing.weight_g for thing in draft.contents]
    known = [float(grams) for grams in weights if grams is not None]
    return Room(
        key=str(id(draft)),
        ways=ways,
        buffered=BUFFERED.get(_value(housing.advice, Piece.BOARD_KIND)),
        weight_g=sum(known) if known else None,
    )


def _inside(draft: Draft) -> InnerSize:
    """The clear inside of a box as it was worked out."""
    return InnerSize(*(float(getattr(draft.housing, f"inner_{side}_mm")) for side in "xyz"))


def _buy(found: WorkedOut, price_list: list[ListedBox], limits: Limits) -> None:
    """Take from the boxes that are made those for which one can be bought."""
    rooms = [room for draft in found.made if (room := room_of(draft))]
    fits = dict(choose(rooms, boxes_to_buy(price_list), limits))
    found.bought = [(draft, fits[str(id(draft))]) for draft in found.made if str(id(draft)) in fits]
    found.made = [draft for draft in found.made if str(id(draft)) not in fits]
    for draft, bought in found.bought:
        _put_into(draft.housing, bought, price_list)
        draft.blanks = []
    found.notes += _notes_on_buying(found, price_list)


def _put_into(housing: Housing, bought: Fit, price_list: list[ListedBox]) -> None:
    """Give a housing the sizes of the box that is bought for it."""
    wall = 2 * next(one.box.wall_mm for one in price_list if str(one.box.pk) == bought.box.key)
    inside = bought.box.inside
    x, y = (inside.y_mm, inside.x_mm) if bought.is_turned else (inside.x_mm, inside.y_mm)
    for side, length in (("x", x), ("y", y), ("z", inside.z_mm)):
        inner = round(Decimal(length), 4)
        setattr(housing, f"inner_{side}_mm", inner)
        setattr(housing, f"outside_{side}_mm", inner + wall)
    housing.supplies = []


def _notes_on_buying(found: WorkedOut, price_list: list[ListedBox]) -> Iterator[Problem]:
    target = Target("ready_made")
    if not price_list:
        yield Problem(
            say("The price list of ready-made boxes is empty"), say("Every box is made"),
            say("Enter the sizes that can be bought"), target, makes_incomplete=False,
        )  # fmt: skip
    for one in price_list:
        if told := one.fault or one.doubt:
            yield Problem(
                f"{one.box.name}: {told[0].lower()}{told[1:]}",
                say("It is not bought") if one.fault else say("It is bought at that price all the same"),
                say("Correct it on the price list, or take it off"),
                target,
                makes_incomplete=False,
            )
    asking = sum(bool(_asked_standards(draft)) for draft, _ in found.bought)
    if asking:
        yield Problem(
            say(
                "Board that meets certain standards is asked for in {boxes} that would be bought",
                boxes=_boxes(asking),
            ),
            say("The price list does not say what a box is made of"),
            say("Have the supplier state it before you buy"),
            target,
            makes_incomplete=False,
        )


def _asked_standards(draft: Draft) -> list[str]:
    return [*draft.housing.recipe.asks_for, *draft.housing.advice.get(Piece.STANDARD.value, ())]


def _boxes(number: int) -> str:
    return say_count("{count:,} box", "{count:,} boxes", number)
