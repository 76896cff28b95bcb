"""Names of parts, panels and openings as the reader's language has them; they are stored in English."""

import re

from objects.core.words import noted, say

# Every name a form gives, noted for the catalogues; tests/housing/core/test_part_names.py builds all forms.
NAMES = (
    noted("back"), noted("cover"), noted("divider"), noted("edge"), noted("end"), noted("end piece"),
    noted("face"), noted("far cap"), noted("far edge"), noted("far flap"), noted("far glue flap"),
    noted("far inner wall"), noted("far left flap"), noted("far right flap"), noted("far rim"),
    noted("far side"), noted("far wall"), noted("far wall left flap"), noted("far wall right flap"),
    noted("floor"), noted("fore left flap"), noted("fore right flap"), noted("fore wall"), noted("front"),
    noted("glue flap"), noted("gusset"), noted("layer"), noted("left edge"), noted("left far flap"),
    noted("left flap"), noted("left inner wall"), noted("left near flap"), noted("left rim"),
    noted("left wall"), noted("lid"), noted("lid fore left flap"), noted("lid fore right flap"),
    noted("lid fore wall"), noted("lid front"), noted("lid front left flap"), noted("lid front right flap"),
    noted("lid left skirt"), noted("lid left wall"), noted("lid right skirt"), noted("lid right wall"),
    noted("near cap"), noted("near edge"), noted("near flap"), noted("near glue flap"),
    noted("near inner wall"), noted("near left flap"), noted("near right flap"), noted("near rim"),
    noted("near wall"), noted("near wall left flap"), noted("near wall right flap"), noted("right edge"),
    noted("right far flap"), noted("right flap"), noted("right inner wall"), noted("right near flap"),
    noted("right rim"), noted("right wall"), noted("second floor"), noted("side"), noted("spine"),
    noted("top"), noted("cap"), noted("flap"), noted("piece"), noted("rim"), noted("skirt"), noted("wall"),
    noted("base"), noted("box"), noted("case"), noted("corner block"), noted("cross divider"),
    noted("folder"), noted("long divider"), noted("portfolio"), noted("sleeve"), noted("tray"),
    noted("wrapper"), noted("cavity"), noted("hand hole"), noted("hole for the tube"),
    noted("slit for a tie"), noted("slot"), noted("thumb notch"), noted("window"), noted("board"),
    noted("foam"), noted("washed cotton or polyester film"),
)  # fmt: skip

_NUMBERED = re.compile(r"(.+?) (\d+)")


def named(name: str) -> str:
    """A part, panel or opening in the language spoken: cross divider 2, divisor transversal 2.

    name: as it is stored, in English, with a number behind it or none.
    """
    plain = name.replace("_", " ")
    if found := _NUMBERED.fullmatch(plain):
        return f"{say(found[1])} {found[2]}"
    return say(plain)


def kind_of(name: str) -> str:
    """What a panel is: the last word of its English name, such as flap of "near left flap"."""
    return name.rsplit(" ", 1)[-1]


def cap(words: str) -> str:
    """Words at the head of a sentence or a line."""
    return words[:1].upper() + words[1:]
