"""What a cut sheet tells the maker to do, gathered from the records, and the version that comes of it."""

from typing import Any

from housing.core.versions import version_of
from housing.models import Blank, Housing, PlannedBlank
from housing.printing.papers import contents_of


def sheet_version(housing: Housing) -> str:
    """The version of a box's cut sheet as it would be printed now; of a box without blanks none.

    The box must have been fetched as for printing. Changes with whatever is cut, scored, glued, padded or put
    in, with the place on the board sheet, with hazards and the shelf; not with unit, paper, language, hand,
    photo, the day or who prints.
    """
    design = housing.recipe
    if design is None or not housing.blanks.all():
        return ""
    board = design.board.to_core()
    things = contents_of(housing)
    return version_of(
        {
            "objects": [[thing.number, thing.hazards] for thing in things],
            "shelf": next((str(thing.location) for thing in things if thing.location), ""),
            "board": [design.board.code, board.caliper_mm, board.fold_share, board.is_fluted],
            "design": [design.form, design.drawn, design.rounding, design.padding, design.options],
            "outside": housing.outside_mm,
            "supplies": housing.supplies,
            "blanks": [_blank(blank) for blank in housing.blanks.all()],
        }
    )


def _blank(blank: Blank) -> list[Any]:
    return [
        blank.part,
        blank.material,
        blank.geometry,
        blank.assembly,
        [_place(place) for place in blank.placements.all()],
    ]


def _place(place: PlannedBlank) -> list[Any]:
    host = place.host
    return [
        place.sheet.position,
        str(place.sheet.offcut or ""),
        place.x_mm,
        place.y_mm,
        place.turned,
        [contents_of(host.blank.housing)[0].number, host.blank.part] if host else None,
    ]
