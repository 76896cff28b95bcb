"""Folder of two leaves and a gusset between them."""

from housing.core.enclosures.form import Brief, Built, Form
from housing.core.enclosures.ties import TIED, tie_slits, tie_tape
from housing.core.panels import Edge, Panel, PanelTree
from objects.core.words import noted


def build(brief: Brief) -> Built:
    """Back leaf, gusset at the left and front leaf; the other three sides stay open."""
    inner, is_tied = brief.inner, brief.choices.is_on("ties")
    room = min(20.0, inner.x_mm / 4)
    front = Panel(
        "front", inner.x_mm, None, Edge.LEFT, stage=1, openings=tie_slits(None, room) if is_tied else ()
    )
    gusset = Panel("gusset", inner.z_mm, None, Edge.LEFT, (front,))
    slits = tie_slits(inner.x_mm - room, 0, on_floor=True) if is_tied else ()
    floor = Panel("back", inner.y_mm, inner.x_mm, None, (gusset,), openings=slits)
    tree = PanelTree(floor, (), "y")
    return Built((brief.part("folder", tree),), supplies=tie_tape(inner) if is_tied else ())


FORM = Form(
    key="folder",
    name=noted("Folder with ties"),
    suits=noted("Flat sheets: prints, drawings, documents and photographs, one or a few together."),
    limits=noted("Up to 1000 mm long, 10 mm thick and 1 kg, because its three open sides let more slip out."),
    build=build,
    options=(TIED,),
    longest_mm=1000,
    heaviest_g=1_000,
)
