"""Pages drawn as SVG written as PDF: for the few elements our own drawings are made of, in little time.

Measured on two loaded cores, processor time a page of a cut sheet: 670 ms through WeasyPrint, which
spends some milliseconds on every word of a drawing, and 19 ms here, where lines, plain shapes, pictures and
text are each written as they stand; laying the page out takes some 40 ms besides. The price is that these
pages are not tagged. All other prints, and pages whose words need more than setting letter by letter, as
can_write() finds, go through WeasyPrint and are PDF/UA-1.
"""

import re
from base64 import b64decode
from collections.abc import Sequence
from functools import cache
from io import BytesIO

from lxml import etree
from reportlab import rl_config
from reportlab.lib.colors import Color, HexColor
from reportlab.lib.utils import ImageReader
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from housing.printing.typefaces import can_set, truetype, width_of
from objects.core.words import spoken

rl_config.useA85 = 0  # streams as bytes: text of them takes time, and a quarter more room
PT = 72 / 25.4  # points to the millimetre
FACES = {False: "Print", True: "Print-Bold"}
SVG = "{http://www.w3.org/2000/svg}"
_TRANSLATE = re.compile(r"translate\(([-\d.]+)[ ,]+([-\d.]+)\)")
_ROTATE = re.compile(r"rotate\(([-\d.]+)")


_DRAWN = re.compile(r'<section class="page[^>]*>\s*(<svg .*?</svg>)\s*</section>', re.DOTALL)


def drawn_pages(html: str) -> list[str]:
    """The pages of a print that are one drawing each; none where one is not, or where words of one need more
    than setting letter by letter."""
    pages = _DRAWN.findall(html)
    if len(pages) != html.count('<section class="page') or not all(map(can_write, pages)):
        return []
    return pages


def can_write(page: str) -> bool:
    """Whether every word of a page is one that can be set letter by letter."""
    return page.isascii() or can_set(page)


def pages_pdf(pages: Sequence[str]) -> bytes:
    """A PDF file of one page for each drawing.

    pages: SVG documents, their sides in mm and a viewBox in mm; the first titles the file.
    Understood are g with translate, line, rect, circle, path of straight strokes, image, text and tspan;
    links are written as what they hold.
    """
    file = BytesIO()
    _faces()
    canvas = Canvas(file, pageCompression=1, lang=spoken(), initialFontName=FACES[False])
    for number, page in enumerate(pages):
        root = etree.fromstring(page)
        wide, high = (float(side) for side in root.get("viewBox").split()[2:])
        if not number:
            canvas.setTitle(root.findtext(f"{SVG}title", ""))
        canvas.setPageSize((wide * PT, high * PT))
        _Painter(canvas, high).paint(root)
        canvas.showPage()
    canvas.save()
    return file.getvalue()


@cache
def _faces() -> None:
    """The typeface made known to the writer, once."""
    for bold, name in FACES.items():
        pdfmetrics.registerFont(TTFont(name, truetype(bold)))


@cache
def _colour(written: str) -> Color:
    """A colour of three or six digits; three stand for each twice."""
    if len(written) == 4 and written[0] == "#":
        written = "#" + "".join(2 * digit for digit in written[1:])
    return HexColor(written)


