"""Which measures make up one size, which size is the whole object's, and which side each measure is."""

from decimal import Decimal

from objects.core.dimensions.measures import Measure
from objects.core.dimensions.values import AXES, Dimensions, Findings
from objects.core.dimensions.vocabulary import WHOLE
from objects.core.lengths import FINEST, format_size

# What has to be multiplied for a diameter. A girth over pi, to more places than a tape gives.
_DIAMETERS = {"diameter": Decimal(1), "radius": Decimal(2), "circumference": 1 / Decimal("3.14159265359")}
_MOST_ALLOWANCE_MM = Decimal("0.5")

type Run = list[Measure]


def runs_of(measures: list[Measure]) -> list[Run]:
    """Measures that make up one size together: tied by an x, or labelled with sides that differ."""
    runs: list[Run] = []
    for measure in measures:
        labels = {each.label for each in runs[-1]} if runs else set()
        is_another_side = measure.label is not None and None not in labels and measure.label not in labels
        is_second_diameter = measure.label == "diameter" and "diameter" in labels
        if runs and (measure.is_tied or is_another_side or is_second_diameter):
            runs[-1].append(measure)
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


def is_other_system(run: Run, other: Run) -> bool:
    return all(measure.is_imperial != run[0].is_imperial for measure in other)


def agree(run: Run, other: Run) -> bool:
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


def compare(run: Run, other: Run, findings: Findings) -> None:
    """Doubt the first of two sizes where the second, in the other system, differs."""
    if not agree(run, other):
        units = ("in", "mm") if run[0].is_imperial else ("mm", "in")
        first, second = (
            format_size([each.mm for each in sides], unit)
            for sides, unit in zip((run, other), units, strict=True)
        )
        findings.doubts.append(f"The two sizes given, {first} and {second}, do not agree. Measure again.")


def whole_object(runs: list[Run], findings: Findings) -> Run:
    """The run that is to be housed: the one called overall, else the largest; several raise a doubt."""
    if len(runs) == 1:
        return runs[0]
    overall = next((run for run in runs if WHOLE & {word for each in run for word in each.words}), None)
    which = "the overall one" if overall else "the largest"
    findings.doubts.append(
        f"Several sizes are given; {which} is proposed. Check that it is the whole object's."
    )
    return overall or max(runs, key=lambda run: sum(measure.mm for measure in run))


def sides_of(run: Run, order: list[str], findings: Findings) -> Dimensions:
    """The sides that the measures of a run are.

    run: measures whose units are known. order: the sides in the order that the text states, or empty for
    height, width, depth.
    Returns mm to 0.0001; adds to the findings what was assumed.
    Source: CDWA and CCO write height x width x depth, and height x width for flat things; a length is the
        larger horizontal side where a thing has no main side (museum documentation guide, Quebec).
    """
    if len({measure.is_imperial for measure in run}) > 1:
        findings.doubts.append("Inches and metric stand in one size. Check the units.")
    _use_order(run, order, findings)
    sides = _labelled(run, findings)
    _place_round(run, sides, findings)
    _place_thickness(run, sides)
    _place_length(run, sides, findings)
    _place_unlabelled(run, sides, findings)
    _tell_missing(sides, findings)
    return Dimensions(*(sides[axis].quantize(FINEST) if axis in sides else None for axis in AXES))


def _use_order(run: Run, order: list[str], findings: Findings) -> None:
    if not order:
        return
    if len(order) != len(run) or any(measure.label for measure in run):
        findings.doubts.append(
            "The order of sides that is written does not fit the figures. Check the sides."
        )
        return
    for measure, label in zip(run, order, strict=True):
        measure.label = label


def _labelled(run: Run, findings: Findings) -> dict[str, Decimal]:
    sides: dict[str, Decimal] = {}
    for measure in run:
        if measure.label in sides:
            findings.doubts.append(f"The {measure.label} is given twice; the larger is proposed.")
        if measure.label in AXES:
            sides[measure.label] = max(measure.mm, sides.get(measure.label, measure.mm))
        if measure.label_word == "d" and not any(other.label == "width" for other in run):
            findings.doubts.append("“D” may mean depth or diameter; depth is proposed.")
    return sides


def _place_round(run: Run, sides: dict[str, Decimal], findings: Findings) -> None:
    """A round thing takes its diameter as width and as depth; lying, with a length, as height and depth."""
    across = [
        (measure.label, measure.mm * _DIAMETERS[measure.label])
        for measure in run
        if measure.label in _DIAMETERS
    ]
    if not across:
        return
    if len(across) > 1:
        findings.doubts.append("More than one diameter is given; the largest is proposed.")
    if any(label != "diameter" for label, _ in across):
        findings.doubts.append("A radius or girth is given; the diameter was worked out from it.")
    is_lying = "height" not in sides and any(measure.label == "length" for measure in run)
    taken = [axis for axis in (("height", "depth") if is_lying else ("width", "depth")) if axis not in sides]
    for axis in taken:
        sides[axis] = max(mm for _, mm in across)
    if taken:
        findings.remarks.append(f"The diameter was taken as {' and '.join(taken)}.")


def _place_thickness(run: Run, sides: dict[str, Decimal]) -> None:
    """Thickness is the depth of what stands and the height of what lies."""
    for measure in run:
        if measure.label == "thickness":
            lies = "depth" in sides or any(other.label == "length" for other in run)
            sides.setdefault("height" if lies else "depth", measure.mm)


def _place_length(run: Run, sides: dict[str, Decimal], findings: Findings) -> None:
    """A length is the side that is still missing, a horizontal one if it can be."""
    for measure in run:
        if measure.label != "length":
            continue
        axis = next((axis for axis in ("width", "depth", "height") if axis not in sides), None)
        if axis is None or (axis == "height" and len(sides) == 2):
            findings.doubts.append(
                "A length is given beside the other sides. Check which way the object lies."
            )
        if axis:
            sides[axis] = measure.mm
            findings.remarks.append(f"The length was taken as {axis}.")


def _place_unlabelled(run: Run, sides: dict[str, Decimal], findings: Findings) -> None:
    unlabelled = [measure for measure in run if measure.label is None]
    free = [axis for axis in AXES if axis not in sides]
    for axis, measure in zip(free, unlabelled, strict=False):
        sides[axis] = measure.mm
    if len(unlabelled) > len(free):
        findings.doubts.append("There are more figures than sides; the first ones are proposed.")
    if unlabelled and len(unlabelled) < len(run):
        findings.doubts.append("Some figures are labelled and some are not. Check which is which.")
    elif len(unlabelled) == 1:
        findings.doubts.append("Only one figure is given; it is proposed as the height.")
    elif len(unlabelled) == 2:
        findings.remarks.append("Two figures without labels were taken as height × width.")
    elif unlabelled:
        findings.remarks.append("Figures without labels were taken as height × width × depth.")


def _tell_missing(sides: dict[str, Decimal], findings: Findings) -> None:
    missing = [axis for axis in AXES if axis not in sides]
    if missing:
        findings.remarks.append(f"Not stated: {' and '.join(missing)}.")
