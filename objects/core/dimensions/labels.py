"""The labels of sides, language by language, and those letters that mean another side in another language."""

from collections.abc import Iterable
from dataclasses import dataclass

# What each word means in its language by its dictionaries; common practice in catalogues, no source.
# A single letter stands here only where no other of these languages uses it for another side.
LABELS: dict[str, dict[str, str]] = {
    "English": {
        "height": "height heights high tall ht hgt h",
        "width": "width widths wide breadth wd wid w",
        "depth": "depth depths deep dp dpth d",
        "thickness": "thickness thick thk thck th",
        "length": "length lengths long lgth len lg l",
        "diameter": "diameter diameters diam dia ø φ od",
        "radius": "radius rad",
        "circumference": "circumference circum circ girth",
    },
    "German": {
        "height": "höhe hoehe hohe hoch",
        "width": "breite breit br",
        "depth": "tiefe tief",
        "thickness": "dicke dick stärke staerke",
        "length": "länge laenge lange lang",
        "diameter": "durchmesser durchm dm",
        "circumference": "umfang",
    },
    "French": {
        "height": "hauteur haut",
        "width": "largeur larg",
        "depth": "profondeur prof",
        "thickness": "épaisseur epaisseur épais ép ep",
        "length": "longueur",
        "diameter": "diamètre diametre",
        "radius": "rayon",
        "circumference": "circonférence circonference",
    },
    "Dutch": {
        "height": "hoogte hoog",
        "width": "breedte breed",
        "depth": "diepte diep",
        "thickness": "dikte dik",
        "length": "lengte",
        "diameter": "doorsnede doorsnee middellijn",
        "radius": "straal",
        "circumference": "omtrek",
    },
    "Spanish": {
        "height": "altura alto alt",
        "width": "anchura ancho",
        "depth": "profundidad",
        "thickness": "grosor espesor",
        "length": "longitud",
        "diameter": "diámetro diametro diám",
        "radius": "radio",
        "circumference": "circunferencia",
    },
    "Italian": {
        "height": "altezza",
        "width": "larghezza largh",
        "depth": "profondità profondita",
        "thickness": "spessore spess",
        "length": "lunghezza lungh",
        "radius": "raggio",
        "circumference": "circonferenza",
    },
}


@dataclass(frozen=True)
class Clash:
    """A label that means different sides.

    with_others: what it means beside which other labels, each given by its side or its first letter; the
    first meaning is proposed where no such labels are there. may_mean: for the sentence that asks.
    """

    with_others: tuple[tuple[str, str], ...]
    may_mean: str


CLASHES = {
    # H × W × D, also H × B × D; alone or with H it may as well be a diameter
    "d": Clash((("width", "depth"),), "depth or diameter"),
    # German and Dutch H × B, L × B
    "b": Clash((("height", "width"), ("length", "width")), "width (Breite, breedte) or something else"),
    # German H × B × T; English H × W × T and L × W × T
    "t": Clash(
        (("height b", "depth"), ("height w", "thickness"), ("length w", "thickness")),
        "depth (Tiefe) or thickness",
    ),
    # French and Italian H × L × P
    "p": Clash((("height l", "depth"),), "depth (profondeur, profondità) or something else"),
    # French H × L × E
    "e": Clash((("height l", "thickness"),), "thickness (épaisseur) or something else"),
    # Spanish alto × ancho × fondo; in Italian largo is wide and fondo is a bottom
    "largo": Clash((("a width", "length"),), "length in Spanish or width in Italian"),
    "fondo": Clash((("a width", "depth"),), "depth in Spanish or a bottom in Italian"),
}

LABEL_OF = {
    word: label for table in LABELS.values() for label, words in table.items() for word in words.split()
} | {word: clash.with_others[0][1] for word, clash in CLASHES.items()}


def settled(word: str, others: Iterable[str]) -> str | None:
    """What a label that clashes means beside the other labels; None where only a person can say."""
    beside = {part for other in others for part in (LABEL_OF[other], other[0])}
    for needed, label in CLASHES[word].with_others:
        if beside.issuperset(needed.split()):
            return label
    return None
