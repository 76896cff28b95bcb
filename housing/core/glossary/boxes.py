"""Words of boxes and wrappers."""

from housing.core.glossary.term import FIBREBOARD_CODE, Group, Term
from objects.core.words import noted

BOXES = Group(
    "group-boxes",
    noted("Boxes and wrappers"),
    (
        Term(
            "enclosure",
            noted("enclosure"),
            noted("Whatever closely holds an object and keeps it safe: box, tray, wrapper, folder, tube."),
            also=noted("housing, box"),
        ),
        Term(
            "form",
            noted("form"),
            noted(
                "The kind of an enclosure, such as a tray with a lid or a folder. A design is a "
                "form with a board and allowances."
            ),
            see=("design",),
        ),
        Term(
            "lidded_tray",
            noted("tray with telescoping lid"),
            noted("A tray for the object and a second, slightly larger one that slides over it as a lid."),
            also=noted("two-piece box, lidded box"),
            source=FIBREBOARD_CODE,
            picture="lidded_tray",
        ),
        Term(
            "drop_front",
            noted("drop-front box"),
            noted(
                "A box whose front wall folds down, so that the object slides out instead of being lifted."
            ),
            picture="drop_front",
        ),
        Term(
            "clamshell",
            noted("clamshell"),
            noted("Two trays on one spine that close like a book; the lid cannot get lost."),
            picture="clamshell",
        ),
        Term(
            "four_flap",
            noted("four-flap wrapper"),
            noted("One piece of thin board whose four flaps fold over a thin volume."),
            picture="four_flap",
        ),
        Term(
            "portfolio",
            noted("portfolio"),
            noted("A folder with three inner flaps that hold a stack of sheets together."),
        ),
        Term(
            "slipcase",
            noted("slipcase"),
            noted("A sleeve open on one side, into which a sound volume slides; its spine stays visible."),
        ),
        Term(
            "cavity",
            noted("cavity insert"),
            noted("Layers of foam with a hollow of the object's shape and room for fingers."),
        ),
        Term(
            "garment_box",
            noted("garment box"),
            noted("A long low box in which costume lies flat with few, padded folds."),
        ),
        Term(
            "ready_made",
            noted("ready-made box"),
            noted("A box that is bought in a fixed size instead of being made."),
        ),
    ),
)
