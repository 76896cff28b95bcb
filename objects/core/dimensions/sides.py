"""Which side of the object each measure of a size is."""

from collections.abc import Sequence
from decimal import Decimal

from objects.core.dimensions.labels import CLASHES, LABEL_OF, settled
from objects.core.dimensions.measures import Measure
from objects.core.dimensions.values import AXES, Dimensions, Findings
from objects.core.dimensions.words import SQUARE
from objects.core.lengths import FINEST
from objects.core.words import noted, say

# What has to be multiplied for a diameter. A girth over pi, to more places than a tape gives.
_DIAMETERS = {"diameter": Decimal(1), "radius": Decimal(2), "circumference": 1 / Decimal("3.14159265359")}


type Sides = dict[str, Decimal]


def sides_of(run: Sequence[Measure], order: list[str], findings: Findings) -> Dimensions:
    """The sides that the measures of a run are.

    run: measures whose units are known. order: the labels in the order that the text states, or empty for
    height, width, depth.
    Returns mm to 0.0001; adds to the findings what was assumed.
    Source: CDWA and CCO write height x width x depth, and height x width for flat things; a length is the
        larger horizontal side where a thing has no main side (museum documentation guide, Quebec).
    """
    _doubt_mixed_units(run, findings)
    if order:
        _use_order(run, order, findings)
    labels = {measure.label for measure in run}
    if len(labels) > 1 or None not in labels:
        _settle_clashes(run, findings)
        _settle_two_lengths(run, findings)
        sides = _labelled(run, findings)
        _place_round(run, sides, findings)
        _place_thickness(run, sides, findings)
        _place_length(run, sides, findings)
    else:
        sides = {}
    _place_unlabelled(run, sides, findings)
    missing = [axis for axis in AXES if axis not in sides]
    if missing:
        findings.remarks.append(say("Not stated: {missing}.", missing=" and ".join(missing)))
    return Dimensions(*(sides[axis].quantize(FINEST) if axis in sides else None for axis in AXES))


def _doubt_mixed_units(run: Sequence[Measure], findings: Findings) -> None:
    """Different units in one size are right where each stands behind its figure, as in 1.2 m x 85 cm."""
    quantities = [quantity for measure in run for quantity in measure.quantities]
    if len({quantity.lead_unit for quantity in quantities}) == 1:
        return
    if len({quantity.is_imperial for quantity in quantities}) > 1:
        findings.doubts.append(noted("Inches and metric stand in one size. Check the units."))
    elif not all(quantity.has_own_unit for quantity in quantities):
        findings.doubts.append(
            noted("Different units stand in one size, and not behind each figure. Check the units.")
        )


def _use_order(run: Sequence[Measure], order: list[str], findings: Findings) -> None:
    if len(order) != len(run) or any(measure.label for measure in run):
        findings.doubts.append(
            noted("The order of sides that is written does not fit the figures. Check the sides.")
        )
        return
    for measure, word in zip(run, order, strict=True):
        measure.take_label(word, LABEL_OF[word], findings)


def _settle_clashes(run: Sequence[Measure], findings: Findings) -> None:
    """Letters that mean different sides in different languages, by the labels beside them or by a person."""
    for place, measure in enumerate(run):
        clash = CLASHES.get(measure.label_word)
        if clash is None:
            continue
        others = [other.label_word for other in (*run[:place], *run[place + 1 :]) if other.label_word]
        label = settled(measure.label_word, others)
        if label:
            measure.label = label
        else:
            written = measure.label_word.capitalize()
            findings.doubts.append(
                say(
                    "“{written}” may mean {may_mean}; {label} is proposed. Check which it is.",
                    written=written,
                    may_mean=clash.may_mean,
                    label=measure.label,
                )
            )


def _settle_two_lengths(run: Sequence[Measure], findings: Findings) -> None:
    """L. 30 × l. 20 is longueur and largeur: only the capital tells, and lists do not always keep it."""
    written_l = [measure for measure in run if measure.label_word == "l"]
    if len(written_l) == 2:
        min(written_l, key=lambda measure: measure.mm).label = "width"
        findings.doubts.append(
            noted(
                "“L” is given twice, perhaps for longueur and largeur; the larger is proposed as the length. "
                "Check which is which."
            )
        )


