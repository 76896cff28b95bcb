"""The words of dimension text: labels of sides, words that raise a doubt, and words that say nothing new."""

import re

from objects.core.dimensions.values import Findings
from objects.core.lengths import shown

_LABEL_WORDS = {
    "height": "height high tall ht hgt h",
    "width": "width wide breadth wd w",
    "depth": "depth deep dp d",
    "thickness": "thickness thick thk th",
    "length": "length long lgth lg l",
    "diameter": "diameter diam dia ø",
    "radius": "radius rad",
    "circumference": "circumference circum circ girth",
}
LABEL_OF = {word: label for label, words in _LABEL_WORDS.items() for word in words.split()}
LABEL_WORDS = "|".join(sorted(LABEL_OF, key=len, reverse=True))

WHOLE = frozenset({"overall", "total"})  # says that the size beside it is the whole object's
_SAYS_NOTHING = re.compile(
    r"overall|total|sizes?|dim(?:ension)?s?|meas|measure(?:s|ments?)?|measuring|"
    r"object|sheet|support|outside|outer|external|at|of"
)

_SEVERAL = "Several pieces or parts are meant. Measure them as they will lie together."
_DOUBTS = (
    (
        r"approx\w*|circa|ca|c|about|around|roughly|nearly|est|estimated|[~≈?±]",
        "The size is only approximate.",
    ),
    (r"sight|visible|aperture", "The sight size is given; the true size is larger. Measure the whole."),
    (r"image|plate|platemark|mark|impression|text", "Only a part is measured. Measure the whole."),
    (
        r"(?:un)?folded|open|opened|closed|(?:un)?rolled|extended|collapsed",
        "It says folded, rolled, open or closed. Say which size is to be housed.",
    ),
    (
        r"(?:un)?framed|frames?|matted|mats?|(?:un)?mounted|mounts?|stretcher|backing|case|cased",
        "It says framed, mounted or the like. Say which size is to be housed.",
    ),
    (r"irreg\w*|variable|varies|varying|uneven|taper\w*|diagonal", "The shape is irregular."),
    (r"min|minimum|least|under|over|up|to|[<>]", "Only a limit is given. Measure the object."),
    (
        r"each|pieces?|pcs?|parts?|items?|pairs?|sets?|groups?|lid|cover|base|stand|stopper|saucer|sheets|"
        r"vols?|volumes?|leaves|panels?|with|without|including|excluding|largest|smallest",
        _SEVERAL,
    ),
)
_DOUBT_PATTERNS = tuple((re.compile(pattern), sentence) for pattern, sentence in _DOUBTS)


def weigh_words(words: list[str], findings: Findings) -> None:
    """Add to the findings what each word between the figures means; an unknown word raises a doubt."""
    unknown = []
    for word in words:
        if word in ("max", "maximum", "widest", "greatest"):
            findings.remarks.append("The greatest sizes are given.")
        elif not _SAYS_NOTHING.fullmatch(word):
            sentence = next((says for pattern, says in _DOUBT_PATTERNS if pattern.fullmatch(word)), None)
            if sentence:
                findings.doubts.append(sentence)
            else:
                unknown.append(word)
    if unknown:
        findings.doubts.append(
            f"“{shown(' '.join(unknown))}” was not understood. Check that the overall size was taken."
        )
