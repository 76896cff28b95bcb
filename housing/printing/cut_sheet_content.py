"""What one cut sheet says, in words, before it is laid out on pages."""

from dataclasses import dataclass, field
from datetime import date

from django.utils.formats import date_format

from housing.core.drawing.blank_svg import Manner
from housing.printing.box_parts import PartSheet
from objects.core.words import say


@dataclass(frozen=True)
class CutSheet:
    """One box, everything on its sheet already in words, but for the drawings, which wait for their room."""

    box: str
    numbers: str
    name: str
    location: str
    photo: str
    qr: str
    code: str
    version: str
    facts: list[tuple[str, str]]
    things: list[tuple[str, str]]
    outside: str
    parts: list[PartSheet]
    listed: list[tuple[str, ...]]
    closed: tuple[str, float, float] | None
    manner: Manner
    face: str
    unit_name: str
    steps: list[str]
    cautions: list[str]
    hazards: str
    notes: list[str]
    shifts: list[str]
    supplies: list[str]
    plan_date: date | None
    printed: date
    printed_by: str = ""
    hand: str = "right"
    pages: list[str] = field(default_factory=list)

    @property
    def title_cells(self) -> list[tuple[str, str]]:
        """What the title block at the foot of every page says, but for the number of the page."""
        cells = [
            (say("Cut sheet"), self.box),
            (say("Version"), self.version),
            (say("Printed"), date_format(self.printed, "DATE_FORMAT")),
            (say("By"), self.printed_by or "—"),
        ]
        if self.plan_date:
            cells.append((say("Cutting plan of"), date_format(self.plan_date, "DATE_FORMAT")))
        return cells
