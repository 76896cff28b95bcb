"""What the planner noted in English, told in the reader's language: records keep their notes in English.

A note is one or more sentences, each made from a message by putting values in its places. The messages of the
catalogue are therefore read backwards: the one whose words a sentence has is said anew with the same values.
"""

import re
from collections.abc import Mapping
from functools import cache, lru_cache
from typing import NamedTuple

from objects.core import words
from objects.core.phrases import joined
from objects.core.words import noted, say

# Values of these names are somebody's own words and stay as they are.
OWN_WORDS = frozenset(
    ("who", "name", "number", "text", "place", "code", "file", "heading", "value", "before", "after")
)
FEWEST_LETTERS = 4  # a message with fewer letters of its own is told by nothing; assumed
FEWEST_IN_A_PART = 7  # of a sentence all of whose parts are messages; assumed
FEWEST_IN_A_SENTENCE = 8  # so that a person's own words are not taken for a message; assumed
LONGEST = 2000  # characters of a note that are looked at; assumed, far more than any record keeps
_PLACE = re.compile(r"\{(\w+)(?:![rs])?(?::[^{}]*)?\}")
MONTHS = (
    noted("January"), noted("February"), noted("March"), noted("April"), noted("May"), noted("June"),
    noted("July"), noted("August"), noted("September"), noted("October"), noted("November"),
    noted("December"),
)  # fmt: skip
_DAY = re.compile(rf"(\d{{1,2}}) ({'|'.join(MONTHS)}) (\d{{4}})")
_ON_DAY = re.compile(rf"on ({_DAY.pattern})")
_COUNTED = re.compile(r"(\d[\d.,]*) ([a-z]+)")
_SIDE = re.compile(r"([A-Za-z]+) (\d[\d.,]* mm)")
# What stands in places of these names, where any text would leave open where it begins.
_SHAPES = {
    "said_by": rf"(?:by .+ )?on \d{{1,2}} (?:{'|'.join(MONTHS)}) \d{{4}}",
    "spoiled": r"[\d.,]+",
}
_PART_END = re.compile(r"(; and |; )")
AND_ALSO = noted("; and ")
_SENTENCE_END = re.compile(r"(?<=[.!?”]) (?=[A-Z“0-9])")


class _Pattern(NamedTuple):
    """A message to be recognised. longest: its longest stretch of words, looked for first."""

    longest: str
    wording: re.Pattern[str]
    message: str
    letters: int


def retold(note: str) -> str:
    """A note kept in English, in the language spoken; what is no message of ours stays as it is.

    note: one or more sentences. Returns them in their order. In English the note itself.
    """
    if words.spoken() == "en" or not note or len(note) > LONGEST:
        return note
    return _retold(note, words.spoken())


@lru_cache(maxsize=20_000)
def _retold(note: str, language: str) -> str:
    if (whole := _in_parts(note, language) or _as_one(note, language)) is not None:
        return whole
    sentences = _SENTENCE_END.split(note)
    if len(sentences) == 1:
        return note
    return " ".join(_row(sentences, language))


def _row(sentences: list[str], language: str) -> list[str]:
    """Sentences told anew; one message may hold several, so the longest row that is one goes first."""
    told: list[str] = []
    at = 0
    while at < len(sentences):
        for end in range(min(len(sentences), at + 3), at, -1):
            one = _as_one(" ".join(sentences[at:end]), language)
            if one is None and end == at + 1:
                one = _in_parts(sentences[at], language) or _without_stop(sentences[at], language)
            if one is not None:
                told.append(one)
                at = end
                break
    return told


def _without_stop(sentence: str, language: str) -> str:
    """A sentence whose message has no full stop of its own; else the sentence as it is."""
    if not sentence.endswith(".") or (one := _as_one(sentence[:-1], language)) is None:
        return sentence
    return f"{one}."


