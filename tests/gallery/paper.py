"""What is wrong with a page of paper: words, as pdftotext finds them, that lie on others or run off it."""

import re
import subprocess
from dataclasses import dataclass
from pathlib import Path
from xml.etree import ElementTree

MM = 72 / 25.4  # points in a millimetre
_XHTML = "{http://www.w3.org/1999/xhtml}"
LEAST_EDGE_MM = 1.0  # no printer reaches the very edge of the paper
TOUCH = 0.35  # share of the smaller box that may be covered: a box is higher than its letters


@dataclass(frozen=True)
class Word:
    """A word and its box on the page, in points."""

    text: str
    left: float
    top: float
    right: float
    bottom: float

    def covers(self, other: "Word") -> float:
        """The share of the smaller of both boxes that lies in the other."""
        across = min(self.right, other.right) - max(self.left, other.left)
        down = min(self.bottom, other.bottom) - max(self.top, other.top)
        smaller = min(self._area, other._area)
        return across * down / smaller if across > 0 and down > 0 and smaller else 0.0

    @property
    def _area(self) -> float:
        return (self.right - self.left) * (self.bottom - self.top)


@dataclass(frozen=True)
class Sheet:
    """One page: its sides in points, and its words."""

    width: float
    height: float
    words: tuple[Word, ...]

    def faults(self) -> list[str]:
        edge = LEAST_EDGE_MM * MM
        off = [
            f"“{word.text}” runs off the page"
            for word in self.words
            if min(word.left, word.top) < edge
            or word.right > self.width - edge
            or word.bottom > self.height - edge
        ]
        return off + [
            f"“{one.text}” and “{other.text}” lie on each other" for one, other in self._on_others()
        ]

    def _on_others(self) -> list[tuple[Word, Word]]:
        ordered, found = sorted(self.words, key=lambda word: word.top), []
        for at, one in enumerate(ordered):
            for other in ordered[at + 1 :]:
                if other.top >= one.bottom:
                    break
                if one.covers(other) > TOUCH:
                    found.append((one, other))
        return found


def sheets_of(pdf: Path) -> list[Sheet]:
    """The pages of a PDF file. Words of a point or less are names of pages, not meant to be read on it."""
    text = subprocess.run(["pdftotext", "-bbox", pdf, "-"], capture_output=True, check=True, text=True).stdout
    tree = ElementTree.fromstring(re.sub(r"[\x00-\x08\x0b\x0c\x0e-\x1f]", "", text))
    return [
        Sheet(float(page.attrib["width"]), float(page.attrib["height"]), tuple(_words(page)))
        for page in tree.iter(f"{_XHTML}page")
    ]


def _words(page: ElementTree.Element) -> list[Word]:
    boxes = [
        Word(word.text or "", *(float(word.attrib[side]) for side in ("xMin", "yMin", "xMax", "yMax")))
        for word in page.iter(f"{_XHTML}word")
    ]
    return [box for box in boxes if min(box.right - box.left, box.bottom - box.top) > 1.5]


def pictures_of(pdf: Path, name: Path) -> None:
    """Each page as a PNG, 100 dots an inch."""
    subprocess.run(["pdftoppm", "-r", "100", "-png", pdf, name], check=True)
