"""Trees of cuts on the workbench: sound after whatever was put on them and cleared off them again."""

from dataclasses import dataclass, field

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from boards.core.nesting.compiled import trees
from boards.core.nesting.compiled.trees import (
    BEFORE,
    BIN,
    BIN_COLUMNS,
    FIRST,
    LINKS,
    NEXT,
    NODES,
    PARENT,
    PLACE,
    ROOM,
    SPARE,
    SPLIT,
    START,
    USED,
    WASTE,
    WAY,
    WHAT,
)
from tests.examples import few

SLOTS = 400
MOST_BLANKS = 40
ALONG, ACROSS = 100.0, 60.0
PLAIN_PYTHON = {name: what.py_func for name, what in vars(trees).items() if hasattr(what, "py_func")}

# A tree for comparing: its sides, what it is, the way of a split or the turn of a blank, its parts in order.
Shape = tuple[float, float, int, int, tuple]


@dataclass
class Workbench:
    """One sheet or corner of 100 x 60 units on a workbench, as number 3 of five that are kept."""

    number: int = 3
    bins: np.ndarray = field(default_factory=lambda: np.zeros((5, BIN_COLUMNS), np.int64))
    bin_sides: np.ndarray = field(default_factory=lambda: np.tile([ALONG, ACROSS, 0.0], (5, 1)))
    kept_side: np.ndarray = field(default_factory=lambda: np.zeros((3 * SLOTS, 2)))
    kept: np.ndarray = field(default_factory=lambda: np.zeros((3 * SLOTS, 3), np.int64))
    arena: np.ndarray = field(default_factory=lambda: np.array([7, 3 * SLOTS]))
    bin_of: np.ndarray = field(default_factory=lambda: np.full(MOST_BLANKS, -1))
    turned: np.ndarray = field(default_factory=lambda: np.zeros(MOST_BLANKS, np.int64))
    laid: set[int] = field(default_factory=set)

    def __post_init__(self) -> None:
        self.take_up()

    def take_up(self) -> None:
        """Begin on an empty workbench with what is kept."""
        self.side = np.full((SLOTS, 2), -1.0)
        self.link = np.full((SLOTS, LINKS), -77)
        self.waste, self.spare = np.zeros(SLOTS, np.int64), np.zeros(SLOTS, np.int64)
        self.tops, self.stack, self.above = np.zeros(3, np.int64), *np.zeros((2, SLOTS), np.int64)
        self.root = int(
            trees.take_up(
                self.number, self.bins, self.bin_sides, self.kept_side, self.kept, self.side, self.link,
                self.waste, self.tops,
            )
        )  # fmt: skip

    def lay_back(self) -> None:
        """Keep what is on the workbench."""
        trees.lay_back(
            self.number, self.root, self.bins, self.bin_sides, self.kept_side, self.kept, self.arena,
            self.side, self.link, self.stack, self.above, self.bin_of, self.turned,
        )  # fmt: skip

    def put(self, node: int, way: int, blank: int, turn: int, along: float, across: float) -> None:
        """Lay a blank, its sides as it lies."""
        trees.put(
            node, way, blank, turn, along, across, self.side, self.link, self.waste, self.spare, self.tops
        )
        self.laid.add(blank)

    def clear(self, node: int) -> list[int]:
        """Clear a node; returns the blanks that were on it."""
        pool = np.full(MOST_BLANKS + 1, -1)
        pool[0] = 1000
        count = trees.clear(
            node, self.side, self.link, self.waste, self.spare, self.tops, pool, 1, self.stack
        )
        assert pool[0] == 1000, "what was in the pool before stays there"
        return [int(blank) for blank in pool[1:count]]

    def clear_all(self) -> None:
        """Clear the root, if there is anything on it."""
        if self.link[self.root, WHAT] != WASTE:
            self.laid -= set(self.clear(self.root))

    def waste_nodes(self) -> list[int]:
        """The nodes listed as waste."""
        return [int(node) for node in self.waste[: self.tops[2]]]

    def parts(self, node: int) -> list[int]:
        """What a node is split into, in order."""
        found, part = [], int(self.link[node, FIRST])
        while part >= 0:
            found.append(part)
            part = int(self.link[part, NEXT])
        return found

    def nodes(self, root: int | None = None) -> list[int]:
        """Every node of the tree below one, itself first."""
        found = [self.root if root is None else root]
        for node in found:
            found += self.parts(node)
        return found

    def blanks(self, root: int | None = None) -> list[int]:
        """The blanks below a node."""
        return [int(self.link[node, WHAT]) for node in self.nodes(root) if self.link[node, WHAT] >= 0]

    def shape(self, node: int | None = None) -> Shape:
        """The tree below a node, without a word of where on the workbench it stands."""
        node = self.root if node is None else node
        what = int(self.link[node, WHAT])
        way = int(self.link[node, WAY]) if what != WASTE else 0
        parts = tuple(self.shape(part) for part in self.parts(node))
        return float(self.side[node, 0]), float(self.side[node, 1]), what, way, parts

    def faults(self) -> list[str]:
        """What is unsound about the tree and the lists kept beside it; read off the rules, not the code."""
        found, nodes = [], self.nodes()
        whats = {node: int(self.link[node, WHAT]) for node in nodes}
        for node in nodes:
            parts, way = self.parts(node), int(self.link[node, WAY])
            if self.link[node, BIN] != self.number:
                found.append(f"{node} is of another sheet")
            if min(self.side[node]) <= 0:
                found.append(f"{node} has a side of nothing")
            if (whats[node] == SPLIT) != bool(parts):
                found.append(f"{node} has {len(parts)} parts and is {whats[node]}")
            if not parts:
                continue
            if len(parts) == 1:
                found.append(f"{node} is split into one")
            if sum(self.side[part, way] for part in parts) != self.side[node, way]:
                found.append(f"the parts of {node} do not add up to it")
            if any(self.side[part, 1 - way] != self.side[node, 1 - way] for part in parts):
                found.append(f"a part of {node} is not as wide as it")
            if any(whats[part] == SPLIT and self.link[part, WAY] == way for part in parts):
                found.append(f"a part of {node} is split the same way")
            if sum(whats[part] == WASTE for part in parts) > 1:
                found.append(f"waste lies beside waste in {node}")
            if any(self.link[part, PARENT] != node for part in parts):
                found.append(f"a part of {node} names another parent")
            if [int(self.link[part, BEFORE]) for part in parts] != [-1, *parts[:-1]]:
                found.append(f"the parts of {node} are not linked both ways")
        if self.link[self.root, PARENT] != -1:
            found.append("the root has a parent")
        if sorted(self.waste_nodes()) != sorted(node for node in nodes if whats[node] == WASTE):
            found.append("the waste listed is not the waste there is")
        if [int(self.link[node, PLACE]) for node in self.waste_nodes()] != list(range(int(self.tops[2]))):
            found.append("waste does not know its place in the list")
        spare = [int(node) for node in self.spare[: self.tops[1]]]
        if sorted(nodes + spare) != list(range(int(self.tops[0]))):
            found.append("a slot is lost or used twice")
        if any(self.link[node, WHAT] != SPARE for node in spare):
            found.append("a spare slot still says that it is something")
        ends = sum(self.side[node, 0] * self.side[node, 1] for node in nodes if whats[node] != SPLIT)
        if ends != ALONG * ACROSS:
            found.append(f"blanks and waste cover {ends}")
        if sorted(self.blanks()) != sorted(self.laid):
            found.append("a blank is missing, or lies twice")
        return found


