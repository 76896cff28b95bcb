"""Words of work at the bench."""

from housing.core.glossary.term import Group, Term
from objects.core.words import noted

WORK = Group(
    "group-work",
    noted("At the bench"),
    (
        Term(
            "bench",
            noted("bench"),
            noted("Where boxes are made, and the page that says there what comes next."),
        ),
        Term(
            "task",
            noted("task"),
            noted(
                "One step of one box given to one person: measure, cut, score, glue, make the lid, "
                "fit, label, return."
            ),
        ),
        Term(
            "stock",
            noted("stock"),
            noted(
                "Sheets, glue and other supplies that are there. Every movement is kept; a wrong "
                "one is reversed, not erased."
            ),
        ),
        Term(
            "fit_check",
            noted("fit check"),
            noted(
                "The object is tried in its box before it goes back: does it fit, does the lid "
                "close, does nothing touch?"
            ),
        ),
        Term(
            "remake",
            noted("remake"),
            noted(
                "A box that did not fit is made again; its board and minutes are counted, and so is"
                " the cause."
            ),
        ),
        Term(
            "question",
            noted("question"),
            noted(
                "Something a maker cannot decide alone, for a conservator or whoever measured. The "
                "box waits until it is answered."
            ),
        ),
        Term(
            "label",
            noted("label"),
            noted(
                "What stands on the box: number, name, picture, weight, hazards and handling marks,"
                " so that it need not be opened to be known."
            ),
        ),
        Term(
            "handling_marks",
            noted("handling marks"),
            noted("Signs on a box that everybody knows, such as this way up or fragile."),
            source="ISO 780, Packaging, Graphical symbols for handling and storage of packages",
        ),
        Term(
            "stacking",
            noted("stacking"),
            noted(
                "How many boxes may stand on one another. It is worked out from the board's edge "
                "crush and reduced for time, damp and handling; a test machine tells it exactly."
            ),
            source="ISO 12048, Packaging, Compression and stacking tests using a compression tester",
        ),
    ),
)
