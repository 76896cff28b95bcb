"""The search where cuts need not run from edge to edge: blanks among the largest free rectangles."""

import numpy as np

from boards.core.nesting.compiled.chance import below, share
from boards.core.nesting.compiled.machine_code import compiled
from boards.core.nesting.compiled.places import (
    BLANK_ACROSS,
    BLANK_ALONG,
    BLANK_AREA,
    BLANK_WEIGHT,
    HELD_OF,
    WAYS,
)
from boards.core.nesting.compiled.pool import draw_waiting, put_in_order
from boards.core.nesting.compiled.trees import ACROSS, ALONG, USED

MOST_ROOMS = 4096  # free rectangles at hand; further ones are forgotten, which does no harm
# Measured on published instances: with one sheet a move three times as much stays out as with two; the rest
# matters little. Sides of the window are up to so much of the sheet's.
SHEETS = 2
WINDOW = 0.6
MOST_WAITING = 15
BLINK = 0.01
NOISE = 0.3


@compiled
def occupy(which, x0, y0, x1, y1, least, rooms, whose, count, parts):
    """Take a rectangle out of the free room of a sheet; returns how many free rectangles there are then.

    which: the sheet. x0, y0, x1, y1: near and far corner. least: side below which free room is of no use.
    rooms, whose, count: near and far corners of the free rectangles, each as large as it can be, the sheet
    of each, and how many there are. parts: as much room again.
    Source: maximal free rectangles, J. Jylänki, A Thousand Ways to Pack the Bin, 2010.
    """
    made, k = 0, 0
    while k < count:
        a0, b0, a1, b1 = rooms[k, 0], rooms[k, 1], rooms[k, 2], rooms[k, 3]
        if whose[k] != which or x0 >= a1 or x1 <= a0 or y0 >= b1 or y1 <= b0:
            k += 1
            continue
        for side in range(4):
            c0, d0, c1, d1 = a0, b0, a1, b1
            if side == 0:
                c1 = x0
            elif side == 1:
                c0 = x1
            elif side == 2:
                d1 = y0
            else:
                d0 = y1
            if c1 - c0 >= least and d1 - d0 >= least and made < len(parts):
                parts[made, 0], parts[made, 1], parts[made, 2], parts[made, 3] = c0, d0, c1, d1
                made += 1
        count -= 1
        for i in range(4):
            rooms[k, i] = rooms[count, i]
        whose[k] = whose[count]
    others = count
    for p in range(made):
        a0, b0, a1, b1 = parts[p, 0], parts[p, 1], parts[p, 2], parts[p, 3]
        is_within = False
        for k in range(others):
            if (
                rooms[k, 0] <= a0 and rooms[k, 1] <= b0 and rooms[k, 2] >= a1 and rooms[k, 3] >= b1
                and whose[k] == which
            ):  # fmt: skip
                is_within = True
                break
        if is_within:
            continue
        for q in range(made):
            if q != p and parts[q, 0] <= a0 and parts[q, 1] <= b0 and parts[q, 2] >= a1 and parts[q, 3] >= b1:
                is_same = parts[q, 0] == a0 and parts[q, 1] == b0 and parts[q, 2] == a1 and parts[q, 3] == b1
                if not is_same or q < p:
                    is_within = True
                    break
        if not is_within and count < len(rooms):
            rooms[count, 0], rooms[count, 1], rooms[count, 2], rooms[count, 3] = a0, b0, a1, b1
            whose[count] = which
            count += 1
    return count


@compiled
def best_room(blank, blanks, about, turned, rooms, count, blink, chance, found):
    """Find the free rectangle that a blank fills best: the least left beside it, then beyond it.

    blink: share of the places that are overlooked. Writes the free rectangle and turn into found; returns
    whether there is any. A blank in whose corners others lie with their flutes fixed stays as it lies.
    """
    along, across = blanks[blank, BLANK_ALONG], blanks[blank, BLANK_ACROSS]
    ways = 1 << turned[blank] if about[blank, HELD_OF] > 0 else about[blank, WAYS]
    best, best_long, is_found = 1e300, 1e300, False
    for k in range(count):
        room_a, room_b = rooms[k, 2] - rooms[k, 0], rooms[k, 3] - rooms[k, 1]
        for turn in range(2):
            if not (ways >> turn) & 1:
                continue
            a, b = (across, along) if turn else (along, across)
            if a > room_a or b > room_b or (blink > 0.0 and share(chance) < blink):
                continue
            short, long = min(room_a - a, room_b - b), max(room_a - a, room_b - b)
            if short < best or (short == best and long < best_long):
                best, best_long, is_found = short, long, True
                found[0], found[1] = k, turn
    return is_found


