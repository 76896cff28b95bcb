"""Pictures of the guide: {% guide_picture "plan" alt caption %}, and the way back to the first steps."""

import json
from functools import cache

from django import template
from django.conf import settings

from housing.queries.first_run import FirstStep, first_steps, is_begun_museum

register = template.Library()
FOLDER = settings.BASE_DIR / "housing" / "static" / "housing" / "guide"


@cache
def picture_sizes() -> dict[str, tuple[int, int]]:
    """Width and height of each picture in pixels, as the script that took them wrote them down."""
    return {name: tuple(size) for name, size in json.loads((FOLDER / "pictures.json").read_text()).items()}


@register.inclusion_tag("parts/guide_picture.html")
def guide_picture(name: str, alt: str, caption: str = "") -> dict:
    """A picture of a page, with room kept for it before it has come; nothing where it was not taken yet."""
    if name not in picture_sizes():
        return {}
    width, height = picture_sizes()[name]
    return {
        "address": f"housing/guide/{name}.webp", "alt": alt, "caption": caption,
        "width": width, "height": height,
    }  # fmt: skip


@register.simple_tag
def next_first_step() -> FirstStep | None:
    """The first step that a new museum has still to take; None once all are done."""
    steps = first_steps()
    return None if is_begun_museum(steps) else next((step for step in steps if step.is_next), None)
