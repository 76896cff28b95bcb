"""Marks on labels that a rule may ask for: names of handling marks, as words."""

from collections.abc import Iterable

from objects.core.words import noted, say

# Source: the names marked ISO are those of ISO 780, Packaging, graphical symbols for handling and storage of
# packages; the others are our own words. Most urgent first: that is their order on a label. Marks of ISO 780
# that tell of one point of the package (centre of gravity, sling here, clamp as indicated) are left out: a
# label has a place of its own.
MARKS: dict[str, str] = {
    "ask_first": noted("Ask before opening"),  # our own, for hazards
    "fragile": noted("Fragile, handle with care"),  # ISO 780
    "this_way_up": noted("This way up"),  # ISO 780
    "two_people": noted("Two people"),  # our own
    "lift_from_below": noted("Lift from below"),  # our own
    "gloves": noted("Wear gloves"),  # our own
    "do_not_stack": noted("Do not stack"),  # ISO 780
    "do_not_roll": noted("Do not roll"),  # ISO 780
    "do_not_seal": noted("Do not seal"),  # our own, for what must be able to breathe
    "store_apart": noted("Store apart"),  # our own
    "store_flat": noted("Store flat"),  # our own
    "keep_from_light": noted("Keep away from sunlight"),  # ISO 780
    "keep_dry": noted("Keep away from rain"),  # ISO 780
    "no_hooks": noted("Use no hooks"),  # ISO 780
    "temperature_limits": noted("Temperature limits"),  # ISO 780
}


def mark_choices() -> list[tuple[str, str]]:
    """Key and name of each mark; a function, so that a new one needs no migration."""
    return [(key, say(name)) for key, name in MARKS.items()]


def mark_names(keys: Iterable[str]) -> list[str]:
    """The names of some marks, the most urgent first; unknown ones as they are, at the end."""
    known = set(keys := list(dict.fromkeys(keys)))
    ours = [say(name) for key, name in MARKS.items() if key in known]
    return ours + [key for key in keys if key not in MARKS]
