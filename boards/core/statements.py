"""What a free text says of a board: the standards in it and who states them, and what else it says."""

import re

# How each standard is written, its year and what stands in front left open. The first that fits is taken.
_STANDARDS: tuple[tuple[str, re.Pattern[str]], ...] = tuple(
    (key, re.compile(rf"(?<![\w.])(?:{pattern})(?!\w)", re.IGNORECASE))
    for key, pattern in (
        ("iso_16245_a", r"{iso}16245{year}[\s(-]*(?:(?:board )?type |board )?A\)?"),
        ("iso_16245_b", r"{iso}16245{year}[\s(-]*(?:(?:board )?type |board )?B\)?"),
        ("iso_16245", r"{iso}16245{year}"),
        ("iso_18916", r"{iso}18916{year}"),
        ("iso_18916", r"photographic activity test|P\.A\.T\.|PAT"),
        ("iso_18902", r"{iso}18902{year}"),
        ("iso_9706", r"{iso}9706{year}"),
        ("iso_11108", r"{iso}11108{year}"),
        ("niso_z39_48", r"(?:ANSI\s*/?\s*)?(?:NISO\s*)?Z\s?39[.-]48(?:\s*[:-]\s*\d{{4}}|\s*\(R?\d{{4}}\))*"),
        ("oddy", r"Oddy(?:[ -]test)?"),
    )
    for pattern in [pattern.format(iso=r"(?:(?:DIN|EN|BS|NF)[ -])*ISO[ -]?", year=r"(?:\s*[:-]\s*\d{4})?")]
)
# Words that say no more than that a standard is met.
_FILLING = re.compile(
    r"\b(?:meets?|met|complies|compl(?:iant|ying)|conforms?|certified|passe[sd]|pass|tested|approved|"
    r"fulfils?|to|with|the|and|or|of|according|acc|as|per|in|is|by|requirements?|standards?|test|board)\b",
    re.IGNORECASE,
)
# Who states it, in a word of the trade; a name may stand behind "stated by".
_SOURCES: tuple[tuple[str, re.Pattern[str]], ...] = tuple(
    (name, re.compile(rf"(?:(?:the|our|an?|independent) )*(?:{pattern})", re.IGNORECASE))
    for name, pattern in (
        ("Supplier", r"(?:suppliers?|vendors?|dealers?)(?:['’]s?)?{kind}"),
        ("Maker", r"(?:makers?|manufacturers?|mills?|producers?)(?:['’]s?)?{kind}"),
        ("Laboratory", r"lab(?:orator(?:y|ies))?{kind}"),
        ("Own test", r"(?:own|in[ -]house) tests?|tested in[ -]house|tested (?:here|ourselves)"),
    )
    for pattern in [
        pattern.format(
            kind=r"(?: (?:statements?|states|stated|data ?sheets?|reports?|tests?|certificates?))?"
        )
    ]
)
_NAMED = re.compile(
    r"(?:as )?(?:stated|states|certified|confirmed|tested|says|according|acc|statement of|statement)"
    r"(?: to)?(?: by)? +(.+)",
    re.IGNORECASE,
)
# Words that may turn a statement into its opposite; what they stand beside is left for a person to read.
_DOUBT = re.compile(
    r"\b(?:not?|never|none|without|except|unless|fail\w*|pending|expired?|withdrawn|unknown|un\w*(?:ed|ified)|"
    r"partly|awaits?|awaiting|asked|ask|requested|planned|to be|should|will|may|might|perhaps|formerly|was)\b"
    r"|\?",
    re.IGNORECASE,
)
_DOUBT_OF_ALL = re.compile(
    r"\b(?:not?|never)\b.*\b(?:test|stat|certif|confirm|pass|prove)|\bun(?:tested|certified|confirmed|proven)\b"
    r"|\bpending\b|\bto be (?:test|confirm|certif)",
    re.IGNORECASE,
)
_PARTS = re.compile(r"\s*[;\n]\s*")
_PIECES = re.compile(r",(?!\s*(?:board )?type [AB]\b)", re.IGNORECASE)
NOT_SAID = "Not said"
LONGEST_NAME = 120


def statements_in(text: str) -> tuple[list[tuple[str, str]], str]:
    """The standards that a text states a board to meet, and the rest of the text.

    text: such as “ISO 16245 type A; ISO 18916 (PAT), supplier statement; pH neutral”, its parts set apart by
    semicolons. Returns (key of the standard, who states it) in the order of the text, each once, and what was
    not recognised. Who states it covers the standards before it that name nobody else; where nobody is named
    it is "Not said". A part with a word of doubt, as in “ISO 18916 not yet tested”, stays whole in the rest.
    Source: common practice of board lists, no source; our own grammar, which rather leaves a text as it is.
    """
    parts = [part.strip() for part in _PARTS.split(text) if part.strip()]
    if any(_DOUBT_OF_ALL.search(part) and not _keys_in(part)[0] for part in parts):
        return [], text.strip()
    found: list[tuple[str, str]] = []
    unnamed: list[str] = []
    rest = []
    for part in parts:
        keys, source, left = _part(part)
        unnamed += keys
        if source and not unnamed:
            left = part
        elif source:
            found += [(key, source) for key in unnamed]
            unnamed = []
        rest += [left] if left else []
    found += [(key, NOT_SAID) for key in unnamed]
    if not found:
        return [], text.strip()
    return list(dict.fromkeys(found)), "; ".join(rest)


def _part(part: str) -> tuple[list[str], str, str]:
    """Keys, who states them, and what is left of one part of the text."""
    keys: list[str] = []
    source, left = "", []
    for piece in (each.strip() for each in _PIECES.split(part.replace(", type", " type"))):
        found, beside = _keys_in(piece)
        named = _source(beside)
        if found and (named or not beside):
            keys += [key for key in found if key not in keys]
        elif not named and piece:
            left.append(piece)
        source = named or source
    if any(_DOUBT.search(piece) for piece in left) or (left and any(_keys_in(piece)[0] for piece in left)):
        return [], "", part
    if source and not keys and left:
        return [], "", part
    return keys, source, ", ".join(left)


def _keys_in(piece: str) -> tuple[list[str], str]:
    """The standards named in a piece, and what stands beside them once filling words are left out."""
    places: dict[str, int] = {}
    for key, pattern in _STANDARDS:
        if named := pattern.search(piece):
            places[key] = min(named.start(), places.get(key, named.start()))
            piece = pattern.sub(lambda found: " " * len(found[0]), piece)
    keys = sorted(places, key=lambda key: places[key])
    beside = re.sub(r"[()\[\]:.&+/]", " ", piece) if keys else piece
    if keys and not _DOUBT.search(beside) and not _source(" ".join(beside.split())):
        beside = _FILLING.sub(" ", beside)
    return keys, " ".join(beside.split()).strip(" -–,")


def _source(words: str) -> str:
    """Who states it, if the words say nothing else."""
    for name, pattern in _SOURCES:
        if pattern.fullmatch(words):
            return name
    named = _NAMED.fullmatch(words)
    if named is None or _DOUBT.search(words):
        return ""
    known = next((name for name, pattern in _SOURCES if pattern.fullmatch(named[1])), "")
    return known or (named[1][:LONGEST_NAME] if named[1][0].isupper() else "")
