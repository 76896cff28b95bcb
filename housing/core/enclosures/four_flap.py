"""Wrapper in one piece with four flaps as large as the object, folded one over the other."""

from housing.core.enclosures.form import Brief, Built, Form
from housing.core.enclosures.options import Kind, Option
from housing.core.enclosures.ties import TIES, tie_slits, tie_tape
from housing.core.panels import Edge, Panel, PanelTree
from objects.core.words import noted

LAST_TURN = Option(
    "last_turn", noted("Added to the last turn when drawn nominally"), Kind.LENGTH, 1.0,
    noted("So that the outer flap lies over the inner ones; a compensated drawing works it out."), most=20,
)  # fmt: skip


def build(brief: Brief) -> Built:
    """Floor and four flaps; near, far, left and right are folded in this order, each over those before."""
    inner, nominal = brief.inner, not brief.marking_out.is_compensated
    long, wide, thick = inner.x_mm, inner.y_mm, inner.z_mm
    last = brief.choices.mm("last_turn") if nominal else brief.under(3)
    is_tied = brief.choices.is_on("ties")
    slits = tie_slits(long / 2, 15) if is_tied else ()

    def flap(edge: Edge, depth: float, reach: float, along: float | None, stage: int) -> Panel:
        upper = Panel(f"{edge} flap", reach, None, edge, stage=stage, openings=slits if stage == 3 else ())
        return Panel(f"{edge} edge", depth, along, edge, (upper,), stage=stage)

    floor = Panel(
        "floor",
        wide,
        long,
        None,
        (
            flap(Edge.NEAR, thick, wide, long, 0),
            flap(Edge.FAR, thick + brief.under(1), wide, long, 1),
            flap(Edge.LEFT, thick + brief.under(2), long, None, 2),
            flap(Edge.RIGHT, thick + last, long, None, 3),
        ),
    )
    # A published tutorial on pamphlet covers: grain parallel to the spine gives the sharpest folds.
    tree = PanelTree(floor, (), "y")
    return Built((brief.part("wrapper", tree),), supplies=tie_tape(inner) if is_tied else ())


FORM = Form(
    key="four_flap",
    name=noted("Four-flap wrapper"),
    suits=noted("Pamphlets, thin volumes and small bundles, in heavy paper or thin board."),
    limits=noted("Up to 450 mm long and 1.5 kg, because thin board wraps closely but does not carry a load."),
    build=build,
    options=(LAST_TURN, TIES),
    longest_mm=450,
    heaviest_g=1_500,
)
