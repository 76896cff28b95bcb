"""How figures, units, ties and labels are written by many hands, and what a careful registrar makes of each.

Sizes in mm by 1 in = 25.4 mm and 1 ft = 12 in, worked by hand. Ties, fractions and feet with inches are the
styles of CDWA (Measurements) and CCO (3.2.1); for the other styles common practice, no source.
"""

import pytest

from objects.core.dimensions import CHECK, READ, read_dimensions


@pytest.mark.parametrize(
    "text, status, height, width, depth",
    [
        # ties
        ("10 X 8 cm", READ, 100, 80, None),
        ("10x8x4 cm", READ, 100, 80, 40),
        ("10 x 8 x4cm", READ, 100, 80, 40),
        ("10*8*4 cm", READ, 100, 80, 40),
        ("10 ✕ 8 cm", READ, 100, 80, None),
        ("10∗8 cm", READ, 100, 80, None),
        ("10 х 8 см", READ, 100, 80, None),
        ("10 × 8 × 4 ㎝", READ, 100, 80, 40),
        ("10cm by 8cm", READ, 100, 80, None),
        ("30 mal 20 cm", READ, 300, 200, None),
        ("30/20/10 cm", CHECK, 300, 200, 100),
        ("30, 20, 10 cm", CHECK, 300, 200, 100),
        ("25.4 x 20.3 cm*", CHECK, 254, 203, None),
        # marks, fractions and figures
        ("10 1/2\" x 8 3/4\"", READ, 266.7, 222.25, None),
        ("10½″ × 8¾″", READ, 266.7, 222.25, None),
        ("4 ½ in x 3 ¼ in", READ, 114.3, 82.55, None),
        ("4 1⁄2 x 3 in", READ, 114.3, 76.2, None),
        ("10'' x 8''", READ, 254, 203.2, None),
        ("10.5\" x 8.25\" x .5\"", READ, 266.7, 209.55, 12.7),
        ("8–3/4 x 6–1/2 in.", READ, 222.25, 165.1, None),
        ("8 1/2–9 in. x 6 in.", CHECK, 228.6, 152.4, None),
        ("1/2–3/4 in. x 2 in.", CHECK, 19.05, 50.8, None),
        ("10.3/4 x 8.1/2 in", CHECK, 273.05, 215.9, None),
        ("10 3 / 4 x 8 in", CHECK, 273.05, 203.2, None),
        ("43/4 x 31/2 in", CHECK, 120.65, 88.9, None),
        ("113/16 x 5 in", CHECK, 284.1625, 127, None),
        ("10/12 cm", CHECK, 120, None, None),
        ("30/32 x 20 cm", CHECK, 320, 200, None),
        ("1/3 x 2 in", CHECK, 8.4667, 50.8, None),
        ("10·5 × 8·2 cm", READ, 105, 82, None),
        ("2,05 x 1,30 m", READ, 2050, 1300, None),
        ("1,250.5 x 800 mm", READ, 1250.5, 800, None),
        ("1.250 x 800 mm", CHECK, 1250, 800, None),
        ("1 250 x 800 mm", CHECK, 1250, 800, None),
        ("1'250 x 800 mm", CHECK, 1250, 800, None),
        ("12.065 cm x 4.445 cm", READ, 120.65, 44.45, None),
        # feet, and metres as they are spoken
        ("2'6 x 1'3", READ, 762, 381, None),
        ("2ft.6in. x 1ft.3in.", READ, 762, 381, None),
        ("2 feet 6 inches high", READ, 762, None, None),
        ("5.5 ft x 3 ft", READ, 1676.4, 914.4, None),
        ("5' 14\" x 2'", CHECK, 1879.6, 609.6, None),
        ("1 m 20 cm x 80 cm", READ, 1200, 800, None),
        ("1 m 20 x 80 cm", CHECK, 1200, 800, None),
        ("15 cm 5 mm x 10 cm", READ, 155, 100, None),
        ("12 x 10 in x 2 ft", CHECK, 304.8, 254, 609.6),
        ("1.2 x 85 cm x 2 m", CHECK, 12, 850, 2000),
        # units that stand apart
        ("cm 20 x 15 x 10", READ, 200, 150, 100),
        ("mm. 200 x 150", READ, 200, 150, None),
        ("H (cm) 20 W (cm) 15", READ, 200, 150, None),
        ("Height (cm): 20; Width (cm): 15", READ, 200, 150, None),
        ("Height (in): 10; Width (in): 8", READ, 254, 203.2, None),
        ("10 x 8 x 4 (cm)", READ, 100, 80, 40),
        ("10 x 8 x 4, cm", READ, 100, 80, 40),
        ("10 x 8 x 4 in cm", READ, 100, 80, 40),
        ("dimensions in cm: 10 x 8 x 4", READ, 100, 80, 40),
        ("dimensions in cm: 10 x 8 in", CHECK, 254, 203.2, None),
        ("10 x 8 (m)", READ, 10000, 8000, None),
        ("10-inch x 8-inch", READ, 254, 203.2, None),
        ("10 x 8 c.m.", READ, 100, 80, None),
        ("10 x 8 crn", CHECK, 100, 80, None),
        ("10 x 8 Zoll", CHECK, 254, 203.2, None),
        # labels
        ("H10 W8 cm", READ, 100, 80, None),
        ("H=10cm,W=8cm,D=4cm", READ, 100, 80, 40),
        ("H-10 cm W-8 cm", READ, 100, 80, None),
        ("10cm(h)x8cm(w)x4cm(d)", READ, 100, 80, 40),
        ("(h) 10cm (w) 8cm (d) 4cm", READ, 100, 80, 40),
        ("10cmHx8cmW", READ, 100, 80, None),
        ("20cmW15cmH", READ, 150, 200, None),
        ("10\"h. x 8\"w. x 4\"d.", READ, 254, 203.2, 101.6),
        ("20 cm high by 15 cm wide by 10 cm deep", READ, 200, 150, 100),
        ("(HxWxD) 10 x 8 x 4 cm", READ, 100, 80, 40),
        ("20 x 30 cm (W x H)", READ, 300, 200, None),
        ("H.5 in; W.2 in", CHECK, 127, 50.8, None),
        ("H .5 in; W .2 in", READ, 12.7, 5.08, None),
        ("H.5 cm; W.20 cm", READ, 50, 200, None),
        ("5 l, H 30 cm", CHECK, 300, 50, None),
        ("H 20 W 15 D 10 thickness 2 cm", CHECK, 200, 150, 100),
        ("OD 12 cm, H 4 cm", READ, 40, 120, 120),
        ("Ø12 x H4 cm", READ, 40, 120, 120),
        ("Ø 12 x 4 cm", CHECK, 40, 120, 120),
        ("H 10, W 14, diam. 12 cm", READ, 100, 140, 120),
        ("W 8 cm; diam. 12 cm", CHECK, None, 80, 120),
        ("H 20 cm, W 15 cm, D 10 cm, diam. 8 cm", CHECK, 200, 150, 100),
        ("H: 20 cm W: - D: 10 cm", CHECK, 200, None, 100),
        ("Height: unknown; Width: 20 cm", CHECK, None, 200, None),
        # two systems
        ("10\" (25.4 cm) x 8\" (20.3 cm)", READ, 254, 203.2, None),
        ("25.4 cm x 20.3 cm; 10 in x 8 in", READ, 254, 203, None),
        ("25.4 cm x 25.4 cm; 10 in x 10 in", READ, 254, 254, None),
        ("25.4 x 20.3 cm / 10 x 8 in", READ, 254, 203, None),
        ("20 cm / 7 7/8 in x 15 cm / 5 7/8 in", READ, 200, 150, None),
        ("H 20 cm / 7 7/8 in; W 15 cm / 5 7/8 in", READ, 200, 150, None),
        ("25 mm (10 in)", CHECK, 25, None, None),
        ("20 x 15 cm (200 x 150 mm)", READ, 200, 150, None),
        ("H 20 cm (25 cm with lid); W 15 cm", CHECK, 250, 150, None),
        ("(1 m) 20 cm", CHECK, 1000, None, None),
    ],
)  # fmt: skip
def test_the_hands_of_catalogues(text, status, height, width, depth):
    reading = read_dimensions(text)

    assert reading.status == status
    assert [side and float(side) for side in reading.dimensions.sides] == [height, width, depth]


