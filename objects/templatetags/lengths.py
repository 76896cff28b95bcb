"""Measures in the reader's unit: {% length thing.width_mm %}, {% size box.inner_mm %} and so on."""

from django import template

from objects.core.retelling import retold
from objects.readers import Reader

register = template.Library()


def _reader(context) -> Reader:
    return context.get("reader") or Reader()


@register.simple_tag(takes_context=True)
def length(context, mm) -> str:
    """One length in the reader's unit."""
    return _reader(context).length(mm)


@register.simple_tag(takes_context=True)
def size(context, sides_mm) -> str:
    """Several sides in the reader's unit, such as 11 × 10 3/4 × 9 1/8 in."""
    return _reader(context).size(sides_mm)


@register.simple_tag(takes_context=True)
def area(context, mm2) -> str:
    """An area, such as 40 sq in or 250 cm²."""
    return _reader(context).area(mm2)


@register.simple_tag(takes_context=True)
def weight(context, grams) -> str:
    """A weight, such as 2 lb 4 oz or 1.02 kg."""
    return _reader(context).weight(grams)


@register.simple_tag(takes_context=True)
def sentence(context, text: object) -> str:
    """What the planner says, with its millimetres in the reader's unit."""
    return _reader(context).sentence(text)


@register.filter
def retell(text: object) -> str:
    """What was noted in English, in the reader's language; its measures stay as they are."""
    return retold(str(text))