@compiled
def place_at(found, corner, blank, blanks, least, rooms, whose, count, parts, lies):
    """Lay a blank in a corner of the free rectangle best_room found; returns how many there are then.

    corner: 0 near left, 1 near right, 2 far left, 3 far right. Writes near and far corner into lies.
    """
    room, a, b = found[0], blanks[blank, BLANK_ALONG], blanks[blank, BLANK_ACROSS]
    if found[1]:
        a, b = b, a
    x = rooms[room, 2] - a if corner % 2 else rooms[room, 0]
    y = rooms[room, 3] - b if corner >= 2 else rooms[room, 1]
    lies[0], lies[1], lies[2], lies[3] = x, y, x + a, y + b
    return occupy(whose[room], x, y, x + a, y + b, least, rooms, whose, count, parts)


@compiled
def free_rooms(which, sides, lying, blanks, at, turned, least, rooms, whose, count, parts):
    """Add the free rectangles of a sheet to the list; returns how many there are then.

    sides: of the sheet. lying: the blanks on it. at: by blank, where its near corner lies.
    """
    rooms[count, 0], rooms[count, 1], rooms[count, 2], rooms[count, 3] = 0.0, 0.0, sides[ALONG], sides[ACROSS]
    whose[count] = which
    count += 1
    for blank in lying:
        a, b = blanks[blank, BLANK_ALONG], blanks[blank, BLANK_ACROSS]
        if turned[blank]:
            a, b = b, a
        x, y = at[blank, 0], at[blank, 1]
        count = occupy(which, x, y, x + a, y + b, least, rooms, whose, count, parts)
    return count


@compiled
def fill_freely(numbers, order, least, blanks, about, bin_of, turned, at, bin_sides, lying, starts, chance):
    """Fill sheets one by one with the blanks that wait, in their order; returns how many were laid.

    numbers: the sheets. order: blanks that wait. lying, starts: the blanks on each of the sheets already,
    and where those of each begin.
    """
    rooms, parts = np.zeros((MOST_ROOMS, 4)), np.zeros((MOST_ROOMS, 4))
    whose, found, lies = np.zeros(MOST_ROOMS, np.int64), np.zeros(2, np.int64), np.zeros(4)
    laid = 0
    for k in range(len(numbers)):
        number = numbers[k]
        on_it = lying[starts[k] : starts[k + 1]]
        count = free_rooms(0, bin_sides[number], on_it, blanks, at, turned, least, rooms, whose, 0, parts)
        for blank in order:
            if count == 0 or laid == len(order):
                break
            if bin_of[blank] >= 0 or not best_room(
                blank, blanks, about, turned, rooms, count, 0.0, chance, found
            ):
                continue
            turn = found[1]
            count = place_at(found, 0, blank, blanks, least, rooms, whose, count, parts, lies)
            bin_of[blank], turned[blank], at[blank, 0], at[blank, 1] = number, turn, lies[0], lies[1]
            bin_sides[number, USED] += blanks[blank, BLANK_AREA]
            laid += 1
    return laid


