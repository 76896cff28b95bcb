"""Notes and supplies that forms write when a box is worked out, as messages for the catalogues.

Forms write them in English with their figures, since records keep them; `objects.core.retelling` finds the
message a note was made from and tells it in the reader's language.
"""

from objects.core.words import noted

KEPT_WORDS = (
    noted(
        "The lid was asked {asked} mm deep but the base is only {high} mm high, so the lid reaches to the "
        "foot of the base."
    ),
    noted(
        "The lid leaves {slip} mm over the base in all and will bind. Ask for more clearance, or draw the "
        "blank compensated."
    ),
    noted(
        "The lid leaves {slip} mm over the base in all and will bind: drawn nominally, the folds take up the "
        "clearance. Ask for more clearance, or draw the blank compensated."
    ),
    noted(
        "The lid covers {depth} mm of a front {high} mm high; below a third, that is {least} mm, the front "
        "may spring open. Make the lid deeper or tie the box."
    ),
    noted("It is {long} mm long inside; this form is meant for up to {most} mm."),
    noted("The contents weigh {weight} kg; this form is meant for up to {most} kg."),
    noted("{columns} x {rows} cells of {wide} mm by {deep} mm."),
    noted("The cavity is {wide} x {long} mm, {deep} mm deep."),
    noted("The roll is {across} mm across after {turns} turns; carry it by the tube alone."),
    noted(
        "{wide} x {deep} mm is taken for the size of a whole set, since it does not go into one cell. To "
        "give single objects a cell each, house them together as a set."
    ),
    noted("{count} objects side by side, in their order from left to right."),
    noted("{count} objects, one in a cell, row by row from the front left."),
    noted("webbing tape 25 mm wide, {long} mm long, around the tray"),
    noted("soft pad, {long} x {wide} mm, {thick} mm thick"),
    noted("cotton tape, {long} mm long, tied around front and back"),
    noted("foam pads under the frame and beside its corner blocks"),
    noted("acid-free tissue, a pad for every fold"),
    noted("polyester film behind the window, 20 mm larger all round"),
    noted("acid-free tube, {across} mm across and {long} mm long"),
    noted("interleaving tissue, {long} x {wide} mm"),
    noted("cotton tape 25 mm wide, {long} mm long"),
    noted("flat cotton tape 12 mm wide, {long} mm long"),
)
