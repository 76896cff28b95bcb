"""The version of a cut sheet: a short code of all it tells the maker, by which an old print is known."""

import hashlib
import json
from collections.abc import Mapping

from housing.core.label_codes import READ_AS, SIGNS

LENGTH = 4  # signs: one in 32^4, about a million, that a changed sheet keeps its code by chance
PLACES = 3  # figures that differ by less than a thousandth of a millimetre tell the maker the same


def version_of(told: Mapping[str, object]) -> str:
    """The code of what a sheet tells.

    told: by name, texts, figures in mm, lists and further names; the order of names does not count.
    Returns four signs of the alphabet of label codes. The same content has the same code in every language,
    unit and layout, on every computer.
    Source: SHA-256 (FIPS 180-4), its first 20 bits written in 32 signs.
    """
    written = json.dumps(_plain(told), sort_keys=True, separators=(",", ":"), ensure_ascii=True)
    bits = int.from_bytes(hashlib.sha256(written.encode()).digest()[:4], "big") >> (32 - 5 * LENGTH)
    return "".join(SIGNS[bits >> 5 * place & 31] for place in reversed(range(LENGTH)))


def read_version(text: str) -> str | None:
    """A version as somebody typed or scanned it, in capitals without gaps; None where it cannot be one."""
    plain = "".join(text.upper().split()).translate(READ_AS)
    return plain if len(plain) == LENGTH and all(sign in SIGNS for sign in plain) else None


def _plain(value: object) -> object:
    """A value as JSON writes it, figures rounded and whole ones without a point."""
    if isinstance(value, Mapping):
        return {str(name): _plain(each) for name, each in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(each) for each in value]
    if value is None or isinstance(value, bool | str):
        return value
    figure = round(float(value), PLACES)  # type: ignore[arg-type]
    return int(figure) if figure == int(figure) else figure
