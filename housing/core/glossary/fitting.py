"""Words of the object and its room."""

from housing.core.glossary.term import FIBREBOARD_CODE, Group, Term
from objects.core.words import noted

FITTING = Group(
    "group-fitting",
    noted("The object and its room"),
    (
        Term(
            "object_number",
            noted("object number"),
            noted(
                "The number under which the catalogue knows an object. It is a text, with its "
                "points and letters, and stays as it is written."
            ),
            source="Spectrum 5.0, Collections Trust, 2017",
        ),
        Term(
            "unhoused",
            noted("unhoused"),
            noted(
                "An object that needs an enclosure and has none. Poorly housed: it has one that "
                "harms it or does not protect it."
            ),
        ),
        Term(
            "housed",
            noted("housed"),
            noted("The object is in its box, and the box is on its shelf with its label."),
        ),
        Term(
            "size_written",
            noted("size as written"),
            noted(
                "The size exactly as the catalogue has it. The planner reads it, keeps it beside "
                "what it understood, and asks where it is in doubt."
            ),
        ),
        Term(
            "clear_inside",
            noted("clear inside"),
            noted("What is free between the walls of the finished box, in width, depth and height."),
            source=FIBREBOARD_CODE,
            picture="room",
        ),
        Term(
            "allowance",
            noted("allowance"),
            noted(
                "How much larger than the object the inside is made, for padding and for fingers: "
                "on each side, and once on the height."
            ),
            picture="room",
            see=("padding", "clear_inside"),
        ),
        Term(
            "padding",
            noted("padding"),
            noted(
                "Foam, tissue or cotton between object and wall. It takes the shock; too much of it presses."
            ),
            picture="room",
        ),
        Term(
            "clearance",
            noted("lid clearance"),
            noted(
                "How much wider the lid is inside than the base is outside, both sides together. "
                "Too little and it binds, too much and it wobbles."
            ),
        ),
        Term(
            "condition",
            noted("condition"),
            noted(
                "How sound an object is, from good to fragile. Fragile ones get more room and softer padding."
            ),
        ),
        Term(
            "hazard",
            noted("hazard"),
            noted(
                "What may harm people: arsenic, lead, asbestos, sharp edges and the like. It goes "
                "on the label; follow local codes and ask the safety officer and a conservator."
            ),
        ),
        Term(
            "survey",
            noted("survey"),
            noted(
                "Going along the shelf and measuring what is there. Every measurement is kept; one "
                "that differs is looked at again."
            ),
        ),
        Term(
            "priority",
            noted("priority score"),
            noted(
                "How urgent a box is, out of what the object suffers without one, how soon and how "
                "much of its worth is at stake. Missing answers widen the score instead of lowering"
                " it."
            ),
            source="Michalski and Pedersoli, The ABC Method, 2016",
        ),
    ),
)
