"""What to mind when handling and boxing a hazardous object."""

from collections.abc import Iterable

from objects.core.words import noted, say

# Source: American Institute for Conservation wiki, "Collection Hazards", for which hazards call for what;
# the wording and the general sentence are common practice, no source.
CAUTIONS = {
    "arsenic": noted(
        "Arsenic: wear gloves and a respirator, do not brush or blow, and wash your hands afterwards."
    ),
    "mercury": noted("Mercury: wear gloves, work in moving air, and wash your hands afterwards."),
    "pesticide": noted("Pesticide: wear gloves and a respirator, and wash your hands afterwards."),
    "lead": noted("Lead: wear gloves, keep dust down, and wash your hands afterwards."),
    "asbestos": noted(
        "Asbestos: do not open, brush or measure it; ask the person responsible for safety first."
    ),
    "radioactive": noted("Radioactive: ask the person responsible for safety before you go near it."),
    "nitrate": noted("Cellulose nitrate: keep it from heat, use no glue gun near it, do not seal the box."),
    "mould": noted("Mould: wear gloves and a respirator, and keep it apart from other objects."),
    "sharp": noted("Sharp: wear cut-proof gloves and guard the edges before it goes into the box."),
    "battery": noted("Battery: look for leaks and wear gloves; acid eats board and skin."),
}
DEDICATED = noted("Never use this box again for another object.")


def cautions_for(hazards: Iterable[str]) -> list[str]:
    """The sentences to show for hazards, by their keys; a hazard that is not listed asks for advice.

    hazards: keys such as "arsenic". Returns one sentence a hazard, and last that the box is not used again;
    nothing where there is no hazard. Source: see CAUTIONS.
    """
    found = [
        say(CAUTIONS[hazard])
        if hazard in CAUTIONS
        else say("{hazard}: ask a conservator before you handle it.", hazard=hazard)
        for hazard in hazards
    ]
    return [*found, say(DEDICATED)] if found else []
