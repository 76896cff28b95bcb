"""Tokens put together to measures: figures with their units, ranges, labels, words and parentheses."""

from collections.abc import Sequence
from decimal import Decimal

from objects.core.dimensions.attaching import attach_labels, attach_words, pair_systems
from objects.core.dimensions.measures import Measure, Quantity, quantity_of
from objects.core.dimensions.tokens import Token
from objects.core.dimensions.units import StrayUnit, spread_stray_units
from objects.core.dimensions.values import Findings
from objects.core.dimensions.vocabulary import UNIT_DOUBTS, UNIT_OF
from objects.core.lengths import LengthError
from objects.core.words import noted, say

_END = Token("end", "")
_LOOK_AHEAD = 4  # tokens, at most
_INCHES_IN_A_FOOT = Decimal(12)


def measures_in(tokens: Sequence[Token], findings: Findings) -> tuple[list[Measure], list[str]]:
    """The measures of a text, and the labels in the order that the text states, such as h x w x d.

    Raises LengthError for a figure that cannot be one. What is not understood is added to the findings.
    """
    return _Parser(tokens, findings).read()


class _Parser:
    """Reads tokens from left to right."""

    def __init__(self, tokens: Sequence[Token], findings: Findings) -> None:
        self.tokens, self.findings, self.at = [*tokens, *[_END] * _LOOK_AHEAD], findings, 0
        self.end = len(tokens)
        self.items: list[Token | Measure] = []
        self.order: list[str] = []
        self.quantities: list[Quantity] = []
        self.strays: list[StrayUnit] = []

    def read(self) -> tuple[list[Measure], list[str]]:
        while self.at < self.end:
            token = self.tokens[self.at]
            if token.kind == "figure":
                self.items.append(Measure(self._range()))
            elif token.kind in ("tie", "word"):
                self.items.append(token)
                self.at += 1
            else:
                self._take(token)
        spread_stray_units(self.strays, self.quantities, self.findings)
        attach_labels(self.items, self.findings)
        return pair_systems(attach_words(self.items, self.findings)), self.order

    def _take(self, token: Token) -> None:
        """Take in a token that needs a look at its neighbours."""
        self.at += 1
        if token.kind == "label":
            if token.text == "dm" and self._follows_bare_figure():
                self.findings.doubts.append(noted("“dm” may mean decimetres or diameter. Check which it is."))
            self.items.append(token)
        elif token.kind == "pause":
            if not (token.text == "=" and self._follows_label()):  # h = 10 cm
                self.items.append(token)
        elif token.kind == "order":
            self.order = self.order or token.text.split()
        elif token.kind == "aside":
            last = next(item for item in reversed(self.items) if isinstance(item, Measure))
            last.asides += measures_in(token.inside, self.findings)[0]
        elif token.kind == "unit":
            self._stray_unit(token)
        elif token.text.startswith("-"):
            self._refuse_minus(token)
        else:
            self.items.append(Token("word", token.text))

    def _peek(self, ahead: int = 0) -> Token:
        return self.tokens[self.at + ahead]

    def _range(self) -> list[Quantity]:
        """A figure, or several joined by dashes or "to"."""
        quantities = [self._quantity()]
        while self._peek().kind == "dash" and self._peek(1).kind == "figure":
            self.at += 1
            quantities.append(self._quantity())
        if len(quantities) > 1:
            self.findings.doubts.append(noted("A range is given; its larger end is proposed. Check it."))
        self.quantities += quantities
        return quantities

    def _quantity(self) -> Quantity:
        quantity = quantity_of(self.tokens[self.at].text, self.findings)
        self.at += 1
        behind, further = self.tokens[self.at], self.tokens[self.at + 1]
        if further.kind == "unit" and _leads_to_unit(behind, further):
            self.at += 1
            behind = further
        if behind.kind == "unit":
            quantity.take_unit(self._unit(behind))
            quantity.has_own_unit = True
            self.at += 1
            if quantity.unit == "ft":
                self._add_inches(quantity)
            elif quantity.unit != "in" and self._peek().kind == "figure":
                self._add_smaller(quantity)
        return quantity

    def _unit(self, token: Token) -> str:
        if token.text in UNIT_DOUBTS:
            self.findings.doubts.append(UNIT_DOUBTS[token.text])
        return UNIT_OF[token.text]

    def _add_inches(self, feet: Quantity) -> None:
        """Take in the inches behind feet: 5' 3", 5'-3 1/2", 5 ft. 3 in., 5'3."""
        dashes = 1 if self._peek().kind == "dash" and self._peek().text != "to" else 0
        if self._peek(dashes).kind != "figure":
            return
        behind = self._peek(dashes + 1)
        is_in_inches = behind.kind == "unit" and UNIT_OF[behind.text] == "in"
        if not is_in_inches and (dashes or behind.kind == "unit"):
            return
        self.at += dashes
        inches = quantity_of(self._peek().text, self.findings)
        self.at += 2 if is_in_inches else 1
        if inches.value >= _INCHES_IN_A_FOOT:
            self.findings.doubts.append(
                say(
                    "“{text} ft {text2} in” has a foot or more in its inches. Check the figures.",
                    text=feet.text,
                    text2=inches.text,
                )
            )
        feet.add(inches, "in")

    def _add_smaller(self, quantity: Quantity) -> None:
        """Take in the centimetres behind metres, 1 m 20 cm, or the millimetres behind centimetres."""
        behind = self._peek(1)
        unit = UNIT_OF[behind.text] if behind.kind == "unit" else None
        smaller = {"m": "cm", "cm": "mm"}.get(quantity.unit or "")
        figure = self._peek().text
        most = 2 if smaller == "cm" else 1
        if not figure.isdigit() or len(figure) > most or quantity.step != 1:
            return
        if smaller and unit == smaller:
            self.at += 2
        elif unit is None and quantity.unit == "m" and len(figure) == most:
            self.at += 1  # 1 m 20, as it is spoken
            self.findings.doubts.append(
                say(
                    "“{text} m {figure}” was taken as metres and centimetres. Check it.",
                    text=quantity.text,
                    figure=figure,
                )
            )
        else:
            return
        quantity.add(quantity_of(figure, self.findings), smaller or "")

    def _refuse_minus(self, token: Token) -> None:
        follows_tie = bool(self.items) and isinstance(self.items[-1], Token) and self.items[-1].kind == "tie"
        is_minus = self._peek().is_glued and not token.is_glued
        if self._peek().kind == "figure" and (follows_tie or is_minus):
            raise LengthError(
                say("It holds a negative size, “-{text}”. Correct the figure.", text=self._peek().text)
            )

    def _follows_label(self) -> bool:
        last = self.items[-1] if self.items else None
        return isinstance(last, Token) and last.kind == "label"

    def _follows_bare_figure(self) -> bool:
        last = self.items[-1] if self.items else None
        return isinstance(last, Measure) and last.unit is None

    def _stray_unit(self, token: Token) -> None:
        """A unit with no bare figure before it: give it to the figure whose label it follows, as in 7 (d) cm,
        or keep it until all figures are known."""
        unit = self._unit(token)
        match self.items[-2:]:
            case [Measure(quantities=[*_, Quantity(unit=None) as owner]), Token(kind="label")]:
                if self._peek().kind != "figure":
                    owner.take_unit(unit)
                    owner.has_own_unit = True
                    return
        if (
            token.text == "in"
            and self._peek().kind in ("label", "unit", "order")
            and len(self._peek().text) > 1
        ):
            return  # 12 cm in diameter, sizes in cm: here it is a word
        is_between = self._follows_label() and self._peek().kind == "figure"
        self.strays.append(StrayUnit(token.text, len(self.quantities), is_between))


def _leads_to_unit(token: Token, unit: Token) -> bool:
    """Whether a piece between a figure and its unit says nothing: 10-inch, 10 x 8 in cm."""
    return (token.text == "-" and token.is_glued and unit.is_glued) or (
        token.text == "in" and unit.text.isalpha()
    )
