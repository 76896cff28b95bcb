"""Labels of any size: nothing leaves its label, and short ones leave out in the order written down."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housing.core.choosing import MARKS
from housing.core.drawing.handling_signs import HAZARD, SIGNS
from housing.core.label_face import (
    LINE,
    NUMBER_LINE,
    PT_MM,
    SIGN_LINE,
    Face,
    Mark,
    Said,
    broken,
    code_area,
    lay_out,
    mark_em,
    number_lines,
    shortened,
)
from housing.core.type_widths import em_width
from tests.examples import few

WORDS = st.text("Wil0.5-/ Bé", max_size=70)
MARK = st.sampled_from([Mark(SIGNS[key].character, name) for key, name in MARKS.items() if key in SIGNS])


def said(**given) -> Said:
    """A label with a number, a box, a name, a place a code of 37 modules (version 3, quiet zone)."""
    usual = {
        "number": "1995.4.3",
        "box": "Box 0007 · CB1 YP0 345",
        "name": "Lidded jar",
        "place": "Bay 2 / Shelf 4",
        "code_modules": 37,
    }
    return Said(**{**usual, **given})


def marks(*keys: str) -> tuple[Mark, ...]:
    return tuple(Mark(SIGNS[key].character, MARKS[key]) for key in keys)


def words_of(face: Face) -> list[str]:
    """What stands on a label, line by line."""
    lines = [line for block in face.blocks for line in block.lines]
    return [line.text or ", ".join(mark.words for mark in line.marks) for line in lines]


@few(300)
@given(
    st.floats(20, 210), st.floats(8, 297), WORDS.filter(str.strip), WORDS, WORDS,
    st.lists(MARK, unique=True, max_size=15), st.booleans(), st.booleans(),
    st.sampled_from([0, 33, 37, 41, 53]),
)  # fmt: skip
def test_nothing_leaves_its_label_or_stands_on_something_else(
    wide, high, number, name, place, some, hazardous, has_photo, modules
):
    hazards = Mark(SIGNS[HAZARD].character, "Hazard: Arsenic, Lead") if hazardous else None
    face = lay_out(
        said(number=number, name=name, place=place, hazards=hazards, marks=tuple(some), has_photo=has_photo,
             code_modules=modules), wide, high,
    )  # fmt: skip

    areas = [block.area for block in face.blocks] + [one for one in (face.code, face.photo) if one]
    for area in areas:
        assert area.left >= 0 and area.top >= 0
        assert area.left + area.width <= wide + 0.01 and area.top + area.height <= high + 0.01
    for place_, one in enumerate(areas):
        for other in areas[place_ + 1 :]:
            assert (
                one.left + one.width <= other.left + 0.01
                or other.left + other.width <= one.left + 0.01
                or one.top + one.height <= other.top + 0.01
                or other.top + other.height <= one.top + 0.01
            )
    for block in face.blocks:
        type_mm, used = face.type_pt * PT_MM, 0.0
        for line in block.lines:
            if line.kind == "number":
                assert em_width(line.text, True) * face.number_pt * PT_MM <= block.area.width + 0.01
                used += (
                    max(NUMBER_LINE * face.number_pt, LINE * face.type_pt if len(face.left_out) < 5 else 0)
                    * PT_MM
                )
            elif line.marks:
                gaps = 2 * em_width(" ", True) * (len(line.marks) - 1)
                assert (sum(map(mark_em, line.marks)) + gaps) * type_mm <= block.area.width + 0.01
                used += SIGN_LINE * type_mm
            else:
                assert em_width(line.text, line.kind == "box") * type_mm <= block.area.width + 0.01
                used += LINE * type_mm
        assert used <= block.area.height + 0.01


@few(200)
@given(st.text("W1.i-/ ", min_size=1, max_size=60).filter(str.strip), st.floats(15, 100))
def test_no_sign_of_an_object_number_is_lost_when_it_is_broken(number, most_em):
    whole = "".join(number.split())

    assert "".join("".join(broken(number, most_em / 5)).split()) == whole


def test_a_short_number_is_large_and_a_longer_one_shrinks_and_then_goes_over_two_lines():
    assert number_lines("1", 37.0, 5.3) == (5.3, ["1"])
    size, lines = number_lines("1995.0042.4.3a", 37.0, 5.3)
    assert len(lines) == 1 and 3 <= size < 5.3
    size, lines = number_lines("TX.1998.0042.0117.3a-f-long-number", 37.0, 5.3)
    assert lines == ["TX.1998.0042.0117.", "3a-f-long-number"]


def test_several_numbers_are_broken_between_them_rather_than_within():
    assert broken("1990.7.1, 1990.7.2 + 3 more", 10.0)[0] == "1990.7.1,"


def test_a_roomy_label_has_everything_and_no_mark_is_broken():
    face = lay_out(said(has_photo=True, marks=marks("fragile", "this_way_up")), 100.0, 50.0)

    assert face.left_out == ()
    assert face.photo is not None
    assert words_of(face)[2] == "Fragile, handle with care"


def test_what_is_left_out_goes_in_its_order():
    hazard = Mark(SIGNS[HAZARD].character, "Hazard: Lead")
    every = said(hazards=hazard, marks=marks("fragile", "this_way_up", "gloves"), has_photo=True)
    order = ("photo", "name", "place", "code", "box")

    left_out = [lay_out(every, 64.0, high).left_out for high in (60, 34, 26, 24, 22, 18, 14, 10, 8)]

    assert left_out[0] == ()
    assert all(one == order[: len(one)] or set(one) <= set(order) for one in left_out)
    assert [len(one) for one in left_out] == sorted(len(one) for one in left_out)
    assert left_out[-1] == order


def test_marks_that_do_not_fit_are_counted_and_hazards_stay():
    hazard = Mark(SIGNS[HAZARD].character, "Hazard: Lead")
    face = lay_out(said(hazards=hazard, marks=marks(*(key for key in MARKS))), 63.5, 25.4)

    lines = words_of(face)
    assert "Hazard: Lead" in lines
    named = [word for word in MARKS.values() if any(word in line for line in lines)]
    assert named == list(MARKS.values())[: len(named)]
    assert any(f"+ {len(MARKS) - len(named)} more" in line for line in lines)


def test_even_the_smallest_label_shows_its_number_and_the_sign_of_a_hazard():
    hazard = Mark(SIGNS[HAZARD].character, "Hazard: Arsenic, Lead, Mercury")

    face = lay_out(said(hazards=hazard, marks=marks("fragile")), 20.0, 8.0)

    assert "".join(words_of(face)) == "⚠ 1995.4.3"


@pytest.mark.parametrize(
    ("modules", "size", "side"),
    [
        # by hand: 37 x 0.5 = 18.5 mm at least; 0.32 x 62 = 19.84
        (37, (62.0, 29.0), 19.84),
        (37, (45.0, 22.0), 18.5),
        (37, (150.0, 90.0), 30.0),
        # 37 x 0.5 mm do not go onto 18 mm with their edges, nor 26.5 beside 16 mm of words onto 44
        (37, (62.0, 18.0), None),
        (53, (44.0, 40.0), None),
        (0, (62.0, 29.0), None),
    ],
)
def test_a_code_has_modules_of_half_a_millimetre_or_is_left_out(modules, size, side):
    found = code_area(modules, *size)

    assert (found and round(found.width, 2)) == side


def test_a_text_that_is_too_wide_is_cut_with_an_ellipsis():
    assert shortened("Lidded jar with handle", 8.0).endswith("…")
    assert em_width(shortened("Lidded jar with handle", 8.0), False) <= 8.0
    assert shortened("Jar", 8.0) == "Jar"
