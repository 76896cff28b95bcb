"""Allowances for rest: from the time the work itself takes to the time to be planned."""

from enum import StrEnum

from objects.core.refusals import Refusal


class AllowanceRefused(Refusal):
    """An allowance is not one; the message says why."""


class AllowanceOf(StrEnum):
    """What the allowance is a share of."""

    WORK = "work"
    SHIFT = "shift"


def allowance_factor(share: float, of: AllowanceOf) -> float:
    """What working minutes are multiplied by.

    share: 0 or more, below 1; of the time worked or of the shift. Returns 1 + share or 1 / (1 - share).
    Raises AllowanceRefused for any other share.
    Source: Konz and Johnson, Work Design, as course notes give both forms.
    """
    if not 0 <= share < 1:
        raise AllowanceRefused(f"An allowance of {share:.0%} is not between 0 and 100 %.")
    return 1 + share if of is AllowanceOf.WORK else 1 / (1 - share)
