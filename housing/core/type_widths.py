"""How wide words run in DejaVu Sans, in which prints are set: for what has to fit before it is set."""

import unicodedata
from functools import lru_cache

# Advance widths in hundredths of the type size, rounded up. Source: the tables of the two fonts that are kept
# with the planner; a test compares them. A letter with an accent is as wide as without,
# but for one whose caron stands beside it.
_REGULAR = {
    28: "ijl'ı", 29: "ł", 30: "IJ", 32: ",. ·‘’", 34: "/:;\\|", 36: "f", 37: "-", 38: "ľ", 40: "t()[]",
    41: "!¡²³", 42: "r", 46: "\"", 50: "*_`–°", 52: "“”", 53: "sz", 54: "?¿", 55: "c", 56: "L",
    58: "kF", 60: "vxy", 61: "P", 62: "aeoTY«»ø", 63: "ß",
    64: "0123456789bdghnpquES${}µ€£", 66: "K", 69: "ABVXZ", 70: "CR",
    74: "U", 75: "N", 76: "H", 78: "DG&", 79: "OQØ", 82: "w", 84: "#+<=>^~×", 87: "M", 96: "%", 97: "½¼¾",
    98: "mÆ", 99: "Wæ", 100: "@…—", 103: "œ", 107: "Œ",
}  # fmt: skip
_BOLD = {
    31: "'", 35: "ijl ı", 37: "/\\|", 38: "IJ,.·‘’ł", 40: ":;", 42: "-", 44: "f²³", 46: "!()[]¡", 48: "tľ",
    50: "r_`–°", 53: "\"*", 59: "z?¿", 60: "cs", 64: "L", 65: "x«»", 66: "vy“”", 67: "k", 68: "ae",
    69: "oEFTø", 70: "0123456789$€£", 72: "bdghnpqu{}ß", 73: "SYZ", 74: "CPµ", 77: "B", 78: "AKRVX",
    82: "U", 83: "G", 84: "DHN#+<=>^~×", 86: "OQØ", 88: "&", 93: "w", 100: "M@…—", 101: "%", 104: "½¼¾",
    105: "mæ", 109: "Æ", 110: "œ", 111: "W", 117: "Œ",
}  # fmt: skip
_WIDEST = 115  # no letter of the two fonts' Latin part is wider
_REGULAR_OF = {sign: width for width, signs in _REGULAR.items() for sign in signs}
_BOLD_OF = {sign: width for width, signs in _BOLD.items() for sign in signs}


@lru_cache(maxsize=20_000)
def em_width(words: str, bold: bool) -> float:
    """How wide a text runs, in type sizes; never less than it does. bold: in the bold face."""
    of = _BOLD_OF if bold else _REGULAR_OF
    total = 0
    for sign in words:
        width = of.get(sign)
        if width is None:
            width = of.get(unicodedata.normalize("NFD", sign)[0], _WIDEST)
        total += width
    return total / 100
