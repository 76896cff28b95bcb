"""The pages of cut sheets: every form at awkward sizes on both papers, nothing over another or cut off."""

import re
from dataclasses import replace
from decimal import Decimal

import pytest

from boards.models import Board
from housing.core.drawing.symbols import READ_MM
from housing.core.errors import EnclosureError
from housing.printing.cut_sheet_frame import MARGIN_MM
from housing.printing.cut_sheets import cut_sheet
from housing.printing.papers import PAPERS
from housing.queries.prints import boxes_to_print
from objects.core import words
from objects.readers import Reader
from objects.speaking import in_language
from tests.factories import make_board, make_design, make_object
from tests.housing.core.drawing.forms import FORMS
from tests.housing.printing.boxes import make_box
from tests.housing.printing.reading_pages import outside, overlapping, sides_of, text_of, words_of

pytestmark = pytest.mark.django_db
SITE = "https://planner.example/"
# Height, width and depth of what goes in, mm: smaller than its labels, usual, large and flat, tall and thin.
SIZES = [(12, 20, 15), (180, 250, 220), (60, 1400, 900), (900, 60, 60)]
MANY = {"divided_tray": {"cells_x": 4, "cells_y": 3}, "four_flap": {"ties": True}, "folder": {"ties": True}}


def boxes_of(form: str):
    """A box of this form for each size that it can be made in."""
    design = make_design(form=form, options=MANY.get(form, {}), board=make_board(caliper_mm=Decimal("1.6")))
    for height, width, depth in SIZES:
        if form == "rolled_tube":
            height = 2
        sides = {"height_mm": Decimal(height), "width_mm": Decimal(width), "depth_mm": Decimal(depth)}
        try:
            yield make_box(make_object(hazards="arsenic", **sides), design=design)
        except EnclosureError:
            continue


def sheet_of(box, unit="in", paper="A4", hand="right", language="en"):
    [kept] = boxes_to_print([box.pk])
    with in_language(language):
        return cut_sheet(kept, Reader(unit, paper, hand=hand), PAPERS[paper], SITE, "Ada Maker")


@pytest.mark.parametrize("form", FORMS)
def test_nothing_overlaps_or_is_cut_off_and_the_pages_are_as_many_as_they_say(form):
    boxes = list(boxes_of(form))

    assert boxes
    for box in boxes:
        for unit, paper, hand in (("in", "A4", "right"), ("mm", "letter", "left")):
            sheet = sheet_of(box, unit, paper, hand)
            for number, page in enumerate(sheet.pages, start=1):
                found, (wide, high) = words_of(page), sides_of(page)
                edges = MARGIN_MM, MARGIN_MM, wide - MARGIN_MM, high - MARGIN_MM
                assert overlapping(found) == []
                assert outside(found, *edges) == []
                text = text_of(page)
                assert text.endswith(f"{number} of {len(sheet.pages)}")
                assert f"Version {sheet.version}" in text
                assert sheet.numbers in text
                assert "style=" not in page
            drawn = "".join(sheet.pages)
            assert drawn.count('class="drawing blank"') == len(sheet.parts)


def test_what_is_read_while_cutting_is_at_least_eight_points():
    # 8 pt are 8 x 25.4 / 72 = 2.82 mm; the captions of the title block are not read at the bench.
    for page in sheet_of(make_box()).pages:
        small = [word.text for word in words_of(page) if word.size < 8 * 25.4 / 72 and word.class_ != "block"]

        assert small == []
    assert READ_MM >= 8 * 25.4 / 72


def test_the_usual_box_has_one_page_on_either_paper():
    assert [len(sheet_of(make_box(), "in", paper).pages) for paper in ("A4", "letter")] == [1, 1]


@pytest.mark.parametrize("language", ["en", "es", "fr"])
@pytest.mark.parametrize("form", ["drop_front", "clamshell"])
def test_plain_boxes_have_one_page_in_every_language(form, language):
    box = make_box(make_object(hazards=""), design=make_design(form=form))

    assert [len(sheet_of(box, unit, language=language).pages) for unit in ("in", "mm")] == [1, 1]


def test_where_a_flap_has_no_room_for_both_its_number_stands_without_its_name():
    low = {"height_mm": Decimal(90), "width_mm": Decimal(230), "depth_mm": Decimal(230)}
    sheet = sheet_of(make_box(make_object(**low), design=make_design(form="lidded_tray")))

    found = words_of(sheet.pages[0])
    names = [word for word in found if word.class_ == "piece-label"]
    signs = [word for word in found if word.class_ == "glue-number"]

    assert {sign.text for sign in signs} == {"1", "2", "3", "4"}
    assert [word.text for word in names if "flap" in word.text] == []
    # Half a sign is 2 mm; digits of 2.85 mm are 2.1 mm high and 1.8 mm wide, so 0.9 mm lie around them.
    assert overlapping(names + [replace(sign, box=_grown(sign.box, 0.9)) for sign in signs]) == []


def _grown(box, by):
    return box[0] - by, box[1] - by, box[2] + by, box[3] + by


def test_columns_change_places_for_a_left_handed_maker():
    box = make_box()

    def place(hand: str, text: str) -> float:
        return next(word.box[0] for word in words_of(sheet_of(box, hand=hand).pages[0]) if word.text == text)

    assert place("right", "floor") < place("right", "Steps")
    assert place("left", "Steps") < place("left", "floor")


def test_the_closed_box_and_its_outside_stand_in_the_heading():
    sheet = sheet_of(make_box())

    page = sheet.pages[0]
    assert page.count('class="drawing closed-box"') == 1
    assert sheet.outside in text_of(page)


def test_what_is_said_goes_through_the_catalogues(monkeypatch):
    """Each message is marked by a catalogue made for the purpose; words without a mark are not messages."""

    class Marks:
        def gettext(self, message):
            return f"‹{message}›"

        def ngettext(self, one, many, count):
            return f"‹{one if count == 1 else many}›"

    thing = make_object(number="1", name="", weight_g=Decimal(13_000), hazards="")
    design = make_design(name="-", form="carrying_tray", board=make_board(code="B"))
    Board.objects.update(grammage_g_m2=None)
    box = make_box(thing, design=design)
    monkeypatch.setattr(words, "_catalogue", lambda language: Marks())

    sheet = sheet_of(box, "mm")

    told = [
        *sheet.steps,
        *sheet.cautions,
        *sheet.shifts,
        *(each for row in sheet.listed for each in row),
    ]
    told += [*sheet.parts[0].openings, sheet.parts[0].panels, *(name for name, _ in sheet.facts)]
    bare = []
    for sentence in told:
        left = sentence
        while (inner := re.sub(r"‹[^‹›]*›", "", left)) != left:
            left = inner
        bare += re.findall(r"[A-Za-z]{4,}", left)
    assert bare == []


@pytest.mark.parametrize("language", ["es", "fr"])
def test_a_sheet_in_another_language_has_no_english_sentence_left(language):
    box = make_box(make_object(hazards="nitrate", weight_g=Decimal(13_000)))

    english, other = sheet_of(box), sheet_of(box, language=language)

    def sentences(sheet):
        return {*sheet.steps, *sheet.cautions, *sheet.shifts, *(row[3] for row in sheet.listed)}

    assert {said for said in sentences(english) & sentences(other) if " " in said} == set()
    names = {word.text for word in words_of(other.pages[0])}
    assert names.isdisjoint({"floor", "near wall", "left wall", "waste", "cut", "Steps", "Cutting list"})
