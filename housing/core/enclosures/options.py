"""The choices a form offers: declared by the form, read and checked here."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from housing.core.errors import OptionRefused
from objects.core.words import say

type Value = float | int | bool | str | None


class Kind(StrEnum):
    """What a choice is: a length in mm, a number of things, yes or no, or one of some words."""

    LENGTH = "length"
    COUNT = "count"
    YES_NO = "yes_no"
    WORD = "word"


@dataclass(frozen=True, slots=True)
class Option:
    """One choice of a form.

    default: what holds when nothing is chosen; None where the form works it out itself.
    least, most: limits of a length in mm or of a number; is_above: the least is itself refused.
    words: what a WORD may be, each with its label.
    """

    key: str
    label: str
    kind: Kind
    default: Value
    help: str = ""
    least: float = 0.0
    most: float = 20_000.0
    is_above: bool = False
    words: tuple[tuple[str, str], ...] = ()


class Choices:
    """The values of a form's options, read and within their limits; lengths in mm."""

    __slots__ = ("_values",)

    def __init__(self, values: dict[str, Value]) -> None:
        self._values = values

    def mm(self, key: str) -> float:
        return float(self._values[key])  # type: ignore[arg-type]

    def mm_or_none(self, key: str) -> float | None:
        value = self._values[key]
        return None if value is None else float(value)

    def count(self, key: str) -> int:
        return int(self._values[key])  # type: ignore[arg-type]

    def is_on(self, key: str) -> bool:
        return bool(self._values[key])

    def word(self, key: str) -> str:
        return str(self._values[key])

    def as_dict(self) -> dict[str, Value]:
        return dict(self._values)


def read_choices(options: Sequence[Option], given: Mapping[str, Value]) -> Choices:
    """The values of some options: what is given, checked, and the defaults for the rest.

    options: those a form declares. given: by key; lengths in mm; None and "" stand for the default.
    Raises OptionRefused for an unknown key and for a value out of its limits, naming value and limit.
    """
    values = {option.key: option.default for option in options}
    if given:
        known = {option.key: option for option in options}
        for key, value in given.items():
            if key not in known:
                offered = ", ".join(sorted(known)) or say("none")
                raise OptionRefused(
                    say("This form has no option “{key}”. It has: {offered}.", key=key, offered=offered)
                )
            if value is not None and value != "":
                values[key] = check_choice(known[key], value)
    return Choices(values)


def check_choice(option: Option, value: Value) -> Value:
    """A value of an option within its limits; raises OptionRefused with value and limit."""
    if option.kind is Kind.YES_NO:
        if not isinstance(value, bool):
            raise OptionRefused(
                say("{label}: “{value}” is neither yes nor no.", label=say(option.label), value=value)
            )
        return value
    if option.kind is Kind.WORD:
        if value not in [word for word, _ in option.words]:
            offered = ", ".join(word for word, _ in option.words)
            raise OptionRefused(
                say(
                    "{label}: “{value}” is not offered. Choose one of: {offered}.",
                    label=say(option.label),
                    value=value,
                    offered=offered,
                )
            )
        return value
    if isinstance(value, (str, bool)) or value is None:
        raise OptionRefused(say("{label}: “{value}” is not a number.", label=say(option.label), value=value))
    if option.kind is Kind.COUNT and value != int(value):
        raise OptionRefused(
            say("{label} is {value:g}; it must be a whole number.", label=say(option.label), value=value)
        )
    unit = " mm" if option.kind is Kind.LENGTH else ""
    if value < option.least or (option.is_above and value == option.least):
        limit = (
            say("above {least}", least=f"{option.least:g}")
            if option.is_above
            else say("at least {least}", least=f"{option.least:g}")
        )
        raise OptionRefused(
            say(
                "{label} is {value:g}{unit}; it must be {limit}{unit}.",
                label=say(option.label),
                value=value,
                unit=unit,
                limit=limit,
            )
        )
    if value > option.most:
        raise OptionRefused(
            say(
                "{label} is {value:g}{unit}; it must be at most {most:g}{unit}.",
                label=say(option.label),
                value=value,
                unit=unit,
                most=option.most,
            )
        )
    return value
