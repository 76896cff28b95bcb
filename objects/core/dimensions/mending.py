"""What stands in dimension text and is no size, such as dates, counts and formats, and slips put right."""

import re
from typing import NamedTuple

from objects.core.dimensions.labels import LABEL_OF
from objects.core.dimensions.values import Findings
from objects.core.lengths import FIGURE_PATTERN, UNIT_MARKS, UNIT_WORDS
from objects.core.words import noted, say

_L = r"(?<![^\W_])"  # where a word may begin
_R = r"(?![^\W_])"  # and end
_DECIMAL = r"(\d+(?:[.,]\d+)?)"
_YEAR = r"(?:1[5-9]|20)\d\d"
_UNITS = rf"(?:(?:{UNIT_WORDS}){_R}|{UNIT_MARKS})"
# No further side and no unit behind it, so that 10 of "size 10 x 8 cm" and 8 of "A8 cm" stay figures.
_NO_SIDE = rf"(?!\s*(?:[\d/-]|[.,]\d|x{_R}|x\s*\d|×|by{_R}|{_UNITS}))"
_LABELS = "|".join(sorted(LABEL_OF, key=len, reverse=True))
_PIECES = (
    r"pieces?|pcs?|parts?|items?|pairs?|prs?|sheets|vols?|volumes?|lea(?:f|ves)|panels?|stück|teile|blätter|"
    r"pièces|feuilles|delen|stuks|piezas|hojas|pezzi|fogli"
)


class Mend(NamedTuple):
    """says: the sentence that tells of it, "" where words that stay do. pattern: what is looked for.
    put: what takes its place. is_harmless: whether nobody has to look because of it."""

    says: str
    pattern: re.Pattern[str]
    put: str
    is_harmless: bool


def _mend(says: str, *patterns: str, put: str = "; ", is_harmless: bool = False) -> Mend:
    """A mend for what any of the patterns finds."""
    return Mend(says, re.compile("|".join(patterns)), put, is_harmless)


