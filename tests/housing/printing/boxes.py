"""Boxes with their blanks, as planning makes them, for the tests of prints."""

from housing.models import Blank, Design, Housing
from housing.services.housings import design_enclosure, set_sizes
from objects.models import CatalogueObject
from tests.factories import make_design, make_housing, make_object


def make_box(*things: CatalogueObject, design: Design | None = None) -> Housing:
    """A planned box with its blanks around objects of 10 x 8 3/4 x 7 1/8 in, drawn nominally."""
    things = things or (make_object(),)
    design = design or make_design(drawn="nominal")
    housing = make_housing(*things, design=design)
    enclosure = design_enclosure(design=design, contents=things)
    set_sizes(housing, enclosure)
    housing.save()
    Blank.objects.bulk_create(Blank.from_part(housing, part) for part in enclosure.parts)
    return housing
