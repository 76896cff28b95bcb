"""The blanks in hand while sheets are laid anew: those taken off, and some that wait for a place."""

from boards.core.nesting.compiled.chance import below, share
from boards.core.nesting.compiled.machine_code import compiled
from boards.core.nesting.compiled.places import BLANK_AREA, BLANK_WEIGHT


@compiled
def draw_waiting(out, out_count, most, pool, in_hand, blanks, chance):
    """Add some blanks left out to the pool, by lot; they stand last in the list of those left out.

    in_hand: blanks in the pool so far. Returns how many were added and what they weigh together.
    """
    waiting = min(out_count[0], most)
    weight = 0.0
    for k in range(waiting):
        last = out_count[0] - 1 - k
        pick = below(chance, last + 1)
        out[pick], out[last] = out[last], out[pick]
        pool[in_hand + k] = out[last]
        weight += blanks[out[last], BLANK_WEIGHT]
    return waiting, weight


@compiled
def put_in_order(pool, in_hand, blanks, noise, order, key, chance):
    """Write the blanks in hand into order, roughly from large to small. noise: how roughly. key: room."""
    for k in range(in_hand):
        blank = pool[k]
        mark = blanks[blank, BLANK_AREA] * (1.0 + noise * share(chance))
        j = k
        while j > 0 and key[j - 1] < mark:
            key[j], order[j] = key[j - 1], order[j - 1]
            j -= 1
        key[j], order[j] = mark, blank