class _Painter:
    """Paints elements on one page; places in mm from the upper left corner."""

    def __init__(self, canvas: Canvas, high_mm: float) -> None:
        self.canvas, self.high = canvas, high_mm
        self.pen: tuple = ()
        self.ink = ""
        self.draw = {
            f"{SVG}{name}": getattr(self, f"_{name}")
            for name in ("g", "a", "line", "rect", "circle", "path", "image", "text")
        }

    def paint(self, node: etree._Element, dx: float = 0.0, dy: float = 0.0) -> None:
        for child in node:
            if draw := self.draw.get(child.tag):
                draw(child, dx, dy)

    def _g(self, node: etree._Element, dx: float, dy: float) -> None:
        if moved := _TRANSLATE.match(node.get("transform", "")):
            dx, dy = dx + float(moved[1]), dy + float(moved[2])
        self.paint(node, dx, dy)

    _a = _g

    def _line(self, node: etree._Element, dx: float, dy: float) -> None:
        self._set_pen(node)
        x1, y1, x2, y2 = (float(node.get(name)) for name in ("x1", "y1", "x2", "y2"))
        self.canvas.line(
            (x1 + dx) * PT, (self.high - y1 - dy) * PT, (x2 + dx) * PT, (self.high - y2 - dy) * PT
        )

    def _rect(self, node: etree._Element, dx: float, dy: float) -> None:
        x, y, wide, high = (float(node.get(name, 0)) for name in ("x", "y", "width", "height"))
        stroke, fill = self._set_pen(node), self._set_ink(node)
        box = (x + dx) * PT, (self.high - y - dy - high) * PT, wide * PT, high * PT
        if radius := node.get("rx"):
            self.canvas.roundRect(*box, float(radius) * PT, stroke, fill)
        else:
            self.canvas.rect(*box, stroke, fill)

    def _circle(self, node: etree._Element, dx: float, dy: float) -> None:
        x, y, radius = (float(node.get(name)) for name in ("cx", "cy", "r"))
        stroke, fill = self._set_pen(node), self._set_ink(node)
        self.canvas.circle((x + dx) * PT, (self.high - y - dy) * PT, radius * PT, stroke, fill)

    def _path(self, node: etree._Element, dx: float, dy: float) -> None:
        """Strokes of a path: points in pairs, each after M, L or nothing; Z closes."""
        path, x = self.canvas.beginPath(), None
        move = True
        for word in node.get("d").replace("M", " M ").replace("L", " L ").replace("Z", " Z ").split():
            if word in "MLZ":
                move = word == "M" or (move and word != "L")
                if word == "Z":
                    path.close()
            elif x is None:
                x = float(word)
            else:
                at = (x + dx) * PT, (self.high - float(word) - dy) * PT
                (path.moveTo if move else path.lineTo)(*at)
                move, x = False, None
        stroke, fill = self._set_pen(node), self._set_ink(node)
        self.canvas.drawPath(path, stroke, fill)

    def _image(self, node: etree._Element, dx: float, dy: float) -> None:
        x, y, wide, high = (float(node.get(name)) for name in ("x", "y", "width", "height"))
        address = node.get("href", "")
        if not address.startswith("data:"):
            return  # nothing is fetched from elsewhere
        picture = ImageReader(BytesIO(b64decode(address.partition(",")[2])))
        self.canvas.drawImage(
            picture, (x + dx) * PT, (self.high - y - dy - high) * PT, wide * PT, high * PT,
            preserveAspectRatio=True, anchor="c",
        )  # fmt: skip

    def _text(self, node: etree._Element, dx: float, dy: float) -> None:
        size, bold = float(node.get("font-size")), node.get("font-weight") == "bold"
        ink = node.get("fill", "#000")
        if node.text:
            self._words(node, node.text, size, bold, ink, dx, dy)
        x = y = ""
        for part in node:
            x, y = part.get("x", x), part.get("y", y)  # else it goes on behind the part before it
            part.set("x", x)
            part.set("y", y)
            weight = part.get("font-weight")
            is_bold = weight == "bold" if weight else bold
            self._words(part, part.text or "", size, is_bold, ink, dx, dy)
            x = str(float(x) + width_of(part.text or "", is_bold) * size)

    def _words(
        self, node: etree._Element, words: str, size: float, bold: bool, ink: str, dx: float, dy: float
    ) -> None:
        canvas = self.canvas
        x, y = (float(node.get("x")) + dx) * PT, (self.high - float(node.get("y")) - dy) * PT
        if ink != self.ink:
            canvas.setFillColor(_colour(ink))
            self.ink = ink
        before = {"middle": 0.5, "end": 1.0}.get(node.get("text-anchor", ""), 0.0)
        shift = before * width_of(words, bold) * size * PT if before else 0.0
        turned = _ROTATE.match(node.get("transform", ""))
        canvas.setFont(FACES[bold], size * PT)
        if not turned:
            canvas.drawString(x - shift, y, words)
            return
        canvas.saveState()
        canvas.translate(x, y)
        canvas.rotate(-float(turned[1]))
        canvas.drawString(-shift, 0, words)
        canvas.restoreState()

    def _set_pen(self, node: etree._Element) -> int:
        """The pen of an element; whether it draws at all."""
        colour = node.get("stroke", "none")
        if colour == "none":
            return 0
        width, cap = float(node.get("stroke-width", 1)), node.get("stroke-linecap")
        pen = colour, width, node.get("stroke-dasharray"), cap
        if pen != self.pen:
            self.pen = pen
            self.canvas.setStrokeColor(_colour(colour))
            self.canvas.setLineWidth(width * PT)
            self.canvas.setDash([float(dash) * PT for dash in pen[2].split()] if pen[2] else [])
            self.canvas.setLineCap(1 if cap == "round" else 0)
        return 1

    def _set_ink(self, node: etree._Element) -> int:
        colour = node.get("fill", "#000")
        if colour == "none":
            return 0
        if colour != self.ink:
            self.canvas.setFillColor(_colour(colour))
            self.ink = colour
        return 1
