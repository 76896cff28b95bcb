"""Words put together as sentences have them."""

from collections.abc import Sequence


def joined(words: Sequence[str]) -> str:
    """One or more words in a row: height, width and depth. Source: none needed."""
    return f"{', '.join(words[:-1])} and {words[-1]}" if len(words) > 1 else words[0]
