"""Standards that designs ask of their boards: told where nobody states them, and stopping nothing."""

import re

import pytest

from boards.models import BoardStatement
from housing.intake.designs import DesignList
from housing.models import Design, DesignRule
from housing.queries.designs import designs_lacking, standards_lacking
from objects.intake import preview
from tests.factories import make_board, make_campaign, make_design, make_housing, make_object
from tests.housing.printing.boxes import make_box
from tests.housing.views.test_designs import design_data

pytestmark = pytest.mark.django_db
LACKS = "The design asks for ISO 18916; nobody states that board B32 meets it."


def make_asking_design(*stated: str, asks_for=("iso_18916",), **given) -> Design:
    """A design on a board B32 of which the standards named are stated."""
    board = make_board(code="B32")
    for standard in stated:
        BoardStatement.objects.create(board=board, standard=standard, stated_by="Supplier")
    return make_design(board=board, asks_for=list(asks_for), **given)


def test_a_design_lacks_what_nobody_states_of_its_board():
    assert standards_lacking(make_asking_design("iso_16245")) == [LACKS]


@pytest.mark.parametrize("stated", ["iso_18916", "iso_18902"])  # ISO 18902 includes the test of ISO 18916
def test_a_design_lacks_nothing_that_is_stated_or_included_in_it(stated):
    assert standards_lacking(make_asking_design(stated)) == []


def test_a_design_that_asks_for_nothing_lacks_nothing():
    assert standards_lacking(make_asking_design(asks_for=())) == []


def test_the_standards_are_ticked_on_the_page_of_the_design(manager):
    board = make_board(code="B32")

    manager.post("/designs/new/", design_data(board=board.pk, asks_for=["iso_18916", "oddy"]))

    design = Design.objects.get()
    assert design.asks_for == ["iso_18916", "oddy"]
    page = manager.get(f"/designs/{design.pk}/").content.decode()
    assert "ISO 18916, photographic activity test; Oddy test" in page
    assert LACKS in page


def test_a_standard_that_is_not_known_is_refused(manager):
    answer = manager.post("/designs/new/", design_data(asks_for=["iso_1"]))

    assert "Select a valid choice. iso_1 is not one of the available choices." in answer.content.decode()
    assert not Design.objects.exists()


def test_a_standard_no_longer_listed_stays_with_its_design_until_it_is_taken_away(manager):
    design = make_asking_design(asks_for=["an_old_one"])

    assert "an_old_one" in manager.get(f"/designs/{design.pk}/edit/").content.decode()
    manager.post(f"/designs/{design.pk}/edit/", design_data(board=design.board_id, asks_for=["an_old_one"]))
    design.refresh_from_db()
    assert design.asks_for == ["an_old_one"]


def test_the_list_of_designs_tells_what_lacks_and_makes_as_many_queries_for_three(
    manager, django_assert_max_num_queries
):
    design = make_asking_design()
    with django_assert_max_num_queries(100) as for_one:
        page = manager.get("/designs/").content.decode()
    for _ in range(2):
        make_design(board=make_board(), asks_for=["oddy"])

    with django_assert_max_num_queries(len(for_one)):
        manager.get("/designs/")
    assert "ISO 18916" in page and LACKS in page and design.name in page


def test_a_campaign_tells_what_lacks_of_the_designs_its_rules_and_boxes_use(manager):
    by_rule = make_asking_design(name="Photo box")
    of_box = make_design(board=by_rule.board, asks_for=["oddy"], name="Silver box")
    make_design(board=by_rule.board, asks_for=["oddy"], name="Used nowhere")
    thing = make_object()
    campaign = make_campaign(thing)
    DesignRule.objects.create(campaign=campaign, position=1, design=by_rule)
    make_housing(thing, campaign=campaign, design=of_box)

    assert designs_lacking(campaign) == [
        (by_rule, [LACKS]),
        (of_box, ["The design asks for the Oddy test; nobody states that board B32 meets it."]),
    ]
    assert LACKS in manager.get(f"/campaigns/{campaign.pk}/").content.decode()


def test_the_cut_sheet_says_what_lacks(manager):
    box = make_box(design=make_asking_design(drawn="nominal"))

    page = manager.get("/prints/cut-sheets/", {"object": box.contents.get().object_id}).content.decode()

    # a sentence runs over several lines of the drawing, each a text of its own
    assert LACKS in " ".join(re.sub(r"<[^>]*>", " ", page).split())


# ---- Lists -----------------------------------------------------------------------------------------------


def read(cell: str):
    make_board(code="B32")
    text = f'Name,Form,Board,Board must meet\nBox,lidded tray,B32,"{cell}"\n'
    return preview(DesignList(), text.encode()).rows[0]


@pytest.mark.parametrize(
    ("cell", "keys"),
    [("ISO 16245 type B; ISO 18916 (PAT)", ["iso_18916", "iso_16245_b"]), ("none", [])],
)
def test_a_list_of_designs_tells_the_standards(cell, keys):
    assert read(cell).values["asks_for"] == keys


def test_a_list_with_a_standard_that_is_not_known_is_refused():
    row = read("ISO 16245; acid-free")

    assert (row.status, row.messages[0]) == (
        "refused",
        "Board must meet: “acid-free” is no standard known here. Write it like ISO 16245 type A.",
    )
