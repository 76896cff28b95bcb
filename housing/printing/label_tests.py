"""The test print of a label sheet: outlines to lay over a real sheet, and what a ruler should find."""

from dataclasses import replace
from decimal import Decimal

from housing.core.label_sheets import LabelLayout
from objects.core.lengths import format_length, parse_length
from objects.core.words import decimal
from objects.readers import Reader

NEAR_MM = 0.05  # a figure in the reader's unit that is this near is as good as exact


def label_test_context(name: str, layout: LabelLayout, reader: Reader) -> dict:
    """All that the page of the test print shows."""
    places, reader = layout.places_mm(), as_measured(layout, reader)
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


def as_measured(layout: LabelLayout, reader: Reader) -> Reader:
    """The reader, but in mm for a sheet some measure of which is not exact in her unit: one unit a sheet."""
    names = ("page_width", "page_height", "label_width", "label_height", "left", "right", "top", "bottom")
    measures = [getattr(layout, f"{name}_mm") for name in (*names, "gap_x", "gap_y")]
    return reader if all(_is_exact(mm, reader.unit) for mm in measures) else replace(reader, unit="mm")


def exact(mm: float, reader: Reader) -> str:
    """A length in the reader's unit, or in mm to a tenth where her rounding would show."""
    return _in_words(mm, reader.unit) if _is_exact(mm, reader.unit) else f"{decimal(mm, 1)} mm"


def _is_exact(mm: float, unit: str) -> bool:
    return abs(float(parse_length(_in_words(mm, unit), may_be_zero=True)) - mm) <= NEAR_MM


def _in_words(mm: float, unit: str) -> str:
    return format_length(Decimal(str(round(mm, 3))), unit)


def sides(wide_mm: float, high_mm: float, reader: Reader) -> str:
    """Width and height of a label or a page."""
    return f"{exact(wide_mm, reader)} × {exact(high_mm, reader)}"
