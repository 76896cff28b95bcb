"""What stands in the column of sizes and is no size: it is told, left out, and never taken for a side.

Sizes in mm by 1 in = 25.4 mm, worked by hand; what each text means is common practice, no source. A4 is
297 × 210 mm by ISO 216.
"""

import pytest

from objects.core.dimensions import CHECK, READ, REFUSED, read_dimensions


@pytest.mark.parametrize(
    "text, status, height, width, depth",
    [
        # slips of the pen and of text recognition
        ("lO x 8 cm", CHECK, 100, 80, None),
        ("l0 x 8 cm", CHECK, 100, 80, None),
        ("1O x 8 cm", CHECK, 100, 80, None),
        ("2O.5 x 8 cm", CHECK, 205, 80, None),
        ("I2 x 8 cm", CHECK, 120, 80, None),
        ("O.5 x 8 cm", CHECK, 5, 80, None),
        # counts and parts
        ("3 x 10 x 8 cm", READ, 30, 100, 80),
        ("3 x 40 x 30 x 20 cm", CHECK, 400, 300, 200),
        ("2 @ 10 x 8 cm", CHECK, 100, 80, None),
        ("10 x 8 cm (x2)", CHECK, 100, 80, None),
        ("(2) 10 x 8 cm", CHECK, 100, 80, None),
        ("set of 6, each 10 x 8 cm", CHECK, 100, 80, None),
        ("pair; 10 x 8 cm", CHECK, 100, 80, None),
        ("2 pieces: 10 x 8 cm and 12 x 9 cm", CHECK, 120, 90, None),
        ("A: 10 x 8 cm; B: 12 x 9 cm", CHECK, 120, 90, None),
        ("a) 10 x 8 cm b) 12 x 9 cm", CHECK, 120, 90, None),
        ("1) 10 x 8 cm; 2) 12 x 9 cm", CHECK, 120, 90, None),
        ("closed: 10 x 8 x 4 cm; open: 10 x 16 x 2 cm", CHECK, 100, 160, 20),
        ("20 x 15 cm (with frame 30 x 25 cm)", CHECK, 300, 250, None),
        ("Image: 20 x 15 cm; Sheet: 30 x 25 cm", CHECK, 300, 250, None),
        ("inner diam. 12 cm, H 4 cm", CHECK, 40, 120, 120),
        ("Int. 20 x 15 cm", CHECK, 200, 150, None),
        ("chest 36 in", CHECK, 914.4, None, None),
        ("10 cm square", CHECK, 100, 100, None),
        # limits and guesses
        ("10±0.5 cm", CHECK, 100, None, None),
        ("<10 cm", CHECK, 100, None, None),
        ("10+ cm", CHECK, 100, None, None),
        ("up to 10 cm", CHECK, 100, None, None),
        ("between 10 and 12 cm", CHECK, 120, None, None),
        ("10 bis 12 cm", CHECK, 120, None, None),
        ("10 à 12 cm", CHECK, 120, None, None),
        ("min. 10 x 8 cm", CHECK, 100, 80, None),
        ("10 x 8 cm ?", CHECK, 100, 80, None),
        # numbers that are no figures of a size
        ("48 pages, 21 x 15 cm", READ, 210, 150, None),
        ("xii, 340 p. ; 24 cm", CHECK, 240, None, None),
        ("20 cm h, 30 cm l, 12 p", CHECK, 200, 300, None),
        ("20 x 15 cm (measured 1998-10-12)", CHECK, 200, 150, None),
        ("20 x 15 cm, 12.10.1998", CHECK, 200, 150, None),
        ("scale 1:12, 30 x 20 cm", CHECK, 300, 200, None),
        ("1995.4.2a-c: 10 x 8 cm", CHECK, 100, 80, None),
        ("1995.4: 10 x 8 cm", CHECK, 100, 80, None),
        ("size 10 x 8 cm", READ, 100, 80, None),
        ("size 10, L 28 cm", CHECK, None, 280, None),
        ("12 fl oz; H 20 cm", CHECK, 200, None, None),
        ("0.5 m3", CHECK, None, None, None),
        ("100 cm²", CHECK, None, None, None),
        ("1200 x 800 px", CHECK, None, None, None),
        ("A4", CHECK, 297, 210, None),
        ("A4; 2 cm thick", CHECK, None, None, 20),
        ("\"10 x 8 cm\"", CHECK, 100, 80, None),
        ("diam. 28 mm; 8.5 g; 6h", CHECK, 6, 28, 28),
        # not to be had
        ("H 20; W 0 cm", REFUSED, None, None, None),
        ("-10 x 8 cm", REFUSED, None, None, None),
        ("H -10 cm", REFUSED, None, None, None),
        ("40 m", REFUSED, None, None, None),
        ("0.5 x 0.5 mm", CHECK, 0.5, 0.5, None),
        ("99999999999999999999999999999999 cm", REFUSED, None, None, None),
        ("1,000,000 cm", REFUSED, None, None, None),
    ],
)  # fmt: skip
def test_what_is_no_size_is_never_taken_for_a_side(text, status, height, width, depth):
    reading = read_dimensions(text)

    assert reading.status == status
    assert [side and float(side) for side in reading.dimensions.sides] == [height, width, depth]


