"""Which waste node a blank is best laid in, which way round, and which of its two cuts comes first."""

import numpy as np

from boards.core.nesting.compiled.chance import share
from boards.core.nesting.compiled.machine_code import compiled, inlined
from boards.core.nesting.compiled.trees import BIN, FIRST, GUESTS, HELD, HOST, NEXT, WHAT, put

# Columns of a blank's sides: along, across (grown by the kerf), area, and what it weighs when left out.
BLANK_ALONG, BLANK_ACROSS, BLANK_AREA, BLANK_WEIGHT = range(4)
# Columns of what is known of a blank: the ways it may lie (1 straight, 2 turned, 3 both), the first of its
# four corner bins or -1, its guests in them, and those of its guests whose flutes are fixed.
WAYS, CORNERS, GUESTS_OF, HELD_OF = range(4)
BLANK_COLUMNS = 4
BOTH_WAYS = 3
# Share of the places for which the first cut is tried the worse way: else some small plans are never found.
OTHER_WAY = 0.1


@inlined
def worth(area):
    """What a waste area is worth: one large counts more than the same in pieces.

    Source: the power 1.25, J. Gardeyn and T. Wauters, European J. Oper. Res. 2022.
    """
    return area * np.sqrt(np.sqrt(area))


@compiled
def ways_in(blank, about, bins, bin_number, bin_of, turned, is_host):
    """The ways a blank may lie in a bin: 1 straight, 2 turned, 3 both, 0 not at all.

    A corner keeps the axes of its host, so a blank whose flutes are fixed lies in it as the host does on the
    sheet. A host with such a guest stays as it lies, and a host is nobody's guest, nor is a blank whose own
    corners are on the workbench.
    """
    host = bins[bin_number, HOST]
    if host < 0:
        return 1 << turned[blank] if about[blank, HELD_OF] > 0 else about[blank, WAYS]
    if about[blank, GUESTS_OF] > 0 or is_host[blank]:
        return 0
    if bin_of[host] >= 0 and bins[bin_of[host], HOST] >= 0:
        return 0
    if about[blank, WAYS] == BOTH_WAYS or about[blank, WAYS] == 0:
        return about[blank, WAYS]
    return about[blank, WAYS] if turned[host] == 0 else BOTH_WAYS - about[blank, WAYS]


@compiled
def best_place(
    blank, blanks, about, bins, bin_of, turned, is_host, side, link, waste, tops, scale, blink, chance, found
):  # fmt: skip
    """Find where laying a blank leaves the waste in the most worthy pieces.

    blink: share of the places that are overlooked. Writes node, way of the first cut and turn into found;
    returns whether there is any place.
    """
    along, across = blanks[blank, BLANK_ALONG], blanks[blank, BLANK_ACROSS]
    best, is_found, in_bin, ways = -1e300, False, -1, 0
    for k in range(tops[2]):
        node = waste[k]
        room_a, room_b = side[node, 0], side[node, 1]
        if (along > room_a or across > room_b) and (across > room_a or along > room_b):
            continue
        if link[node, BIN] != in_bin:
            in_bin = link[node, BIN]
            ways = ways_in(blank, about, bins, in_bin, bin_of, turned, is_host)
        for turn in range(2):
            if not (ways >> turn) & 1:
                continue
            a, b = (across, along) if turn else (along, across)
            if a > room_a or b > room_b or (blink > 0.0 and share(chance) < blink):
                continue
            rest_a, rest_b = room_a - a, room_b - b
            before = worth(room_a * room_b * scale)
            upright = worth(rest_a * room_b * scale) + worth(a * rest_b * scale) - before
            level = worth(room_a * rest_b * scale) + worth(rest_a * b * scale) - before
            if (upright >= level) != (blink > 0.0 and share(chance) < OTHER_WAY):
                if upright > best:
                    best, is_found = upright, True
                    found[0], found[1], found[2] = node, 0, turn
            elif level > best:
                best, is_found = level, True
                found[0], found[1], found[2] = node, 1, turn
    return is_found


@compiled
def put_at(found, blank, blanks, side, link, waste, spare, tops):
    """Lay a blank where best_place found room for it."""
    along, across = blanks[blank, BLANK_ALONG], blanks[blank, BLANK_ACROSS]
    if found[2]:
        along, across = across, along
    put(found[0], found[1], blank, found[2], along, across, side, link, waste, spare, tops)


@compiled
def recount(number, root, bins, about, link, stack):
    """Keep the number of guests in a corner, and of those whose flutes are fixed, up to date."""
    guests = held = 0
    top = 1
    stack[0] = root
    while top:
        top -= 1
        node = stack[top]
        what = link[node, WHAT]
        if what >= 0:
            guests += 1
            if about[what, WAYS] != BOTH_WAYS:
                held += 1
        child = link[node, FIRST]
        while child >= 0:
            stack[top] = child
            top += 1
            child = link[child, NEXT]
    host = bins[number, HOST]
    about[host, GUESTS_OF] += guests - bins[number, GUESTS]
    about[host, HELD_OF] += held - bins[number, HELD]
    bins[number, GUESTS], bins[number, HELD] = guests, held
