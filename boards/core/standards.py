"""The standards a board may be stated to meet: what each asks for, and what one says of another."""

from collections.abc import Iterable
from dataclasses import dataclass

from objects.core.words import noted, say


@dataclass(frozen=True)
class Standard:
    """One published standard. asks: what it asks of a board, for a reader. limits: what it does not say.

    All three are in English; retold() says them in the reader's language.
    """

    key: str
    name: str
    asks: str
    limits: str = ""

    @property
    def short_name(self) -> str:
        """Its number alone: ISO 18916."""
        return self.name.partition(",")[0]


# Source of each line: the published abstract of the standard; for ISO 9706, ISO 11108 and ANSI/NISO Z39.48
# also the appendix on permanent papers of the report to Congress on the joint resolution. Oddy test: memory.
STANDARDS: dict[str, Standard] = {
    standard.key: standard
    for standard in (
        Standard(
            "iso_18916",
            noted("ISO 18916, photographic activity test"),
            noted(
                "An accelerated contact test shows no interaction with photographic images; each colour "
                "and batch is tested."
            ),
            noted("A pass does not mean that the board is archival."),
        ),
        Standard(
            "iso_18902",
            noted("ISO 18902, enclosures for photographs"),
            noted("Limits to what the board is made of, and a pass of the photographic activity test."),
        ),
        Standard(
            "iso_16245_a",
            noted("ISO 16245 type A, boxes and covers for paper"),
            noted(
                "Alkaline reserve of at least 20 g/kg as calcium carbonate, little water taken up on the "
                "outside, no bleeding, and the limits of ISO 9706 with its kappa number of at most 5."
            ),
            noted("It does not speak of photographs."),
        ),
        Standard(
            "iso_16245_b",
            noted("ISO 16245 type B, boxes and covers for paper"),
            noted("As type A, without the limit on the kappa number."),
            noted("It does not speak of photographs."),
        ),
        Standard(
            "iso_16245",
            noted("ISO 16245, type not stated"),
            noted("Type A or type B; ask the supplier which."),
            noted("It does not speak of photographs."),
        ),
        Standard(
            "iso_9706",
            noted("ISO 9706, permanent paper"),
            noted(
                "pH 7.5 to 10, alkaline reserve of at least 20 g/kg as calcium carbonate, kappa number "
                "up to 5."
            ),
            noted("It is written for paper, not for board."),
        ),
        Standard(
            "iso_11108",
            noted("ISO 11108, archival paper"),
            noted("As ISO 9706, with folding endurance and a stated furnish."),
            noted("It is written for paper, not for board."),
        ),
        Standard(
            "niso_z39_48",
            noted("ANSI/NISO Z39.48, permanent paper"),
            noted("pH 7.5 to 10 uncoated, alkaline reserve of at least 2 %, at most 1 % lignin."),
            noted("It is written for paper, not for board."),
        ),
        Standard(
            "oddy",
            noted("Oddy test"),
            noted("Coupons of silver, copper and lead do not corrode beside the board in 28 days at 60 °C."),
            noted("It is a test, not a standard; who made it and how has to be known."),
        ),
    )
}


def standard_choices() -> list[tuple[str, str]]:
    """Key and name of each standard; a function, so that a new one needs no migration."""
    return [(standard.key, standard.name) for standard in STANDARDS.values()]


# What a standard that is stated says of others, and why; nothing else is concluded. Sources: as above.
_INCLUDED: dict[str, dict[str, str]] = {
    "iso_18902": {"iso_18916": noted("ISO 18902 includes a pass of the photographic activity test.")},
    "iso_16245_a": {
        "iso_16245_b": noted("Type A of ISO 16245 has all the limits of type B and one more."),
        "iso_16245": noted("Type A is one of the two types of ISO 16245."),
    },
    "iso_16245_b": {"iso_16245": noted("Type B is one of the two types of ISO 16245.")},
}
# What is stated and comes near to what is asked, but is not enough, and why.
_NOT_ENOUGH: dict[str, dict[str, str]] = {
    "iso_18902": {
        "iso_18916": noted("A pass of the photographic activity test is stated; ISO 18902 asks for more.")
    },
    "iso_16245_a": {
        "iso_16245_b": noted("Type B is stated; type A also limits the kappa number."),
        "iso_16245": noted("ISO 16245 is stated without its type; ask the supplier which."),
    },
    "iso_16245_b": {"iso_16245": noted("ISO 16245 is stated without its type; ask the supplier which.")},
}


@dataclass(frozen=True)
class Lack:
    """A standard that is asked for and nobody states. reason: why something near is not enough, or blank."""

    standard: Standard
    reason: str = ""


def standard_of(key: str) -> Standard:
    """The standard of a key; one that is no longer listed goes by its key and asks for what nobody knows."""
    return STANDARDS.get(key) or Standard(key, key, noted("It is not among the standards listed here."))


def included_in(stated: Iterable[str]) -> dict[str, str]:
    """What the statements say besides themselves.

    stated: keys of the standards that somebody states. Returns key to the reason, those stated left out.
    Source: the abstracts of ISO 18902 and ISO 16245.
    """
    stated = set(stated)
    return {
        key: reason
        for one in STANDARDS
        if one in stated
        for key, reason in _INCLUDED.get(one, {}).items()
        if key not in stated
    }


def lacking(asked: Iterable[str], stated: Iterable[str]) -> tuple[Lack, ...]:
    """The standards asked for that neither a statement nor what it includes answers.

    asked, stated: keys of standards. Returns them in the order of the list of standards, each once, keys
    that are not listed last. Source: included_in.
    """
    asked, stated = set(asked), set(stated)
    missing = asked - stated - included_in(stated).keys()
    listed = [key for key in STANDARDS if key in missing]
    return tuple(Lack(standard_of(key), _why(key, stated)) for key in (*listed, *sorted(missing - {*listed})))


def _why(key: str, stated: set[str]) -> str:
    return next((reason for near, reason in _NOT_ENOUGH.get(key, {}).items() if near in stated), "")


def lacking_sentence(lack: Lack, board_code: str, asks: str = "The design asks") -> str:
    """A lack in words: The design asks for ISO 18916; nobody states that board B32 meets it.

    asks: who asks, with its verb, such as "The design asks" or "Rule 3 asks".
    """
    name = lack.standard.short_name
    message = (
        noted("{asks} for the {name}; nobody states that board {board} meets it.")
        if name.endswith("test")
        else noted("{asks} for {name}; nobody states that board {board} meets it.")
    )
    told = say(message, asks=asks, name=name, board=board_code)
    return f"{told} {say(lack.reason)}".strip()