def _in_parts(sentence: str, language: str) -> str | None:
    """A sentence whose parts, set apart by semicolons, are a message each; None where one of them is none."""
    parts = _PART_END.split(sentence)
    if len(parts) == 1:
        return None
    end = "." if parts[-1].endswith(".") else ""
    parts[-1] = parts[-1].removesuffix(".")
    told = [_as_one(part, language, FEWEST_IN_A_PART) for part in parts[::2]]
    if None in told:
        return None
    plain, _ = _messages(language)
    between = [plain.get(part, part) for part in parts[1::2]]
    return "".join(one or "" for pair in zip(told, [*between, end], strict=True) for one in pair)


def _as_one(sentence: str, language: str, fewest: int = FEWEST_IN_A_SENTENCE) -> str | None:
    """One message said anew, or None where no message has these words."""
    plain, patterns = _messages(language)
    if sentence in plain and (" " in sentence or sentence.endswith(".")):
        return plain[sentence]
    best: tuple[int, str, Mapping[str, str]] | None = None
    for pattern in patterns:
        is_better = pattern.letters >= fewest and (best is None or pattern.letters > best[0])
        if is_better and pattern.longest in sentence and (found := pattern.wording.fullmatch(sentence)):
            best = (pattern.letters, pattern.message, found.groupdict())
    if best is None:
        return None
    _, message, values = best
    said = plain[message]
    told = {name: value if name in OWN_WORDS else _value(value, language) for name, value in values.items()}
    return _PLACE.sub(lambda place: told.get(place[1], place[0]), said).replace("{{", "{").replace("}}", "}")


def _value(value: str, language: str) -> str:
    if day := _DAY.fullmatch(value):
        return say("{day} {month} {year}", day=day[1], month=say(day[2]), year=day[3])
    if day := _ON_DAY.fullmatch(value):
        return say("on {day}", day=_value(day[1], language))
    if side := _SIDE.fullmatch(value):
        return f"{_word(side[1], language) or side[1]} {side[2]}"
    if (word := _word(value, language)) is not None:
        return word
    if (one := _as_one(value, language, FEWEST_LETTERS)) is not None:
        return one
    if counted := _COUNTED.fullmatch(value):
        return f"{counted[1]} {_word(counted[2], language) or counted[2]}"
    if len(pieces := re.split(r"(, | and )", value)) > 1:
        told = [_value(piece, language) for piece in pieces[::2]]
        return joined(told) if pieces[-2] == " and " else ", ".join(told)
    return value


def _word(word: str, language: str) -> str | None:
    """A word or phrase of ours, with the capital it has here; None where it is none."""
    plain, _ = _messages(language)
    for change in (str, str.lower, str.upper):
        changed = change(word[:1]) + word[1:]
        if changed in plain and not _PLACE.search(changed):
            said = plain[changed]
            return (
                said
                if changed == word
                else (str.upper if word[:1].isupper() else str.lower)(said[:1]) + said[1:]
            )
    return None


@cache
def _messages(language: str) -> tuple[dict[str, str], list[_Pattern]]:
    """Messages with their translations, and those with places in them as patterns, by letters."""
    plain = {
        message: said
        for message, said in words.messages(language).items()
        if said and message and not message.startswith("%")
    }
    patterns = [made for message in plain if (made := _pattern(message)) is not None]
    return plain, patterns


def _pattern(message: str) -> _Pattern | None:
    """A message with places as a pattern; None where it has none, or too few words to be told by."""
    literals = _PLACE.split(message)[::2]
    if len(literals) == 1:
        return None
    letters = sum(len(re.sub(r"\W", "", each)) for each in literals)
    if letters < FEWEST_LETTERS:
        return None
    seen: set[str] = set()
    wording = _written(literals[0])
    for place, literal in zip(_PLACE.finditer(message), literals[1:], strict=True):
        wording += (
            f"(?P={place[1]})" if place[1] in seen else f"(?P<{place[1]}>{_SHAPES.get(place[1], '.+?')})"
        )
        wording += _written(literal)
        seen.add(place[1])
    return _Pattern(max(literals, key=len), re.compile(wording, re.DOTALL), message, letters)


def _written(literal: str) -> str:
    return re.escape(literal.replace("{{", "{").replace("}}", "}"))
