"""What holds for every text and every size: no crash, no silent guess, and what is written is read back."""

from decimal import Decimal

from hypothesis import example, given
from hypothesis import strategies as st

from objects.core.dimensions import CHECK, READ, Dimensions, format_dimensions, read_dimensions
from objects.core.dimensions.reading import SMALLEST_MM
from objects.core.lengths import LARGEST_MM
from tests.objects.core.dimensions.writing import exact, labelled, written

SIDE = st.integers(1, 200_000_000).map(lambda steps: Decimal(steps) / 10_000)
SIXTEENTHS = st.integers(1, 12_000).map(lambda steps: steps * Decimal("1.5875"))
UNITS = ["in", "in.", '"', "cm", "mm", "m", "ft", "'", " inches", "Zoll", "см"]
PIECES = [
    "0", "1", "7", "12", "1/2", "3/4", "2 3/8", "8-1/4", "9,5", "4.25", "1,250", ".5", "¾", "1⁄16", "30/20",
    "1 250", "1.250", "1998-10-12", "1995.4.2a", "1:12", "lO", "1O", "x", " x ", "×", " by ", "-", " - ",
    " to ", "−", ";", ",", " ", " ", ":", "\n", "=", "/", " and ", "(", ")", "[", "]", "H", "W ", "d.", "L",
    "B", "T", "P", "Höhe ", "larg. ", "fondo ", "diam. ", "th ", "h x w x d", "(h)", "LxWxH", "approx. ",
    "overall ", "sight", "(a)", "pieces", "lid", "?", "±", "²", "p.", "A4", "size ", "kg", "3 lb", "1,250 g",
]  # fmt: skip
UNITLESS = [piece for piece in PIECES if not piece.strip().startswith(("kg", "3 lb", "1,250 g"))]
DOUBTFUL = ["approx. ", "2 pieces ", "sight ", "unfolded ", "10-12 cm; ", "ca. ", "je ", "env. ", "grumpf "]


def joined(pieces: list[str]) -> st.SearchStrategy[str]:
    return st.lists(st.sampled_from(pieces), max_size=14).map("".join)


ANY_TEXT = st.one_of(st.text(), joined(PIECES + UNITS), labelled().flatmap(written))


@given(ANY_TEXT, st.sampled_from([None, "in", "ft", "cm", "mm", "m"]))
def test_any_text_gives_a_status_and_possible_sides(text, unit):
    reading = read_dimensions(text, unit)

    stated = [side for side in reading.dimensions.sides if side is not None]
    assert reading.status in ("read", "check", "refused", "empty")
    assert all(0 < side <= LARGEST_MM for side in stated)
    assert stated or reading.status != READ
    assert reading.notes or (reading.status == READ and reading.dimensions.is_complete)
    assert all(note[0].isupper() or note[0] == "“" for note in reading.notes)
    assert all(note.endswith(".") for note in reading.notes)


@given(joined(UNITLESS))
def test_without_a_unit_nothing_is_read(text):
    assert read_dimensions(text).status != READ


@given(joined(PIECES + UNITS) | labelled().flatmap(written), st.sampled_from(DOUBTFUL))
def test_a_doubtful_word_is_never_overlooked(text, word):
    assert read_dimensions(word + text).status != READ


@given(st.data(), labelled())
def test_labelled_sides_are_read_as_they_were_written(data, sides):
    text = data.draw(written(sides))

    reading = read_dimensions(text)

    assert (reading.status, reading.dimensions.sides) == (READ, tuple(exact(side.mm) for side in sides))


@given(
    st.data(),
    labelled(),
    st.sampled_from(["lid", "B 7 cm", "(7 cm)", "7 x", "diam. 7 cm", "e", "no. 3", "?"]),
)
def test_what_does_not_belong_into_a_text_is_never_read_past(data, sides, stray):
    text = data.draw(written(sides))
    gaps = [place for place, sign in enumerate(text) if sign == " "]
    at = data.draw(st.sampled_from([0, *gaps, len(text)]))

    reading = read_dimensions(f"{text[:at]} {stray} {text[at:]}")

    assert reading.status != READ or reading.dimensions.sides == tuple(exact(side.mm) for side in sides)


