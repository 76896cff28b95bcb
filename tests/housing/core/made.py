"""Enclosures for the tests, with the one value that matters visible, and random ones of every form."""

from hypothesis import strategies as st

from boards.core.board import BoardSpec
from housing.core.blank import Blank
from housing.core.clearances import InnerSize
from housing.core.enclosures import ENCLOSURES, Enclosure, make_enclosure
from housing.core.enclosures.form import Part
from housing.core.enclosures.options import Kind, Option
from housing.core.marking_out import COMPENSATED, NOMINAL, STEPS_MM, MarkingOut

IN = 25.4
B_FLUTE = BoardSpec(caliper_mm=IN / 8)

# Common practice, no source: the wanted inside of the box for an object 10 high x 8 3/4 x 7 1/8 in.
WORKED_INSIDE = InnerSize(10.75 * IN, 9.125 * IN, 11 * IN)
FLAP = {"flap_width": 2.5 * IN}

sides = st.floats(30, 1500)
calipers = st.floats(0.25, 7)
# To a thousandth: a share of a hundred-millionth parts lines by less than makes them two.
shares = st.one_of(st.sampled_from([0.0, 0.5, 1.0]), st.floats(0, 1).map(lambda share: round(share, 3)))
steps = st.sampled_from(list(STEPS_MM.values()))
# Heights and thicknesses that suit the flat forms; the others take anything.
HEIGHTS = {
    "rolled_tube": (0.5, 15), "folder": (0.5, 20), "four_flap": (1, 60), "portfolio": (1, 60),
    "cavity_tray": (60, 400), "carrying_tray": (90, 800), "framed_tray": (40, 500),
}  # fmt: skip
# What holds inserts, hands or corner blocks has to be larger than what holds a pebble.
SIDES = dict.fromkeys(("cavity_tray", "carrying_tray", "framed_tray"), (300.0, 1500.0))


def make_tray(inner=(300, 200, 150), caliper_mm=3.0, fold_share=0.5, flap_mm=63.5, drawn=COMPENSATED) -> Part:
    """The part of an open tray; clear inside, caliper and flap in mm."""
    made = make_enclosure(
        "tray",
        InnerSize(*inner),
        BoardSpec(caliper_mm, fold_share),
        {"flap_width": flap_mm},
        MarkingOut(drawn),
    )
    return made.parts[0]


def worked_box() -> Enclosure:
    """The worked example, drawn nominally: base and lid, 1/8 in a side, 3 1/2 in deep."""
    return make_enclosure("lidded_tray", WORKED_INSIDE, B_FLUTE, FLAP, MarkingOut(NOMINAL))


def worked_base() -> Blank:
    return worked_box().parts[0].blank


def worked_lid() -> Blank:
    return worked_box().parts[1].blank


def inches(*values_mm: float) -> list[float]:
    """mm as inches, to a thousandth, for comparing with the trade's figures."""
    return [round(value / IN, 3) for value in values_mm]


def _values(option: Option) -> st.SearchStrategy:
    match option.kind:
        case Kind.YES_NO:
            return st.booleans()
        case Kind.WORD:
            return st.sampled_from([word for word, _ in option.words])
        case Kind.COUNT:
            return st.integers(int(option.least), min(int(option.most), 8))
        case _:
            return st.floats(option.least + 0.1, min(option.most, 150.0))


@st.composite
def asked(draw, form: str) -> tuple:
    """Random arguments of make_enclosure for a form: any size, caliper, fold share, options and rounding."""
    side = st.floats(*SIDES.get(form, (30.0, 1500.0)))
    inner = InnerSize(draw(side), draw(side), draw(st.floats(*HEIGHTS.get(form, (15, 800)))))
    board = BoardSpec(draw(calipers), draw(shares))
    options = {
        option.key: draw(_values(option)) for option in ENCLOSURES[form].options if draw(st.booleans())
    }
    return form, inner, board, options, MarkingOut(COMPENSATED, draw(steps))
