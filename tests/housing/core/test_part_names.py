"""Names of parts, panels and openings: each that a form gives is noted for the catalogues."""

import pytest

from housing.core.enclosures import ENCLOSURES
from housing.core.enclosures.options import Kind
from housing.core.errors import EnclosureError
from housing.core.part_names import NAMES, kind_of, named
from tests.housing.core.drawing.forms import FORMS, one_of


def enclosures_of(form: str):
    """A form with each of its choices taken in turn, at two sizes."""
    tries: list[dict] = [{}]
    for option in ENCLOSURES[form].options:
        if option.kind is Kind.YES_NO:
            tries += [{option.key: True}, {option.key: False}]
        elif option.kind is Kind.WORD:
            tries += [{option.key: word} for word, _ in option.words]
    for options in tries:
        for inner in (None, (150, 320, 80)):
            try:
                yield one_of(form, inner=inner, **options)
            except EnclosureError:
                continue


@pytest.mark.parametrize("form", FORMS)
def test_every_name_of_a_form_is_known_to_the_catalogues(form):
    names = set()
    for made in enclosures_of(form):
        for part in made.parts:
            names |= {part.name.rstrip("0123456789 "), part.material}
            names |= {panel.name for panel in part.blank.panels} | {o.name for o in part.blank.openings}
            names |= {kind_of(panel.name) for panel in part.blank.panels}

    assert names - set(NAMES) == set()


@pytest.mark.parametrize(
    ("kept", "shown"),
    [("base", "base"), ("cross divider 2", "cross divider 2"), ("corner_block", "corner block")],
)
def test_numbers_stay_behind_their_names(kept, shown):
    assert named(kept) == shown
