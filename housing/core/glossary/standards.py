"""Words of standards and tests."""

from housing.core.glossary.term import Group, Term
from objects.core.words import noted

STANDARDS = Group(
    "group-standards",
    noted("Standards and tests"),
    (
        Term(
            "iso_16245",
            "ISO 16245",
            noted(
                "The standard for boxes and covers that hold paper and parchment: alkaline reserve,"
                " little water taken up, no bleeding. Type A also limits lignin; it does not speak "
                "of photographs."
            ),
            source=(
                "ISO 16245:2009, Boxes, file covers and other enclosures, made from cellulosic "
                "materials, for storage of paper and parchment documents"
            ),
        ),
        Term(
            "pat",
            noted("photographic activity test"),
            noted(
                "Board is aged in contact with photographic images; a pass says that none of them "
                "changed. Each colour and batch is tested."
            ),
            also="PAT, ISO 18916",
            source="ISO 18916:2007, Photographic activity test for enclosure materials",
        ),
        Term(
            "iso_9706",
            "ISO 9706",
            noted("The standard for permanent paper: alkaline reserve, little lignin, strength."),
            also=noted("permanent paper"),
            source="ISO 9706:1994, Paper for documents, Requirements for permanence",
        ),
        Term(
            "oddy",
            noted("Oddy test"),
            noted(
                "Metal strips age in a closed vessel with a piece of the board; if they tarnish, "
                "the board gives off something harmful."
            ),
        ),
        Term(
            "lido",
            "LIDO",
            noted(
                "An open format in which museums exchange records of objects; this planner reads "
                "and writes it."
            ),
            also="ICOM",
            source="LIDO 1.1, ICOM International Committee for Documentation",
        ),
    ),
)
