"""The standards a board may be stated to meet: what each asks for, in one line."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Standard:
    """One published standard. asks: what it asks of a board, for a reader. limits: what it does not say."""

    key: str
    name: str
    asks: str
    limits: str = ""


# Source of each line: the published abstract of the standard; for ISO 9706, ISO 11108 and ANSI/NISO Z39.48
# also the appendix on permanent papers of the report to Congress on the joint resolution. Oddy test: memory.
STANDARDS: dict[str, Standard] = {
    standard.key: standard
    for standard in (
        Standard(
            "iso_18916",
            "ISO 18916, photographic activity test",
            "An accelerated contact test shows no interaction with photographic images; each colour "
            "and batch is tested.",
            "A pass does not mean that the board is archival.",
        ),
        Standard(
            "iso_18902",
            "ISO 18902, enclosures for photographs",
            "Limits to what the board is made of, and a pass of the photographic activity test.",
        ),
        Standard(
            "iso_16245_a",
            "ISO 16245 type A, boxes and covers for paper",
            "Alkaline reserve of at least 20 g/kg as calcium carbonate, little water taken up on the "
            "outside, no bleeding, and the limits of ISO 9706 with its kappa number of at most 5.",
            "It does not speak of photographs.",
        ),
        Standard(
            "iso_16245_b",
            "ISO 16245 type B, boxes and covers for paper",
            "As type A, without the limit on the kappa number.",
            "It does not speak of photographs.",
        ),
        Standard(
            "iso_16245",
            "ISO 16245, type not stated",
            "Type A or type B; ask the supplier which.",
            "It does not speak of photographs.",
        ),
        Standard(
            "iso_9706",
            "ISO 9706, permanent paper",
            "pH 7.5 to 10, alkaline reserve of at least 20 g/kg as calcium carbonate, kappa number up to 5.",
            "It is written for paper, not for board.",
        ),
        Standard(
            "iso_11108",
            "ISO 11108, archival paper",
            "As ISO 9706, with folding endurance and a stated furnish.",
            "It is written for paper, not for board.",
        ),
        Standard(
            "niso_z39_48",
            "ANSI/NISO Z39.48, permanent paper",
            "pH 7.5 to 10 uncoated, alkaline reserve of at least 2 %, at most 1 % lignin.",
            "It is written for paper, not for board.",
        ),
        Standard(
            "oddy",
            "Oddy test",
            "Coupons of silver, copper and lead do not corrode beside the board in 28 days at 60 °C.",
            "It is a test, not a standard; who made it and how has to be known.",
        ),
    )
}


def standard_choices() -> list[tuple[str, str]]:
    """Key and name of each standard; a function, so that a new one needs no migration."""
    return [(standard.key, standard.name) for standard in STANDARDS.values()]