SHARES = st.floats(0, 1, exclude_max=True)
PUTS = st.tuples(st.just("put"), SHARES, st.integers(1, 100), st.integers(1, 60), st.integers(0, 3))
CLEARS = st.tuples(st.just("clear"), SHARES)
MOVES = st.lists(st.one_of(PUTS, PUTS, CLEARS), max_size=MOST_BLANKS)


def play(bench: Workbench, moves: list[tuple]) -> None:
    """Make the moves that can be made: each share picks one of the nodes there are."""
    blank = 0
    for move in moves:
        if move[0] == "put":
            _, share, along, across, how = move
            if not (waste := bench.waste_nodes()):
                continue
            node = waste[int(share * len(waste))]
            # Sides up to those of the node, and often just those, so that parts are filled to the edge.
            a, b = (min(side, bench.side[node, axis]) for axis, side in enumerate((along, across)))
            bench.put(node, how % 2, blank, how // 2, a, b)
            blank += 1
        else:
            nodes = [node for node in sorted(bench.nodes()) if bench.link[node, WHAT] != WASTE]
            if not nodes:
                continue
            node = nodes[int(move[1] * len(nodes))]
            there = bench.blanks(node)
            pooled = bench.clear(node)
            assert sorted(pooled) == sorted(there)
            bench.laid -= set(pooled)
        assert bench.faults() == []


@given(MOVES)
def test_tree_is_sound_after_every_move(moves):
    play(Workbench(), moves)


@few(15)
@given(MOVES)
def test_plain_functions_do_as_the_compiled_ones(moves):
    compiled, plain = Workbench(), Workbench()
    play(compiled, moves)

    with pytest.MonkeyPatch.context() as patch:
        for name, function in PLAIN_PYTHON.items():
            patch.setattr(trees, name, function)
        play(plain, moves)

    assert plain.shape() == compiled.shape()


@few(80)
@given(MOVES, MOVES)
def test_tree_laid_back_and_taken_up_again_is_the_same(before, after):
    bench = Workbench()
    play(bench, before)

    for moves in ([], after):
        if moves:
            bench.clear_all()
        play(bench, moves)
        shape, blanks = bench.shape(), bench.blanks()
        bench.bin_of[:] = -1
        bench.lay_back()
        bench.take_up()

        assert bench.shape() == shape
        assert bench.faults() == []
        assert sorted(np.flatnonzero(bench.bin_of == bench.number)) == sorted(blanks)


@few(60)
@given(MOVES)
def test_what_is_kept_says_how_much_is_in_use_and_how_each_blank_lies(moves):
    bench = Workbench()
    play(bench, moves)
    ends = [node for node in bench.nodes() if bench.link[node, WHAT] >= 0]

    bench.lay_back()

    assert bench.bin_sides[bench.number, USED] == sum(bench.side[node].prod() for node in ends)
    assert bench.bins[bench.number, NODES] == len(bench.nodes())
    assert {int(bench.link[n, WHAT]): int(bench.turned[bench.link[n, WHAT]]) for n in ends} == {
        int(bench.link[n, WHAT]): int(bench.link[n, WAY]) for n in ends
    }


@few(40)
@given(MOVES)
def test_clearing_the_root_leaves_one_waste_node_as_large_as_the_sheet(moves):
    bench = Workbench()
    play(bench, moves)
    bench.clear_all()

    assert bench.shape() == (ALONG, ACROSS, WASTE, 0, ())
    assert bench.faults() == []


# ---- By hand ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("way", "expected"),
    [
        # 40 x 25 on 100 x 60. First cut across, at x = 40: 40 + 60 along, then 25 + 35 in the near strip.
        (
            0,
            (100, 60, SPLIT, 0, (
                (40, 60, SPLIT, 1, ((40, 25, 7, 1, ()), (40, 35, WASTE, 0, ()))),
                (60, 60, WASTE, 0, ()),
            )),
        ),
        # First cut along, at y = 25: 25 + 35 across, then 40 + 60 in the near strip.
        (
            1,
            (100, 60, SPLIT, 1, (
                (100, 25, SPLIT, 0, ((40, 25, 7, 1, ()), (60, 25, WASTE, 0, ()))),
                (100, 35, WASTE, 0, ()),
            )),
        ),
    ],
)  # fmt: skip
def test_blank_in_an_empty_sheet_takes_two_cuts(way, expected):
    bench = Workbench()

    bench.put(bench.root, way, 7, 1, 40, 25)

    assert bench.shape() == expected


