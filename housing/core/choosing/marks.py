"""Marks on labels that a rule may ask for: names of handling marks, as words."""

from collections.abc import Iterable

# Source: the names marked ISO are those of ISO 780, Packaging, graphical symbols for handling and storage of
# packages; the others are our own words. Most urgent first: that is their order on a label.
MARKS: dict[str, str] = {
    "ask_first": "Ask before opening",  # our own, for hazards
    "fragile": "Fragile",  # ISO 780
    "this_way_up": "This way up",  # ISO 780
    "two_people": "Two people",  # our own
    "lift_from_below": "Lift from below",  # our own
    "gloves": "Wear gloves",  # our own
    "do_not_stack": "Do not stack",  # ISO 780
    "do_not_roll": "Do not roll",  # ISO 780
    "do_not_seal": "Do not seal",  # our own, for what must be able to breathe
    "store_apart": "Store apart",  # our own
    "store_flat": "Store flat",  # our own
    "keep_from_light": "Keep away from sunlight",  # ISO 780
    "keep_dry": "Keep away from rain",  # ISO 780
    "no_hooks": "Use no hooks",  # ISO 780
    "temperature_limits": "Temperature limits",  # ISO 780
}


def mark_choices() -> list[tuple[str, str]]:
    """Key and name of each mark; a function, so that a new one needs no migration."""
    return list(MARKS.items())


def mark_names(keys: Iterable[str]) -> list[str]:
    """The names of some marks, the most urgent first; unknown ones as they are, at the end."""
    known = set(keys := list(dict.fromkeys(keys)))
    return [name for key, name in MARKS.items() if key in known] + [key for key in keys if key not in MARKS]
