"""A plan while it is searched for: trees of cuts by sheet and corner, and the blanks left out."""

from collections.abc import Iterable, Iterator, Sequence
from copy import copy
from dataclasses import dataclass
from decimal import Decimal
from typing import Self

import numpy as np

from boards.core.nesting.compiled.filling import fill
from boards.core.nesting.compiled.places import (
    BLANK_COLUMNS,
    BOTH_WAYS,
    CORNERS,
    GUESTS_OF,
    HELD_OF,
    WAYS,
)
from boards.core.nesting.compiled.trees import (
    BIN_COLUMNS,
    CORNER,
    GUESTS,
    HELD,
    HOST,
    KEPT_PARENT,
    KEPT_WAY,
    KEPT_WHAT,
    KIND,
    NODES,
    ROOM,
    SPLIT,
    START,
    USED,
    WASTE,
)
from boards.core.nesting.job import Job, Numbers, Wholes

NODES_A_SHEET = 32  # room kept for the tree of a sheet at first; it moves when it outgrows it
SPARE_NODES = 60_000


# What a search changes of a plan; the rest stays as it is asked.
CHANGING = (
    "about", "bin_of", "turned", "bins", "bin_sides", "kept_side", "kept", "arena", "opened", "out"
)  # fmt: skip


@dataclass
class State:
    """Blanks on sheets and in corners; compiled/places.py and compiled/trees.py name the columns.

    bins: corners first, then sheets in the order they were opened. opened: numbers of the open sheets.
    out: blanks that lie nowhere.
    """

    job: Job
    blanks: Numbers
    about: Wholes
    bin_of: Wholes
    turned: Wholes
    bins: Wholes
    bin_sides: Numbers
    kept_side: Numbers
    kept: Wholes
    arena: Wholes
    opened: list[int]
    out: list[int]
    scale: float
    corner_count: int

    @classmethod
    def of(cls, job: Job, todo: Sequence[int]) -> "State":
        """Nothing laid yet. todo: the blanks to be laid."""
        count = job.count
        scale = 1.0 / max(kind.area for kind in job.kinds)
        areas = job.areas
        blanks = np.column_stack([job.sides, areas, areas * (1.0 + 0.5 * areas * scale)])
        about = np.full((count, BLANK_COLUMNS), -1, np.int64)
        about[:, WAYS] = np.where(job.may_turn, BOTH_WAYS, 1)
        about[:, GUESTS_OF:] = 0
        in_stock = [kind.stock > 0 for kind in job.kinds]
        turned = np.where(job.straight[:, in_stock].any(axis=1), 0, 1).astype(np.int64)
        bins, bin_sides = corner_bins(job, todo, about)
        return cls(
            job, blanks, about, np.full(count, -1, np.int64), turned, bins, bin_sides,
            np.zeros((0, 2)), np.zeros((0, 3), np.int64), np.zeros(2, np.int64), [], list(todo), scale,
            len(bins),
        )  # fmt: skip

    # ---- Sheets --------------------------------------------------------------------------------------

    def open(self, kinds: Iterable[int]) -> list[int]:
        """Open empty sheets of these kinds; returns their numbers."""
        asked = list(kinds)
        shut = sorted(set(range(self.corner_count, len(self.bins))) - set(self.opened))
        new = max(0, len(asked) - len(shut))
        first = len(self.bins)
        self.bins = np.vstack([self.bins, np.zeros((new, BIN_COLUMNS), np.int64)])
        self.bin_sides = np.vstack([self.bin_sides, np.zeros((new, 3))])
        numbers = [*shut, *range(first, first + new)][: len(asked)]
        for number, index in zip(numbers, asked, strict=True):
            kind = self.job.kinds[index]
            self.bins[number, KIND], self.bins[number, HOST], self.bins[number, NODES] = index, -1, 0
            self.bin_sides[number] = kind.a, kind.b, 0.0
        self.opened += numbers
        return numbers

    def close(self, numbers: Iterable[int]) -> None:
        """Take the blanks off some sheets and do without these."""
        gone = set(numbers)
        for number in gone:
            for blank, _, _, _ in self.laid(number):
                self.bin_of[blank] = -1
                self.out.append(blank)
            self.bins[number, NODES] = 0
            self.bin_sides[number, USED] = 0.0
        self.opened = [number for number in self.opened if number not in gone]

    def free_guests(self) -> bool:
        """Take the guests out of the corners of blanks that lie nowhere; returns whether there were any."""
        corners = [corner for blank in self.out for corner in self.corners_of(blank)]
        for corner in corners:
            host = self.host_of(corner)
            self.about[host, GUESTS_OF] -= self.bins[corner, GUESTS]
            self.about[host, HELD_OF] -= self.bins[corner, HELD]
            guests = self.blanks_of(corner)
            self.bin_of[guests] = -1
            self.out += guests
            self.bins[corner, [NODES, GUESTS, HELD]] = 0
            self.bin_sides[corner, USED] = 0.0
        return bool(corners)

    def close_empty(self) -> None:
        """Do without sheets on which nothing lies."""
        self.close([number for number in self.opened if self.bin_sides[number, USED] == 0])

    # ---- What lies where -----------------------------------------------------------------------------

    def laid(self, number: int) -> Iterator[tuple[int, float, float, bool]]:
        """Blanks of a sheet or corner: blank, x, y in units from its near corner, turned."""
        for node in positions(self, number):
            if node.what >= 0:
                yield node.what, node.x, node.y, bool(node.way)

    def write(self, number: int, root: "Node") -> None:
        """Keep a tree as that of a sheet or corner; its blanks are taken to lie there from now on."""
        nodes: list[tuple[Node, int]] = []
        waiting = [(root, -1)]
        while waiting:
            node, parent = waiting.pop()
            waiting += [(part, len(nodes)) for part in node.parts]
            nodes.append((node, parent))
        self.make_room(2 * len(nodes))
        start = int(self.arena[0])
        self.bins[number, START], self.bins[number, NODES] = start, len(nodes)
        self.bins[number, ROOM] = len(nodes) + 8
        self.arena[0] += len(nodes) + 8
        used = 0.0
        for place, (node, parent) in enumerate(nodes, start=start):
            self.kept_side[place] = node.a, node.b
            self.kept[place, [KEPT_PARENT, KEPT_WHAT, KEPT_WAY]] = parent, node.what, node.way
            if node.what >= 0:
                self.bin_of[node.what], self.turned[node.what] = number, node.way
                used += node.a * node.b
        self.bin_sides[number, USED] = used

    def host_of(self, number: int) -> int:
        """The blank whose corner a bin is."""
        return int(self.bins[number, HOST])

    def kind_of(self, number: int) -> int:
        """Index of a sheet's kind."""
        return int(self.bins[number, KIND])

    def free_share(self, number: int) -> float:
        """Share of a sheet on which nothing lies, kerfs not counted as free."""
        along, across, used = self.bin_sides[number]
        return float(1 - used / (along * across))

    def blanks_of(self, number: int) -> list[int]:
        """The blanks in a tree, in no order that means anything."""
        start, count = self.bins[number, START], self.bins[number, NODES]
        what = self.kept[start : start + count, KEPT_WHAT]
        return [int(blank) for blank in what[what >= 0]]

    def corners_of(self, blank: int) -> list[int]:
        """The corners of a blank that have guests."""
        first = int(self.about[blank, CORNERS])
        corners = range(first, first + 4) if first >= 0 else ()
        return [corner for corner in corners if self.bins[corner, GUESTS]]

    def counts(self) -> list[int]:
        """How many sheets of each kind are open."""
        kinds = self.bins[self.opened, KIND] if self.opened else np.zeros(0, np.int64)
        return [int(count) for count in np.bincount(kinds, minlength=len(self.job.kinds))]

    @property
    def money(self) -> Decimal:
        """What the open sheets cost."""
        pairs = zip(self.job.kinds, self.counts(), strict=True)
        return sum((kind.price(int(count)) for kind, count in pairs), Decimal(0))

    @property
    def area_out(self) -> float:
        """Area of the blanks left out, square units."""
        return float(self.blanks[self.out, 2].sum()) if self.out else 0.0

    @property
    def value(self) -> tuple[float, Decimal, int, float]:
        """What a plan is judged by, smaller is better.

        Area left out, money, sheets, and how evenly free room is spread: room gathered on one sheet counts
        for more than the same room on many, because it is what saves the next sheet or makes a large offcut.
        """
        sides = self.bin_sides[self.opened]
        areas = sides[:, 0] * sides[:, 1]
        free = 1 - sides[:, USED] / areas if len(areas) else areas
        return (
            round(self.area_out * self.scale, 9),
            self.money,
            len(self.opened),
            -float((areas * self.scale * free**2).sum()),
        )

    def copy(self) -> Self:
        """The same plan, to go on with while this one is kept."""
        twin = copy(self)
        for name in CHANGING:
            setattr(twin, name, getattr(self, name).copy())
        return twin

    def become(self, other: "State") -> None:
        """Take over another plan of the same job."""
        vars(self).update(vars(other))

    # ---- Room for trees ------------------------------------------------------------------------------

    @property
    def most_nodes(self) -> int:
        """Nodes of the largest tree."""
        return int(self.bins[:, NODES].max(initial=0))

    def make_room(self, nodes: int) -> None:
        """See that so many nodes can be kept beyond those that are; trees that moved give back their room."""
        if self.arena[1] - self.arena[0] >= nodes:
            return
        rooms = np.where(self.bins[:, NODES] > 0, self.bins[:, NODES] + self.bins[:, NODES] // 4 + 2, 0)
        starts = np.concatenate([[0], np.cumsum(rooms)])
        total = int(starts[-1])
        size = total + 2 * nodes + total // 4
        kept_side, kept = np.zeros((size, 2)), np.zeros((size, 3), np.int64)
        for number in np.flatnonzero(rooms):
            old, n, new = self.bins[number, START], self.bins[number, NODES], starts[number]
            kept_side[new : new + n] = self.kept_side[old : old + n]
            kept[new : new + n] = self.kept[old : old + n]
        self.bins[:, START], self.bins[:, ROOM] = starts[:-1], rooms
        self.kept_side, self.kept = kept_side, kept
        self.arena[:] = total, size

    # ---- Filling -------------------------------------------------------------------------------------

    def fill(self, numbers: Sequence[int], chance: "np.ndarray") -> int:
        """Lay blanks left out on sheets or in corners, the largest first; returns how many were laid."""
        laid_in_all, remaining = 0, np.array(numbers, np.int64)
        if not self.out or not len(remaining):
            return 0
        order = np.array(sorted(self.out, key=lambda blank: (-self.blanks[blank, 2], blank)), np.int64)
        after = np.arange(len(order) + 1)
        self.make_room(SPARE_NODES + NODES_A_SHEET * len(remaining) + 8 * len(order))
        laid_in_all = fill(
            remaining, order, after, float(self.blanks[order[-1], 2]), self.blanks, self.about, self.bin_of,
            self.turned, self.bins, self.bin_sides, self.kept_side, self.kept, self.arena, self.scale, chance,
        )  # fmt: skip
        self.out = [int(blank) for place, blank in enumerate(order) if after[place] == place]
        return int(laid_in_all)


@dataclass
class Node:
    """A node with its place on the sheet or corner, in units, and the nodes it is split into."""

    what: int
    way: int
    x: float
    y: float
    a: float
    b: float
    parts: list["Node"]

    def transpose(self) -> None:
        """Change the two axes for each other, in all parts too."""
        waiting = [self]
        while waiting:
            node = waiting.pop()
            node.a, node.b = node.b, node.a
            if node.what != WASTE:
                node.way = 1 - node.way
            waiting += node.parts


def tree(state: State, number: int) -> Node:
    """The tree of a bin with places: blanks and splits from long to short, waste last."""
    start, count = int(state.bins[number, START]), int(state.bins[number, NODES])
    if not count:
        a, b = state.bin_sides[number, :2]
        return Node(WASTE, 0, 0.0, 0.0, float(a), float(b), [])
    sides = state.kept_side[start : start + count].tolist()
    links = state.kept[start : start + count].tolist()
    nodes = [
        Node(link[KEPT_WHAT], link[KEPT_WAY], 0.0, 0.0, a, b, [])
        for (a, b), link in zip(sides, links, strict=True)
    ]
    for node, link in zip(nodes[1:], links[1:], strict=True):
        nodes[link[KEPT_PARENT]].parts.append(node)
    set_places(nodes[0])
    return nodes[0]


def set_places(root: Node) -> None:
    """Put the parts of every split one after the other, from long to short, waste last."""
    waiting = [root]
    while waiting:
        node = waiting.pop()
        if node.what != SPLIT:
            continue
        way = node.way
        node.parts.sort(
            key=lambda part: (part.what == WASTE, -(part.a if way == 0 else part.b), -part.a * part.b)
        )
        x, y = node.x, node.y
        for part in node.parts:
            part.x, part.y = x, y
            x, y = (x + part.a, y) if way == 0 else (x, y + part.b)
        waiting += node.parts


def positions(state: State, number: int) -> Iterator[Node]:
    """The nodes of a tree that are not split."""
    waiting = [tree(state, number)]
    while waiting:
        node = waiting.pop()
        if node.what == SPLIT:
            waiting += reversed(node.parts)
        else:
            yield node


def corner_bins(job: Job, todo: Sequence[int], about: Wholes) -> tuple[Wholes, Numbers]:
    """Four bins for each blank from whose corners some other could be cut; notes the first of each."""
    if not len(job.corners) or not todo:
        return np.zeros((0, BIN_COLUMNS), np.int64), np.zeros((0, 3))
    chosen = np.array(todo)
    least = float(job.sides[chosen].min())
    least_area = float(job.areas[chosen].min())
    large = (job.corners.min(axis=2) >= least) & (job.corners.prod(axis=2) >= least_area)
    hosts = [blank for blank in todo if large[blank].any()]
    bins = np.zeros((4 * len(hosts), BIN_COLUMNS), np.int64)
    bin_sides = np.zeros((4 * len(hosts), 3))
    about[hosts, CORNERS] = 4 * np.arange(len(hosts))
    bins[:, KIND] = CORNER
    bins[:, HOST] = np.repeat(np.array(hosts, np.int64), 4)
    bin_sides[:, :2] = np.where(large[hosts][:, :, None], job.corners[hosts], 0.0).reshape(-1, 2)
    return bins, bin_sides
