"""Dimension text cut into figures, units, labels, ties and words."""

import re
from collections.abc import Iterator
from typing import NamedTuple

from objects.core.dimensions.vocabulary import KIND_OF
from objects.core.lengths import FIGURE_PATTERN, UNIT_MARKS, plain_text

_LETTER = r"[^\W\d_]"
_SHORT = "[hwdlbtpø]"  # labels that run into other words
_PIECE = re.compile(
    r"(?:[\s:()_]|\.(?!\d))*+(?:"
    rf"(?P<figure>{FIGURE_PATTERN}|\.\d+)"
    rf"|(?P<word>(?:cm|mm|in|ft|m|{_SHORT})?x(?=\.\d)|{_LETTER}+\.?)"
    rf"|(?P<unit>{UNIT_MARKS})"
    r"|(?P<tie>[×*✕✖⨯])"
    r"|(?P<dash>-+)"
    r"|(?P<pause>[;|/&=]|,(?!\d)|(?<=[^\sx×*]),)"
    r"|(?P<mark>[^\s:()_.]))"
)
# Words that run together, as in 10cmx8cm, 10hx8w, 10cmWx8cmD and LxWxH; no more than a unit, a label and
# ties, so that ml, lb and the like stay words.
_RUN_TOGETHER = re.compile(
    rf"(?!(?:int|px)$)(cm|mm|in|ft)?({_SHORT})?((?:x{_SHORT}?)*)|(m)()((?:x{_SHORT}?)+)"
)
_ASIDE = re.compile(r"\(([^()]*)\)")
_BRACKETS = str.maketrans("[]{}", "()()")
# What stands for a cross, a diameter sign or a decimal point in other scripts, hands and times.
_LOOKS_LIKE = str.maketrans("хХχ⨉╳∗∅Ø´`¨", "xxxxx*øø''\"")
_RAISED_POINT = re.compile(r"(?<=\d)[·∙•](?=\d)")
_SPELLED_BY_LETTER = re.compile(r"(?<![^\W_])([cm])\.\s?m\b")  # c.m. and m.m.
_BREAKS = re.compile(r"[\r\n\v\f\x85\u2028\u2029]+")


class Token(NamedTuple):
    """One piece of the text. kind: figure, unit, label, tie, dash, pause, order, aside or word.

    is_glued: nothing stands between it and the piece before. inside: what an aside holds.
    """

    kind: str
    text: str
    is_glued: bool = False
    inside: tuple["Token", ...] = ()


def one_line(text: str) -> str:
    """The text in small letters, with plain signs and brackets, and with its line breaks as semicolons."""
    line = text if text.isprintable() else _BREAKS.sub("; ", text)
    if not line.isascii():
        # Twice, since what is written wide or raised may become one of these signs.
        line = plain_text(line.translate(_LOOKS_LIKE)).translate(_LOOKS_LIKE)
        line = _RAISED_POINT.sub(".", line)
    line = " ".join(line.lower().translate(_BRACKETS).split())
    return _SPELLED_BY_LETTER.sub(r"\1m", line) if "m." in line or ".m" in line else line


def tokens_of(line: str) -> list[Token]:
    """The pieces of a text in their order.

    line: as one_line gives it.
    Parentheses that hold figures behind other figures become one aside; all others, such as (h) or (sight),
    are read as part of what is around them.
    """
    if "(" not in line:
        return _with_orders(_tokens(line))
    tokens: list[Token] = []
    has_figure = False
    for place, piece in enumerate(_ASIDE.split(line)):
        found = _tokens(piece)
        holds_figure = any(token.kind == "figure" for token in found)
        if place % 2 and holds_figure and has_figure:
            tokens.append(Token("aside", piece, inside=tuple(_with_orders(found))))
        else:
            tokens += found
            if place % 2 and holds_figure:  # (1 m) 20 cm is not 1 m 20 cm
                tokens.append(Token("pause", ")"))
        has_figure = has_figure or holds_figure
    return _with_orders(tokens)


def _tokens(piece: str) -> list[Token]:
    tokens: list[Token] = []
    end = 0
    for found in _PIECE.finditer(piece):
        kind = found.lastgroup or ""
        text = found[kind]
        is_glued = found.start(kind) == end > 0
        end = found.end()
        if kind == "word":
            word = text.removesuffix(".")
            if known := KIND_OF.get(word):
                tokens.append(Token(known, word, is_glued))
            else:
                tokens += _words(word, is_glued)
        else:
            tokens.append(Token("word" if kind == "mark" else kind, text, is_glued))
    return tokens


def _words(text: str, is_glued: bool) -> Iterator[Token]:
    """A word that is none of the known ones, or the several pieces that run together in it."""
    if (found := _RUN_TOGETHER.fullmatch(text)) and (found[1] or "x" in text):
        for part in filter(None, (found[1] or found[4], found[2], *(found[3] or found[6] or ""))):
            yield Token(KIND_OF[part], part, is_glued)
            is_glued = True
    elif text.startswith("gesamt") and (kind := KIND_OF.get(text[6:])):  # Gesamthöhe
        yield Token("word", "gesamt", is_glued)
        yield Token(kind, text[6:])
    else:
        yield Token("word", text, is_glued)


def _with_orders(tokens: list[Token]) -> list[Token]:
    """Labels tied to each other, as in "h x w x d", made one token that tells the order of the figures."""
    kinds = [token.kind for token in tokens]
    if kinds.count("label") < 2 or "label tie label" not in " ".join(kinds):
        return tokens
    joined: list[Token] = []
    at = 0
    while at < len(tokens):
        end = at + 1
        if kinds[at] == "label":
            while kinds[end : end + 2] == ["tie", "label"]:
                end += 2
        follows_figure = bool(joined) and joined[-1].kind in ("figure", "unit")
        leads_figure = end < len(tokens) and kinds[end] == "figure"
        if end > at + 1 and not (follows_figure and leads_figure):
            joined.append(Token("order", " ".join(token.text for token in tokens[at:end:2])))
            at = end
        else:
            joined.append(tokens[at])
            at += 1
    return joined
