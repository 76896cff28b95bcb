"""Trees of cuts on the workbench: taken up from where they are kept, changed node by node, laid back.

On the workbench a node k has sides side[k, 0] and side[k, 1] and the links of the columns named below.
`waste` lists the waste nodes, `spare` the free slots; tops[0] is how many slots were ever used, tops[1] how
many are spare, tops[2] how many waste nodes there are.
"""

import numpy as np

from boards.core.nesting.compiled.machine_code import compiled, inlined

WASTE, SPLIT, SPARE = -1, -2, -9
# Columns of a node's links on the workbench.
PARENT, FIRST, NEXT, BEFORE, WHAT, WAY, PLACE, BIN = range(8)
LINKS = 8
# Columns of a node where trees are kept: they stand parents first.
KEPT_PARENT, KEPT_WHAT, KEPT_WAY = range(3)
# Columns of a bin: where its nodes are kept, for how many there is room, how many there are, the kind of
# sheet (or CORNER), the blank whose corner it is, its guests and those of them whose flutes are fixed.
START, ROOM, NODES, KIND, HOST, GUESTS, HELD = range(7)
BIN_COLUMNS = 7
CORNER = -1
# Columns of a bin's sides: along, across, and the area in use.
ALONG, ACROSS, USED = range(3)


@compiled
def workbench(size):
    """Room for so many nodes: side, link, waste, spare, and two lists for walking through trees."""
    return (
        np.zeros((size, 2)), np.zeros((size, LINKS), np.int64), np.zeros(size, np.int64),
        np.zeros(size, np.int64), np.zeros(size, np.int64), np.zeros(size, np.int64),
    )  # fmt: skip


@inlined
def slot(spare, tops):
    """A slot for a new node."""
    if tops[1] > 0:
        tops[1] -= 1
        return spare[tops[1]]
    tops[0] += 1
    return tops[0] - 1


@inlined
def give_back(node, link, spare, tops):
    """A slot that is no longer needed."""
    link[node, WHAT] = SPARE
    spare[tops[1]] = node
    tops[1] += 1


@inlined
def note_waste(node, link, waste, tops):
    """Make a node waste and list it."""
    link[node, WHAT] = WASTE
    link[node, PLACE] = tops[2]
    waste[tops[2]] = node
    tops[2] += 1


@inlined
def forget_waste(node, link, waste, tops):
    """Take a node off the list of waste."""
    place = link[node, PLACE]
    tops[2] -= 1
    last = waste[tops[2]]
    waste[place] = last
    link[last, PLACE] = place


@compiled
def take_up(number, bins, bin_sides, kept_side, kept, side, link, waste, tops):
    """Lay the tree of a bin on the workbench; returns its root."""
    start, count = bins[number, START], bins[number, NODES]
    root = tops[0]
    if count == 0:
        tops[0] += 1
        side[root, 0], side[root, 1] = bin_sides[number, ALONG], bin_sides[number, ACROSS]
        link[root, PARENT] = link[root, FIRST] = link[root, NEXT] = link[root, BEFORE] = -1
        link[root, BIN] = number
        note_waste(root, link, waste, tops)
        return root
    for k in range(count):
        node = root + k
        side[node, 0], side[node, 1] = kept_side[start + k, 0], kept_side[start + k, 1]
        link[node, WHAT], link[node, WAY] = kept[start + k, KEPT_WHAT], kept[start + k, KEPT_WAY]
        link[node, FIRST] = link[node, NEXT] = link[node, BEFORE] = -1
        link[node, BIN] = number
        parent = kept[start + k, KEPT_PARENT]
        if parent >= 0:
            parent += root
            first = link[parent, FIRST]
            link[node, NEXT] = first
            if first >= 0:
                link[first, BEFORE] = node
            link[parent, FIRST] = node
        link[node, PARENT] = parent
        if link[node, WHAT] == WASTE:
            note_waste(node, link, waste, tops)
    tops[0] += count
    return root


@compiled
def size_of(root, link, stack):
    """How many nodes a tree has."""
    count, top = 0, 1
    stack[0] = root
    while top:
        top -= 1
        node = stack[top]
        count += 1
        child = link[node, FIRST]
        while child >= 0:
            stack[top] = child
            top += 1
            child = link[child, NEXT]
    return count


