"""What kind of piece each word of dimension text is: unit, label, tie, dash or pause."""

from objects.core.dimensions.labels import LABEL_OF
from objects.core.lengths import UNIT_WORDS, unit_of
from objects.core.words import noted

_METRIC = {  # German, French, Dutch, Spanish, Italian, Russian; English comes from lengths
    "mm": "millimètre millimètres milímetro milímetros millimetro millimetri мм",
    "cm": "zentimeter centimètre centimètres centímetro centímetros centimetro centimetri см",
    "m": "mètre mètres metro metros metri м",
}
# An inch of an older catalogue may be a local one, 23.7 to 27.1 mm long; a foot likewise.
_OF_ANOTHER_TIME = {
    "in": "zoll pouce pouces po duim duimen pulgada pulgadas pulg pollice pollici",
    "ft": "fuß fuss pied pieds voet voeten pie pies piede piedi",
}
_SLIPS = {"cm": "crn ctm cn cim", "mm": "rnm mrn rnrn"}  # what text recognition makes of them

UNIT_OF: dict[str, str] = {
    "'": "ft",
    '"': "in",
    "''": "in",
    **{word: unit_of(word) or "" for word in UNIT_WORDS.split("|")},
    **{
        word: unit
        for table in (_METRIC, _OF_ANOTHER_TIME, _SLIPS)
        for unit, words in table.items()
        for word in words.split()
    },
}
_LOCAL = noted("“{text}” may be a local unit of its time; today's is proposed. Check it.")
_SLIP = noted("“{text}” is perhaps a slip for {unit}. Check the unit.")
UNIT_DOUBTS = {
    word: _LOCAL.format(text=word) for words in _OF_ANOTHER_TIME.values() for word in words.split()
} | {word: _SLIP.format(text=word, unit=unit) for unit, words in _SLIPS.items() for word in words.split()}
_TIES = "x by mal sur por per"  # English, German, French, Spanish, Italian
_DASHES = "to bis à tot"
_PAUSES = "and und et en y"

KIND_OF = (
    dict.fromkeys(UNIT_OF, "unit")
    | dict.fromkeys(LABEL_OF, "label")
    | dict.fromkeys(_TIES.split(), "tie")
    | dict.fromkeys(_DASHES.split(), "dash")
    | dict.fromkeys(_PAUSES.split(), "pause")
)
