"""The code on a box's label: short, easy to read aloud, and with a sign that tells slips from codes."""

import random

# Digits and capitals without those that are taken for one another: I and 1, L and 1, O and 0, U and V.
SIGNS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
ALL = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
LENGTH = 8  # signs without the check: 32^8, so that two labels hardly ever draw the same
READ_AS = str.maketrans({"I": "1", "L": "1", "O": "0"})


def new_code(chance: random.Random) -> str:
    """A code drawn by chance, its check sign behind it; whether it is new is for the caller to see."""
    while True:
        body = "".join(chance.choices(SIGNS, k=LENGTH))
        check = check_sign(body)
        if check in SIGNS:
            return body + check


def check_sign(body: str) -> str:
    """The sign that makes a text of digits and capitals check.

    Raises ValueError for any other sign.
    Source: ISO/IEC 7064, MOD 37,36, a hybrid system; it finds every single wrong sign and nearly every swap.
    """
    total = 36
    for sign in body:
        total = (total + ALL.index(sign)) % 36 or 36
        total = total * 2 % 37
    return ALL[(37 - total) % 36]


def read_code(text: str) -> str | None:
    """A code as somebody typed or scanned it, in capitals without gaps; None where it cannot be a code."""
    plain = "".join(text.upper().split()).replace("-", "").translate(READ_AS)
    if len(plain) != LENGTH + 1 or any(sign not in SIGNS for sign in plain):
        return None
    return plain if check_sign(plain[:-1]) == plain[-1] else None


def spaced(code: str) -> str:
    """A code in groups of three, as it is printed."""
    return " ".join(code[place : place + 3] for place in range(0, len(code), 3))
