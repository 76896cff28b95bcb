"""Values of a JSON file that somebody wrote: each is taken as it must be, or refused with its place."""

import json
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from boards.core.nesting.errors import NestingError

# Finer than any knife cuts, and longer than board comes on reels; assumed, and far inside what sums can hold.
LEAST_MM, MOST_MM = 0.01, 100_000
MOST_MONEY, MONEY_PLACES = 1_000_000_000, 4
LONGEST_ID = 100


class InstanceRefused(NestingError):
    """A file does not say what is to be cut from what."""


@dataclass(frozen=True)
class Entry:
    """One object of a file: the place that messages begin with, and its values by key."""

    place: str
    values: dict[str, Any]

    def value(self, key: str, must_be: str, is_good: Callable[[Any], bool], *default: Any) -> Any:
        """The value of a key if it is as it must be; the default, if there is one, for a missing key.

        must_be: what the reader should write, in words. Raises InstanceRefused.
        """
        if key not in self.values and default:
            return default[0]
        value = self.values.get(key)
        if key in self.values and is_good(value):
            return value
        found = shown(value) if key in self.values else "missing"
        raise InstanceRefused(f'{self.place}"{key}" is {found}; it must be {must_be}.')

    def length_mm(self, key: str, least: float = LEAST_MM) -> float:
        """A length, mm."""
        must_be = f"a number of mm from {least:g} to {MOST_MM:,}"
        return float(self.value(key, must_be, lambda value: is_number(value, least, MOST_MM)))

    def whole(self, key: str, least: int, most: int, default: int) -> int:
        """A whole number."""
        must_be = f"a whole number from {least:,} to {most:,}"
        return int(self.value(key, must_be, lambda value: is_whole(value, least, most), default))

    def yes_no(self, key: str, default: bool) -> bool:
        """True or false."""
        return bool(self.value(key, "true or false", lambda value: isinstance(value, bool), default))


def without_repeats(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """An object of a file; JSON lets a key stand in it twice, and the first would be lost unseen."""
    values = dict(pairs)
    if len(values) < len(pairs):
        [(key, times)] = Counter(key for key, _ in pairs).most_common(1)
        where = f" of {shown(values['id'])}" if "id" in values else ""
        raise InstanceRefused(f"the key {shown(key)} stands {times} times in one object{where}; keep one.")
    return values


def is_number(value: Any, least: float, most: float) -> bool:
    """Whether it is a number within limits; true, false and what is not finite are none."""
    return isinstance(value, int | float) and not isinstance(value, bool) and least <= value <= most


def is_whole(value: Any, least: int, most: int) -> bool:
    """Whether it is a whole number within limits, written 3 or 3.0."""
    return is_number(value, least, most) and value == int(value)


def is_money(value: Any) -> bool:
    """Whether it is an amount of money."""
    return is_number(value, 0, MOST_MONEY) and round(Decimal(str(value)), MONEY_PLACES) == Decimal(str(value))


def is_pair(value: Any, least: float, *most: float) -> bool:
    """Whether it is a list of two numbers, each within its limits."""
    return (
        isinstance(value, list)
        and len(value) == len(most) == 2
        and all(is_number(each, least, limit) for each, limit in zip(value, most, strict=True))
    )


def is_filled_list(value: Any) -> bool:
    """Whether it is a list of something."""
    return isinstance(value, list) and bool(value)


def is_id(value: Any) -> bool:
    """Whether it is a text that can be told and printed."""
    return (
        isinstance(value, str) and 0 < len(value.strip()) <= len(value) <= LONGEST_ID and value.isprintable()
    )


def shown(value: Any) -> str:
    """A value for a message, as the file has it if it is short."""
    if isinstance(value, dict):
        return "an object"
    if isinstance(value, list) and (len(value) > 4 or any(isinstance(each, dict | list) for each in value)):
        return f"a list of {len(value)}"
    text = json.dumps(value, ensure_ascii=False)
    text = text if text.isprintable() else json.dumps(value)
    return text if len(text) <= 60 else f"{text[:57]}..."
