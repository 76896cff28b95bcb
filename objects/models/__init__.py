"""The collection: objects, where they are, the lists they came from, how readers like lengths."""

from objects.models.lists import ListImport
from objects.models.locations import Location
from objects.models.objects import CatalogueObject
from objects.models.preferences import Preferences

__all__ = ["CatalogueObject", "ListImport", "Location", "Preferences"]
