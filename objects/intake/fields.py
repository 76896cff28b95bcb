"""What a list may tell us: the fields of a kind of list and the names its columns go by."""

from dataclasses import dataclass

from objects.core.refusals import Refusal


class IntakeRefused(Refusal):
    """A list cannot be taken in as it stands; the message is a sentence for the reader."""


@dataclass(frozen=True)
class Field:
    """One thing a list can tell. synonyms: other headings that mean the same, whatever their case."""

    key: str
    label: str
    synonyms: tuple[str, ...] = ()
    required: bool = False
