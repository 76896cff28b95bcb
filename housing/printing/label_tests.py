"""The test print of a label sheet: outlines to lay over a real sheet, and what a ruler should find."""

from decimal import Decimal

from housing.core.label_sheets import LabelLayout
from objects.core.lengths import format_length, parse_length
from objects.core.words import decimal
from objects.readers import Reader

NEAR_MM = 0.05  # a figure in the reader's unit that is this near is as good as exact


def label_test_context(name: str, layout: LabelLayout, reader: Reader) -> dict:
    """All that the page of the test print shows."""
    places = layout.places_mm()
    return {
        "name": name,
        "layout": layout,
        "places": places,
        "width_mm": round(layout.label_width_mm, 3),
        "height_mm": round(layout.label_height_mm, 3),
        "paper_mm": (layout.page_width_mm, layout.page_height_mm),
        "first": tuple(exact(mm, reader) for mm in places[0]),
        "last": tuple(
            exact(side - place - label, reader)
            for side, place, label in zip(
                (layout.page_width_mm, layout.page_height_mm),
                places[-1],
                (layout.label_width_mm, layout.label_height_mm),
                strict=True,
            )
        ),
        "label": sides(layout.label_width_mm, layout.label_height_mm, reader),
        "last_number": len(places),
    }


def exact(mm: float, reader: Reader) -> str:
    """A length in the reader's unit, or in mm to a tenth where her rounding would show."""
    words = format_length(Decimal(str(round(mm, 3))), reader.unit)
    if abs(float(parse_length(words, may_be_zero=True)) - mm) <= NEAR_MM:
        return words
    return f"{decimal(mm, 1)} mm"


def sides(wide_mm: float, high_mm: float, reader: Reader) -> str:
    """Width and height of a label or a page."""
    return f"{exact(wide_mm, reader)} × {exact(high_mm, reader)}"
