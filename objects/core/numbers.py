"""Object numbers: cleaned of stray spaces, and sorted the way a person sorts them."""

import re

DIGITS = 10


def clean_number(text: str) -> str:
    """An object number without stray spaces: ends stripped, inner runs of white space made one space."""
    return " ".join(text.split())


def natural_key(object_number: str) -> str:
    """A text key by which a database sorts object numbers naturally.

    object_number: such as 1995.4.10. Returns text in which every run of digits is padded with zeros, so
    that 1995.4.10 comes after 1995.4.9 and 1995.10 after 1995.9.
    Source: compound accession numbers are text whose figures count as numbers; common practice, no source.
    """
    folded = clean_number(object_number).casefold()
    return re.sub(r"\d+", lambda run: run.group().lstrip("0").rjust(DIGITS, "0"), folded)[:200]
