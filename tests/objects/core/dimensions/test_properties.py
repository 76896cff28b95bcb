"""What holds for every text and every size: no crash, no silent guess, and what is written is read back."""

from decimal import Decimal

from hypothesis import example, given
from hypothesis import strategies as st

from objects.core.dimensions import CHECK, READ, Dimensions, format_dimensions, read_dimensions
from objects.core.dimensions.reading import SMALLEST_MM
from objects.core.lengths import LARGEST_MM

SIDE = st.integers(1, 200_000_000).map(lambda steps: Decimal(steps) / 10_000)
SIXTEENTHS = st.integers(1, 12_000).map(lambda steps: steps * Decimal("1.5875"))
UNITS = ["in", "in.", '"', "cm", "mm", "m", "ft", "'", " inches"]
PIECES = [
    "0", "1", "7", "12", "1/2", "3/4", "2 3/8", "8-1/4", "9,5", "4.25", "1,250", ".5", "¾", "1⁄16",
    "x", " x ", "×", " by ", "-", " - ", " to ", "−", ";", ",", " ", " ", ":", "\n", "=", "/", " and ",
    "(", ")", "[", "]", "H", "W ", "d.", "L", "diam. ", "th ", "h x w x d", "(h)", "LxWxH",
    "approx. ", "overall ", "sight", "(a)", "pieces", "lid", "?", "±", "²", "kg", "3 lb",
]  # fmt: skip
UNITLESS = [piece for piece in PIECES if not piece.strip().startswith(("kg", "3 lb"))]


def joined(pieces: list[str]) -> st.SearchStrategy[str]:
    return st.lists(st.sampled_from(pieces), max_size=14).map("".join)


@given(st.one_of(st.text(), joined(PIECES + UNITS)), st.sampled_from([None, "in", "ft", "cm", "mm", "m"]))
def test_any_text_gives_a_status_and_possible_sides(text, unit):
    reading = read_dimensions(text, unit)

    stated = [side for side in reading.dimensions.sides if side is not None]
    assert reading.status in ("read", "check", "refused", "empty")
    assert all(0 < side <= LARGEST_MM for side in stated)
    assert stated or reading.status != READ
    assert reading.notes or (reading.status == READ and reading.dimensions.is_complete)


@given(joined(UNITLESS))
def test_without_a_unit_nothing_is_read(text):
    assert read_dimensions(text).status != READ


@given(
    joined(PIECES + UNITS), st.sampled_from(["approx. ", "2 pieces ", "sight ", "unfolded ", "10-12 cm; "])
)
def test_a_doubtful_word_is_never_overlooked(text, word):
    assert read_dimensions(word + text).status != READ


@given(st.builds(Dimensions, *[st.none() | SIDE] * 3))
@example(Dimensions(Decimal("1.125"), None, Decimal("20000")))
def test_a_size_in_millimetres_is_read_back_exactly(dimensions):
    reading = read_dimensions(format_dimensions(dimensions))

    assert reading.dimensions == dimensions
    sides = [side for side in dimensions.sides if side is not None]
    is_tiny = bool(sides) and max(sides) < SMALLEST_MM  # rather a slip of the unit
    assert reading.status == ("empty" if not sides else CHECK if is_tiny else READ)


@given(st.builds(Dimensions, SIXTEENTHS, SIXTEENTHS, SIXTEENTHS))
def test_a_size_on_ruler_marks_is_read_back_exactly_in_inches(dimensions):
    assert read_dimensions(format_dimensions(dimensions, "in")).dimensions == dimensions


@given(st.lists(st.integers(1, 9999), min_size=2, max_size=3))
def test_the_same_size_in_other_words_is_the_same(tenths):
    figures = [str(Decimal(each) / 10) for each in tenths]

    in_cm = read_dimensions(" x ".join(figures) + " cm")

    assert read_dimensions("×".join(f"{each}CM" for each in figures)).dimensions == in_cm.dimensions
    assert read_dimensions(" x ".join(figures).replace(".", ",") + " cm").dimensions == in_cm.dimensions
    assert read_dimensions(" x ".join(map(str, tenths)) + " mm").dimensions == in_cm.dimensions


@given(st.permutations([("H", 11), ("W", 22), ("D", 33)]))
def test_labels_beat_order(labelled):
    text = " x ".join(f"{label} {figure}" for label, figure in labelled)

    assert read_dimensions(f"{text} mm").dimensions == Dimensions(Decimal(11), Decimal(22), Decimal(33))
