"""How long blanks take: 100,000 of all forms mixed, in one process, each with every figure the maker gets.

Run by hand: python -m tests.benchmarks.blanks [number of blanks]
"""

import random
import sys
import time
from collections import defaultdict

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures import ENCLOSURES, Enclosure, make_enclosure
from housing.core.errors import EnclosureError

WANTED = 100_000
SEED = 1
SIZES = (150.0, 900.0)
HEIGHTS = {"rolled_tube": (0.5, 6), "folder": (1, 10), "four_flap": (3, 30), "portfolio": (3, 30)}


def figures_of(made: Enclosure) -> float:
    """Ask every figure of every blank, so that none is left to be worked out later."""
    total = 0.0
    for part in made.parts:
        blank = part.blank
        total += blank.board_area_mm2 + blank.score_length_mm + blank.cut_length_mm + blank.outline_length_mm
        total += blank.glue_length_mm + blank.folds + blank.glue_joints + len(blank.corner_waste)
        total += sum(blank.marks_x) + sum(blank.marks_y) + sum(blank.flap_marks_x) + sum(blank.flap_marks_y)
        total += part.inside.x_mm + part.inside.y_mm + part.inside.z_mm + part.outside.x_mm
    return total + made.outside.x_mm


def main(wanted: int) -> None:
    chance = random.Random(SEED)
    seconds: defaultdict[str, float] = defaultdict(float)
    blanks: defaultdict[str, int] = defaultdict(int)
    refused = 0
    began = time.perf_counter()
    while sum(blanks.values()) < wanted:
        for form in ENCLOSURES:
            height = chance.uniform(*HEIGHTS.get(form, (80, 400)))
            inner = InnerSize(chance.uniform(*SIZES), chance.uniform(*SIZES), height)
            board = BoardSpec(chance.uniform(0.5, 7), chance.choice((0.0, 0.5, 1.0)))
            start = time.perf_counter()
            try:
                made = make_enclosure(form, inner, board)
            except EnclosureError:
                refused += 1
                continue
            figures_of(made)
            seconds[form] += time.perf_counter() - start
            blanks[form] += len(made.parts)
    total, count = time.perf_counter() - began, sum(blanks.values())
    print(f"{count} blanks in {total:.1f} s, {total / count * 1e6:.0f} us a blank; {refused} sizes refused")
    for form in sorted(blanks, key=lambda key: -seconds[key] / blanks[key]):
        print(f"{form:18} {blanks[form]:6} blanks {seconds[form] / blanks[form] * 1e6:6.0f} us each")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else WANTED)
