"""The kinds of print, each listed once: what one is of, how many lie on a page, and what its pages show."""

from collections.abc import Callable
from dataclasses import dataclass

from django.db.models import QuerySet

from housing.printing.asked import Asked
from housing.printing.batch_cover import batch_cover_context
from housing.printing.box_list import box_lists_context
from housing.printing.cut_sheets import cut_sheets_context
from housing.printing.labels import LabelLayout, labels_context
from housing.printing.pick_list import pick_list_context
from housing.printing.sheet_layouts import layouts_context
from housing.queries.prints import boxes_of, boxes_to_print, in_order, shelves_of
from objects.core.words import noted
from objects.models import CatalogueObject


@dataclass(frozen=True)
class PrintKind:
    """One kind of print.

    names: of many of them, noted for the catalogues. template: of its pages. context: fetches the records
    of a piece of the print and gives all its pages show, nothing where none is left. at_once: so many are
    made while somebody waits, more in the background. per_page: how many lie on a page. keys: of the records
    for a choice of objects, in an order. is_of_boxes: whether the keys are those of boxes.
    """

    key: str
    names: str
    template: str
    context: Callable[[Asked], dict]
    at_once: int
    per_page: Callable[[Asked], int] = lambda asked: 1
    keys: Callable[[QuerySet[CatalogueObject], str], list[int]] = boxes_of
    is_of_boxes: bool = True


def _cut_sheets(asked: Asked) -> dict:
    housings = boxes_to_print(asked.keys)
    if not housings:
        return {}
    return cut_sheets_context(housings, asked.reader, asked.paper, asked.base_url, asked.by)


def _layout(asked: Asked) -> LabelLayout:
    return LabelLayout(**asked.options["layout"])


def _labels(asked: Asked) -> dict:
    housings, start = boxes_to_print(asked.keys), asked.options["start"]
    outlines = bool(asked.options.get("outlines"))
    if not housings:
        return {}
    return labels_context(housings, asked.base_url, _layout(asked), start, outlines=outlines)


def _layouts(asked: Asked) -> dict:
    return layouts_context(asked.keys, asked.reader, asked.paper, asked.base_url, asked.by)


def _pick_list(asked: Asked) -> dict:
    return pick_list_context(asked.keys, asked.reader, asked.paper, of=_of(asked), by=asked.by)


def _box_lists(asked: Asked) -> dict:
    return box_lists_context(asked.keys, asked.paper, by=asked.by)


def _batch_cover(asked: Asked) -> dict:
    chosen = {name: asked.options.get(name) for name in ("campaign", "person", "week")}
    return batch_cover_context(
        asked.keys, asked.reader, asked.paper, asked.base_url, **chosen, of=_of(asked), by=asked.by
    )


def _of(asked: Asked) -> str:
    """What was chosen, in words."""
    return str(asked.options.get("of", ""))


CUT_SHEETS = PrintKind("cut_sheets", noted("cut sheets"), "print/cut_sheets.html", _cut_sheets, at_once=24)
LABELS = PrintKind(
    "labels", noted("labels"), "print/labels.html", _labels, 240, lambda asked: _layout(asked).on_a_sheet
)

SHEET_LAYOUTS = PrintKind("sheet_layouts", noted("sheet layouts"), "print/sheet_layouts.html", _layouts, 12)

# Rows on a page; how many there are decides only how a big list is cut into pieces
PICK_LIST = PrintKind(
    "pick_list", noted("objects on a pick list"), "print/pick_list.html", _pick_list, 200, lambda asked: 14,
    keys=in_order, is_of_boxes=False,
)  # fmt: skip
BOX_LISTS = PrintKind(
    "box_lists", noted("lists of shelves"), "print/box_list.html", _box_lists, 100,
    keys=shelves_of, is_of_boxes=False,
)  # fmt: skip
BATCH_COVER = PrintKind(
    "batch_cover", noted("boxes on a batch cover"), "print/batch_cover.html", _batch_cover, 200,
    lambda asked: 20,
)  # fmt: skip

KINDS = {kind.key: kind for kind in (CUT_SHEETS, LABELS, SHEET_LAYOUTS, PICK_LIST, BOX_LISTS, BATCH_COVER)}
