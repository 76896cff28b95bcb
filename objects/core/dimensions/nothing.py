"""Texts without a figure in the column of sizes, and what is to be done about each."""

import re

from objects.core.lengths import shown
from objects.core.words import noted, say

# Only letters and figures of the text count: n/a is "n a". English, German, French, Dutch, Spanish, Italian.
_NOT_KNOWN = re.compile(
    r"n a|na|none|nil|null|nan|blank|(?:size |dimensions |measurements )?(?:unknown|pending|missing)|"
    r"not (?:known|recorded|measured|taken|given|stated|available|applicable)|unmeasured|unrecorded|"
    r"unavailable|no (?:dimensions|measurements|size|data)(?: recorded| given| available)?|"
    r"to be (?:measured|confirmed|determined)|tbc|tbd|tba|tbm|needs measuring|"
    r"unbekannt|k a|keine angaben?|nicht gemessen|ohne maße|o a|"
    r"inconnue?s?|non mesurée?|non renseigné|nr|sans|"
    r"onbekend|niet gemeten|nvt|desconocid[oa]s?|sin medidas|sin datos|s d|nd|n d|"
    r"sconosciut[oea]|non misurato"
)
_ELSEWHERE = (
    (
        r"see|refer|siehe|voir|zie|ver|vedi|in file|on file|on card|attached",
        noted("{text} says that the size is written elsewhere. Look it up, or measure the object."),
    ),
    (
        r"ditto|do|as above|as last|same|idem|dito|id|wie oben|ebenso|comme|s o",
        noted("{text} points to another record. Copy its size, or measure the object."),
    ),
)
_NO_SIZE = (
    (
        r"various|varies|varied|vary|assorted|mixed|misc|different|diverse|divers|verschiedene?|varias?|"
        r"several|multiple|variable|vari",
        noted("{text} is no size. Measure the pieces as they will lie together."),
    ),
    (
        r"life|full|half|quarter|whole|small|medium|large|tiny|miniature|big|oversize|oversized|extra|folio|"
        r"quarto|octavo|elephant|foolscap|standard|lebensgroß|klein|groß|petit|grand|xx?s|xx?l|[sml]",
        noted("{text} is a word for a size, not a measured one. Measure the object."),
    ),
)


def _compiled(rows: tuple[tuple[str, str], ...]) -> tuple[tuple[re.Pattern[str], str], ...]:
    return tuple(
        (re.compile(rf"(?:sizes? |dimensions? |measurements? )?(?:{words})\b"), says) for words, says in rows
    )


_ELSEWHERE_PATTERNS, _NO_SIZE_PATTERNS = _compiled(_ELSEWHERE), _compiled(_NO_SIZE)


def _letters_of(line: str) -> str:
    return " ".join(re.findall(r"[^\W_]+", line))


def says_not_known(line: str) -> bool:
    """Whether a line, as one_line gives it, only says that the size is not known."""
    return _NOT_KNOWN.fullmatch(_letters_of(line)) is not None


def points_elsewhere(line: str, text: str) -> str | None:
    """What to do about a text that points to another place, such as “see file” or “as above”; else None."""
    return _first(_ELSEWHERE_PATTERNS, line, text)


def sentence_without_a_size(line: str, text: str) -> str:
    """What to do about a text in which no figure of a size was found."""
    no_size = points_elsewhere(line, text) or _first(_NO_SIZE_PATTERNS, line, text)
    return no_size or say("No size was found in “{text}”. Measure the object.", text=shown(text))


def _first(rows: tuple[tuple[re.Pattern[str], str], ...], line: str, text: str) -> str | None:
    letters = _letters_of(line)
    says = next((says for words, says in rows if words.match(letters)), None)
    return says and say(says, text=f"“{shown(text)}”")
