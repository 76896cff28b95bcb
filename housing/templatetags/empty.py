"""Where nothing is yet: {% nothing_yet "boards" as empty %} says what would be there and where to begin."""

from django import template

from housing.queries import empty
from objects.readers import Reader

register = template.Library()


@register.simple_tag(takes_context=True)
def nothing_yet(context, key: str) -> empty.EmptyPlace | None:
    """What the reader of a page is told; None where records are there."""
    return empty.nothing_yet(key, context.get("reader") or Reader())
