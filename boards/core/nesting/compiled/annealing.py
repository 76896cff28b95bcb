"""The search: a few blanks off one or two sheets, then these and some left out laid anew, again and again."""

import numpy as np

from boards.core.nesting.compiled.chance import below, share
from boards.core.nesting.compiled.machine_code import compiled, inlined
from boards.core.nesting.compiled.places import (
    BLANK_AREA,
    BLANK_WEIGHT,
    CORNERS,
    best_place,
    put_at,
    recount,
)
from boards.core.nesting.compiled.pool import draw_waiting, put_in_order
from boards.core.nesting.compiled.trees import (
    ACROSS,
    ALONG,
    BIN,
    GUESTS,
    HOST,
    KEPT_WHAT,
    NODES,
    PARENT,
    SPLIT,
    START,
    USED,
    WHAT,
    clear,
    lay_back,
    take_up,
    workbench,
)

# Measured on campaigns of 500 and 5,000 objects: with 4 taken off at most, twice as much stays out at the end
# as with 14 to 18; how many of those that wait are tried matters little from 10 on.
MOST_TAKEN_OFF = 14
MOST_WAITING = 15
BLINK = 0.01
NOISE = 0.3
TRIES = 8
MOST_BINS = 16
CORNER_MOVES = 0.5  # share of the moves that take up corners too
MOST_HOSTS = 2


@compiled
def some_host(opened, count, bins, kept, about, in_pool, chance):
    """A blank on any open sheet that has corners and is not in the pool; -1 if none was hit upon."""
    for _ in range(TRIES):
        number = opened[below(chance, count)]
        nodes = bins[number, NODES]
        if nodes == 0:
            continue
        what = kept[bins[number, START] + below(chance, nodes), KEPT_WHAT]
        if what >= 0 and about[what, CORNERS] >= 0 and not in_pool[what]:
            return what
    return -1


@inlined
def free(number, bin_sides):
    """Area of a sheet on which nothing lies."""
    return bin_sides[number, ALONG] * bin_sides[number, ACROSS] - bin_sides[number, USED]


