"""Turns a print page into a PDF, or says in plain words what is missing on this computer to do so."""

import ctypes
import sys
from collections.abc import Iterator
from contextlib import contextmanager, redirect_stdout
from functools import cache
from hashlib import sha256
from importlib.metadata import version
from importlib.util import find_spec
from io import StringIO

from PIL import ImageFile

BASE_URL = "http://planner.invalid/"  # names nothing that exists: RFC 2606 keeps .invalid free
ACCESSIBLE = "pdf/ua-1"  # ISO 14289-1, PDF that assistive technology can read

_spare_fonts: list = []

PANGO_MISSING = """\
PDF files cannot be made on this computer yet: WeasyPrint does not find the Pango libraries.
Everything else works, and every print page can be printed from the browser. To get PDF files, install Pango:
  Debian, Ubuntu:  sudo apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0
  Fedora:          sudo dnf install pango
  macOS:           brew install pango
  Windows:         install MSYS2 from https://www.msys2.org, open it and type
                   pacman -S mingw-w64-ucrt-x86_64-pango
Then start the planner again."""

WEASYPRINT_MISSING = """\
PDF files cannot be made on this computer yet: the Python package WeasyPrint is not installed.
Everything else works, and every print page can be printed from the browser.
To get PDF files: python -m pip install weasyprint, then start the planner again."""


class PdfUnavailable(Exception):
    """PDF cannot be made on this computer; the message says what to install."""


@cache
def pdf_problem() -> str | None:
    """What keeps PDF from being made here, with the commands that mend it; None if nothing does."""
    if find_spec("weasyprint") is None:
        return WEASYPRINT_MISSING
    if _pango_opens():
        return None
    try:
        _import_weasyprint()
    except OSError:
        return PANGO_MISSING
    return None


def render_pdf(html: str, base_url: str = BASE_URL) -> bytes:
    """The pages of `html` as one PDF file; raises PdfUnavailable where WeasyPrint cannot run.

    base_url: what relative addresses in the page start from. Only static and media files below it are read.
    Headings, tables and pictures are tagged as such, so that a screen reader can read the file aloud; that
    takes a twentieth of the time.
    """
    try:
        weasyprint = _import_weasyprint()
    except ImportError as error:
        raise PdfUnavailable(WEASYPRINT_MISSING) from error
    except OSError as error:
        raise PdfUnavailable(PANGO_MISSING) from error
    from housing.pdf_files import OwnFiles

    page = weasyprint.HTML(string=html, base_url=base_url, url_fetcher=OwnFiles(base_url))
    with _fonts() as fonts:
        return page.write_pdf(font_config=fonts, pdf_variant=ACCESSIBLE, finisher=_Finisher(html))


class _Finisher:
    """Gives the heads of tables names that no other file has, so that files can be joined, and lists them."""

    def __init__(self, html: str):
        self.mark = sha256(html.encode()).hexdigest()[:12]

    def __call__(self, document, pdf) -> None:
        root = next((item for item in pdf.objects if _type_of(item) == "/StructTreeRoot"), None)
        named = {}
        for item in pdf.objects:
            if _type_of(item) == "/StructElem" and "ID" in item:
                item["ID"].string = f"{self.mark}-{item['ID'].string}"  # cells point at the same text
                named[item["ID"].string] = item
        if root is None or not named:
            return
        pydyf = sys.modules["pydyf"]
        names = pydyf.Array()
        for name in sorted(named):  # ISO 32000-1, 7.9.6: names of a name tree are sorted
            names += [named[name]["ID"], named[name].reference]
        tree = pydyf.Dictionary({"Names": names})
        pdf.add_object(tree)
        root["IDTree"] = tree.reference


def _type_of(item) -> str:
    return item.get("Type", "") if isinstance(item, dict) else ""


def press_version() -> str:
    """What sets the pages, and its version."""
    return f"weasyprint {version('weasyprint')}" if find_spec("weasyprint") else ""


@contextmanager
def _fonts() -> Iterator:
    """The fonts of the pages as WeasyPrint keeps them, for one document at a time.

    Unpacking them takes longer than setting a page, so they are kept for the next document.
    """
    from weasyprint.text.fonts import FontConfiguration

    try:
        fonts = _spare_fonts.pop()
    except IndexError:
        fonts = FontConfiguration()
    yield fonts
    _spare_fonts.append(fonts)  # not after an error: who knows in which state it left them


def _pango_opens() -> bool:
    """Whether Linux's Pango and all it rests on open: known in 1 ms, where importing WeasyPrint takes 1 s."""
    try:
        ctypes.CDLL("libpangoft2-1.0.so.0")
    except OSError:
        return False
    return True


def _import_weasyprint():
    """WeasyPrint, imported late; without Pango that raises OSError and prints a banner, hidden here."""
    with redirect_stdout(StringIO()):
        import weasyprint
    ImageFile.LOAD_TRUNCATED_IMAGES = False  # its import lets half a photo pass as a whole one, everywhere
    return weasyprint
