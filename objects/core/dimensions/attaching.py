"""Labels, words and the second system given to the measures that they belong to."""

from collections.abc import Sequence

from objects.core.dimensions.agreeing import agree
from objects.core.dimensions.labels import LABEL_OF
from objects.core.dimensions.measures import Measure
from objects.core.dimensions.tokens import Token
from objects.core.dimensions.values import Findings
from objects.core.dimensions.words import weigh_words
from objects.core.words import noted, say

_MISSING_SIDE = noted(
    "An x stands where no figures are on both sides of it. Check whether a side is missing."
)
_TWO_WAYS = noted("Letters stand before figures and behind them. Check which belongs to which.")


def attach_labels(items: Sequence[Token | Measure], findings: Findings) -> None:
    """Give each label to the measure it touches.

    A label between two figures, as in "H 20 cm W 15 cm" or "20 cm H 15 cm W", belongs to the second where the
    text begins with a label, and else to the first.
    """
    if not any(item.kind == "label" for item in items if isinstance(item, Token)):
        return
    near = [item for item in items if isinstance(item, Measure) or item.kind != "word"]
    first = next((item for item in near if isinstance(item, Measure) or item.kind == "label"), None)
    ways = set()
    for place, item in enumerate(near):
        if not isinstance(item, Token) or item.kind != "label":
            continue
        before = near[place - 1] if place else None
        behind = near[place + 1] if place + 1 < len(near) else None
        owners = [each for each in (before, behind) if isinstance(each, Measure)]
        if not owners:
            findings.doubts.append(
                say("“{text}” stands without a figure. Check what it belongs to.", text=item.text)
            )
            continue
        owner = owners[0] if isinstance(first, Measure) else owners[-1]
        owner.take_label(item.text, LABEL_OF[item.text], findings)
        if len(item.text) == 1:
            # 5 l may be five litres and 32 p pages; behind a unit a letter can only be a label.
            is_bare = owner is before and owner.quantities[-1].unit is None
            ways.add("behind a bare figure" if is_bare else "before" if owner is behind else "behind")
    if {"before", "behind a bare figure"} <= ways:
        findings.doubts.append(_TWO_WAYS)


def attach_words(items: Sequence[Token | Measure], findings: Findings) -> list[Measure]:
    """Ties and words given to their measures; words belong to the figure before them up to a pause."""
    measures: list[Measure] = []
    waiting: list[str] = []
    said: list[str] = []
    is_tied = has_paused = False
    for item in items:
        if isinstance(item, Measure):
            item.is_tied = is_tied and bool(measures)
            item.words += waiting
            waiting, is_tied, has_paused = [], False, False
            measures.append(item)
        elif item.kind == "tie":
            if is_tied or not measures:
                findings.doubts.append(_MISSING_SIDE)
            is_tied = True
        elif item.kind == "pause":
            has_paused = True
            if is_tied:
                said.append(item.text)
        elif item.kind == "word":
            said.append(item.text)
            (waiting if has_paused or not measures else measures[-1].words).append(item.text)
    if is_tied:
        findings.doubts.append(_MISSING_SIDE)
    if said:
        weigh_words(said, findings)
    return measures


def pair_systems(measures: list[Measure]) -> list[Measure]:
    """Take a measure that says the one before it in the other system, as in 20 cm / 7 7/8 in x 15 cm / 6 in,
    as if it stood in parentheses. Both need units of their own, and what is tied behind the first one's.
    """
    if len(measures) < 2 or len({each.is_imperial for each in measures}) < 2:
        return measures
    paired: list[Measure] = []
    for place, measure in enumerate(measures):
        following = measures[place + 1] if place + 1 < len(measures) else None
        if paired and _says_again(paired[-1], measure, following):
            paired[-1].asides.append(measure)
        else:
            paired.append(measure)
    return paired


def _says_again(first: Measure, second: Measure, following: Measure | None) -> bool:
    if second.is_tied or second.label not in (None, first.label):
        return False
    if None in (first.unit, second.unit) or first.is_imperial == second.is_imperial:
        return False
    if following and following.is_tied and following.unit is None:
        return False
    if following and following.is_tied and following.is_imperial != first.is_imperial:
        return False
    return agree([first], [second])
