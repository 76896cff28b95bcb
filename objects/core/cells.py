"""Cells that a spreadsheet would run as a formula, made harmless when written and put right when read."""

import re

# What a spreadsheet takes for the beginning of a formula; OWASP, "CSV Injection".
_FORMULA = re.compile(r"'*[=+\-@\t\r]")
_NEUTRAL = re.compile(r"'+[=+\-@\t\r]")


def neutral_cell(text: str) -> str:
    """The text with an apostrophe in front where a spreadsheet would otherwise run it as a formula.

    A text that already begins with apostrophes and such a sign gets one more, so that plain_cell() gives
    every text back as it was.
    """
    return "'" + text if _FORMULA.match(text) else text


def plain_cell(text: str) -> str:
    """The text that neutral_cell() was given; any other text as it stands."""
    return text[1:] if text.startswith("'") and _NEUTRAL.match(text) else text