def _labelled(run: Sequence[Measure], findings: Findings) -> Sides:
    sides: Sides = {}
    seen = set()
    for measure in run:
        if measure.label in seen and measure.label not in _DIAMETERS:
            findings.doubts.append(
                say(
                    "The {label} is given twice; the larger is proposed. Check which it is.",
                    label=measure.label,
                )
            )
        if measure.label:
            seen.add(measure.label)
        if measure.label in AXES:
            sides[measure.label] = max(measure.mm, sides.get(measure.label, measure.mm))
    return sides


def _place_round(run: Sequence[Measure], sides: Sides, findings: Findings) -> None:
    """A round thing takes its diameter as width and as depth; lying, with a length, as height and depth."""
    across = [
        (measure.label, measure.mm * _DIAMETERS[measure.label])
        for measure in run
        if measure.label in _DIAMETERS
    ]
    if not across:
        return
    diameter = max(mm for _, mm in across)
    if len(across) > 1:
        findings.doubts.append(
            noted("More than one diameter is given; the largest is proposed. Check that it is the greatest.")
        )
    if any(label != "diameter" for label, _ in across):
        findings.doubts.append(
            noted("A radius or girth is given; the diameter was worked out from it. Check it.")
        )
    is_lying = "height" not in sides and any(measure.label == "length" for measure in run)
    round_axes = ("height", "depth") if is_lying else ("width", "depth")
    if any(sides.get(axis, diameter) < diameter for axis in round_axes):
        findings.doubts.append(noted("A diameter is given that is larger than the sides. Check the figures."))
    taken = [axis for axis in round_axes if axis not in sides]
    for axis in taken:
        sides[axis] = diameter
    if taken:
        findings.remarks.append(say("The diameter was taken as {taken}.", taken=" and ".join(taken)))
    else:
        findings.doubts.append(
            noted("A diameter is given beside all other sides and was left out. Check what it belongs to.")
        )


def _place_thickness(run: Sequence[Measure], sides: Sides, findings: Findings) -> None:
    """Thickness is the depth of what stands and the height of what lies."""
    for measure in run:
        if measure.label == "thickness":
            lies = "depth" in sides or any(other.label == "length" for other in run)
            axis = "height" if lies and "height" not in sides else "depth"
            if axis in sides:
                findings.doubts.append(
                    noted(
                        "A thickness is given beside all other sides and was left out. Check what it belongs "
                        "to."
                    )
                )
            sides.setdefault(axis, measure.mm)


def _place_length(run: Sequence[Measure], sides: Sides, findings: Findings) -> None:
    """A length is the side that is still missing, a horizontal one if it can be."""
    for measure in run:
        if measure.label != "length":
            continue
        axis = next((axis for axis in ("width", "depth", "height") if axis not in sides), None)
        if axis is None or (axis == "height" and len(sides) == 2):
            findings.doubts.append(
                noted("A length is given beside the other sides. Check which way the object lies.")
            )
        if axis:
            sides[axis] = measure.mm
            findings.remarks.append(say("The length was taken as {axis}.", axis=axis))


def _place_unlabelled(run: Sequence[Measure], sides: Sides, findings: Findings) -> None:
    unlabelled = [measure.mm for measure in run if measure.label is None]
    if not unlabelled:
        return
    if len(unlabelled) == len(run) == 4 and _is_count(run):
        findings.doubts.append(
            noted("The first of four figures may be a number of pieces and was left out. Check it.")
        )
        del unlabelled[0]
    if len(unlabelled) == len(run) == 1 and SQUARE.intersection(run[0].words):
        unlabelled *= 2
    free = [axis for axis in AXES if axis not in sides]
    for axis, mm in zip(free, unlabelled, strict=False):
        sides[axis] = mm
    if len(unlabelled) > len(free):
        findings.doubts.append(
            noted("There are more figures than sides; the first ones are proposed. Check which they are.")
        )
    if any(measure.label for measure in run):
        findings.doubts.append(noted("Some figures are labelled and some are not. Check which is which."))
    elif len(unlabelled) == 1:
        findings.doubts.append(
            noted("Only one figure is given; it is proposed as the height. Check which side it is.")
        )
    elif len(unlabelled) == 2:
        findings.remarks.append(noted("Two figures without labels were taken as height × width."))
    else:
        findings.remarks.append(noted("Figures without labels were taken as height × width × depth."))


def _is_count(run: Sequence[Measure]) -> bool:
    """Whether the first figure may say how many there are: 2 x 30 x 20 x 10 cm."""
    first = run[0].quantities[0]
    return first.text.isdigit() and 1 < first.value <= 24 and run[0].mm < min(each.mm for each in run[1:])
