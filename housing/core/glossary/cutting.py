"""Words of cutting and folding."""

from housing.core.glossary.term import FIBREBOARD_CODE, Group, Term
from objects.core.words import noted

CUTTING = Group(
    "group-cutting",
    noted("Cutting and folding"),
    (
        Term(
            "blank",
            noted("blank"),
            noted(
                "The flat piece of board that one part of a box is folded from, with all its cuts "
                "and folds drawn on it."
            ),
            also=noted("flat, development"),
            picture="blank",
            see=("score", "cut", "part"),
        ),
        Term(
            "cut",
            noted("cut"),
            noted("A line where the knife goes through. Drawn as an unbroken line."),
            picture="lines",
            see=("score",),
        ),
        Term(
            "score",
            noted("score"),
            noted(
                "A line where the board folds: pressed in with a bone folder or half cut, never cut"
                " through. Drawn as a dashed line."
            ),
            also=noted("crease, fold line"),
            picture="lines",
            see=("cut", "bone_folder", "fold_share"),
        ),
        Term(
            "slit",
            noted("slit"),
            noted("A short cut at a corner that frees a flap from the wall beside it."),
            picture="blank",
        ),
        Term(
            "flap",
            noted("flap"),
            noted("The ear at the end of a wall that is glued to the next wall and so closes the corner."),
            also=noted("tab"),
            picture="blank",
            see=("joint",),
        ),
        Term(
            "joint",
            noted("glue joint"),
            noted("Where a flap is glued to a wall. Its height decides how much glue goes in."),
        ),
        Term(
            "part",
            noted("part"),
            noted(
                "One piece of a box that is folded from one blank: base, lid, insert. The floor, "
                "the walls and the flaps belong to one part."
            ),
            also=noted("base, lid, tray, floor, wall"),
        ),
        Term(
            "fold_share",
            noted("fold share"),
            noted(
                "How much of the board's thickness a fold takes away inside the box: half of it "
                "where the fold is creased, nothing where it is cut from outside, all of it where "
                "it is cut from inside."
            ),
            also=noted("take-up, bend allowance"),
            see=("caliper", "compensated"),
        ),
        Term(
            "compensated",
            noted("compensated drawing"),
            noted(
                "A blank that is drawn larger by what the folds take up, so that the inside comes "
                "out as wanted. A nominal drawing leaves that out, as hand practice does, and comes"
                " out a little smaller."
            ),
            also=noted("nominal drawing"),
            source=FIBREBOARD_CODE,
        ),
        Term(
            "mark",
            noted("mark"),
            noted(
                "A distance from the edge of the blank at which a line begins. Read it off the "
                "ruler; nothing is left to be added up."
            ),
            also=noted("marking out"),
        ),
        Term(
            "bone_folder",
            noted("bone folder"),
            noted("A smooth flat tool that presses a score into board without cutting it."),
        ),
        Term(
            "cutting_plan",
            noted("cutting plan"),
            noted(
                "Which blanks are cut from which sheet, and where they lie, so that little board is wasted."
            ),
            also=noted("nesting, layout"),
            picture="plan",
            see=("edge_to_edge", "waste", "lower_bound"),
        ),
        Term(
            "edge_to_edge",
            noted("cut from edge to edge"),
            noted(
                "A cut that runs right across the piece of board, as a knife along a straight edge "
                "or a board cutter needs it."
            ),
            also=noted("guillotine cut"),
            picture="edge_to_edge",
        ),
        Term(
            "kerf",
            noted("gap between blanks"),
            noted("The board kept free between two blanks, for the width of the blade and of the line."),
            also=noted("kerf"),
        ),
        Term(
            "trim",
            noted("trimming"),
            noted("The strip taken off each edge of a new sheet, because edges get crushed on the way."),
        ),
        Term(
            "waste",
            noted("waste"),
            noted("Board that was paid for and becomes neither a blank nor an offcut."),
            picture="plan",
        ),
        Term(
            "lower_bound",
            noted("lower bound"),
            noted(
                "What no plan can go below, whatever it does. The gap to it tells how good a plan "
                "is at least."
            ),
        ),
        Term(
            "cut_sheet",
            noted("cut sheet"),
            noted(
                "The printed page that lies at the bench: one box with its blanks, marks and steps,"
                " so that nothing has to be worked out."
            ),
            see=("mark", "label"),
        ),
    ),
)
