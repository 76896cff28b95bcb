"""What the planner says, in the reader's language: written in English, looked up in the catalogues.

Everything below the pages says its sentences with say(); templates and forms use the framework's own
functions, which read the same catalogues. speak() sets the language of both; objects/speaking.py calls it.
"""

import gettext as catalogues
import struct
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cache
from pathlib import Path

LANGUAGES = {"en": "English", "es": "Español", "fr": "Français"}
CATALOGUES = Path(__file__).resolve().parents[1] / "locale"
DECIMAL_SIGNS = {"en": ".", "es": ",", "fr": ","}

_spoken: ContextVar[str] = ContextVar("spoken", default="en")


def speak(language: str) -> None:
    """Say everything in a language from here on, in this thread; English where it is not one of ours."""
    _spoken.set(language if language in LANGUAGES else "en")


def spoken() -> str:
    """The code of the language that is spoken now, as "en"."""
    return _spoken.get()


@contextmanager
def speaking(language: str) -> Iterator[None]:
    """Say everything in a language within a with statement."""
    before = _spoken.set(language if language in LANGUAGES else "en")
    try:
        yield
    finally:
        _spoken.reset(before)


def say(message: str, **values: object) -> str:
    """A message in the language spoken.

    message: English, written out where it is said, with {names} of values as in format strings; a brace that
    is meant is doubled where there are values. values: what stands in their place.
    Returns the message as the catalogue has it, else in English.
    """
    said = _catalogue(_spoken.get()).gettext(message) if message else ""
    return said.format(**values) if values else said


def say_count(one: str, many: str, count: int, **values: object) -> str:
    """A message about a number of things, named {count} in it; one, many: English for 1 and for others."""
    said = _catalogue(_spoken.get()).ngettext(one, many, count)
    return said.format(count=count, **values)


def noted(message: str) -> str:
    """A message that is said later, by say(): it is only noted for the catalogues here, as in a constant."""
    return message


def decimal(value: float, places: int) -> str:
    """A number with the decimal sign of the language spoken: 1.50, in Spanish and French 1,50."""
    return f"{value:.{places}f}".replace(".", DECIMAL_SIGNS[_spoken.get()])


def messages(language: str) -> dict[str, str]:
    """Every message of a language's catalogue with its translation, those for one and for many apart.

    Source of the format: GNU gettext manual, "The Format of GNU MO Files".
    """
    path = CATALOGUES / language / "LC_MESSAGES" / "django.mo"
    if not path.exists():
        return {}
    held = path.read_bytes()
    order = "<" if held[:4] == b"\xde\x12\x04\x95" else ">"
    number, messages_at, said_at = struct.unpack_from(f"{order}3I", held, 8)

    def texts(table: int, place: int) -> list[str]:
        length, at = struct.unpack_from(f"{order}2I", held, table + 8 * place)
        return held[at : at + length].decode().split("\0")

    found: dict[str, str] = {}
    for place in range(number):
        forms, said = texts(messages_at, place), texts(said_at, place)
        found |= {form.rpartition("\x04")[2]: said[0 if n == 0 else -1] for n, form in enumerate(forms)}
    return found


@cache
def _catalogue(language: str) -> catalogues.NullTranslations:
    if language == "en":
        return catalogues.NullTranslations()
    return catalogues.translation("django", CATALOGUES, [language], fallback=True)
