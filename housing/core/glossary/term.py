"""What an entry of the glossary is made of.

A meaning is one to three sentences in plain words, in the reader's language by say(). source: a standard or a
text that defines it, "" for common practice without a source. picture: a drawing of housing/core/drawing.
Standards are named by their titles from memory, apart from those of boards/core/standards.py.
"""

from dataclasses import dataclass

FIBREBOARD_CODE = "FEFCO and ESBO, International Fibreboard Case Code, 2007"


@dataclass(frozen=True)
class Term:
    """One word. also: other words for it, by which it is found; see: keys of words that belong to it."""

    key: str
    words: str
    meaning: str
    also: str = ""
    source: str = ""
    picture: str = ""
    see: tuple[str, ...] = ()


@dataclass(frozen=True)
class Group:
    """Words that belong together, under a heading."""

    key: str
    heading: str
    terms: tuple[Term, ...]
