"""One object's way in a real browser: from a catalogue list to its cut sheet and to its shelf in a box."""

import re
from decimal import Decimal

import pytest
from playwright.sync_api import Page, expect

from housing.models import DesignRule, Housing
from objects.models import CatalogueObject
from tests.factories import make_board, make_campaign, make_design, make_sheet_size, make_user

# The worked tray of the trade: an object 10 high x 8 3/4 x 7 1/8 in, allowance 1 in, drawn as hand practice
# does, has its marks at 0, 11, 21 3/4 and 32 3/4 in (common practice, no source).
CATALOGUE = (
    "Object number,Name,Dimensions,Location\n"
    "2001.1,Storage jar,10 x 8 3/4 x 7 1/8 in,Annexe / Room 1 / Bay A / Shelf 2\n"
    "2001.2,Thimble,approx. 2 cm high,Annexe / Room 1 / Bay A / Shelf 2\n"
    "2001.3,Spoon,40 m x 3 cm x 2 cm,Annexe / Room 1 / Bay A / Shelf 2\n"
)


@pytest.fixture
def planner(page: Page, live_server) -> Page:
    """A browser in which a manager has signed in; an error in its console fails the test."""
    errors: list[str] = []
    page.on("console", lambda message: errors.append(message.text) if message.type == "error" else None)
    make_user("manager", username="manager", password="bone folder")
    page.goto(live_server.url)
    page.get_by_label("Username").fill("manager")
    page.get_by_label("Password").fill("bone folder")
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("heading", name="How far are we?")).to_be_visible()
    yield page
    assert errors == []


@pytest.fixture
def campaign(transactional_db):
    """A campaign with one nominal lidded tray for everything."""
    board = make_board(code="B32", caliper_mm=Decimal("3.175"))
    make_sheet_size(board=board)
    design = make_design(name="Standard lidded tray", board=board, drawn="nominal")
    campaign = make_campaign(name="Storage move")
    DesignRule.objects.create(campaign=campaign, position=1, design=design, reason="Suits anything rigid.")
    return campaign


def test_an_object_goes_from_the_list_to_its_shelf(planner: Page, campaign, live_server):
    import_the_list(planner)
    put_into_the_campaign_and_plan(planner)
    print_its_cut_sheet(planner, live_server)
    make_and_house_it(planner)

    planner.get_by_role("link", name="How far are we?").click()
    expect(planner.get_by_role("main")).to_contain_text("1 of 2 objects")
    jar = CatalogueObject.objects.get(number="2001.1")
    assert [e.status for e in Housing.objects.get(contents__object=jar).events.all()] == [
        "planned", "in_work", "made", "housed",
    ]  # fmt: skip


def import_the_list(planner: Page) -> None:
    planner.get_by_role("link", name="Import").click()
    planner.locator("input[type=file]").set_input_files(
        {"name": "catalogue.csv", "mimeType": "text/csv", "buffer": CATALOGUE.encode()}
    )
    planner.get_by_role("button", name="Read the list").click()
    expect(planner.get_by_role("main")).to_contain_text(
        "40 m, and more than 20 m"
    )  # the spoon's row says what is wrong
    assert not CatalogueObject.objects.exists()  # nothing is saved before the reader agrees

    planner.get_by_role("button", name="Save 2 rows and leave 1 out").click()
    expect(planner.get_by_role("main")).to_contain_text(re.compile("saved", re.IGNORECASE))
    assert CatalogueObject.objects.count() == 2


def put_into_the_campaign_and_plan(planner: Page) -> None:
    planner.get_by_role("link", name="Objects", exact=True).click()
    planner.get_by_label("All that match the filter").check()
    ticked = planner.get_by_role("group", name="With the objects ticked")
    ticked.get_by_label("Campaign").select_option(label="Storage move")
    planner.get_by_role("button", name="Add to the campaign").click()

    planner.get_by_role("link", name="Campaigns").click()
    planner.get_by_role("main").get_by_role("link", name="Storage move").click()
    planner.get_by_role("button", name="Plan the campaign").click()
    expect(planner.get_by_role("main")).to_contain_text("1 sheet is planned")


def print_its_cut_sheet(planner: Page, live_server) -> None:
    planner.get_by_role("link", name="Objects", exact=True).click()
    planner.get_by_role("link", name="2001.1").click()
    expect(planner.get_by_role("main")).to_contain_text("Suits anything rigid.")
    planner.get_by_role("link", name="Cut sheet").click()
    words = planner.locator("main svg text").all_text_contents()
    # every mark at both facing edges
    for mark in ("0", "11", "21 3/4", "32 3/4", "20 1/8", "31 1/8"):
        assert words.count(mark) >= 2, mark
    planner.go_back()


def make_and_house_it(planner: Page) -> None:
    for button in ("Begin making it", "The box is made", "The object is housed"):
        planner.get_by_role("button", name=button).click()
    expect(planner.get_by_role("main")).to_contain_text("Housed")