_MENDS = (
    _mend(
        noted("An object number stands in the text. Check which size is this object's."),
        rf"{_L}{_YEAR}\.\d+(?:\.\d+)+[a-z]?(?:-[a-z])?{_R}",  # 1995.4.3a-c
        rf"{_L}{_YEAR}\.\d+(?:[a-z](?:-[a-z])?{_R}|(?=\s*:))",  # 1995.4a, and 1995.4:
    ),
    _mend(
        noted("A date stands in the text and was left out. Check that the rest is the size."),
        rf"{_L}{_YEAR}-\d\d?-\d\d?{_R}",  # 1998-10-12
        rf"{_L}\d\d?([./-])\d\d?\1{_YEAR}{_R}",  # 12.10.1998
    ),
    _mend(
        noted("A year stands in the text and was left out. Check that the rest is the size."),
        rf"(?:{_L}(?:c|ca|circa|dated?|um|vers)\.?\s*|\(){_YEAR}s?(?:\s?-\s?\d\d(?:\d\d)?)?{_R}{_NO_SIDE}",
    ),
    _mend(
        noted("A scale stands in the text and was left out. Check that the rest is the object's own size."),
        r"(?<![\w.,:/])1\s?:\s?\d+(?:[.,]\d+)?(?![\w:/])",
    ),
    _mend(
        noted("A clothing size or a stock number is no length. Measure the object."),
        rf"{_L}(?:(?:uk|us|eu|eur|sizes?|gr|größe|taille|maat|talla|taglia|nos?)\.?\s*:?\s*)+"
        rf"(?:\d\d?(?:[.,]5|\s?1/2)?|x{{0,4}}[sml]){_R}{_NO_SIDE}(?!,\s*\d)",
    ),
    _mend(
        noted("A book or paper format is no measured size. Measure the object."),
        rf"{_L}(?:\d\d?(?:[vtm]o|°)|[248]o|in-\d\d?[°o]?|folio|quarto|octavo|[abc]\d){_R}{_NO_SIDE}",
    ),
    _mend(
        noted("An area or a volume is no size of an object. Measure the object."),
        rf"(?:{FIGURE_PATTERN})\s*(?:sq|cu|square|cubic){_R}\.?\s*(?:{UNIT_WORDS}){_R}\.?",
        rf"(?:{FIGURE_PATTERN})\s*(?:cm|mm|m|in|ft)\.?\s?[23](?![\w.,])",
        rf"(?:{FIGURE_PATTERN})\s*(?:ml|cl|dl|litres?|liters?|fl\.?\s?oz|pints?|gallons?){_R}\.?",
    ),
    _mend(
        noted("A number seems to count pages and was left out. Check that it is no side."),
        rf"(?:{_L}[ivx][ivxlc]*,\s*)?{_L}\d+\s*(?:p|pg|s|bl){_R}\.?(?=\s*(?:[,;:+(]|$))",
    ),
    _mend(
        noted("A number of pages is given, which is no size."),
        rf"(?:{_L}[ivx][ivxlc]*,\s*)?{_L}\d+\s*(?:pp|pgs|pages?|seiten|páginas|pagine){_R}\.?(?=\s*(?:[,;:+(\d]|$))",
        is_harmless=True,
    ),
    _mend(
        "",
        rf"\d+\s*x?\s*(?=(?:{_PIECES}){_R})",  # 2 pieces
        r"(?<=of )\d+(?=\s*[:;,])",  # 1 of 2:
        put="",
    ),
    _mend(
        "",
        rf"{_L}(?:set|pair|group|lot)s? of (?:\d+|two|three|four|five|six){_R}",
        rf"{_L}\d+\s*(?:@|off{_R}|ea{_R}\.?)",
        r"\(\s*x?\s*\d\d?\s*x?\s*\)",  # (x 2), and (2)
        put=" pieces ",
    ),
    _mend(
        "",
        r"(?:^|[;,]\s*|\s)(?:[abcefg]|no\.?\s*\d+)\s?:(?=\s)",  # a: ... b: ...
        r"(?:^|[;,]\s*)\d\)\s",  # 1) ... 2) ...
        r"#\s*\d+\s*:?",
        put="; part ",
    ),
    _mend(
        noted("A side is marked as not known. Measure it."),
        rf"{_L}(?:{_LABELS})[.:\s]*(?:-+|\?|n/?a|unknown|unk|not (?:known|recorded|measured|given)|unbekannt|"
        rf"inconnue?|onbekend)(?=\s*(?:[;,x/]|$|{_L}(?:{_LABELS}){_R}))",
    ),
    _mend(
        noted("Thousands seem to be set apart. Check the figures."),
        rf"(?<![\w.,/'])([1-9]\d{{0,2}})[ '](\d{{3}})(?![\w/.,])(?=[^;]*{_L}mm{_R})",  # 1 250 x 800 mm
        put=r"\1\2",
    ),
    _mend(
        noted("Thousands seem to be set apart. Check the figures."),
        r"(?<![\w.,/])([1-9]\d{0,2})([,.' ])(\d{3})\2(\d{3})(?![\w.,/])",  # 1,000,000
        put=r"\1\3\4",
    ),
    _mend(
        noted("Slashes were taken to stand between the sides. Check that they do."),
        rf"(?<![\w/.,]){_DECIMAL}\s?/\s?{_DECIMAL}\s?/\s?{_DECIMAL}(?![\w/])",  # 30/20/10 cm
        put=r"\1 x \2 x \3",
    ),
    _mend(
        noted("Commas were taken to stand between the sides. Check that they do."),
        # 30, 20, 10 cm
        rf"(?<![\w/.,] ){_L}{_DECIMAL}, {_DECIMAL},(?: and)? {_DECIMAL}(?=\s*(?:{_UNITS}|$))",
        put=r"\1 x \2 x \3",
    ),
    _mend(
        noted("A fraction is written with a point or wide apart. Check the figures."),
        r"(?<![\w/.,])(\d+)(?:\.\s?| )(\d\d?)(?: / |/)(2|4|8|16|32)(?![\w/.,])",  # 10.3/4, 10 3 / 4
        put=r"\1 \2/\3",
    ),
    _mend(
        noted("A letter seems to stand for a figure 1. Check the figures."),
        rf"{_L}[li|](?=[o0]{_R})",  # lO, l0
        rf"{_L}i(?=\d)|(?<=\d)[i|](?=\d)",  # I2
        put="1",
    ),
    _mend(
        noted("A letter seems to stand for a figure 0. Check the figures."),
        rf"(?<=\d)o(?=[\d.,]|x|{_R})",  # 1O, 2O.5
        r"(?<![^\W_])o(?=[.,]\d)",  # O.5
        put="0",
    ),
)
_PART_LETTER = re.compile(r"\(?(?<![^\W_])[a-z]\s?\)")

# ISO 216, A series, trimmed sizes in mm, upright
_PAPER_MM = (
    "1189 x 841", "841 x 594", "594 x 420", "420 x 297", "297 x 210", "210 x 148", "148 x 105", "105 x 74",
    "74 x 52",
)  # fmt: skip
_PAPER = re.compile(
    r"(?:din |iso )?(?:size |format )?a\s?([0-8])(?: (?:size|sheet|paper|format|page|poster))*"
)


def mended(line: str, findings: Findings) -> str:
    """The line without what is no size and with slips put right, each told among the findings.

    line: as one_line gives it, one that could not be read as it is.
    """
    if paper := _PAPER.fullmatch(line):
        size = f"{_PAPER_MM[int(paper[1])]} mm"
        findings.doubts.append(
            say(
                "A{paper} paper is {size}, which is proposed. Check the object itself.",
                paper=paper[1],
                size=size,
            )
        )
        return size
    if re.search(r"(?<![^\W_])a\s?\)", line):  # (a) ... (b) ..., a) ... b) ...
        line = _PART_LETTER.sub(" part ", line)
    for mend in _MENDS:
        line, count = mend.pattern.subn(mend.put, line)
        if count and mend.says:
            (findings.remarks if mend.is_harmless else findings.doubts).append(mend.says)
    return line
