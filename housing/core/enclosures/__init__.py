"""The enclosure forms, one a file, listed once; and the one way to make an enclosure from a form."""

from collections.abc import Mapping
from dataclasses import dataclass

from boards.core.board import BoardSpec
from housing.core.clearances import InnerSize
from housing.core.enclosures import (
    carrying_tray,
    cavity_tray,
    clamshell,
    divided_tray,
    drop_front,
    folder,
    four_flap,
    framed_tray,
    full_lid_tray,
    garment_box,
    hinged_lid,
    lid,
    lidded_tray,
    notched_lid_tray,
    portfolio,
    rolled_tube,
    sleeve,
    slipcase,
    tray,
)
from housing.core.enclosures.form import Brief, Form, Part, Supply
from housing.core.enclosures.options import Choices, Value, read_choices
from housing.core.enclosures.seating import closed_bounds
from housing.core.errors import UnknownForm
from housing.core.folding import Box3, sides_of
from housing.core.marking_out import MarkingOut
from objects.core.words import say

ENCLOSURES: dict[str, Form] = {
    form.key: form
    for form in (
        tray.FORM,
        lidded_tray.FORM,
        full_lid_tray.FORM,
        notched_lid_tray.FORM,
        lid.FORM,
        hinged_lid.FORM,
        drop_front.FORM,
        clamshell.FORM,
        four_flap.FORM,
        folder.FORM,
        portfolio.FORM,
        slipcase.FORM,
        divided_tray.FORM,
        cavity_tray.FORM,
        carrying_tray.FORM,
        rolled_tube.FORM,
        garment_box.FORM,
        framed_tray.FORM,
        sleeve.FORM,
    )
}

EXACT = MarkingOut()


@dataclass(frozen=True)
class Enclosure:
    """A whole enclosure: its parts, its clear inside and outside when closed, and notes for the reader.

    asked: the clear inside that was set out for, mm; inside: what the folded parts give.
    """

    form: Form
    parts: tuple[Part, ...]
    asked: InnerSize
    inside: Box3
    outside: Box3
    notes: tuple[str, ...]
    supplies: tuple[Supply, ...]
    board: BoardSpec
    marking_out: MarkingOut
    loose_steps: int = 2

    @property
    def tolerance_mm(self) -> float:
        """How much larger than asked the clear inside may be: nothing but for rounding of the positions."""
        return self.loose_steps * self.marking_out.step_mm

    @property
    def is_compensated(self) -> bool:
        return self.marking_out.is_compensated


def make_enclosure(
    form_key: str,
    inner: InnerSize,
    board: BoardSpec,
    options: Mapping[str, Value] | Choices | None = None,
    marking_out: MarkingOut = EXACT,
) -> Enclosure:
    """All parts of an enclosure around a clear inside.

    form_key: a key of ENCLOSURES. inner: wanted clear inside, mm. board: caliper in mm and fold share.
    options: the form's own choices by key, lengths in mm; those left out take their defaults.
    Returns the parts flat and folded, mm; the outside is that of the closed enclosure.
    Raises UnknownForm, or an EnclosureError that names the value, the limit and a way out.
    Source: see the form's own file.
    """
    form = ENCLOSURES.get(form_key)
    if form is None:
        known = ", ".join(sorted(ENCLOSURES))
        raise UnknownForm(
            say(
                "There is no enclosure form “{form_key}”. Choose one of: {known}.",
                form_key=form_key,
                known=known,
            )
        )
    choices = options if isinstance(options, Choices) else read_choices(form.options, options or {})
    built = form.build(Brief(inner, board, choices, marking_out))
    return Enclosure(
        form=form,
        parts=built.parts,
        asked=built.inside or inner,
        inside=built.solid[0] if built.solid else built.parts[0].inside,
        outside=built.solid[1] if built.solid else sides_of(closed_bounds(built.parts)),
        notes=(*built.notes, *_too_long(form, inner)),
        supplies=built.supplies,
        board=board,
        marking_out=marking_out,
        loose_steps=built.loose_steps,
    )


def _too_long(form: Form, inner: InnerSize) -> tuple[str, ...]:
    longest = max(inner.x_mm, inner.y_mm, inner.z_mm)
    if form.longest_mm is None or longest <= form.longest_mm:
        return ()
    return (f"It is {longest:.0f} mm long inside; this form is meant for up to {form.longest_mm:.0f} mm.",)