@compiled
def anneal_freely(
    blanks, about, bin_of, turned, at, bin_sides, opened, out, out_count, scale, hot, cold, work, chance
):  # fmt: skip
    """Move blanks on the open sheets, more boldly while it is hot; returns the work done.

    at: by blank, where its near corner lies. The other arguments are anneal's, see annealing.py; blanks in
    corners of others stay there. Ends early once nothing is left out any more.
    Source: none; ruin and recreate as in annealing.py, among maximal free rectangles.
    """
    total = len(blanks)
    first_on, after = np.full(len(bin_sides), -1, np.int64), np.full(total, -1, np.int64)
    least = 1e300
    for blank in range(total):
        if bin_of[blank] >= 0:
            after[blank] = first_on[bin_of[blank]]
            first_on[bin_of[blank]] = blank
        least = min(least, blanks[blank, BLANK_ALONG], blanks[blank, BLANK_ACROSS])
    rooms, parts = np.zeros((MOST_ROOMS, 4)), np.zeros((MOST_ROOMS, 4))
    whose, found, lies = np.zeros(MOST_ROOMS, np.int64), np.zeros(2, np.int64), np.zeros(4)
    numbers = np.zeros(SHEETS, np.int64)
    staying, pool, order = np.zeros(total, np.int64), np.zeros(total, np.int64), np.zeros(total, np.int64)
    key = np.zeros(total)
    # By blank laid in this move: sheet, turn and place.
    new_bin, new_turn, new_at = np.zeros(total, np.int64), np.zeros(total, np.int64), np.zeros((total, 2))
    cooling, heat, done, move = cold / hot, hot, 0.0, 0
    while done < work:
        if move % 256 == 0:
            heat = hot * cooling ** (done / work)
        move += 1
        taken = 0
        for _ in range(SHEETS):
            number = opened[below(chance, len(opened))]
            rival = opened[below(chance, len(opened))]
            if free_area(rival, bin_sides) > free_area(number, bin_sides):
                number = rival
            if taken == 0 or numbers[0] != number:
                numbers[taken] = number
                taken += 1
        in_hand, kept, count = 0, 0, 0
        for k in range(taken):
            number = numbers[k]
            before = kept
            along, across = bin_sides[number, ALONG], bin_sides[number, ACROSS]
            # What a window anywhere on the sheet touches is taken off.
            wide, deep = WINDOW * along * share(chance), WINDOW * across * share(chance)
            x0, y0 = (along + wide) * share(chance) - wide, (across + deep) * share(chance) - deep
            blank = first_on[number]
            while blank >= 0:
                a, b = blanks[blank, BLANK_ALONG], blanks[blank, BLANK_ACROSS]
                if turned[blank]:
                    a, b = b, a
                x, y = at[blank, 0], at[blank, 1]
                if x < x0 + wide and x0 < x + a and y < y0 + deep and y0 < y + b:
                    pool[in_hand] = blank
                    in_hand += 1
                else:
                    staying[kept] = blank
                    kept += 1
                blank = after[blank]
            count = free_rooms(
                k, bin_sides[number], staying[before:kept], blanks, at, turned, least, rooms, whose, count,
                parts,
            )  # fmt: skip
        done += 20 + 12 * kept
        waiting, weight = draw_waiting(out, out_count, MOST_WAITING, pool, in_hand, blanks, chance)
        in_hand += waiting
        energy = -weight
        put_in_order(pool, in_hand, blanks, NOISE, order, key, chance)
        left = 0
        for k in range(in_hand):
            blank = order[k]
            done += 5 + 2 * count
            if best_room(blank, blanks, about, turned, rooms, count, BLINK, chance, found):
                number, turn = numbers[whose[found[0]]], found[1]
                count = place_at(
                    found, below(chance, 4), blank, blanks, least, rooms, whose, count, parts, lies
                )
                done += 2 * count
                new_bin[blank], new_turn[blank] = number, turn
                new_at[blank, 0], new_at[blank, 1] = lies[0], lies[1]
            else:
                energy += blanks[blank, BLANK_WEIGHT]
                new_bin[blank] = -1
                pool[left] = blank
                left += 1
        energy *= scale
        if energy > 0 and share(chance) >= np.exp(-energy / heat):
            continue
        for k in range(taken):
            first_on[numbers[k]] = -1
            bin_sides[numbers[k], USED] = 0.0
        for k in range(in_hand):
            blank = order[k]
            bin_of[blank] = new_bin[blank]
            if new_bin[blank] >= 0:
                turned[blank], at[blank, 0], at[blank, 1] = (
                    new_turn[blank],
                    new_at[blank, 0],
                    new_at[blank, 1],
                )
                staying[kept] = blank
                kept += 1
        for k in range(kept):
            blank = staying[k]
            number = bin_of[blank]
            after[blank] = first_on[number]
            first_on[number] = blank
            bin_sides[number, USED] += blanks[blank, BLANK_AREA]
        out_count[0] -= waiting
        for k in range(left):
            out[out_count[0]] = pool[k]
            out_count[0] += 1
        if out_count[0] == 0 and waiting > 0:
            break
    return done


@compiled
def free_area(number, bin_sides):
    """Area of a sheet on which nothing lies."""
    return bin_sides[number, ALONG] * bin_sides[number, ACROSS] - bin_sides[number, USED]