@pytest.mark.parametrize(
    ("along", "across", "expected"),
    [
        (100, 60, (100, 60, 7, 0, ())),
        (40, 60, (100, 60, SPLIT, 0, ((40, 60, 7, 0, ()), (60, 60, WASTE, 0, ())))),
        (100, 25, (100, 60, SPLIT, 1, ((100, 25, 7, 0, ()), (100, 35, WASTE, 0, ())))),
    ],
)
@pytest.mark.parametrize("way", [0, 1])
def test_blank_as_long_or_as_wide_as_the_sheet_takes_one_cut_or_none(way, along, across, expected):
    bench = Workbench()

    bench.put(bench.root, way, 7, 0, along, across)

    assert bench.shape() == expected


def test_third_strip_joins_the_split_of_the_first_two():
    # Strips of 40, 35 and 25 by 60: cut off the rest one after the other they are parts of one split.
    bench = Workbench()
    for blank, along in enumerate((40, 35, 25)):
        bench.put(bench.waste_nodes()[0], 0, blank, 0, along, 60)

    _, _, what, way, parts = bench.shape()

    assert (what, way) == (SPLIT, 0)
    assert sorted(part[:3] for part in parts) == [(25, 60, 2), (35, 60, 1), (40, 60, 0)]


def test_waste_of_a_strip_cleared_between_others_is_one_with_the_rest():
    # Of strips of 40 and 35 the first is cleared: 40 and the rest of 25 are waste together, 65.
    bench = Workbench()
    bench.put(bench.root, 0, 0, 0, 40, 60)
    first = next(node for node in bench.nodes() if bench.link[node, WHAT] == 0)
    bench.put(bench.waste_nodes()[0], 0, 1, 0, 35, 60)

    pooled = bench.clear(first)

    assert pooled == [0]
    _, _, _, _, parts = bench.shape()
    assert sorted(part[:3] for part in parts) == [(35, 60, 1), (65, 60, WASTE)]


