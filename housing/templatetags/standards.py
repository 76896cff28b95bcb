"""Minutes and factors on pages."""

from django import template

register = template.Library()


@register.filter
def minutes(value) -> str:
    """Minutes with as many of at most three decimals as they need."""
    return f"{float(value):,.3f}".rstrip("0").rstrip(".")


@register.filter
def times(value: float) -> str:
    """A factor as people say it: × 1.20."""
    return f"× {value:.2f}"


@register.filter
def percent(value) -> str:
    """A share from 0 to 1 in per cent, with at most two decimals."""
    return f"{float(value) * 100:.2f}".rstrip("0").rstrip(".") + " %"