@pytest.mark.parametrize(
    "text, doubt",
    [
        ("5' 14\" x 2'", "“5 ft 14 in” has a foot or more in its inches. Check the figures."),
        ("43/4 x 3 in", "“43/4” may be 4 3/4, which is proposed. Check it."),
        ("10/12 cm", "“10/12” is two sizes or a range; the larger is proposed. Check it."),
        ("15/16 x 20 cm", "“15/16” may be two sizes or a range. Check the figures."),
        ("1.250 x 800 mm", "“1.250” may have decimals or thousands. Check the figure."),
        (
            "12 x 10 in x 2 ft",
            "Different units stand in one size, and not behind each figure. Check the units.",
        ),
        ("10 x 8 Zoll", "“zoll” may be a local unit of its time; today's is proposed. Check it."),
        ("10 x 8 crn", "“crn” is perhaps a slip for cm. Check the unit."),
        ("H.5 in", "A figure behind a label may begin with a decimal point. Check the figures."),
        ("5 l, H 30 cm", "Letters stand before figures and behind them. Check which belongs to which."),
        (
            "H 25 cm (30 cm with lid)",
            "Several pieces or parts are meant. Measure them as they will lie together.",
        ),
        (
            "H 20 cm (25 cm); W 15 cm",
            "Two sizes are given for one side; the larger is proposed. Check which it is.",
        ),
    ],
)  # fmt: skip
def test_the_first_note_says_what_to_do(text, doubt):
    reading = read_dimensions(text)

    assert (reading.status, reading.notes[0]) == (CHECK, doubt)
