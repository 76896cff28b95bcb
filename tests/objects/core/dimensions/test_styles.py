"""The styles in which catalogues write sizes, the size each stands for, and whether a person must look.

Sizes in mm by 1 in = 25.4 mm. The order height x width x depth, the second system in parentheses and the
naming of the part measured are those of CDWA (Measurements) and CCO (3.2.1); where no source is named beside
a style, what it means is our own derivation.
"""

from decimal import Decimal

import pytest

from objects.core.dimensions import CHECK, READ, read_dimensions


def sides(text: str, unit: str | None = None) -> list[float | None]:
    return [None if side is None else float(side) for side in read_dimensions(text, unit).dimensions.sides]


@pytest.mark.parametrize(
    "text, status, height, width, depth",
    [
        # CDWA / CCO: height x width x depth, whole inches and fractions
        ("10 x 8 3/4 x 7 1/8 in.", READ, 254, 222.25, 180.975),
        ("10 x 8-3/4 x 7-1/8 in", READ, 254, 222.25, 180.975),
        # CDWA / CCO: metric first, the second system in parentheses
        ("25.4 x 22.2 x 18.1 cm (10 x 8 3/4 x 7 1/8 in.)", READ, 254, 222, 181),
        ("H. 20 cm; W. 15 cm; D. 9.5 cm", READ, 200, 150, 95),
        ("15 cm W x 20 cm H", READ, 200, 150, None),
        # museum documentation guide, Quebec: length is the larger horizontal side
        ("L 30 x W 20 x H 15 cm", READ, 150, 200, 300),
        ("Diam. 12.5 cm, H. 4 cm", READ, 40, 125, 125),
        ("(dia.) 3 1/2 in.", READ, None, 88.9, 88.9),
        # CDWA / CCO: feet as feet and inches; 63 1/2 in and 24 in
        ("5'-3 1/2\" x 2'-0\"", READ, 1612.9, 609.6, None),
        ("12,5 x 8,0 cm", READ, 125, 80, None),
        ("1,250 x 800 mm", CHECK, 1250, 800, None),
        # CDWA / CCO: say which part is measured
        ("overall: 42 x 60 cm; sheet: 30 x 45 cm", CHECK, 420, 600, None),
        ("approx. 15 in. long", CHECK, None, 381, None),
        ("30-35 cm", CHECK, 350, None, None),
        ("12-14 in.", CHECK, 355.6, None, None),
        ("12-1/4 in.", CHECK, 311.15, None, None),
        ("2 pieces, each 4 x 3 x 1 1/2 in.", CHECK, 101.6, 76.2, 38.1),
        ("(a) 10 x 6 cm (b) 4 x 4 cm", CHECK, 100, 60, None),
        ("14 x 9", CHECK, None, None, None),
        ("8 1/2 x 11", CHECK, 215.9, 279.4, None),
        ("1/2 x 3/4 x 2 in.", READ, 12.7, 19.05, 50.8),
        ("10 x 8 x 7/8 in.", READ, 254, 203.2, 22.225),
        ("irregular: 22 x 18 x 11 cm (max.)", CHECK, 220, 180, 110),
        ("40 x 30 x 20 cm; 3.5 kg", READ, 400, 300, 200),
        # one figure, as libraries give the height of books; which side it is has to be asked
        ("23 cm", CHECK, 230, None, None),
        ("1.2 m x 85 cm", READ, 1200, 850, None),
        ("Framed 24 x 30 in.; unframed 18 x 24 in.", CHECK, 609.6, 762, None),
        ("40 x 30 cm (sight)", CHECK, 400, 300, None),
        # a visual-culture cataloguing guide, Dimensions: plate mark and sheet
        ("plate mark 20.5 x 30.5 cm, sheet 30 x 40 cm", CHECK, 300, 400, None),
    ],
)  # fmt: skip
def test_the_styles_of_catalogues(text, status, height, width, depth):
    assert read_dimensions(text).status == status
    assert sides(text) == [height, width, depth]


