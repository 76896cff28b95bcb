"""Planned sheets with real blanks on them, nested as planning does, for the tests of layouts and files."""

from dataclasses import asdict
from decimal import Decimal

from boards.core.nesting import Piece, Rules, Sheet, nest
from housing.core.waste_corners import waste_corners
from housing.models import CuttingPlan, Housing, PlannedBlank, PlannedSheet
from tests.factories import make_campaign, make_sheet_size


def lay_out(
    *housings: Housing, along_mm: int = 1524, across_mm: int = 1016, kerf_mm: float = 1.0, **given
) -> list[PlannedSheet]:
    """The sheets of a plan on which all board blanks of some boxes of one board lie."""
    rules = Rules(
        kerf_mm=kerf_mm, trim_mm=5, least_offcut_mm=100, use_corners=True,
        edge_to_edge=given.pop("edge_to_edge", True),
    )  # fmt: skip
    campaign = make_campaign(**given.pop("campaign", {}))
    plan = CuttingPlan.objects.create(campaign=campaign, kerf_mm=kerf_mm, trim_mm=5)
    board = housings[0].design.board
    size = make_sheet_size(board=board, along_mm=along_mm, across_mm=across_mm)
    blanks = {
        str(blank.pk): blank for housing in housings for blank in housing.blanks.all() if blank.is_board
    }
    pieces = [_piece(key, blank.to_core()) for key, blank in blanks.items()]
    layout = nest(pieces, [Sheet("S", along_mm, across_mm, Decimal(9))], rules, seed=1, time_limit_s=1)
    assert not layout.unplaced
    sheets = []
    for position, made in enumerate(layout.sheets, start=1):
        sheet = PlannedSheet.objects.create(
            plan=plan, position=position, board=board, sheet_size=size, along_mm=along_mm,
            across_mm=across_mm, price=9, offcuts=[asdict(offcut) for offcut in made.offcuts], **given,
        )  # fmt: skip
        placed: dict[str, PlannedBlank] = {}
        for place in sorted(made.placements, key=lambda place: place.host is not None):
            placed[place.key] = PlannedBlank.objects.create(
                sheet=sheet, blank=blanks[place.key], x_mm=round(place.x_mm, 4), y_mm=round(place.y_mm, 4),
                along_mm=round(place.along_mm, 4), across_mm=round(place.across_mm, 4), turned=place.turned,
                host=placed[place.host] if place.host else None,
            )  # fmt: skip
        sheet.cuts = [
            asdict(cut) | {"host": str(placed[cut.host].pk) if cut.host else None} for cut in made.cuts
        ]
        sheet.save()
        sheets.append(sheet)
    return sheets


def _piece(key: str, flat) -> Piece:
    waste = [(w.x_mm, w.y_mm, w.width_mm, w.height_mm) for w in flat.waste]
    corners = waste_corners(flat.x_mm, flat.y_mm, waste, flat.flute_along)
    return Piece(key, round(flat.along_mm, 4), round(flat.across_mm, 4), may_turn=True, corners=corners)
