"""Which measures make up one size, and which of several sizes is the whole object's."""

from objects.core.dimensions.agreeing import agree, compare, is_other_system
from objects.core.dimensions.measures import Measure
from objects.core.dimensions.units import fill_units
from objects.core.dimensions.values import Findings
from objects.core.dimensions.words import WHOLE
from objects.core.words import noted, say

type Run = list[Measure]


def chosen(measures: list[Measure], findings: Findings) -> Run:
    """The measures of the whole object, once those that say the same again are compared and left out."""
    runs = runs_of(measures)
    kept = without_repeats(runs, findings)
    for run in runs:
        for place, measure in enumerate(run):
            if measure.asides:
                kept += _judged_aside(run, place, measure.asides, findings)
    return whole_object(kept, findings)


def runs_of(measures: list[Measure]) -> list[Run]:
    """Measures that make up one size together: tied by an x, or labelled with sides that differ."""
    runs: list[Run] = []
    for measure in measures:
        before = runs[-1] if runs else []
        labels = {each.label for each in before}
        is_another_side = measure.label is not None and None not in labels and measure.label not in labels
        is_second_diameter = measure.label == "diameter" and "diameter" in labels
        is_second_l = measure.label_word == "l" and any(each.label_word == "l" for each in before)
        if before and (measure.is_tied or is_another_side or is_second_diameter or is_second_l):
            before.append(measure)
        else:
            runs.append([measure])
    return runs


def without_repeats(runs: list[Run], findings: Findings) -> list[Run]:
    """Leave out each size that only says the one before it again in the other system, inches for metric."""
    kept: list[Run] = []
    for run in runs:
        says_again = bool(kept) and is_other_system(kept[-1], run) and len(kept[-1]) == len(run)
        if says_again and not any(measure.words for measure in run):
            compare(kept[-1], run, findings)
        else:
            kept.append(run)
    return kept


def whole_object(runs: list[Run], findings: Findings) -> Run:
    """The run that is to be housed: the one called overall, else the largest; several raise a doubt."""
    if len(runs) == 1:
        return runs[0]
    overall = next((run for run in runs if WHOLE & {word for each in run for word in each.words}), None)
    which = "the overall one" if overall else "the largest"
    findings.doubts.append(
        say("Several sizes are given; {which} is proposed. Check that it is the whole object's.", which=which)
    )
    return overall or max(runs, key=lambda run: sum(measure.mm for measure in run))


def _judged_aside(run: Run, place: int, aside: Run, findings: Findings) -> list[Run]:
    """Compare measures in parentheses with as many before them; returns them where they are another size.

    Where they are another size of some of the sides, the larger are proposed for these.
    """
    if not fill_units(aside, None, findings):
        findings.doubts.append(noted("The figures in parentheses have no unit. Check what they mean."))
        return []
    same = run[max(0, place + 1 - len(aside)) : place + 1]
    if len(same) < len(aside):
        return [aside]
    if is_other_system(same, aside):
        compare(same, aside, findings)
        return []
    if agree(same, aside):
        return []
    if len(aside) == len(run):
        return [aside]
    findings.doubts.append(
        noted("Two sizes are given for one side; the larger is proposed. Check which it is.")
    )
    for one, other in zip(same, aside, strict=True):
        one.quantities = [*one.quantities, *other.quantities]
    return []
