"""Random numbers whose whole state is one number, so that a search can be repeated exactly."""

import numpy as np

from boards.core.nesting.compiled.machine_code import inlined

TO_SHARE = 1.0 / 9007199254740992.0  # 2 to the power -53


@inlined
def share(state):
    """A number from 0 up to but not 1. Source: xorshift64*, S. Vigna, ACM Trans. Math. Software 2016."""
    x = state[0]
    x ^= x >> np.uint64(12)
    x ^= x << np.uint64(25)
    x ^= x >> np.uint64(27)
    state[0] = x
    return ((x * np.uint64(2685821657736338717)) >> np.uint64(11)) * TO_SHARE


@inlined
def below(state, count):
    """A whole number from 0 up to but not count."""
    return int(share(state) * count)
