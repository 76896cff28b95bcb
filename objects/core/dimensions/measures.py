"""Figures put together with the unit, range and label that belong to each."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from itertools import pairwise

from objects.core.dimensions.tokens import Token
from objects.core.dimensions.values import Findings
from objects.core.dimensions.vocabulary import LABEL_OF, weigh_words
from objects.core.lengths import MM_PER_UNIT, UNIT_NAMES, LengthError, figure, is_perhaps_thousands, unit_of

_RULER_PARTS = {2, 4, 8, 16, 32, 64}
_MISSING_SIDE = "An x stands where no figures are on both sides of it. Check whether a side is missing."


@dataclass
class Quantity:
    """One figure.

    value: in unit, as is step, what it seems rounded to. lead_unit: its first unit as written, ft in 5' 3".
    """

    text: str
    value: Decimal
    step: Decimal
    unit: str | None = None
    lead_unit: str | None = None

    @property
    def is_imperial(self) -> bool:
        return self.unit in ("in", "ft")


@dataclass
class Measure:
    """One side as written: a quantity, or several where a range is given, and its label if it has one.

    is_tied: an x ties it to the one before. words: the words that stand with it. asides: the measures in
    parentheses behind it.
    """

    quantities: list[Quantity]
    label: str | None = None
    label_word: str = ""
    is_tied: bool = False
    words: list[str] = field(default_factory=list)
    asides: list["Measure"] = field(default_factory=list)

    @property
    def mm(self) -> Decimal:
        """The side in mm, exact; of a range the greater end. Every unit must be known."""
        return max(each.value * MM_PER_UNIT[each.unit or "mm"] for each in self.quantities)

    @property
    def step_mm(self) -> Decimal:
        return max(each.step * MM_PER_UNIT[each.unit or "mm"] for each in self.quantities)

    @property
    def is_imperial(self) -> bool:
        return self.quantities[0].is_imperial


def measures_in(tokens: Sequence[Token], findings: Findings) -> tuple[list[Measure], list[str]]:
    """The measures of a text, and the order of sides where the text states one, such as h x w x d.

    Raises LengthError for a figure that cannot be one. What is not understood is added to the findings.
    """
    return _Parser(tokens, findings).read()


class _Parser:
    """Reads tokens from left to right."""

    def __init__(self, tokens: Sequence[Token], findings: Findings) -> None:
        self.tokens, self.findings, self.at = tokens, findings, 0
        self.items: list[Token | Measure] = []
        self.order: list[str] = []
        self.leading_unit: str | None = None

    def read(self) -> tuple[list[Measure], list[str]]:
        while self.at < len(self.tokens):
            if self._peek().kind == "figure":
                self.items.append(Measure(self._range()))
            else:
                self._take(self.tokens[self.at])
        _attach_labels(self.items, self.findings)
        measures = _attach_words(self.items, self.findings)
        self._spread_leading_unit([each for measure in measures for each in measure.quantities])
        return measures, self.order

    def _take(self, token: Token) -> None:
        """Take in a token that is no figure."""
        self.at += 1
        if token.kind == "order":
            self.order = self.order or token.text.split()
        elif token.kind == "aside":
            last = next(item for item in reversed(self.items) if isinstance(item, Measure))
            last.asides += measures_in(token.inside, self.findings)[0]
        elif token.kind == "dash" and token.text != "to":
            self._refuse_minus(token)
        elif token.kind == "unit":
            self._stray_unit(token)
        else:
            self.items.append(Token("word", "to") if token.kind == "dash" else token)

    def _peek(self, ahead: int = 0) -> Token:
        place = self.at + ahead
        return self.tokens[place] if place < len(self.tokens) else Token("end", "")

    def _range(self) -> list[Quantity]:
        """A figure, or several joined by dashes or "to"."""
        quantities = [self._quantity()]
        while self._peek().kind == "dash" and self._peek(1).kind == "figure":
            self.at += 1
            quantities.append(self._quantity())
        if len(quantities) > 1:
            self.findings.doubts.append("A range is given; its larger end is proposed.")
        return quantities

    def _quantity(self) -> Quantity:
        quantity = _quantity_of(self._peek().text, self.findings)
        self.at += 1
        if self._peek().kind == "unit":
            quantity.unit = quantity.lead_unit = unit_of(self._peek().text)
            self.at += 1
            if quantity.unit == "ft":
                self._add_inches(quantity)
        return quantity

    def _add_inches(self, feet: Quantity) -> None:
        """Take in the inches behind feet: 5' 3", 5'-3 1/2", 5 ft. 3 in., 5'3."""
        dashes = 1 if self._peek().kind == "dash" and self._peek().text != "to" else 0
        if self._peek(dashes).kind != "figure":
            return
        behind = self._peek(dashes + 1)
        is_in_inches = behind.kind == "unit" and unit_of(behind.text) == "in"
        if not is_in_inches and (dashes or behind.kind == "unit"):
            return
        self.at += dashes
        inches = _quantity_of(self._peek().text, self.findings)
        self.at += 2 if is_in_inches else 1
        feet.value, feet.step, feet.unit = feet.value * 12 + inches.value, inches.step, "in"

    def _refuse_minus(self, token: Token) -> None:
        follows_tie = bool(self.items) and isinstance(self.items[-1], Token) and self.items[-1].kind == "tie"
        is_minus = self._peek().is_glued and not token.is_glued
        if self._peek().kind == "figure" and (follows_tie or is_minus):
            raise LengthError(f"It holds a negative size, “-{self._peek().text}”. Correct the figure.")

    def _stray_unit(self, token: Token) -> None:
        """Give a unit to the figure whose label it follows, as in 7 (d) cm; doubt one as in "cm: 10 x 8"."""
        match self.items[-2:]:
            case [Measure(quantities=[*_, Quantity(unit=None) as owner]), Token(kind="label")]:
                owner.unit = owner.lead_unit = unit_of(token.text)
                return
        self.findings.doubts.append(f"“{token.text}” stands without a figure. Check the unit.")
        if not any(isinstance(item, Measure) for item in self.items):
            self.leading_unit = unit_of(token.text)

    def _spread_leading_unit(self, quantities: list[Quantity]) -> None:
        if self.leading_unit and not any(quantity.unit for quantity in quantities):
            for quantity in quantities:
                quantity.unit = quantity.lead_unit = self.leading_unit


