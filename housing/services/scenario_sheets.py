"""The sheets of a scenario: what is made of its boxes is nested in memory, beside what is cut already."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from boards.models import SheetSize
from housing.core.scenarios import Differences
from housing.models import Campaign, CuttingPlan, PlannedSheet
from housing.services.drafts import find_rows, needed_blanks
from housing.services.nesting import BoardLayout, Progress, Source, nest_blanks
from housing.services.plans import waiting_blanks
from housing.services.scenario_boxes import WorkedOut

SHEET = "sheet:"  # in front of the key of a sheet size that has another price


@dataclass(frozen=True)
class ScenarioSheets:
    """Sheets laid out in memory, and those that the campaign has cut."""

    layouts: list[BoardLayout]
    cut: list[PlannedSheet]

    @property
    def by_size(self) -> Counter[int]:
        """Sheets of each size besides those that are cut; offcuts from the rack are not among them."""
        return Counter(source.pk for source in self._sources() if isinstance(source, SheetSize))

    @property
    def by_board(self) -> dict[str, int]:
        """All whole sheets by code of their board."""
        sheets = Counter(source.board.code for source in self._sources() if isinstance(source, SheetSize))
        sheets.update(sheet.board.code for sheet in self.cut if sheet.sheet_size_id)
        return dict(sorted(sheets.items()))

    @property
    def waste_share(self) -> float | None:
        """What of all sheets and offcuts is not part of a blank, 0 to 1; None without any."""
        areas = list(self._areas())
        of_sheets = sum(sheet for sheet, _ in areas)
        return 1 - sum(blanks for _, blanks in areas) / of_sheets if of_sheets else None

    def _sources(self) -> Iterator[Source]:
        for made in self.layouts:
            for sheet in made.layout.sheets:
                yield made.sources[sheet.sheet_key][1]

    def _areas(self) -> Iterator[tuple[float, float]]:
        """Areas of sheets, each with that of the blanks on them, mm2."""
        for made in self.layouts:
            yield (
                sum(sheet.along_mm * sheet.across_mm for sheet in made.used),
                sum(piece.along_mm * piece.across_mm for piece in made.pieces),
            )
        for sheet in self.cut:
            lying = sum(float(placed.along_mm * placed.across_mm) for placed in sheet.placements.all())
            yield float(sheet.along_mm * sheet.across_mm), lying


def sheets_of_scenario(
    campaign: Campaign, differences: Differences, boxes: WorkedOut, progress: Progress
) -> ScenarioSheets:
    """The blanks on sheets; where nothing is different about them, on those of the campaign's own plan.

    Raises PlanRefused where blanks find no sheet.
    """
    find_rows(campaign, boxes.made)
    keep = None if differences.changes_boxes else CuttingPlan.objects.filter(campaign=campaign).first()
    prices = {
        int(key.removeprefix(SHEET)): price
        for key, price in differences.prices.items()
        if key.startswith(SHEET)
    }
    needed = needed_blanks(campaign, boxes.made, waiting_blanks(campaign))
    layouts = nest_blanks(campaign=campaign, needed=needed, progress=progress, keep=keep, prices=prices)
    cut = PlannedSheet.objects.filter(plan__campaign=campaign, cut_at__isnull=False)
    return ScenarioSheets(layouts, list(cut.select_related("board").prefetch_related("placements")))
