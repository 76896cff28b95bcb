"""A label sheet drawn to scale on its page, each label with its number, as a person counts them."""

from housing.core.drawing.svg import document, element, text
from housing.core.label_sheets import LabelLayout
from objects.core.words import say

BOX_MM = (90.0, 120.0)  # how large the drawing is at most, mm on the screen
TYPE_MM = (1.6, 4.0)  # least and greatest size of the numbers


def label_sheet_svg(layout: LabelLayout, *, start: int = 1, most_mm: tuple[float, float] = BOX_MM) -> str:
    """The page with its labels as they lie on it; those before `start` are marked as used up.

    start: the first free label, from 1. most_mm: how wide and high the drawing may be.
    """
    scale = min(most_mm[0] / layout.page_width_mm, most_mm[1] / layout.page_height_mm)
    wide, high = layout.page_width_mm * scale, layout.page_height_mm * scale
    label = layout.label_width_mm * scale, layout.label_height_mm * scale
    size = min(max(0.4 * min(label[1], 0.6 * label[0]), TYPE_MM[0]), TYPE_MM[1])
    parts = [
        element(
            "rect", class_="paper", x=0.1, y=0.1, width=wide - 0.2, height=high - 0.2,
            fill="#fff", stroke="#000", stroke_width=0.2,
        )
    ]  # fmt: skip
    for number, (left, top) in enumerate(layout.places_mm(shifted=False), start=1):
        x, y = left * scale, top * scale
        is_used = number < start
        parts.append(
            element(
                "rect", class_="label-used" if is_used else "label-free", x=x, y=y, width=label[0],
                height=label[1], rx=0.6, fill="#ddd" if is_used else "none", stroke="#000", stroke_width=0.2,
            )
        )  # fmt: skip
        at = x + label[0] / 2, y + label[1] / 2 + 0.35 * size
        parts.append(text(*at, str(number), "label-number", size, "middle"))
    described = say(
        "{columns} labels across and {rows} down, numbered row by row from the top left",
        columns=layout.columns,
        rows=layout.rows,
    )
    return document(wide, high, say("The sheet drawn to scale"), described, parts, "label-sheet-picture")
