"""Whether an object needs housing: said by a person, or else what follows from its present housing."""

from collections.abc import Mapping
from dataclasses import dataclass

UNHOUSED, POOR, ADEQUATE, NOT_NEEDED = "unhoused", "poor", "adequate", "not_needed"
NEED_WORDS = {
    UNHOUSED: "Unhoused",
    POOR: "Poorly housed",
    ADEQUATE: "Adequately housed",
    NOT_NEEDED: "Needs no housing",
}
# What follows from the present housing; the one table of it, for pages and for the database.
NEED_OF_HOUSING: Mapping[str, str] = {
    "none": UNHOUSED,
    "poor": POOR,
    "adequate": ADEQUATE,
    "good": ADEQUATE,
    "not_needed": NOT_NEEDED,
}
HOUSING_WORDS: Mapping[str, str] = {
    "none": "No housing",
    "poor": "Present housing poor",
    "adequate": "Present housing adequate",
    "good": "Present housing good",
    "not_needed": "Needs no housing",
}
# What a need that a person stated says of the present housing, where a score asks for it.
HOUSING_OF_NEED: Mapping[str, str] = {
    UNHOUSED: "none",
    POOR: "poor",
    ADEQUATE: "adequate",
    NOT_NEEDED: "not_needed",
}


@dataclass(frozen=True)
class HousingNeed:
    """A need with the reason in words. is_said: a person stated it."""

    need: str
    reason: str
    is_said: bool = False

    @property
    def words(self) -> str:
        return NEED_WORDS[self.need]


@dataclass(frozen=True)
class Statement:
    """What a person said of the need: the need, why, who and when, as words; "" where not known."""

    need: str
    note: str
    by: str = ""
    on: str = ""


def housing_need(
    present_housing: str,
    seen_on: str = "",
    looked_at_on: str = "",
    statement: Statement | None = None,
    box: str = "",
) -> HousingNeed:
    """The need for housing of one object, with its reason.

    present_housing: its key, none, poor, adequate, good or not_needed. seen_on: the day somebody saw
    that at the shelf, as words, "" if nobody did. looked_at_on: the last day somebody looked at the object at
    all. statement: what a person said over that. box: the box made for it in which it lies; this goes before
    all else.
    """
    if box:
        return HousingNeed(ADEQUATE, f"In {box}, which was made for it.")
    if statement:
        who = f" by {statement.by}" if statement.by else ""
        when = f" on {statement.on}" if statement.on else ""
        return HousingNeed(statement.need, f"Stated{who}{when}: {statement.note}", is_said=True)
    if seen_on:
        how = f"as seen on the shelf on {seen_on}"
    elif looked_at_on:
        how = f"as the list says; the object was looked at on {looked_at_on}, but not its housing"
    else:
        how = "as the list says, not yet looked at on the shelf"
    return HousingNeed(NEED_OF_HOUSING[present_housing], f"{HOUSING_WORDS[present_housing]}, {how}.")
