"""Words of board, and how it is bought and kept."""

from housing.core.glossary.term import Group, Term
from objects.core.words import noted

BOARD = Group(
    "group-board",
    noted("Board"),
    (
        Term(
            "board",
            noted("board"),
            noted(
                "Stiff sheet of paper fibre that boxes are cut from: either corrugated, with waves "
                "inside, or solid right through."
            ),
            also=noted("card, cardboard"),
            see=("corrugated", "solid_board", "sheet"),
        ),
        Term(
            "corrugated",
            noted("corrugated board"),
            noted(
                "Board with a wavy paper glued between flat papers. Single wall has one layer of "
                "waves, double wall two: thicker, stiffer and heavier."
            ),
            also=noted("single wall, double wall"),
            picture="corrugated",
            see=("flute", "liner"),
        ),
        Term(
            "flute",
            noted("flutes"),
            noted(
                "The waves inside corrugated board; they run in one direction like pipes. Walls "
                "whose flutes stand upright carry most, and folds across the flutes hold their "
                "place best. A letter such as B, C or E tells their size; E is the finest of the "
                "three."
            ),
            also=noted("flute direction, corrugation"),
            picture="flutes",
            see=("corrugated", "grain"),
        ),
        Term(
            "liner",
            noted("liner"),
            noted(
                "The flat paper on each side of corrugated board. The one inside the box faces the object."
            ),
            picture="corrugated",
        ),
        Term(
            "solid_board",
            noted("solid board"),
            noted(
                "Board of pressed or pasted layers without waves: thin and smooth, for folders and wrappers."
            ),
            also=noted("box board, folder stock"),
            see=("grain",),
        ),
        Term(
            "grain",
            noted("grain"),
            noted(
                "The direction in which most fibres of paper or solid board lie. Folds along the "
                "grain are sharper and crack less."
            ),
            also=noted("grain direction, fibre direction"),
        ),
        Term(
            "caliper",
            noted("caliper"),
            noted(
                "How thick the board is. Every fold takes up some of it, so a blank drawn without "
                "it makes a box that is too small. Measure it on your own board; lists round it."
            ),
            also=noted("thickness"),
            picture="caliper",
            see=("fold_share",),
        ),
        Term(
            "grammage",
            noted("grammage"),
            noted(
                "What a square metre of the board weighs, in grams. It gives the weight of the finished box."
            ),
            also=noted("basis weight, g/m²"),
            source="ISO 536, Paper and board, Determination of grammage",
        ),
        Term(
            "buffered",
            noted("buffered board"),
            noted(
                "Board with an alkaline reserve, mostly chalk, that takes up acid as board and "
                "object age. Usual for paper, metal and ceramics."
            ),
            also=noted("alkaline reserve, calcium carbonate, acid-free"),
            see=("unbuffered", "iso_16245"),
        ),
        Term(
            "unbuffered",
            noted("unbuffered board"),
            noted(
                "Board near neutral without an alkaline reserve. Careful practice prefers it beside"
                " wool, silk, feather, leather and some photographs; ask a conservator."
            ),
            also=noted("neutral board"),
            see=("buffered",),
        ),
        Term(
            "lignin",
            noted("lignin"),
            noted(
                "The part of wood that makes paper turn brown and acid. Its amount is told by the "
                "kappa number; the lower the better."
            ),
            also=noted("kappa number"),
            source="ISO 302, Pulps, Determination of kappa number",
        ),
        Term(
            "edge_crush",
            noted("edge crush"),
            noted(
                "How much load a centimetre of upright board edge carries before it buckles, in "
                "kN/m. From it the planner estimates how high boxes may be stacked."
            ),
            also=noted("edgewise crush resistance, ECT"),
            source="ISO 3037, Corrugated fibreboard, Determination of edgewise crush resistance",
            see=("stacking",),
        ),
        Term(
            "sheet",
            noted("sheet"),
            noted(
                "Board as it is sold, a large rectangle. Its size is given along the flutes or the "
                "grain first, then across them."
            ),
            picture="plan",
            see=("pack", "cutting_plan"),
        ),
        Term(
            "pack",
            noted("pack"),
            noted("So many sheets are only sold together; a part of a pack costs a whole one."),
        ),
        Term(
            "offcut",
            noted("offcut"),
            noted(
                "What is left of a sheet and large enough to keep. It gets a number, lies on the "
                "rack, and is used before new sheets."
            ),
            also=noted("remnant, rack"),
            picture="plan",
            see=("waste",),
        ),
    ),
)
