"""One box as it is shown at the bench: cautions, drawings and steps, large enough for one page each."""

from collections.abc import Sequence
from dataclasses import dataclass

from housing.models import Housing
from housing.printing.cut_sheets import PartSheet, fact_rows, is_outdated, part_sheets, places_of
from housing.printing.papers import PAPERS, contents_of, hazards_of
from housing.printing.scoring import scored_face
from housing.printing.steps import cautions_of, steps_of
from housing.queries.handling import handling_of
from objects.models import CatalogueObject
from objects.readers import Reader


@dataclass(frozen=True)
class BoxPage:
    """What the page of a box shows, in words and drawings; lengths in the reader's unit."""

    things: Sequence[CatalogueObject]
    hazards: Sequence[str]
    cautions: Sequence[str]
    facts: Sequence[tuple[str, str]] = ()
    parts: Sequence[PartSheet] = ()
    steps: Sequence[str] = ()
    notes: Sequence[str] = ()
    supplies: Sequence[str] = ()
    face: str = ""
    is_outdated: bool = False

    @property
    def pictured(self) -> CatalogueObject | None:
        """The first of what goes into the box that there is a photo of."""
        return next((thing for thing in self.things if thing.photo), None)


def box_page(housing: Housing, reader: Reader) -> BoxPage:
    """The page of one box, fetched as for printing; of one that is still to be planned only what is known."""
    things = contents_of(housing)
    hazards = hazards_of(things)
    if housing.design is None or not housing.blanks.all():
        return BoxPage(things, hazards, [f"Hazards: {', '.join(hazards)}."] if hazards else [])
    handling = handling_of(housing)
    return BoxPage(
        things,
        hazards,
        [reader.sentence(said) for said in cautions_of(things, handling)],
        fact_rows(housing, reader, handling),
        part_sheets(housing, reader, PAPERS["A4"]),
        steps_of(housing, places_of(housing, reader), reader),
        [reader.sentence(note) for note in housing.notes],
        [reader.sentence(what if n == 1 else f"{n} of {what}") for what, n in housing.supplies],
        scored_face(housing.design.board),
        is_outdated(housing),
    )
