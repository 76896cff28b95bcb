"""What somebody may mean who types into the search field: numbers, a code, beginnings, words."""

import re
from dataclasses import dataclass

from housing.core.label_codes import LENGTH, READ_AS, SIGNS, read_code
from objects.core.numbers import clean_number

LONGEST = 100  # signs of a search that are read; a longer one finds nothing that fewer would not
LONGEST_NUMBER = 9  # digits: more than any museum has boxes, and what a database counts to
LEAST_OF_A_CODE = 4  # signs from which on the beginning of a code is looked for; assumed

# What stands before a number, in the languages of the pages; accents and capitals do not count.
BOX_WORDS = frozenset({"box", "boxes", "caja", "boite", "boîte"})
SHEET_WORDS = frozenset({"sheet", "plancha", "hoja", "feuille"})
OFFCUT_WORDS = frozenset({"offcut", "retal", "chute"})


@dataclass(frozen=True)
class Asked:
    """A search as it was understood.

    text: without stray spaces; words: its parts, each of which a hit contains. code: of a label, read in
    full; code_beginning: signs that a code may begin with. box, sheet, offcut: the number meant, if one is.
    is_named: the kind of thing was said before the number, so that nothing else is meant by it.
    """

    text: str
    words: tuple[str, ...]
    code: str | None = None
    code_beginning: str = ""
    box: int | None = None
    sheet: int | None = None
    offcut: int | None = None
    is_named: bool = False


def read_search(typed: str) -> Asked:
    """What was typed, understood. A number alone may be a box, a sheet or an offcut as well as an object."""
    text = clean_number(typed.replace("\0", "")[:LONGEST])
    words = tuple(dict.fromkeys(text.split()))
    asked = Asked(text, words, read_code(text), _beginning_of_code(text))
    said = re.fullmatch(r"(?:([^\W\d_]+)\s*\.?\s*)?#?([0-9]+)", text)
    if said is None or len(said[2].lstrip("0")) > LONGEST_NUMBER:
        return asked
    word, number = (said[1] or "").casefold(), int(said[2])
    meant = {
        "box": number if not word or word in BOX_WORDS else None,
        "sheet": number if not word or word in SHEET_WORDS else None,
        "offcut": number if not word or word in OFFCUT_WORDS else None,
    }
    is_named = bool(word) and any(value is not None for value in meant.values())
    return Asked(text, words, asked.code, asked.code_beginning, **meant, is_named=is_named)


def number_keys(text: str) -> tuple[str, ...]:
    """What the keys of object numbers begin with that a text begins: 1995.4 begins 1995.4.2 and 1995.40.

    Keys are those of natural_key(), in which a run of digits is led by how many it has; so a run that the
    text may break off is looked for with up to three digits more.
    """
    folded = clean_number(text).casefold()
    parts = re.split(r"([0-9]+)", folded)
    for place in range(1, len(parts), 2):
        digits = parts[place].lstrip("0") or "0"
        parts[place] = f"{len(digits):02d}{digits}"
    if parts[-1] or len(parts) == 1:
        return ("".join(parts),)
    before, last = "".join(parts[:-2]), parts[-2][2:]
    return tuple(f"{before}{len(last) + more:02d}{last}" for more in range(4 if last != "0" else 1))


def _beginning_of_code(text: str) -> str:
    """Signs of a code that was typed in part; "" where these cannot be any."""
    plain = "".join(text.upper().split()).replace("-", "").translate(READ_AS)
    fits = LEAST_OF_A_CODE <= len(plain) <= LENGTH and all(sign in SIGNS for sign in plain)
    return plain if fits else ""
