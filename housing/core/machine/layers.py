"""The layers of a machine's file: what each is for, in which colour it is drawn, and whether it is cut."""

from dataclasses import dataclass

from objects.core.words import noted

CUT, OPENING = "CUT", "OPENING"
SCORE_INSIDE, SCORE_OUTSIDE = "SCORE_INSIDE", "SCORE_OUTSIDE"
JOIN, OFFCUT, SHEET, FLUTES, GRAIN, TEXT = "JOIN", "OFFCUT", "SHEET", "FLUTES", "GRAIN", "TEXT"


@dataclass(frozen=True)
class Layer:
    """A layer: its name in the files, which is the same in every language, and what is done with it.

    is_cut: whether a knife or a laser follows it. is_plotted: whether anything is done with it at all.
    number: of its colour among the 255 of DXF; colour: as SVG writes it. Colours only tell layers apart.
    """

    name: str
    says: str
    number: int
    colour: str
    is_cut: bool = False
    is_plotted: bool = True


LAYERS = {
    layer.name: layer
    for layer in (
        Layer(CUT, noted("cut through: outlines, and slits beside flaps"), 7, "#000000", True),
        Layer(
            OPENING, noted("cut through, before the outline: what falls out of panels"), 200, "#8000c0", True
        ),
        Layer(
            SCORE_INSIDE,
            noted(
                "score on the inside face, which lies up: with a creasing tool, or half cut where "
                "the board asks for it"
            ),
            94,
            "#00701c",
        ),
        Layer(
            SCORE_OUTSIDE,
            noted("score on the outside face, which lies down: turn the blank over and mirror the lines"),
            34,
            "#a05000",
        ),
        Layer(JOIN, noted("a pen line: up to here a joined part lies over the other"), 140, "#0080b0"),
        Layer(OFFCUT, noted("cut through, last, only if what is left over is kept"), 8, "#707070", True),
        Layer(SHEET, noted("the edge of the sheet, never cut"), 9, "#b0b0b0", False, False),
        Layer(FLUTES, noted("the way the flutes run, never cut"), 5, "#0000c0", False, False),
        Layer(GRAIN, noted("the way the grain runs, never cut"), 5, "#0000c0", False, False),
        Layer(TEXT, noted("names and notes, never cut"), 6, "#c000a0", False, False),
    )
}
