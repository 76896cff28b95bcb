"""Object numbers: cleaned of stray spaces, and sorted the way a person sorts them."""

import re

LONGEST_KEY = 200


def clean_number(text: str) -> str:
    """An object number without stray spaces: ends stripped, inner runs of white space made one space."""
    return " ".join(text.split())


def natural_key(object_number: str) -> str:
    """A text key by which a database sorts object numbers naturally.

    object_number: such as 1995.4.10. Returns text of at most 200 characters in which every run of digits is
    led by how many digits it has, as two figures: 1995.4.10 becomes 041995.014.0210. So it sorts after
    1995.4.9, and 1995.10 after 1995.9, however long the runs are. Zeros in front and capitals do not count.
    Source: compound accession numbers are text whose figures count as numbers (Buck and Gilmore, The New
        Museum Registration Methods, 1998, as quoted by numbering guides).
    """
    folded = clean_number(object_number).casefold()
    return re.sub(r"[0-9]+", lambda run: _led_by_its_length(run.group()), folded)[:LONGEST_KEY]


def _led_by_its_length(digits: str) -> str:
    significant = digits.lstrip("0") or "0"
    return f"{len(significant):02d}{significant}"
