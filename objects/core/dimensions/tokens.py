"""Dimension text cut into figures, units, labels, ties and words."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from objects.core.dimensions.vocabulary import LABEL_OF, LABEL_WORDS
from objects.core.lengths import FIGURE_PATTERN, UNIT_MARKS, UNIT_WORDS, plain_text

_LETTER = r"[^\W\d_]"
# Words may run into the next tie, as in 10cmx8cm, 10hx8w and LxWxH.
_WORD_ENDS = rf"(?:(?!{_LETTER})|(?=x\s*[.\d])|(?=x[hwdl](?:x|(?!{_LETTER}))))"
_TOKEN = re.compile(
    rf"(?P<figure>{FIGURE_PATTERN}|\.\d+)"
    rf"|(?P<unit>(?:{UNIT_WORDS}){_WORD_ENDS}\.?|{UNIT_MARKS})"
    rf"|(?P<label>(?:{LABEL_WORDS}){_WORD_ENDS}\.?)"
    rf"|(?P<tie>x(?!{_LETTER})|x(?=[hwdl](?:x|(?!{_LETTER})))|by(?!{_LETTER})|[×*✕])"
    rf"|(?P<dash>-+|to(?!{_LETTER}))"
    rf"|(?P<pause>[;|/&=]|,(?!\d)|(?<=[^\sx×*]),|and(?!{_LETTER}))"
    rf"|(?P<skip>[\s:()_]+|\.)"
    rf"|(?P<word>{_LETTER}+\.?)"
    r"|(?P<mark>.)"
)
_ASIDE = re.compile(r"\(([^()]*)\)")
_COUNT = re.compile(
    r"\d+\s*(?=(?:pieces?|pcs?|parts?|items?|pairs?|sheets|vols?|volumes?|leaves|panels?)(?![^\W\d_]))"
    r"|(?<=of )\d+(?=\s*[:;,])"
)
# "12 cm in diameter": here "in" is a word and not the unit.
_IN_BEFORE_LABEL = re.compile(rf"(?<=[a-z\"'.])\s+in\s+(?=(?:{LABEL_WORDS})(?!{_LETTER}))")
_PART_LETTER = re.compile(r"\(\s*[a-z]\s*\)")


@dataclass(frozen=True, slots=True)
class Token:
    """One piece of the text. kind: figure, unit, label, tie, dash, pause, order, aside or word.

    is_glued: nothing stands between it and the piece before. inside: what an aside holds.
    """

    kind: str
    text: str
    is_glued: bool = False
    inside: tuple["Token", ...] = ()


def one_line(text: str) -> str:
    """The text with plain signs and with its line breaks as semicolons."""
    return plain_text(re.sub(r"[\r\n\v\f\x85\u2028\u2029]+", "; ", text))


def tokens_of(text: str) -> list[Token]:
    """The pieces of a text in their order.

    text: as one_line gives it, in any case, with brackets of any kind.
    Parentheses that hold figures behind other figures become one aside; all others, such as (h) or (sight),
    are read as part of what is around them.
    """
    tokens: list[Token] = []
    has_figure = False
    for place, piece in enumerate(_ASIDE.split(_prepared(text))):
        found = list(_tokens(piece))
        holds_figure = any(token.kind == "figure" for token in found)
        if place % 2 and holds_figure and has_figure:
            tokens.append(Token("aside", piece, inside=tuple(_with_orders(found))))
        else:
            tokens += found
        has_figure = has_figure or holds_figure
    return _with_orders(tokens)


def _prepared(text: str) -> str:
    plain = text.lower().translate(str.maketrans("[]{}", "()()"))
    if re.search(r"\(\s*a\s*\)", plain):
        plain = _PART_LETTER.sub(" part ", plain)
    return _IN_BEFORE_LABEL.sub(" ", _COUNT.sub("", plain))


def _tokens(piece: str) -> Iterator[Token]:
    end = 0
    for found in _TOKEN.finditer(piece):
        kind = found.lastgroup or ""
        if kind == "skip":
            continue
        text = found.group()
        if kind in ("label", "word") and len(text) > 1:
            text = text.removesuffix(".")
        yield Token("word" if kind == "mark" else kind, text, found.start() == end and end > 0)
        end = found.end()


def _with_orders(tokens: list[Token]) -> list[Token]:
    """Labels tied to each other, as in "h x w x d", made one token that tells the order of the figures."""
    joined: list[Token] = []
    at = 0
    while at < len(tokens):
        end = at + 1
        while tokens[at].kind == "label" and [token.kind for token in tokens[end : end + 2]] == [
            "tie",
            "label",
        ]:
            end += 2
        follows_figure = bool(joined) and joined[-1].kind in ("figure", "unit")
        leads_figure = end < len(tokens) and tokens[end].kind == "figure"
        if end > at + 1 and not (follows_figure and leads_figure):
            joined.append(Token("order", " ".join(LABEL_OF[token.text] for token in tokens[at:end:2])))
            at = end
        else:
            joined.append(tokens[at])
            at += 1
    return joined
