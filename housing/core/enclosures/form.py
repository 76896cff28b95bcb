"""What every enclosure form declares, and what it is given to build from."""

import math
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from enum import StrEnum

from boards.core.board import BoardSpec
from housing.core.blank import Blank
from housing.core.clearances import InnerSize
from housing.core.enclosures.options import Choices, Option
from housing.core.flattening import flatten
from housing.core.folding import Box3, Folded, fold
from housing.core.marking_out import MarkingOut
from housing.core.panels import GlueJoint, PanelTree

BOARD = "board"


class Seat(StrEnum):
    """Where a part stands in the closed enclosure, in relation to its first part."""

    FIRST = "first"  # the part itself
    OVER = "over"  # turned over and slid over it, its floor on the rim
    INSIDE = "inside"  # lies on its floor
    ACROSS_X = "across x"  # stands upright inside, its length along x
    ACROSS_Y = "across y"  # stands upright inside, its length along y
    APART = "apart"  # belongs to it without a fixed place


@dataclass(frozen=True)
class Part:
    """One part of an enclosure, flat and folded, mm.

    material: "board", or what else it is cut from. at_mm: how far its middle lies from the middle of the
    first part's inside, along x and y. lift_mm: how far above its floor. thick_mm: of its material.
    """

    name: str
    blank: Blank
    folded: Folded
    seat: Seat = Seat.FIRST
    material: str = BOARD
    at_mm: tuple[float, float] = (0.0, 0.0)
    lift_mm: float = 0.0
    joints: tuple[GlueJoint, ...] = ()
    thick_mm: float = 0.0

    @property
    def inside(self) -> Box3:
        return self.folded.inside

    @property
    def outside(self) -> Box3:
        return self.folded.outside


@dataclass(frozen=True)
class Supply:
    """Something an enclosure needs besides board: what it is in words, and how many."""

    what: str
    count: int = 1


@dataclass(frozen=True)
class Built:
    """What a form builds: its parts, the one that holds the object first; supplies; notes for the reader.

    inside: the clear inside the form set out to give, where it is not what was asked, as with tissue added.
    solid: room and outside of what is not folded from board, as of a roll on its tube.
    loose_steps: by how many steps of the rule the inside may come out larger when positions are rounded.
    """

    parts: tuple[Part, ...]
    notes: tuple[str, ...] = ()
    supplies: tuple[Supply, ...] = ()
    inside: InnerSize | None = None
    solid: tuple[Box3, Box3] | None = None
    loose_steps: int = 2


@dataclass(frozen=True)
class Brief:
    """What a form is asked to build: clear inside in mm, board, its own choices, and how it is marked out."""

    inner: InnerSize
    board: BoardSpec
    choices: Choices
    marking_out: MarkingOut = field(default_factory=MarkingOut)

    @property
    def t(self) -> float:
        """The board's caliper, mm."""
        return self.board.caliper_mm

    @property
    def take_up(self) -> float:
        """What is added to a panel at each fold, mm; a nominal drawing adds nothing."""
        return self.board.fold_share * self.t if self.marking_out.is_compensated else 0.0

    def under(self, layers: float) -> float:
        """Room for layers of board beneath a wrapper's flap, mm; a nominal drawing leaves it out."""
        return layers * self.t if self.marking_out.is_compensated else 0.0

    @property
    def step(self) -> float:
        """The step positions are rounded to, mm, 0 for none."""
        return self.marking_out.step_mm

    def down(self, length_mm: float) -> float:
        """A length rounded down to the step of the rule, for what has to go into something else, mm."""
        return math.floor(length_mm / self.step + 1e-9) * self.step if self.step else length_mm

    def part(self, name: str, tree: PanelTree, seat: Seat = Seat.FIRST, **more) -> Part:  # type: ignore[no-untyped-def]
        """A panel tree, flat and folded, as a part of the enclosure."""
        blank = flatten(tree, self.board, self.marking_out)
        return Part(name, blank, fold(blank, self.board), seat, joints=tree.joints, thick_mm=self.t, **more)

    def inside_of(self, inner: InnerSize) -> "Brief":
        """The same brief for another clear inside."""
        return replace(self, inner=inner)


def least_glued(brief: Brief) -> float:
    """Least width of a flap from its own fold that leaves half of it to glue, mm.

    Next to its fold a flap stands off by what the fold takes up; positions may be rounded by some steps.
    """
    return max(2 * brief.board.fold_share, 0.5) * brief.t + 4 * brief.step


@dataclass(frozen=True)
class Form:
    """An enclosure form of the trade.

    suits: which objects, in one sentence. limits: up to which size and weight, and why, in one sentence.
    longest_mm, heaviest_g: the figures of that sentence; None where there is none. is_padded: whether a
    design's allowances are added around the object.
    """

    key: str
    name: str
    suits: str
    limits: str
    build: Callable[[Brief], Built]
    options: tuple[Option, ...] = ()
    longest_mm: float | None = None
    heaviest_g: float | None = None
    is_padded: bool = True
