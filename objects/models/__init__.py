"""The collection: objects, where they are and were, what was found at the shelf, the lists they came from."""

from objects.models.lists import ColumnMemory, ImportedRow, ListImport
from objects.models.locations import Location
from objects.models.moves import ObjectMove
from objects.models.need import NeedStatement
from objects.models.objects import CatalogueObject
from objects.models.preferences import Preferences, TableColumns
from objects.models.survey import MeasuringRules, SurveyEntry

__all__ = [
    "CatalogueObject",
    "ColumnMemory",
    "ImportedRow",
    "ListImport",
    "Location",
    "MeasuringRules",
    "NeedStatement",
    "ObjectMove",
    "Preferences",
    "TableColumns",
    "SurveyEntry",
]
