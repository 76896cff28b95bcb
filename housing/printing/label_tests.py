"""The test print of a label sheet: outlines to lay over a real sheet, and what a ruler should find."""

from housing.core.label_sheets import LabelLayout
from objects.readers import Reader


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
        "first": tuple(reader.length(mm) for mm in places[0]),
        "last": tuple(
            reader.length(round(side - place - label, 3))
            for side, place, label in zip(
                (layout.page_width_mm, layout.page_height_mm),
                places[-1],
                (layout.label_width_mm, layout.label_height_mm),
                strict=True,
            )
        ),
        "label": reader.size((layout.label_width_mm, layout.label_height_mm)),
        "last_number": len(places),
    }
