"""Words of the trade explained where they stand: {% term "flute" %}flutes{% endterm %}.

The word is a link to its place in the glossary. Its meaning shows beside it while the pointer is over the
word or over the note itself, while the word has the focus, and on a first tap; Escape hides it (terms.js).
"""

from typing import Any
from uuid import uuid4

from django import template
from django.urls import reverse
from django.utils.html import format_html
from django.utils.safestring import SafeString

from housing.core.glossary import BY_KEY
from objects.core.words import say

register = template.Library()


@register.simple_block_tag
def term(content: str, key: str) -> SafeString:
    """A word with its meaning; a key that the glossary does not have fails loudly."""
    return marked(content, key)


@register.simple_tag
def marked_term(key: str, words: str = "") -> SafeString:
    """A word with its meaning, for the middle of a sentence: {% marked_term "blank" as blank %}."""
    return marked(words or say(BY_KEY[key].words), key)


def marked(content: Any, key: str) -> SafeString:
    """A link to the glossary and the note that explains it; the note is no part of the link's name."""
    note = f"term-{key}-{uuid4().hex[:8]}"
    return format_html(
        '<span class="term"><a class="term-word" href="{}#{}" aria-describedby="{}">{}</a>'
        '<span class="term-note" role="tooltip" id="{}">{}</span></span>',
        reverse("housing:glossary"),
        key,
        note,
        content,
        note,
        say(BY_KEY[key].meaning),
    )