# How the rules combine; what each means is our own derivation.
@pytest.mark.parametrize(
    "text, status, height, width, depth",
    [
        ("H 25.4 x W 22.2 x D 18.1 cm", READ, 254, 222, 181),
        ("30½\" × 12\" × 8¾\"", READ, 774.7, 304.8, 222.25),
        ("diam. 12 cm, h. 30 cm", READ, 300, 120, 120),
        ("1' 4 1/2\" H", READ, 419.1, None, None),
        ("24,1 x 15,7 x 10,2 cm", READ, 241, 157, 102),
        ("8 x 10 in", READ, 203.2, 254, None),
        ("H10xW8xD7cm", READ, 100, 80, 70),
        ("10cmx8cmx7cm", READ, 100, 80, 70),
        ("10 (h) x 8 (w) x 7 (d) cm", READ, 100, 80, 70),
        ("10 by 8 by 7 inches", READ, 254, 203.2, 177.8),
        ("H.20 cm W.15 cm D.9 cm", READ, 200, 150, 90),
        ("20 cm H 15 cm W 10 cm D", READ, 200, 150, 100),
        ("H 20 W 15 D 10 cm", READ, 200, 150, 100),
        ("H: .5 in, W: 2 in", READ, 12.7, 50.8, None),
        ("h x w x d: 10 x 8 x 7 cm", READ, 100, 80, 70),
        ("30 x 20 x 10 cm (LxWxH)", READ, 100, 200, 300),
        ("H 20 cm (7 7/8 in.) x W 15 cm (5 7/8 in.)", READ, 200, 150, None),
        ("20 cm [7 7/8 in.] x 15 cm [5 7/8 in.]", READ, 200, 150, None),
        ("25.4 x 22.2 cm = 10 x 8 3/4 in", READ, 254, 222, None),
        ("25.4 x 22.2 cm and 10 x 8 3/4 in", READ, 254, 222, None),
        ("H 20 x W 15 x thickness 2 cm", READ, 200, 150, 20),
        ("diam. 10 cm, thickness 2 cm", READ, 20, 100, 100),
        ("L 100 cm, diam. 4 cm", READ, 40, 1000, 40),  # lies, as its length says
        ("12 cm in diameter, 4 cm high", READ, 40, 120, 120),
        ("1.250,5 x 800 mm", READ, 1250.5, 800, None),
        ("20 x 15 cm max.", READ, 200, 150, None),
        ("wt. 3½ lb; 10 x 8 x 2 in", READ, 254, 203.2, 50.8),
        ("x 10 x 8 x 7 cm", CHECK, 100, 80, 70),
        ("10 x x 8 cm", CHECK, 100, 80, None),
        ("20 cm x 15", CHECK, 200, 150, None),
        ("cm: 10 x 8 x 7", READ, 100, 80, 70),
        ("\"10 x 8\"", CHECK, 254, 203.2, None),
        ("10 x 8 in x 7 cm", CHECK, 254, 203.2, 70),
        ("5 x 3' 6\"", CHECK, 1524, 1066.8, None),  # 5 ft and 42 in
        ("H 20 x 15 x 10 cm", CHECK, 200, 150, 100),
        ("L 30 x W 20 x D 10 cm", CHECK, 300, 200, 100),
        ("H 30 x D 12 cm", CHECK, 300, None, 120),
        ("10 x 8 x 7 x 6 cm", CHECK, 100, 80, 70),
        ("H 20 cm, diam. rim 12 cm, diam. foot 8 cm", CHECK, 200, 120, 120),
        ("radius 6 cm, H 4 cm", CHECK, 40, 120, 120),
        ("folded 10 x 8 x 2 cm; unfolded 40 x 32 cm", CHECK, 400, 320, None),
        ("20 x 15 cm\n10 x 5 cm", CHECK, 200, 150, None),
        ("20 x 15 cm (25 x 15 cm with lid)", CHECK, 250, 150, None),
        ("25/20 cm", CHECK, 250, None, None),
        ("10 cm,8 cm", CHECK, 100, None, None),
        ("10 to 12 in x 8 in", CHECK, 304.8, 203.2, None),
        ("30 cm - 35 cm x 20 cm", CHECK, 350, 200, None),
        ("3 x 2 in (blue box)", CHECK, 76.2, 50.8, None),
        ("1,250 cm", CHECK, 12.5, None, None),
        ("see sketch on card", CHECK, None, None, None),
        ("3.5 kg", CHECK, None, None, None),
    ],
)  # fmt: skip
def test_how_the_rules_combine(text, status, height, width, depth):
    assert read_dimensions(text).status == status
    assert sides(text) == [height, width, depth]


# Published pairs of a metric size and its inches (CDWA / CCO): 78 in = 1981.2 mm, 91 3/4 in = 2330.45 mm,
# 32 1/4 in = 819.15 mm; 10 1/2 in = 266.7 mm, 7 1/2 in = 190.5 mm.
@pytest.mark.parametrize(
    "text", ["198 x 233 x 82 cm (78 x 91 3/4 x 32 1/4 in.)", "26.6 x 19.1 cm (10 1/2 x 7 1/2 in.)"]
)
def test_a_second_system_that_agrees_within_its_rounding_raises_no_doubt(text):
    assert read_dimensions(text).status == READ


def test_a_second_system_that_differs_sends_both_to_a_person():
    reading = read_dimensions("25.4 x 20.3 cm (10 x 9 1/4 in.)")

    assert (reading.status, reading.notes[0]) == (
        CHECK,
        "The two sizes given, 254 × 203 mm and 10 × 9 1/4 in, do not agree. Measure again.",
    )


@pytest.mark.parametrize(
    "text, notes",
    [
        ("H 20 x W 15 x D 10 cm", ()),
        ("20 x 15 x 10 cm", ("Figures without labels were taken as height × width × depth.",)),
        ("20 x 15 cm", ("Two figures without labels were taken as height × width.", "Not stated: depth.")),
        ("H 4 cm, diam. 9 cm", ("The diameter was taken as width and depth.",)),
        ("L 30 x W 20 x H 9 cm", ("The length was taken as depth.",)),
    ],
)
def test_what_was_assumed_is_told(text, notes):
    assert read_dimensions(text).notes == notes