@compiled
def anneal(
    blanks, about, bin_of, turned, bins, bin_sides, kept_side, kept, arena, opened, count, out, out_count,
    scale, reward, hot, cold, work, chance, in_pool,
):  # fmt: skip
    """Move blanks on the open sheets, more boldly while it is hot; returns the work done.

    blanks, about: by blank, see places.py. bin_of, turned: where and how each blank lies. bins, bin_sides,
    kept_side, kept: the trees, see trees.py; arena: the first free place for trees and the first beyond.
    opened, count: the numbers of the open sheets. out, out_count: blanks left out, and how many. scale: 1
    over the area of a sheet. reward: what it counts for a blank to lie in a corner, beside being left out.
    hot, cold: temperatures, in sheets. work: how much may be done, counted in places looked at and nodes
    moved. chance: state of the random numbers. in_pool: room for a mark a blank.
    Ends early once nothing is left out any more, or when the room for trees may run out.
    Source: ruin and recreate on trees of cuts, J. Gardeyn and T. Wauters, European J. Oper. Res. 2022; the
        annealing, and corners as further bins, are our own.
    """
    size = 4096
    side, link, waste, spare, stack, above = workbench(size)
    pool, order, key = np.zeros(size, np.int64), np.zeros(size, np.int64), np.zeros(size)
    tops, found = np.zeros(3, np.int64), np.zeros(3, np.int64)
    roots, numbers = np.zeros(MOST_BINS, np.int64), np.zeros(MOST_BINS, np.int64)
    hosts = np.zeros(MOST_HOSTS, np.int64)
    is_host = np.zeros(len(blanks), np.bool_)
    cooling = cold / hot
    heat = hot
    done, move = 0, 0
    while done < work:
        if move % 256 == 0:
            heat = hot * cooling ** (done / work)
        move += 1
        # A move may touch a few bins; each may move to a new place, half as large again.
        if arena[1] - arena[0] < 2 * size or out_count[0] + size > len(out):
            return done
        tops[:] = 0
        first = opened[below(chance, count)]
        other = opened[below(chance, count)]
        rival = opened[below(chance, count)]
        if free(rival, bin_sides) > free(first, bin_sides):
            first = rival
        rival = opened[below(chance, count)]
        if free(rival, bin_sides) > free(other, bin_sides):
            other = rival
        numbers[0] = first
        taken_up = 1
        if other != first:
            numbers[1] = other
            taken_up = 2
        needed = 0
        for k in range(taken_up):
            needed += bins[numbers[k], NODES]
        if 2 * needed + 256 > size:
            size = 2 * (2 * needed + 256)
            side, link, waste, spare, stack, above = workbench(size)
            pool, order, key = np.zeros(size, np.int64), np.zeros(size, np.int64), np.zeros(size)
            if arena[1] - arena[0] < 2 * size or out_count[0] + size > len(out):
                return done
        for k in range(taken_up):
            roots[k] = take_up(numbers[k], bins, bin_sides, kept_side, kept, side, link, waste, tops)
        in_hand = 0
        slots = tops[0]
        for _ in range(1 + below(chance, min(MOST_TAKEN_OFF, 2 + slots // 4))):
            for _ in range(TRIES):
                node = below(chance, slots)
                what = link[node, WHAT]
                if what >= 0 or (what == SPLIT and (link[node, PARENT] >= 0 or share(chance) < 0.02)):
                    in_hand = clear(node, side, link, waste, spare, tops, pool, in_hand, stack)
                    break
        from_corners = 0.0
        host_count = 0
        if reward > 0 and share(chance) < CORNER_MOVES:
            for k in range(in_hand):
                in_pool[pool[k]] = True
            for k in range(1 + below(chance, MOST_HOSTS)):
                host = some_host(opened, count, bins, kept, about, in_pool, chance)
                if host >= 0 and (k == 0 or host_count == 0 or hosts[0] != host):
                    hosts[host_count] = host
                    host_count += 1
            for k in range(in_hand):
                in_pool[pool[k]] = False
            for h in range(host_count):
                for corner in range(about[hosts[h], CORNERS], about[hosts[h], CORNERS] + 4):
                    if bin_sides[corner, ALONG] <= 0 or 2 * (tops[0] + bins[corner, NODES]) + 256 > size:
                        continue
                    numbers[taken_up] = corner
                    is_host[hosts[h]] = True
                    lowest = tops[0]
                    roots[taken_up] = take_up(
                        corner, bins, bin_sides, kept_side, kept, side, link, waste, tops
                    )
                    taken_up += 1
                    if bins[corner, GUESTS] > 0 and share(chance) < 0.5:
                        node = lowest + below(chance, tops[0] - lowest)
                        if link[node, WHAT] >= 0 or link[node, WHAT] == SPLIT:
                            before_count = in_hand
                            in_hand = clear(node, side, link, waste, spare, tops, pool, in_hand, stack)
                            for k in range(before_count, in_hand):
                                from_corners += blanks[pool[k], BLANK_AREA]
        waiting, weight = draw_waiting(out, out_count, MOST_WAITING, pool, in_hand, blanks, chance)
        in_hand += waiting
        energy = reward * from_corners - weight
        put_in_order(pool, in_hand, blanks, NOISE, order, key, chance)
        done += 30 + tops[0]
        left = 0
        for k in range(in_hand):
            done += 2 + tops[2]
            blank = order[k]
            if best_place(
                blank, blanks, about, bins, bin_of, turned, is_host, side, link, waste, tops, scale, BLINK,
                chance, found,
            ):  # fmt: skip
                if bins[link[found[0], BIN], HOST] >= 0:
                    energy -= reward * blanks[blank, BLANK_AREA]
                put_at(found, blank, blanks, side, link, waste, spare, tops)
            else:
                energy += blanks[blank, BLANK_WEIGHT]
                pool[left] = blank
                left += 1
        energy *= scale
        for k in range(taken_up):
            if bins[numbers[k], HOST] >= 0:
                is_host[bins[numbers[k], HOST]] = False
        if energy > 0 and share(chance) >= np.exp(-energy / heat):
            continue
        for k in range(taken_up):
            number = numbers[k]
            lay_back(
                number, roots[k], bins, bin_sides, kept_side, kept, arena, side, link, stack, above, bin_of,
                turned,
            )  # fmt: skip
            if bins[number, HOST] >= 0:
                recount(number, roots[k], bins, about, link, stack)
        out_count[0] -= waiting
        for k in range(left):
            bin_of[pool[k]] = -1
            out[out_count[0]] = pool[k]
            out_count[0] += 1
        if out_count[0] == 0 and waiting > 0:
            return done
    return done