@given(labelled(), st.permutations([0, 1, 2]))
def test_the_order_of_labelled_sides_makes_no_difference(sides, order):
    parts = [f"{side.label} {side.figure} {side.unit}" for side in sides]

    assert (
        read_dimensions("; ".join(parts[place] for place in order)).dimensions
        == read_dimensions("; ".join(parts)).dimensions
    )


@given(st.data(), labelled())
def test_capitals_spaces_and_typographic_signs_make_no_difference(data, sides):
    text = data.draw(written(sides))
    reading = read_dimensions(text)

    for same in (text.upper(), text.lower(), text.replace(" ", "\u00a0"), f"  {text.replace(' ', '   ')} "):
        assert read_dimensions(same) == reading
    for plain, other in (("x", "×"), ('"', "″"), ("''", "’’"), ("-", "–"), ("/", "⁄")):
        assert read_dimensions(text.lower().replace(f" {plain} ", f" {other} ")) == reading
        if plain != "x":
            assert read_dimensions(text.replace(plain, other)) == reading


@given(st.builds(Dimensions, *[st.none() | SIDE] * 3))
@example(Dimensions(Decimal("1.125"), None, Decimal("20000")))
@example(Dimensions(Decimal("20.499"), Decimal("19.999"), Decimal("20.000")))
def test_a_size_in_millimetres_is_read_back_exactly(dimensions):
    reading = read_dimensions(format_dimensions(dimensions))

    assert reading.dimensions == dimensions
    sides = [side for side in dimensions.sides if side is not None]
    is_tiny = bool(sides) and max(sides) < SMALLEST_MM  # rather a slip of the unit
    assert reading.status == ("empty" if not sides else CHECK if is_tiny else READ)


@given(st.builds(Dimensions, SIXTEENTHS, SIXTEENTHS, SIXTEENTHS))
def test_a_size_on_ruler_marks_is_read_back_exactly_in_inches(dimensions):
    assert read_dimensions(format_dimensions(dimensions, "in")).dimensions == dimensions


# Half a step of what is written: 0.1 cm, and 1/16 in = 1.5875 mm.
@given(
    st.lists(st.integers(30, 190_000), min_size=3, max_size=3),
    st.sampled_from([("cm", 0.5), ("in", 0.79375)]),
)
def test_a_size_is_read_back_to_the_rounding_of_its_unit(tenths_mm, unit_and_half_step):
    unit, half_step = unit_and_half_step
    dimensions = Dimensions(*(Decimal(each) / 10 for each in tenths_mm))

    again = read_dimensions(format_dimensions(dimensions, unit)).dimensions

    for side, read in zip(dimensions.sides, again.sides, strict=True):
        assert side is not None and read is not None and abs(float(side - read)) <= half_step + 1e-6


@given(st.lists(st.integers(1, 9999), min_size=2, max_size=3))
def test_the_same_size_in_other_words_is_the_same(tenths):
    figures = [str(Decimal(each) / 10) for each in tenths]

    in_cm = read_dimensions(" x ".join(figures) + " cm")

    assert read_dimensions("×".join(f"{each}CM" for each in figures)).dimensions == in_cm.dimensions
    assert read_dimensions(" x ".join(figures).replace(".", ",") + " cm").dimensions == in_cm.dimensions
    assert read_dimensions(" x ".join(map(str, tenths)) + " mm").dimensions == in_cm.dimensions
    assert read_dimensions("cm " + " x ".join(figures)).dimensions == in_cm.dimensions


@given(st.permutations([("H", 11), ("W", 22), ("D", 33)]))
def test_labels_beat_order(labelled_figures):
    text = " x ".join(f"{label} {figure}" for label, figure in labelled_figures)

    assert read_dimensions(f"{text} mm").dimensions == Dimensions(Decimal(11), Decimal(22), Decimal(33))
