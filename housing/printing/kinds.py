"""The kinds of print, each listed once: what one is of, how many lie on a page, and what its pages show."""

from collections.abc import Callable
from dataclasses import dataclass

from housing.printing.asked import Asked
from housing.printing.cut_sheets import cut_sheets_context
from housing.printing.labels import LabelLayout, labels_context
from housing.printing.sheet_layouts import layouts_context
from housing.queries.prints import boxes_to_print
from objects.core.words import noted


@dataclass(frozen=True)
class PrintKind:
    """One kind of print.

    names: of many of them, noted for the catalogues. template: of its pages. context: fetches the records
    of a piece of the print and gives all its pages show, nothing where none is left. at_once: so many are
    made while somebody waits, more in the background. per_page: how many lie on a page.
    """

    key: str
    names: str
    template: str
    context: Callable[[Asked], dict]
    at_once: int
    per_page: Callable[[Asked], int] = lambda asked: 1


def _cut_sheets(asked: Asked) -> dict:
    housings = boxes_to_print(asked.keys)
    if not housings:
        return {}
    return cut_sheets_context(housings, asked.reader, asked.paper, asked.base_url, asked.by)


def _layout(asked: Asked) -> LabelLayout:
    return LabelLayout(**asked.options["layout"])


def _labels(asked: Asked) -> dict:
    housings, start = boxes_to_print(asked.keys), asked.options["start"]
    return labels_context(housings, asked.paper, asked.base_url, _layout(asked), start) if housings else {}


def _layouts(asked: Asked) -> dict:
    return layouts_context(asked.keys, asked.reader, asked.paper, asked.base_url, asked.by)


CUT_SHEETS = PrintKind("cut_sheets", noted("cut sheets"), "print/cut_sheets.html", _cut_sheets, at_once=24)
LABELS = PrintKind(
    "labels", noted("labels"), "print/labels.html", _labels, 240, lambda asked: _layout(asked).on_a_sheet
)

SHEET_LAYOUTS = PrintKind("sheet_layouts", noted("sheet layouts"), "print/sheet_layouts.html", _layouts, 12)

KINDS = {kind.key: kind for kind in (CUT_SHEETS, LABELS, SHEET_LAYOUTS)}
