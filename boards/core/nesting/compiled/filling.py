"""A first plan: sheet after sheet filled with the largest blanks that still go in."""

import numpy as np

from boards.core.nesting.compiled.machine_code import compiled
from boards.core.nesting.compiled.places import BLANK_AREA, best_place, put_at, recount
from boards.core.nesting.compiled.trees import HOST, NODES, lay_back, take_up, workbench

LOOKS = 64  # blanks tried in vain before smaller ones are looked at
SMALLER = 0.7  # by how much
SLOTS = 8192


@compiled
def waiting_from(place, after):
    """The first place from this one on whose blank still waits; the number of places if there is none."""
    while after[place] != place:
        after[place] = after[after[place]]
        place = after[place]
    return place


@compiled
def first_up_to(area, order, blanks):
    """The first place in an order of falling areas whose blank has this area at most."""
    low, high = 0, len(order)
    while low < high:
        middle = (low + high) // 2
        if blanks[order[middle], BLANK_AREA] > area:
            low = middle + 1
        else:
            high = middle
    return low


@compiled
def fill(
    numbers, order, after, least_area, blanks, about, bin_of, turned, bins, bin_sides, kept_side, kept, arena,
    scale, chance,
):  # fmt: skip
    """Fill sheets one by one; returns how many blanks were laid.

    numbers: bins to be filled, in their order. order: blanks by falling area. after: by place in it, itself
    where the blank waits, else a later place; one longer than order. least_area: the smallest blank's. The
    other arguments are anneal's. A sheet keeps what already lies on it.
    """
    side, link, waste, spare, stack, above = workbench(SLOTS)
    tops, found = np.zeros(3, np.int64), np.zeros(3, np.int64)
    is_host = np.zeros(len(blanks), np.bool_)
    end, laid_in_all = len(order), 0
    for number in numbers:
        if waiting_from(0, after) == end or arena[1] - arena[0] < 2 * SLOTS:
            break
        if 2 * bins[number, NODES] + 64 > SLOTS:
            continue
        host = bins[number, HOST]
        if host >= 0 and bin_of[host] >= 0 and bins[bin_of[host], HOST] >= 0:
            continue
        if host >= 0:
            is_host[host] = True
        tops[:] = 0
        root = take_up(number, bins, bin_sides, kept_side, kept, side, link, waste, tops)
        laid = 0
        while tops[2] > 0 and tops[0] + 8 < SLOTS:
            largest = 0.0
            for k in range(tops[2]):
                largest = max(largest, side[waste[k], 0] * side[waste[k], 1])
            place, looks, was_laid = waiting_from(first_up_to(largest, order, blanks), after), 0, False
            while place < end and largest >= least_area:
                blank = order[place]
                if best_place(
                    blank, blanks, about, bins, bin_of, turned, is_host, side, link, waste, tops, scale, 0.0,
                    chance, found,
                ):  # fmt: skip
                    put_at(found, blank, blanks, side, link, waste, spare, tops)
                    after[place] = place + 1
                    laid += 1
                    was_laid = True
                    break
                looks += 1
                if looks < LOOKS:
                    place = waiting_from(place + 1, after)
                else:
                    looks, largest = 0, largest * SMALLER
                    place = waiting_from(max(place + 1, first_up_to(largest, order, blanks)), after)
            if not was_laid:
                break
        if host >= 0:
            is_host[host] = False
        if laid:
            lay_back(
                number, root, bins, bin_sides, kept_side, kept, arena, side, link, stack, above, bin_of,
                turned,
            )  # fmt: skip
            if host >= 0:
                recount(number, root, bins, about, link, stack)
            laid_in_all += laid
    return laid_in_all