@compiled
def lay_back(number, root, bins, bin_sides, kept_side, kept, arena, side, link, stack, above, bin_of, turned):
    """Keep the tree of a bin as it now is on the workbench, elsewhere if it has outgrown its room.

    arena: the first free place for trees and the first beyond. bin_of, turned: by blank, kept up to date.
    """
    count = size_of(root, link, stack)
    if count > bins[number, ROOM]:
        room = count + count // 2 + 4
        bins[number, START], bins[number, ROOM] = arena[0], room
        arena[0] += room
    start = bins[number, START]
    top, k, used = 1, 0, 0.0
    stack[0], above[0] = root, -1
    while top:
        top -= 1
        node, parent = stack[top], above[top]
        kept_side[start + k, 0], kept_side[start + k, 1] = side[node, 0], side[node, 1]
        kept[start + k, KEPT_PARENT] = parent
        what = link[node, WHAT]
        kept[start + k, KEPT_WHAT], kept[start + k, KEPT_WAY] = what, link[node, WAY]
        if what >= 0:
            bin_of[what], turned[what] = number, link[node, WAY]
            used += side[node, 0] * side[node, 1]
        child = link[node, FIRST]
        while child >= 0:
            stack[top], above[top] = child, k
            top += 1
            child = link[child, NEXT]
        k += 1
    bins[number, NODES] = k
    bin_sides[number, USED] = used


@compiled
def unlink(node, link):
    """Take a node out from among its neighbours."""
    parent, before, after = link[node, PARENT], link[node, BEFORE], link[node, NEXT]
    if before >= 0:
        link[before, NEXT] = after
    else:
        link[parent, FIRST] = after
    if after >= 0:
        link[after, BEFORE] = before


@compiled
def clear(node, side, link, waste, spare, tops, pool, count, stack):
    """Turn a blank or a split into waste, one with any waste beside it; its blanks join the pool.

    count: blanks in the pool so far. Returns how many there are then.
    """
    if link[node, WHAT] >= 0:
        pool[count] = link[node, WHAT]
        count += 1
    else:
        top, child = 0, link[node, FIRST]
        while child >= 0:
            stack[top] = child
            top += 1
            child = link[child, NEXT]
        while top:
            top -= 1
            below = stack[top]
            what = link[below, WHAT]
            if what >= 0:
                pool[count] = what
                count += 1
            elif what == WASTE:
                forget_waste(below, link, waste, tops)
            else:
                child = link[below, FIRST]
                while child >= 0:
                    stack[top] = child
                    top += 1
                    child = link[child, NEXT]
            give_back(below, link, spare, tops)
        link[node, FIRST] = -1
    while link[node, PARENT] >= 0:
        parent = link[node, PARENT]
        way, beside = link[parent, WAY], link[parent, FIRST]
        while beside >= 0:
            if beside != node and link[beside, WHAT] == WASTE:
                side[node, way] += side[beside, way]
                forget_waste(beside, link, waste, tops)
                unlink(beside, link)
                give_back(beside, link, spare, tops)
                break
            beside = link[beside, NEXT]
        if link[parent, FIRST] != node or link[node, NEXT] >= 0:
            break
        give_back(node, link, spare, tops)
        link[parent, FIRST] = -1
        node = parent
    note_waste(node, link, waste, tops)
    return count


@compiled
def hang(child, parent, side, link, way, length):
    """Make a node the first of those a parent is split into, so long in the way of the split."""
    first = link[parent, FIRST]
    side[child, way] = length
    side[child, 1 - way] = side[parent, 1 - way]
    link[child, PARENT], link[child, BIN] = parent, link[parent, BIN]
    link[child, FIRST] = link[child, BEFORE] = -1
    link[child, NEXT] = first
    if first >= 0:
        link[first, BEFORE] = child
    link[parent, FIRST] = child


@compiled
def halve(node, way, length, side, link, waste, spare, tops):
    """Split a node that is not listed as waste: the first part so long, the rest waste. Returns the first."""
    link[node, WHAT], link[node, WAY], link[node, FIRST] = SPLIT, way, -1
    rest = slot(spare, tops)
    hang(rest, node, side, link, way, side[node, way] - length)
    note_waste(rest, link, waste, tops)
    part = slot(spare, tops)
    hang(part, node, side, link, way, length)
    return part


@compiled
def part_off(node, way, length, side, link, waste, spare, tops):
    """Cut a part so long off a waste node; returns the part, which is not listed as waste."""
    parent = link[node, PARENT]
    if parent < 0 or link[parent, WAY] != way:
        forget_waste(node, link, waste, tops)
        return halve(node, way, length, side, link, waste, spare, tops)
    side[node, way] -= length
    part = slot(spare, tops)
    hang(part, parent, side, link, way, length)
    return part


@compiled
def put(node, way, blank, turn, along, across, side, link, waste, spare, tops):
    """Lay a blank in a waste node that holds it, the first cut in the given way."""
    first, second = (along, across) if way == 0 else (across, along)
    if side[node, way] > first:
        node = part_off(node, way, first, side, link, waste, spare, tops)
        if side[node, 1 - way] > second:
            node = halve(node, 1 - way, second, side, link, waste, spare, tops)
    elif side[node, 1 - way] > second:
        node = part_off(node, 1 - way, second, side, link, waste, spare, tops)
    else:
        forget_waste(node, link, waste, tops)
    link[node, WHAT], link[node, WAY] = blank, turn