@pytest.mark.parametrize(
    "text, doubt",
    [
        ("20 x 15", "“20 x 15” has no unit. Say whether it is inches, centimetres or millimetres."),
        ("c. 20 x 15 cm", "The size is only approximate. Measure the object."),
        ("20 x 15 cm?", "The size is only approximate. Measure the object."),
        ("irreg. 20 x 15 cm", "The shape is irregular. Check that these are its greatest sizes."),
        ("20 x 15 cm unfolded", "It says folded, rolled, open or closed. Say which size is to be housed."),
        ("20 x 15 cm with lid", "Several pieces or parts are meant. Measure them as they will lie together."),
        ("20 x 15 cm grumpf", "“grumpf” was not understood. Check that the overall size was taken."),
        ("20-25 cm x 15 cm", "A range is given; its larger end is proposed. Check it."),
        ("over 20 cm x 15 cm", "Only a limit is given. Measure the object."),
        ("H 20 cm, D 15 cm", "“D” may mean depth or diameter; depth is proposed. Check which it is."),
        ("20 x 15 cm; 0 kg", "“0 kg” is zero. Weigh it, or leave it blank if it is not known."),
    ],
)  # fmt: skip
def test_what_is_doubtful_is_told_first(text, doubt):
    reading = read_dimensions(text)

    assert (reading.status, reading.notes[0]) == (CHECK, doubt)


@pytest.mark.parametrize(
    "text, sentence",
    [
        ("0 x 2 x 3 cm", "“0 x 2 x 3 cm” holds a size of zero. Measure the object, or leave the size blank."),
        ("0 x 2", "“0 x 2” holds a size of zero. Measure the object, or leave the size blank."),
        ("-5 x 2 cm", "It holds a negative size, “-5”. Correct the figure."),
        ("5 x - 2 cm", "It holds a negative size, “-2”. Correct the figure."),
        ("H −20 cm", "It holds a negative size, “-20”. Correct the figure."),
        ("L 40 m", "“L 40 m” holds 40 m, and more than 20 m cannot be right. Check the figure and the unit."),
        ("0.00001 mm", "“0.00001 mm” holds a size too small to be one. Check the figure and the unit."),
        ("1/0 x 3 in", "“1/0” divides by zero. Type the fraction like 3/4."),
    ],
)  # fmt: skip
def test_what_cannot_be_a_size_is_refused(text, sentence):
    reading = read_dimensions(text)

    assert (reading.status, reading.notes, reading.dimensions.sides) == (
        "refused", (sentence,), (None, None, None),
    )  # fmt: skip


@pytest.mark.parametrize("text", ["", "  \n", "-", "?", "–  –"])
def test_a_text_without_letter_or_figure_is_empty(text):
    assert read_dimensions(text).status == "empty"


def test_the_agreed_unit_counts_only_where_none_is_written():
    assert sides("10 x 8", "in") == [254, 203.2, None]
    assert sides("10 x 8 cm", "in") == [100, 80, None]
    assert read_dimensions("10 x 8", "in").notes[0] == "No unit is written; inches were taken."


@pytest.mark.parametrize("text, unit", [("10 x 8 cm", "cm"), ("5' 3\" x 2'", "ft"), ("10 x 8", "")])
def test_the_unit_that_was_written_first_is_kept(text, unit):
    assert read_dimensions(text).unit == unit


# 1 lb = 453.59237 g (international yard and pound agreement, 1959): 3 1/2 lb = 1587.57 g,
# 2 lb 4 oz = 1020.58 g
@pytest.mark.parametrize(
    "text, grams",
    [
        ("40 x 30 x 20 cm; 3.5 kg", "3500.0"),
        ("3½ lb, 10 x 8 x 2 in", "1587.6"),
        ("10 x 8 x 2 in, weight: 2 lb 4 oz", "1020.6"),
        ("3.5 kg (7 lb 11 oz); 10 x 8 cm", "3500.0"),
        ("10 x 8 x 2 in", None),
    ],
)
def test_a_weight_beside_the_size_is_kept_apart(text, grams):
    assert read_dimensions(text).weight_g == (grams and Decimal(grams))


@pytest.mark.parametrize(
    "text, doubt",
    [
        ("1,250 g; 10 x 8 cm", "“1,250 g” can be 1250 g or 1.250 g. Write it without the comma."),
        ("3.5 kg; 10 x 8 cm; 4 kg", "Several weights are given; the first was taken. Check it."),
    ],
)
def test_a_doubtful_weight_sends_the_text_to_a_person(text, doubt):
    assert (read_dimensions(text).status, read_dimensions(text).notes[0]) == (CHECK, doubt)


def test_a_text_too_long_for_a_size_is_not_read():
    assert read_dimensions("10 x 8 cm " * 200).notes == (
        "2000 characters are too many for a size. Measure the object.",
    )
