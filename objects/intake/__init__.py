"""Taking in lists: one machinery that reads any kind of list, shows what was understood, and saves it."""

from objects.intake.fields import Field, IntakeRefused
from objects.intake.kinds import ListKind
from objects.intake.locations import location_for, locations_for
from objects.intake.preview import Preview, preview
from objects.intake.rows import Row, RowReading

__all__ = [
    "Field",
    "IntakeRefused",
    "ListKind",
    "Preview",
    "Row",
    "RowReading",
    "location_for",
    "locations_for",
    "preview",
]
