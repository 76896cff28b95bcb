"""The enclosure forms, one a file, listed once; and the one way to make an enclosure from a form."""

from dataclasses import dataclass

from boards.core.board import BoardSpec
from housing.core.blank import Blank, flatten
from housing.core.clearances import InnerSize
from housing.core.enclosures import lidded_tray, tray
from housing.core.enclosures.form import Form, FormOptions
from housing.core.errors import UnknownForm
from housing.core.folding import Box3, ClosedPart, close

ENCLOSURES: dict[str, Form] = {form.key: form for form in (lidded_tray.FORM, tray.FORM)}


@dataclass(frozen=True)
class EnclosurePart:
    """One part of an enclosure, flat and folded, mm."""

    name: str
    blank: Blank
    closed: ClosedPart


@dataclass(frozen=True)
class Enclosure:
    """A whole enclosure: its parts, its clear inside and outside when closed, and notes for the reader."""

    parts: tuple[EnclosurePart, ...]
    inside: Box3
    outside: Box3
    notes: tuple[str, ...]


def make_enclosure(form_key: str, inner: InnerSize, board: BoardSpec, options: FormOptions) -> Enclosure:
    """All parts of an enclosure around a clear inside.

    form_key: a key of ENCLOSURES. inner: wanted clear inside, mm. board: caliper in mm and fold share.
    options: flap, lid and drawing choices, lengths in mm.
    Returns the parts flat and folded, mm; the outside is that of the closed enclosure.
    Raises UnknownForm, FlapTooWide or SizeRefused with a sentence.
    Source: see the form's own file.
    """
    form = ENCLOSURES.get(form_key)
    if form is None:
        known = ", ".join(sorted(ENCLOSURES))
        raise UnknownForm(f"There is no enclosure form “{form_key}”. Choose one of: {known}.")
    built = form.build(inner, board, options)
    parts = tuple(EnclosurePart(name, flatten(tree), close(tree, board)) for name, tree in built.trees)
    outsides = [part.closed.outside for part in parts]
    lid_rest = board.caliper_mm if len(parts) > 1 else 0.0
    return Enclosure(
        parts=parts,
        inside=parts[0].closed.inside,
        outside=Box3(
            max(o.x_mm for o in outsides), max(o.y_mm for o in outsides), outsides[0].z_mm + lid_rest
        ),
        notes=built.notes,
    )
