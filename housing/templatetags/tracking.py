"""A campaign beside one of its baselines: {% progress_against baseline as standing %}."""

from collections.abc import Sequence

from django import template

from housing.models import Budget
from housing.queries.tracking import Progress, progress_against

register = template.Library()


@register.simple_tag(name="progress_against")
def standing_against(baseline: Budget) -> Progress | None:
    """How a campaign stands against a baseline; None where they cannot be compared."""
    return progress_against(baseline)


@register.simple_tag
def baseline_shown(against: Budget | str, baselines: Sequence[Budget] | str) -> Budget | None:
    """The baseline that is compared with: the one named, else the newest there is."""
    return against or (baselines[0] if baselines else None)


@register.filter
def index(value) -> str:
    """An index of earned value, with two decimals."""
    return "—" if value is None else f"{value:.2f}"