def _quantity_of(text: str, findings: Findings) -> Quantity:
    value = figure(text)
    if "/" in text:
        over, under = (int(side) for side in re.split(r"[ -]+", text)[-1].split("/"))
        if under not in _RULER_PARTS or over >= under:
            findings.doubts.append(f"“{text}” is not a fraction that rulers have. Check that it is one.")
        return Quantity(text, value, Decimal(1) / under)
    places = int(value.as_tuple().exponent)
    return Quantity(text, value, Decimal(1).scaleb(min(places, 0)))


def _attach_labels(items: list[Token | Measure], findings: Findings) -> None:
    """Give each label to the measure it touches.

    A label between two figures, as in "H 20 cm W 15 cm" or "20 cm H 15 cm W", belongs to the second where the
    text begins with a label, and else to the first.
    """
    near = [item for item in items if isinstance(item, Measure) or item.kind != "word"]
    first = next((item for item in near if isinstance(item, Measure) or item.kind == "label"), None)
    for place, item in enumerate(near):
        if not isinstance(item, Token) or item.kind != "label":
            continue
        beside = [each for each in (*near[:place][-1:], *near[place + 1 :][:1]) if isinstance(each, Measure)]
        if beside:
            _label(beside[0] if isinstance(first, Measure) else beside[-1], item.text, findings)
        else:
            findings.doubts.append(f"“{item.text}” stands without a figure. Check what it belongs to.")


def _label(measure: Measure, word: str, findings: Findings) -> None:
    label = LABEL_OF[word]
    if measure.label not in (None, label):
        findings.doubts.append(f"One figure is called {measure.label} and {label}. Check which it is.")
    else:
        measure.label, measure.label_word = label, word


def _attach_words(items: list[Token | Measure], findings: Findings) -> list[Measure]:
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
    weigh_words(said, findings)
    return measures


def fill_units(measures: list[Measure], default: str | None, findings: Findings) -> bool:
    """Give a unit to each figure that has none written: a unit behind a run covers the whole run.

    default: the unit that was agreed for figures without one. Returns whether every figure now has a unit.
    """
    quantities = [quantity for measure in measures for quantity in measure.quantities]
    for one, following in reversed(list(pairwise(quantities))):
        if one.unit is None and following.lead_unit is not None:
            one.unit = one.lead_unit = following.lead_unit
            if following.lead_unit != following.unit:
                findings.doubts.append(f"“{one.text}” has no unit of its own; {one.unit} is proposed.")
    for earlier, one in pairwise(quantities):
        if one.unit is None and earlier.unit is not None:
            one.unit = one.lead_unit = earlier.unit
            findings.doubts.append(
                f"“{one.text}” has no unit behind it; {UNIT_NAMES[one.unit]} are proposed."
            )
    if default and any(one.unit is None for one in quantities):
        findings.remarks.append(f"No unit is written; {UNIT_NAMES[default]} were taken.")
        for one in quantities:
            one.unit = one.lead_unit = one.unit or default
    for one in quantities:
        if one.unit and is_perhaps_thousands(one.text, one.unit):
            _take_thousands(one, findings)
    return all(one.unit for one in quantities)


def _take_thousands(one: Quantity, findings: Findings) -> None:
    findings.doubts.append(f"“{one.text}” may have a decimal comma or thousands. Check the figure.")
    if one.unit == "mm":  # nobody measures an object to the thousandth of a millimetre
        one.value, one.step = Decimal(one.text.replace(",", "")), Decimal(1)