def test_last_blank_of_a_sheet_cleared_leaves_the_sheet_whole():
    bench = Workbench()
    bench.put(bench.root, 0, 0, 0, 40, 25)

    pooled = bench.clear(next(node for node in bench.nodes() if bench.link[node, WHAT] == 0))

    assert pooled == [0]
    assert bench.shape() == (ALONG, ACROSS, WASTE, 0, ())
    # Four of the five slots are spare: the strip, its rest, the blank and the rest of the sheet.
    assert (bench.tops[0], bench.tops[1]) == (5, 4)


def test_tree_that_outgrows_its_room_moves_and_one_that_does_not_stays():
    # The first free place is 7. A tree of 1 node takes room for 1 + 0 + 4 = 5. A blank makes it 5 nodes:
    # a strip and the rest of the sheet, the blank and the rest of the strip. Each further one cuts a strip
    # off that rest, 3 nodes more: with four blanks they are 5 + 3 * 3 = 14, which move to 7 + 5 = 12, with
    # room for 14 + 7 + 4 = 25.
    bench, seen = Workbench(), []

    for blanks in ((), (0,), (1, 2, 3)):
        for blank in blanks:
            largest = max(bench.waste_nodes(), key=lambda node: bench.side[node].prod())
            bench.put(largest, 0, blank, 0, 10, 10)
        bench.lay_back()
        seen.append(bench.bins[bench.number, [NODES, START, ROOM]].tolist())

    assert seen == [[1, 7, 5], [5, 7, 5], [14, 12, 25]]
