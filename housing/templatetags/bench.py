"""What forms at the bench need: {% entry_id %} gives an entry its number."""

from uuid import uuid4

from django import template

register = template.Library()


@register.simple_tag
def entry_id() -> str:
    """A number for one entry, new each time a page is made: sent twice, the entry is kept once."""
    return str(uuid4())
