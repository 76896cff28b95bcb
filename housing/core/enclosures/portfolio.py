"""Portfolio: three inner flaps hold the contents, a cover goes over them."""

from housing.core.enclosures.form import Brief, Built, Form
from housing.core.enclosures.options import Kind, Option
from housing.core.enclosures.ties import TIED, tie_slits, tie_tape
from housing.core.errors import FlapTooWide
from housing.core.panels import Edge, Panel, PanelTree
from objects.core.words import noted, say

REACH = Option(
    "flap_reach", noted("Reach of the inner flaps"), Kind.LENGTH, None,
    noted("Blank for 130 mm, less on small portfolios."), least=20,
)  # fmt: skip


def build(brief: Brief) -> Built:
    """Near and far flaps first, the right one over them, and the cover on its spine at the left."""
    inner, is_tied = brief.inner, brief.choices.is_on("ties")
    long, wide, thick = inner.x_mm, inner.y_mm, inner.z_mm
    most = min(long, wide / 2)
    reach = brief.choices.mm_or_none("flap_reach") or min(130.0, most)
    if reach > most:
        raise FlapTooWide(
            say(
                "The inner flaps reach {reach:.0f} mm, but half the depth is {wide:.0f} mm and the width "
                "{long:.0f} mm. Let them reach at most {most:.0f} mm, or leave it blank.",
                reach=reach,
                wide=wide / 2,
                long=long,
                most=most,
            )
        )

    def flap(edge: Edge, depth: float, along: float | None, stage: int) -> Panel:
        upper = Panel(f"{edge} flap", reach, None, edge, is_flap=True, stage=stage)
        return Panel(f"{edge} edge", depth, along, edge, (upper,), stage=stage)

    room = min(20.0, long / 4)
    cover = Panel(
        "cover", long + brief.under(1), None, Edge.LEFT, stage=3,
        openings=tie_slits(None, room) if is_tied else (),
    )  # fmt: skip
    floor = Panel(
        "floor",
        wide,
        long,
        None,
        (
            flap(Edge.NEAR, thick, long, 0),
            flap(Edge.FAR, thick, long, 1),
            flap(Edge.RIGHT, thick + brief.under(1), None, 2),
            Panel("spine", thick + brief.under(2), None, Edge.LEFT, (cover,), stage=3),
        ),
        openings=tie_slits(long - room, 0, on_floor=True) if is_tied else (),
    )
    tree = PanelTree(floor, (), "y")
    return Built((brief.part("portfolio", tree),), supplies=tie_tape(inner) if is_tied else ())


FORM = Form(
    key="portfolio",
    name=noted("Portfolio with three flaps and ties"),
    suits=noted("Stacks of prints, drawings or textile samples that must not slide out when it is carried."),
    limits=noted("Up to 1000 mm long and 4 kg, because a wider cover bends under its own contents."),
    build=build,
    options=(REACH, TIED),
    longest_mm=1000,
    heaviest_g=4_000,
)
