"""Whether two sizes, one in inches and one metric, say the same."""

from collections.abc import Sequence
from decimal import Decimal

from objects.core.dimensions.measures import Measure
from objects.core.dimensions.values import Findings
from objects.core.lengths import format_size
from objects.core.words import say

_MOST_ALLOWANCE_MM = Decimal("0.5")


def is_other_system(run: Sequence[Measure], other: Sequence[Measure]) -> bool:
    return all(measure.is_imperial != run[0].is_imperial for measure in other)


def agree(run: Sequence[Measure], other: Sequence[Measure]) -> bool:
    """Whether two runs of equal length give the same sizes, as far as the rounding of both lets one tell.

    Allowed is half of the coarser of the two rounding steps, and half a millimetre. Labels pair the sides
    where both have them, else their order. Source: half a step is what rounding moves a figure by; the half
    millimetre is assumed, for figures cut short instead of rounded.
    """
    step = max(min(measure.step_mm for measure in each) for each in (run, other))
    allowed = step / 2 + _MOST_ALLOWANCE_MM
    by_label = {measure.label: measure for measure in run if measure.label}
    pairs = [
        (by_label.get(second.label or "", first), second) for first, second in zip(run, other, strict=True)
    ]
    return all(abs(first.mm - second.mm) <= allowed for first, second in pairs)


def compare(run: Sequence[Measure], other: Sequence[Measure], findings: Findings) -> None:
    """Doubt the first of two sizes where the second, in the other system, differs."""
    if not agree(run, other):
        units = ("in", "mm") if run[0].is_imperial else ("mm", "in")
        first, second = (
            format_size([each.mm for each in sides], unit)
            for sides, unit in zip((run, other), units, strict=True)
        )
        findings.doubts.append(
            say(
                "The two sizes given, {first} and {second}, do not agree. Measure again.",
                first=first,
                second=second,
            )
        )
