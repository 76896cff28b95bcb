"""The words that stand between figures: those that raise a doubt, and those that say nothing new."""

import re

from objects.core.dimensions.values import Findings
from objects.core.lengths import shown
from objects.core.words import noted, say

_APPROXIMATE = noted("The size is only approximate. Measure the object.")
_PART = noted("Only a part is measured. Measure the whole.")
_FOLDED = noted("It says folded, rolled, open or closed. Say which size is to be housed.")
_FRAMED = noted("It says framed, mounted or the like. Say which size is to be housed.")
_IRREGULAR = noted("The shape is irregular. Check that these are its greatest sizes.")
_SQUARE = noted("It is called square. Check that the figure gives both sides.")
_LIMIT = noted("Only a limit is given. Measure the object.")
_SEVERAL = noted("Several pieces or parts are meant. Measure them as they will lie together.")
_GARMENT = noted("A measure of a garment or a wearer is given. Measure the piece as it will be stored.")
_NO_LENGTH = noted("It holds something that is no size of an object. Measure the object.")

# Each sentence with the words that call for it, one language a line: English, German, French, Dutch,
# Spanish, Italian.
_DOUBTS: dict[str, tuple[str, ...]] = {
    _APPROXIMATE: (
        "approx approximate approximately circa ca c about around abt roughly nearly est estimated ~ ≈ ? ±",
        "etwa ungefähr zirka um rund geschätzt",
        "environ env",
        "ongeveer ong",
        "aprox aproximadamente unos",
        "cerca",
    ),
    noted("The sight size is given; the true size is larger. Measure the whole."): (
        "sight visible aperture daylight",
        "sichtmaß lichtmaß licht",
        "vue",
        "dagmaat",
    ),
    _PART: (
        "image plate platemark mark impression text inside inner internal interior id "
        "rim foot neck mouth handle spine body blade border seat bowl stem head",
        "bild bildmaß platte innen griff rand fuß",
        "intérieur planche anse",
        "binnen beeld",
        "interior imagen mancha huella",
        "interno lastra",
    ),
    _FOLDED: (
        "folded unfolded open opened closed rolled unrolled extended collapsed flat assembled dismantled",
        "gefaltet entfaltet offen geöffnet geschlossen gerollt aufgeklappt zugeklappt zerlegt",
        "plié pliée déplié dépliée ouvert ouverte fermé fermée roulé roulée",
        "gevouwen open gesloten opgerold",
        "plegado plegada abierto abierta cerrado cerrada enrollado",
        "piegato aperto aperta chiuso chiusa arrotolato",
    ),
    _FRAMED: (
        "framed unframed frame frames matted mat mats mounted unmounted mount mounts stretcher backing case "
        "cased boxed box glazed",
        "gerahmt ungerahmt rahmen rahmenmaß passepartout keilrahmen",
        "encadré encadrée cadre châssis",
        "ingelijst lijst",
        "marco enmarcado bastidor",
        "cornice telaio",
    ),
    _IRREGULAR: (
        "irreg irregular irregularly variable varies vary varying uneven tapered tapering tapers diagonal "
        "oval triangular",
        "unregelmäßig schräg",
        "irrégulier irrégulière ovale",
        "onregelmatig",
        "irregolare ovale",
    ),
    _SQUARE: (
        "square sq",
        "quadratisch",
        "carré",
        "vierkant",
        "cuadrado",
        "quadrato",
    ),
    _LIMIT: (
        "min minimum least under over up to between < >",
        "mind mindestens bis höchstens über unter",
        "minimum jusqu",
        "minimaal tot",
        "mínimo hasta",
        "minimo fino",
    ),
    _SEVERAL: (
        "each ea piece pieces pc pcs part parts item items pair pairs pr set sets group lot lid cover base "
        "stand stopper saucer sheets vol vols volume volumes leaf leaves panel panels with without including "
        "incl excluding excl largest smallest plus other",
        "je jeweils teil teile stück paar deckel sockel ständer blätter mit ohne inkl inklusive",
        "chaque chacun pièce pièces paire couvercle socle feuilles avec sans",
        "elk stuks delen paar deksel voet met zonder",
        "cada pieza piezas par tapa base con sin",
        "ciascuno pezzo pezzi coppia coperchio base con senza",
    ),
    _GARMENT: (
        "chest waist bust hip hips collar sleeve sleeves shoulder shoulders inseam hem nape fit worn",
        "brustumfang ärmel schulter",
        "tour poitrine manche",
        "borst mouw",
        "pecho cintura manga",
        "petto vita manica",
    ),
    _NO_LENGTH: (
        "px pixel pixels dpi mb kb gb minutes sec seconds hours carat carats ct ml cl litre litres liter "
        "liters gallon gallons pint pints page pages scale weight weighs wt mass",
        "seiten maßstab gewicht",
        "échelle poids",
        "schaal gewicht",
        "escala peso páginas",
        "scala peso pagine",
    ),
}
_DOUBT_OF = {word: sentence for sentence, rows in _DOUBTS.items() for row in rows for word in row.split()}
SQUARE = frozenset(word for word, sentence in _DOUBT_OF.items() if sentence == _SQUARE)
_STEMS = tuple(
    (re.compile(pattern), sentence)
    for pattern, sentence in (
        (r"approx\w*|aprox\w*|ungef\w*", _APPROXIMATE),
        (r"irreg\w*|taper\w*|unregelm\w*|onregel\w*", _IRREGULAR),
    )
)


def _words(*lines: str) -> frozenset[str]:
    return frozenset(word for line in lines for word in line.split())


# Says that the size beside it is the whole object's: English, German, French, Dutch and Italian.
WHOLE = _words("overall total oa gesamt gesamtmaß tout totaal totale complessivo complessiva")
_GREATEST = _words("max maxi maximum maximal maximale widest greatest größte máximo máxima massimo massima")
_SAYS_NOTHING = WHOLE | _words(
    "size sizes dim dims dimension dimensions meas measure measures measurement measurements measuring",
    "object sheet support outside outer external exterior at of unit units",
    "maß maße maßen masse abmessung abmessungen größe grösse format objekt blatt außen der die das",
    "hors mesures taille objet feuille de la le",
    "maten maat afmeting afmetingen afm formaat blad buiten",
    "medida medidas dimensiones tamaño hoja",
    "misura misure dimensioni foglio esterno",
)


def weigh_words(words: list[str], findings: Findings) -> None:
    """Add to the findings what each word between the figures means; an unknown word raises a doubt."""
    unknown = []
    for word in words:
        if word in _SAYS_NOTHING:
            continue
        if word in _GREATEST:
            findings.remarks.append(say("The greatest sizes are given."))
        elif sentence := _DOUBT_OF.get(word) or _sentence_by_stem(word):
            findings.doubts.append(say(sentence))
        else:
            unknown.append(word)
    if unknown:
        findings.doubts.append(
            say(
                "“{unknown}” was not understood. Check that the overall size was taken.",
                unknown=shown(" ".join(unknown)),
            )
        )


def _sentence_by_stem(word: str) -> str | None:
    return next((sentence for stem, sentence in _STEMS if stem.fullmatch(word)), None)
