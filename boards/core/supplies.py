"""Which units what is bought besides board can be counted in, so that needs and packs can be compared."""

from objects.core.words import noted, say

# Glue is reckoned in grams, tape by its length, labels by the piece and lining by its area; see
# housing/core/budget/supplies.py. The others are counted as they are sold.
UNITS_OF_KIND: dict[str, tuple[str, ...]] = {
    "glue": ("stick", "kg", "piece"),
    "tape": ("m",),
    "label": ("piece",),
    "foam": ("m2",),
}
WHY = {
    "glue": noted("Glue is counted in sticks, pieces or kg; budgets reckon it by weight."),
    "tape": noted("Tape is counted in m. Enter as a pack how many m are on a roll."),
    "label": noted("Labels are counted by the piece. Enter as a pack how many are sold together."),
    "foam": noted("Foam and lining are counted in m². Enter as a pack how many m² a sheet has."),
}


def unit_fault(kind: str, unit: str) -> str:
    """Why a kind cannot be counted in a unit, a sentence; "" where it can. kind, unit: keys."""
    return "" if unit in UNITS_OF_KIND.get(kind, (unit,)) else say(WHY[kind])


def measure_fault(kind: str, unit: str, has_grams: bool, has_litres: bool, is_usual: bool) -> str:
    """What has to be known besides, so that budgets can tell how much of it is needed; "" for nothing."""
    if kind == "glue" and unit != "kg" and not has_grams:
        return say("Enter the grams in a unit, so that budgets can tell how many are needed.")
    if kind in ("tissue", "batting") and is_usual and not has_litres:
        return say("Enter how many litres of gap a unit fills; the usual one is what gaps are filled with.")
    return ""
