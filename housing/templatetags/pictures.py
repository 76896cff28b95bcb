"""Signs and charts: {% icon "print" %}, {% bar_chart chart %}, {% progress_strip strip %}."""

from django import template
from django.templatetags.static import static
from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe

from housing.core.drawing.charts import BarChart, Strip

register = template.Library()


@register.simple_tag
def icon(name: str) -> SafeString:
    """A sign of icons.svg; the words beside it say the same, so screen readers pass over it."""
    address = static("housing/icons.svg")
    return format_html('<svg class="icon" aria-hidden="true"><use href="{}#{}"/></svg>', address, name)


@register.inclusion_tag("parts/bar_chart.html")
def bar_chart(chart: BarChart, file_address: str = "") -> dict:
    """Stacked bars with their key, and the same numbers as a table and, where it has an address, a file."""
    return {"chart": chart, "svg": mark_safe(chart.svg), "file_address": file_address}


@register.inclusion_tag("parts/progress_strip.html")
def progress_strip(strip: Strip) -> dict:
    """One wide bar, and beneath it each part with its count and share."""
    return {"strip": strip, "svg": mark_safe(strip.svg)}
