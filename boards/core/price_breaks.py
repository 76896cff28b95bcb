"""Price breaks as people write them: from how many, and what each costs then."""

import re
from collections.abc import Sequence
from decimal import Decimal

from objects.core.refusals import Refusal
from objects.core.words import say

type Breaks = tuple[tuple[int, Decimal], ...]

_BREAK = re.compile(r"(?:from\s+)?(\d{1,9})\s*(?::|=|at|for)\s*(\d{1,8}(?:[.,]\d{1,2})?)", re.IGNORECASE)


class BreaksRefused(Refusal):
    """What was written is no list of price breaks; the message says which part and how to write it."""


def parse_breaks(text: str) -> Breaks:
    """Price breaks out of a text such as "10: 4.50; 50: 4.10", by how many.

    text: one break a line, or set apart by semicolons; a decimal comma is taken as well. Returns from how
    many, and the price of each from there on in money; none for a blank text.
    Raises BreaksRefused for what cannot be read, for fewer than 2, a price of 0, and two of the same number.
    """
    found: dict[int, Decimal] = {}
    for part in filter(None, (part.strip() for part in re.split(r"[;\n]", text))):
        read = _BREAK.fullmatch(part)
        if read is None:
            raise BreaksRefused(
                say("“{part}” is no price break. Write from how many and the price, as 10: 4.50.", part=part)
            )
        least, price = int(read[1]), Decimal(read[2].replace(",", "."))
        if least < 2:
            raise BreaksRefused(
                say("“{part}” holds from the first one on; enter that as the price itself.", part=part)
            )
        if not price:
            raise BreaksRefused(
                say("“{part}” has a price of 0. Enter what each costs, or leave the break out.", part=part)
            )
        if least in found:
            raise BreaksRefused(
                say("There are two prices from {least:,} on. Leave one of them out.", least=least)
            )
        found[least] = price
    return tuple(sorted(found.items()))


def breaks_text(breaks: Sequence[tuple[int, Decimal]]) -> str:
    """Price breaks as parse_breaks() reads them."""
    return "; ".join(f"{least}: {price:.2f}" for least, price in sorted(breaks))


def break_fault(breaks: Sequence[tuple[int, Decimal]], price: Decimal | None) -> str:
    """What is wrong with some breaks beside the price of one, a sentence; "" for nothing.

    A break that does not lower the price is a slip, and would never be bought at.
    """
    if not breaks:
        return ""
    if not price:
        return say("There are price breaks, but no price of one. Enter that too.")
    before = price
    for least, each in sorted(breaks):
        if each >= before:
            return say(
                "From {least:,} on each costs {each:.2f}, which is not less than {before:.2f} before it.",
                least=least,
                each=each,
                before=before,
            )
        before = each
    return ""
