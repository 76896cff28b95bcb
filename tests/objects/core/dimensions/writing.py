"""Dimension texts written out of known sizes, in the many ways in which catalogues write them."""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from hypothesis import strategies as st

MM_PER = {"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000), "in": Fraction(254, 10)}
LANGUAGES = {
    "English": (("H", "W", "D"), ("H.", "W.", "D."), ("Height", "Width", "Depth"), ("ht", "wd", "dp")),
    "German": (("H", "B", "T"), ("Höhe", "Breite", "Tiefe"), ("H.", "Br.", "T.")),
    "French": (("Haut.", "larg.", "prof."), ("Hauteur", "Largeur", "Profondeur"), ("H.", "L.", "P.")),
    "Dutch": (("hoogte", "breedte", "diepte"), ("h", "b", "d")),
    "Spanish": (("Alto", "Ancho", "Fondo"), ("altura", "anchura", "profundidad")),
    "Italian": (("altezza", "larghezza", "profondità"),),
}
UNIT_WRITINGS = {
    "mm": ("mm", " mm", " mm.", " millimetres", "MM"),
    "cm": ("cm", " cm", " cm.", " centimetres", " Zentimeter", " c.m."),
    "m": (" m", "m", " metres"),
    "in": (" in", " in.", '"', "”", "″", " inches", "''"),
}
VULGAR = {"1/2": "½", "1/4": "¼", "3/4": "¾", "1/8": "⅛", "3/8": "⅜", "5/8": "⅝", "7/8": "⅞"}


@dataclass(frozen=True)
class Side:
    """One side: its label, its figure as a number, how the figure and the unit are written."""

    label: str
    value: Fraction
    figure: str
    unit: str
    unit_text: str

    @property
    def mm(self) -> Fraction:
        return self.value * MM_PER[self.unit]


def exact(mm: Fraction) -> Decimal:
    """As the reading rounds it: to 0.0001 mm, half to even."""
    return (Decimal(mm.numerator) / Decimal(mm.denominator)).quantize(Decimal("0.0001"))


@st.composite
def figures(draw: st.DrawFn, unit: str) -> tuple[Fraction, str]:
    """A size between 3 mm and some metres and one way to write it."""
    if unit == "in" and draw(st.booleans()):
        whole = draw(st.integers(0, 90))
        under = draw(st.sampled_from([2, 4, 8, 16, 32]))
        over = draw(st.integers(0, under // 2 - 1)) * 2 + 1
        part = f"{over}/{under}"
        value = whole + Fraction(over, under)
        glue = draw(st.sampled_from([" ", "-", "–", "  "]))
        if part in VULGAR and draw(st.booleans()):
            part, glue = VULGAR[part], draw(st.sampled_from(["", " "]))
        elif draw(st.booleans()):
            part = part.replace("/", "⁄")
        return value, f"{whole}{glue}{part}" if whole else part
    places = draw(st.sampled_from([0, 0, 1, 2]))
    least, most = {"mm": (3, 4000), "cm": (1, 400), "m": (1, 4), "in": (1, 150)}[unit]
    steps = draw(st.integers(least * 10**places, most * 10**places))
    text = f"{Decimal(steps).scaleb(-places):f}"
    return Fraction(steps, 10**places), text.replace(".", draw(st.sampled_from([".", ","])))


@st.composite
def labelled(draw: st.DrawFn) -> tuple[Side, Side, Side]:
    """Height, width and depth of one object with labels of one language."""
    labels = draw(st.sampled_from([row for rows in LANGUAGES.values() for row in rows]))
    unit = draw(st.sampled_from(list(MM_PER)))
    sides = []
    for label in labels:
        value, text = draw(figures(unit))
        sides.append(Side(label, value, text, unit, draw(st.sampled_from(UNIT_WRITINGS[unit]))))
    return sides[0], sides[1], sides[2]


@st.composite
def written(draw: st.DrawFn, sides: tuple[Side, ...]) -> str:
    """One way to write labelled sides in a row: labels in front or behind, units each or at the end."""
    unit_each, label_last = draw(st.booleans()), draw(st.booleans())
    tie = draw(st.sampled_from([" x ", " X ", " × ", "; ", ", ", " ; ", "×", " * ", "\n"]))
    gap = draw(st.sampled_from([" ", ": ", " : ", "  ", " = "])) if not label_last else " "
    parts = []
    for place, side in enumerate(sides):
        unit = side.unit_text if unit_each or place == len(sides) - 1 else ""
        label = f"({side.label})" if label_last and draw(st.booleans()) else side.label
        parts.append(
            f"{side.figure}{unit} {label}" if label_last else f"{side.label}{gap}{side.figure}{unit}"
        )
    return tie.join(parts)
