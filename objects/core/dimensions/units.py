"""Which unit each figure has: its own, that behind its run, that before it, or the agreed one."""

import re
from collections.abc import Sequence
from decimal import Decimal
from itertools import pairwise
from typing import NamedTuple

from objects.core.dimensions.measures import Measure, Quantity
from objects.core.dimensions.values import Findings
from objects.core.dimensions.vocabulary import UNIT_OF
from objects.core.lengths import LARGEST_MM, UNIT_NAMES, is_perhaps_thousands
from objects.core.words import say

_THREE_DECIMALS = re.compile(r"[1-9]\d?\.\d{3}")
_NO_METRIC_FRACTION = re.compile(r"/(?!2$|3$|4$|8$)")


class StrayUnit(NamedTuple):
    """A unit that stands behind no figure. before: how many figures came earlier. is_between: whether it
    stands between a label and a figure, as in H (cm) 20."""

    text: str
    before: int
    is_between: bool

    @property
    def is_plain(self) -> bool:
        """Whether it can only be meant as a unit: not a quotation mark, the word in, or the letter m."""
        return self.text not in ("'", '"', "''", "in", "m") or (self.is_between and self.text == "in")


def spread_stray_units(
    strays: Sequence[StrayUnit], quantities: Sequence[Quantity], findings: Findings
) -> None:
    """Let units that stand apart, as in "cm 20 x 15" or "20 x 15, cm", cover the figures that have none.

    Where there is one such unit it covers all figures; where there are several, each covers those behind it.
    Units that stand apart beside figures that have another one of their own are doubted.
    """
    if not strays:
        return
    named = {UNIT_OF[stray.text] for stray in strays}
    own = {each.lead_unit for each in quantities if each.unit}
    doubtful = next((stray.text for stray in strays if not stray.is_plain), None)
    is_contrary = len(named) > 1 and strays[0].before > 0
    if doubtful or is_contrary or (own and own != named):
        text = doubtful or strays[0].text
        findings.doubts.append(say("“{text}” stands without a figure. Check the unit.", text=text))
    if own or is_contrary:
        return
    for place, each in enumerate(quantities):
        before = [stray for stray in strays if stray.before <= place]
        each.take_unit(UNIT_OF[(before[-1] if before else strays[0]).text])


def fill_units(measures: list[Measure], default: str | None, findings: Findings) -> bool:
    """Give a unit to each figure that has none written: a unit behind a run covers the whole run.

    default: the unit that was agreed for figures without one. Returns whether every figure now has a unit.
    """
    quantities = [quantity for measure in measures for quantity in measure.quantities]
    without = [one for one in quantities if one.unit is None]
    if without and len(without) < len(quantities):
        _spread_written_units(quantities, findings)
    elif without and default:
        findings.remarks.append(
            say("No unit is written; {unit_names} were taken.", unit_names=UNIT_NAMES[default])
        )
        for one in without:
            one.take_unit(default)
    for one in quantities:
        if not one.text.isdigit() and one.unit:
            _doubt_notation(one, one.unit, findings)
    return default is not None or len(without) < len(quantities)


def _spread_written_units(quantities: list[Quantity], findings: Findings) -> None:
    for one, following in reversed(list(pairwise(quantities))):
        if one.unit is None and following.lead_unit is not None:
            one.take_unit(following.lead_unit)
            if following.lead_unit != following.unit:
                findings.doubts.append(
                    say(
                        "“{text}” has no unit of its own; {unit} is proposed. Check it.",
                        text=one.text,
                        unit=one.unit,
                    )
                )
    for earlier, one in pairwise(quantities):
        if one.unit is None and earlier.unit is not None:
            one.take_unit(earlier.unit)
            findings.doubts.append(
                say(
                    "“{text}” has no unit behind it; {unit_names} are proposed. Check it.",
                    text=one.text,
                    unit_names=UNIT_NAMES[earlier.unit],
                )
            )


def _doubt_notation(one: Quantity, unit: str, findings: Findings) -> None:
    """Doubt what may be thousands, and fractions where no ruler has them."""
    if is_perhaps_thousands(one.text, unit) or _is_to_the_thousandth_mm(one, unit):
        findings.doubts.append(
            say("“{text}” may have decimals or thousands. Check the figure.", text=one.text)
        )
        if unit == "mm":
            one.value, one.step = Decimal(re.sub("[.,]", "", one.text)), Decimal(1)
    elif unit in ("mm", "cm", "m") and _NO_METRIC_FRACTION.search(one.text):
        findings.doubts.append(say("“{text}” may be two sizes or a range. Check the figures.", text=one.text))


def _is_to_the_thousandth_mm(one: Quantity, unit: str) -> bool:
    """1.250 mm is rather 1250 mm, where that is possible: nobody measures to the thousandth of a mm."""
    is_written_so = unit == "mm" and _THREE_DECIMALS.fullmatch(one.text) is not None
    return is_written_so and one.value * 1000 <= LARGEST_MM
