"""Labels in the languages of catalogues, and letters that mean another side in another language.

What each label means is what dictionaries say of height, width, depth and so on; which letters stand together
is common practice, no source.
"""

import pytest

from objects.core.dimensions import CHECK, READ, read_dimensions


def sides(text: str) -> list[float | None]:
    return [side and float(side) for side in read_dimensions(text).dimensions.sides]


@pytest.mark.parametrize(
    "text, height, width, depth",
    [
        # German
        ("H 10 x B 8 x T 4 cm", 100, 80, 40),
        ("h: 10; b: 8; t: 4 cm", 100, 80, 40),
        ("H. 20, Br. 15, T. 10 cm", 200, 150, 100),
        ("Höhe 20,5 cm; Breite 15 cm; Tiefe 10 cm", 205, 150, 100),
        ("HÖHE: 20 CM; BREITE: 15 CM", 200, 150, None),
        ("20 x 15 cm (B x H)", 150, 200, None),
        ("Gesamthöhe 20 cm", 200, None, None),
        ("H 20 cm, Dm. 12 cm", 200, 120, 120),
        ("Höhe 20 cm, Durchmesser 12 cm", 200, 120, 120),
        ("L 30 x B 20 x H 10 cm", 100, 200, 300),
        ("30 x 20 x 10 cm (L x B x H)", 100, 200, 300),
        ("Maße in cm: 10 x 8 x 4", 100, 80, 40),
        ("20 cm hoch, 15 cm breit", 200, 150, None),
        # French
        ("H. 20 cm ; L. 15 cm ; P. 10 cm", 200, 150, 100),
        ("Haut. 20 cm ; larg. 15 cm ; prof. 10 cm", 200, 150, 100),
        ("hauteur : 12 cm, largeur : 8 cm", 120, 80, None),
        ("H. 20 ; L. 15 ; Ép. 2 cm", 200, 150, 20),
        ("H. 20 ; L. 15 ; E. 2 cm", 200, 150, 20),
        ("haut. 12 cm ; diam. 8 cm", 120, 80, 80),
        ("long. 30 cm", None, 300, None),
        # Dutch
        ("h 20 x b 15 x d 10 cm", 200, 150, 100),
        ("hoogte 20 cm, breedte 15 cm, diepte 10 cm", 200, 150, 100),
        # Spanish
        ("Alto 20 cm, ancho 15 cm, fondo 10 cm", 200, 150, 100),
        ("20 x 15 x 10 cm (alto x ancho x fondo)", 200, 150, 100),
        ("alto 20 x largo 30 x ancho 10 cm", 200, 100, 300),
        # Italian
        ("altezza cm 20, larghezza cm 15, profondità cm 10", 200, 150, 100),
        ("h. cm 20; diametro cm 12", 200, 120, 120),
        # English thickness
        ("H 20 x W 15 x T 2 cm", 200, 150, 20),
        ("L 100 x W 15 x T 2 cm", 20, 150, 1000),
    ],
)  # fmt: skip
def test_labels_of_each_language_are_read(text, height, width, depth):
    assert read_dimensions(text).status == READ
    assert sides(text) == [height, width, depth]


@pytest.mark.parametrize(
    "text, height, width, depth, doubt",
    [
        (
            "B 20 cm", None, 200, None,
            "“B” may mean width (Breite, breedte) or something else; width is proposed.",
        ),
        ("T 20 cm", None, None, 200, "“T” may mean depth (Tiefe) or thickness; depth is proposed."),
        ("H 20 x T 10 cm", 200, None, 100, "“T” may mean depth (Tiefe) or thickness; depth is proposed."),
        (
            "H 20 x P 10 cm", 200, None, 100,
            "“P” may mean depth (profondeur, profondità) or something else; depth is proposed.",
        ),
        (
            "W 20 x P 10 x H 5 cm", 50, 200, 100,
            "“P” may mean depth (profondeur, profondità) or something else; depth is proposed.",
        ),
        (
            "H 20 x W 15 x E 2 cm", 200, 150, 20,
            "“E” may mean thickness (épaisseur) or something else; thickness is proposed.",
        ),
        ("H 20 x D 10 cm", 200, None, 100, "“D” may mean depth or diameter; depth is proposed."),
        (
            "largo 30 cm", None, 300, None,
            "“Largo” may mean length in Spanish or width in Italian; length is proposed.",
        ),
        (
            "fondo 12 cm", None, None, 120,
            "“Fondo” may mean depth in Spanish or a bottom in Italian; depth is proposed.",
        ),
    ],
)  # fmt: skip
def test_a_letter_that_another_language_uses_for_another_side_goes_to_a_person(
    text, height, width, depth, doubt
):
    reading = read_dimensions(text)

    assert (reading.status, reading.notes[0]) == (CHECK, f"{doubt} Check which it is.")
    assert sides(text) == [height, width, depth]


def test_length_and_width_that_only_a_capital_tells_apart_go_to_a_person():
    reading = read_dimensions("L. 30 ; l. 20 ; H. 10 cm")

    assert (reading.status, reading.notes[0]) == (
        CHECK,
        "“L” is given twice, perhaps for longueur and largeur; the larger is proposed as the length. "
        "Check which is which.",
    )
    assert sides("L. 30 ; l. 20 ; H. 10 cm") == [100, 200, 300]


def test_decimetres_are_not_taken_for_a_diameter():
    assert "“dm” may mean decimetres or diameter. Check which it is." in read_dimensions("12 dm").notes
