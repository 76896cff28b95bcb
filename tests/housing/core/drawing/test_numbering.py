"""The order of cutting and gluing."""

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from housing.core.drawing.blank_svg import Manner, blank_svg
from housing.core.drawing.numbering import cutting_order, gluing_order
from housing.core.enclosures import make_enclosure
from housing.core.errors import EnclosureError
from tests.examples import few
from tests.housing.core.drawing.forms import FORMS, one_of
from tests.housing.core.drawing.reading import in_mm, parse, texts
from tests.housing.core.made import asked, worked_base


def test_worked_base_is_slit_across_the_flutes_first_then_its_flaps_are_trimmed():
    # By hand: flutes from near to far, slits at 11 and 20 1/8 from the near edge, ends of flaps at 8 1/2 and
    # 24 1/4 from the left; slits before trims, common practice, no source.
    cuts, openings = cutting_order(worked_base())

    assert [(cut.number, cut.kind, cut.is_across, round(cut.at_mm / 25.4, 4)) for cut in cuts] == [
        (1, "slit", True, 11.0), (2, "slit", True, 20.125),
        (3, "trim", False, 8.5), (4, "trim", False, 24.25),
    ]  # fmt: skip
    assert openings == []


def test_openings_come_last_and_those_alike_share_a_number():
    cuts, openings = cutting_order(one_of("carrying_tray").parts[0].blank)

    assert [(opening.number, opening.name, len(opening.openings)) for opening in openings] == [
        (len(cuts) + 1, "hand hole", 2)
    ]


def test_flaps_of_one_wall_are_glued_one_after_another():
    part = one_of("tray").parts[0]

    numbered = gluing_order(part.joints)

    assert [number for number, _ in numbered] == [1, 2, 3, 4]
    walls = [joint.to for _, joint in numbered]
    assert walls == sorted(walls, key=walls.index)
    assert len(set(walls)) == 2


@pytest.mark.parametrize("form", FORMS)
def test_every_cut_and_joint_has_its_number_on_the_drawing(form):
    for part in one_of(form).parts[:3]:
        manner = Manner(numbers=True, joints=part.joints)
        drawing = blank_svg(
            part.blank, title="", format_length=in_mm, paper_width_mm=190, paper_height_mm=230, manner=manner
        )
        found = texts(parse(drawing.svg))

        cuts, openings = cutting_order(part.blank)
        drawn = {text.content for text in found if text.class_ == "cut-number"}
        assert drawn >= {str(each.number) for each in (*cuts, *openings)}
        glued = sorted(int(text.content) for text in found if text.class_ == "glue-number")
        assert glued[: len(part.joints)] == [number for number, _ in gluing_order(part.joints)][: len(glued)]


@settings(few(30))
@given(st.sampled_from(FORMS).flatmap(asked))
def test_every_cut_is_numbered_once_whatever_the_form_and_size(given_):
    try:
        enclosure = make_enclosure(*given_)
    except EnclosureError:
        assume(False)

    for part in enclosure.parts[:3]:
        cuts, openings = cutting_order(part.blank)
        assert [each.number for each in (*cuts, *openings)] == list(range(1, len(cuts) + len(openings) + 1))
        assert sum(len(cut.spans) for cut in cuts) == len(part.blank.cuts)
        assert sum(len(opening.openings) for opening in openings) == len(part.blank.openings)