@pytest.mark.parametrize(
    "text, note",
    [
        (
            "20 x 15 cm (1998-10-12)",
            "A date stands in the text and was left out. Check that the rest is the size.",
        ),
        (
            "c. 1900; 20 x 15 cm",
            "A year stands in the text and was left out. Check that the rest is the size.",
        ),
        (
            "1:12; 20 x 15 cm",
            "A scale stands in the text and was left out. Check that the rest is the object's own size.",
        ),
        ("1995.4.2a: 20 x 15 cm", "An object number stands in the text. Check which size is this object's."),
        ("Size 10; L 28 cm", "A clothing size or a stock number is no length. Measure the object."),
        ("8vo, 20 x 15 cm", "A book or paper format is no measured size. Measure the object."),
        ("500 ml, H 20 cm", "An area or a volume is no size of an object. Measure the object."),
        ("340 p. ; 24 cm", "A number seems to count pages and was left out. Check that it is no side."),
        ("A4", "A4 paper is 297 x 210 mm, which is proposed. Check the object itself."),
        ("H 20 cm; W ?", "A side is marked as not known. Measure it."),
        ("1 250 x 800 mm", "Thousands seem to be set apart. Check the figures."),
        ("30/20/10 cm", "Slashes were taken to stand between the sides. Check that they do."),
        ("30, 20, 10 cm", "Commas were taken to stand between the sides. Check that they do."),
        ("10.3/4 x 8 in", "A fraction is written with a point or wide apart. Check the figures."),
        ("I2 x 8 cm", "A letter seems to stand for a figure 1. Check the figures."),
        ("1O x 8 cm", "A letter seems to stand for a figure 0. Check the figures."),
        (
            "2 x 30 x 20 x 10 cm",
            "The first of four figures may be a number of pieces and was left out. Check it.",
        ),
        ("10 cm square", "It is called square. Check that the figure gives both sides."),
    ],
)  # fmt: skip
def test_what_was_left_out_or_put_right_is_told_first(text, note):
    reading = read_dimensions(text)

    assert (reading.status, reading.notes[0]) == (CHECK, note)


def test_a_number_of_pages_does_no_harm():
    assert read_dimensions("48 pages, 21 x 15 cm").notes == (
        "A number of pages is given, which is no size.",
        "Two figures without labels were taken as height × width.",
        "Not stated: depth.",
    )


@pytest.mark.parametrize("text", ["4to", "12mo", "in-8°", "UK 8", "1:100", "12.10.1998", "c. 1900", "EU 42"])
def test_a_text_that_holds_nothing_else_has_no_sides_even_where_a_unit_is_agreed(text):
    assert read_dimensions(text, "in").dimensions.sides == (None, None, None)
    assert read_dimensions(text, "in").status == CHECK
