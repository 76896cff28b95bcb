"""Budgets on pages: {% target_url line.target campaign %} is where a figure was computed from."""

from decimal import Decimal

from django import template
from django.urls import NoReverseMatch, reverse

from housing.core.budget.lines import Target
from housing.models import Campaign

register = template.Library()

# Kind of target: the page's name, and whether it is one of a record (its key), of the campaign, or of all.
KEY, CAMPAIGN, ALL = "key", "campaign", "all"
PAGES = {
    "plan": ("housing:campaign-plan", CAMPAIGN),
    "campaign": ("housing:campaign-edit", CAMPAIGN),
    "waiting": ("housing:campaign-detail", CAMPAIGN),
    "tasks": ("housing:campaign-tasks", CAMPAIGN),
    "terms": ("housing:campaign-budget-terms", CAMPAIGN),
    "purchases": ("housing:campaign-purchases", CAMPAIGN),
    "phase": ("housing:phase-edit", KEY),
    "phases": ("housing:phase-list", CAMPAIGN),
    "board": ("boards:board-detail", KEY),
    "sheet": ("boards:sheet-edit", KEY),
    "supply": ("boards:supply-edit", KEY),
    "supplies": ("boards:supply-list", ALL),
    "supplier": ("boards:supplier-edit", KEY),
    "designs": ("housing:design-list", ALL),
    "design": ("housing:design-detail", KEY),
    "person": ("housing:person-edit", KEY),
    "people": ("housing:person-list", ALL),
    "grade": ("housing:grade-edit", KEY),
    "standards": ("housing:standard-list", ALL),
    "ready_made": ("housing:ready-made-list", ALL),
}


@register.simple_tag
def target_url(target: Target, campaign: Campaign) -> str:
    """The address of what a line or a problem is about; blank where that has no page."""
    name, needs = PAGES.get(target.kind, ("", ALL))
    if not name or (needs == KEY and not target.key.isdecimal()):
        return ""
    args = {KEY: [target.key], CAMPAIGN: [campaign.pk], ALL: []}[needs]
    try:
        return reverse(name, args=args)
    except NoReverseMatch:
        return ""


@register.filter
def quantity(value: Decimal) -> str:
    """A quantity with as many of at most three decimals as it needs: 12, 1,250.5, 0.125."""
    text = f"{value:,.3f}".rstrip("0").rstrip(".")
    return text or "0"


@register.filter
def price(value: Decimal) -> str:
    """A price with at least two decimals, and those beyond that it needs: 12.50, 0.125."""
    whole, _, rest = f"{value:,.4f}".partition(".")
    return f"{whole}.{rest.rstrip('0').ljust(2, '0')}"


@register.filter
def less(value: Decimal, other: Decimal) -> Decimal:
    """A difference of money."""
    return value - other
