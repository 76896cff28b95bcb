"""One box as it is shown at the bench: cautions, drawings and steps, large enough for one page each."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from django.utils.safestring import SafeString, mark_safe

from housing.models import Housing
from housing.printing.box_parts import PartSheet, closed_drawing, part_sheets, places_of
from housing.printing.cut_sheets import fact_rows, is_outdated, shift_sentences, supply_words
from housing.printing.papers import contents_of, hazards_of
from housing.printing.scoring import scored_face
from housing.printing.steps import cautions_of, steps_of
from housing.printing.versions import sheet_version
from housing.queries.handling import handling_of
from housing.queries.parts import stored_parts
from objects.core.words import say
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
    closed: SafeString = field(default_factory=SafeString)
    steps: Sequence[str] = ()
    notes: Sequence[str] = ()
    supplies: Sequence[str] = ()
    face: str = ""
    is_outdated: bool = False
    version: str = ""

    @property
    def pictured(self) -> CatalogueObject | None:
        """The first of what goes into the box that there is a photo of."""
        return next((thing for thing in self.things if thing.photo), None)


def box_page(housing: Housing, reader: Reader) -> BoxPage:
    """The page of one box, fetched as for printing; of one that is still to be planned only what is known."""
    things = contents_of(housing)
    hazards = [str(hazard) for hazard in hazards_of(things)]
    if housing.design is None or not housing.blanks.all():
        told = [say("Hazards: {hazards}.", hazards=", ".join(hazards))] if hazards else []
        return BoxPage(things, hazards, told)
    handling, parts = handling_of(housing), stored_parts(housing)
    closed = closed_drawing(housing, parts, reader)
    return BoxPage(
        things,
        hazards,
        [reader.sentence(said) for said in cautions_of(things, handling)],
        fact_rows(housing, reader, handling),
        part_sheets(housing, parts, reader, has_key=True),
        mark_safe(closed[0] if closed else ""),
        steps_of(housing, parts, places_of(housing, reader), reader),
        [
            *(reader.sentence(note) for note in housing.notes),
            *shift_sentences(housing, parts, reader),
        ],
        supply_words(housing, reader),
        say(scored_face(housing.design.board)),
        is_outdated(housing),
        sheet_version(housing),
    )
