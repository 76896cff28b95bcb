"""Filters for ledgers: what an entry was made for."""

from django import template

from boards.queries import OF_A_PLAN

register = template.Library()


@register.filter
def planned_sheet(reference: str) -> int | None:
    """The key of the planned sheet that a reference names; None for anything else."""
    key = reference.removeprefix(OF_A_PLAN)
    return int(key) if key != reference and key.isascii() and key.isdecimal() else None
