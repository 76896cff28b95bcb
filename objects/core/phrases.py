"""Words put together as sentences have them."""

from collections.abc import Sequence

from objects.core.words import say


def joined(words: Sequence[str]) -> str:
    """One or more words in a row: height, width and depth. Source: none needed."""
    if len(words) == 1:
        return words[0]
    return say("{words} and {last}", words=", ".join(words[:-1]), last=words[-1])
