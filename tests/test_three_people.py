"""Manager, surveyor and maker at once, each in a browser of their own: ten objects from list to shelf."""

import os
from decimal import Decimal

import pytest
from django.contrib.auth.models import User
from django.test import Client
from playwright.sync_api import BrowserContext, Page, expect

from boards.models import StockMovement
from boards.services import receive_sheets
from housing.models import BenchEntry, Campaign, DesignRule, Hold, Housing, PlannedSheet, Task
from objects.models import CatalogueObject, Location, ObjectMove, SurveyEntry
from tests.factories import (
    balance_of,
    make_board,
    make_campaign,
    make_design,
    make_location,
    make_person,
    make_sheet_size,
    make_user,
)
from tests.objects.test_survey_browser import measure, ready

SHELF, OTHER = "Annexe / Room 1 / Bay A / Shelf 2", "Annexe / Room 1 / Bay A / Shelf 3"
UNMEASURED = ("2001.9", "2001.10")
CATALOGUE = "Object number,Name,Dimensions,Location\n" + "".join(
    f"{number},Jar {number},,{OTHER}\n"
    if (number := f"2001.{n}") in UNMEASURED
    else f"{number},Jar {number},{n} x 6 x 5 in,{SHELF}\n"
    for n in range(1, 11)
)
DESK, TABLET, PHONE = (1280, 900), (820, 1180), (390, 844)


@pytest.fixture
def stock(transactional_db):
    """A campaign of open trays, twelve sheets in stock, and a maker who can do every step."""
    size = make_sheet_size(board=make_board(code="B32", caliper_mm=Decimal("3.175")))
    receive_sheets(sheet_size=size, count=12)
    campaign = make_campaign(name="Storage move", search_seconds=1)
    design = make_design(name="Open tray", board=size.board, form="tray")
    DesignRule.objects.create(campaign=campaign, position=1, design=design)
    campaign.people.add(make_person(name="Tovi", user=make_user("maker", username="maker")))
    campaign.people.add(
        make_person(name="Sunniva", user=make_user("surveyor", username="surveyor"), skills="measure")
    )
    make_location("New store")
    return size


@pytest.fixture
def people(new_context, live_server, stock) -> dict[str, Page]:
    """By role a page of a browser in which that person has signed in; faults of the pages are kept."""
    make_user("manager", username="manager")
    return {
        role: open_browser(new_context(viewport={"width": size[0], "height": size[1]}), live_server, role)
        for role, size in (("manager", DESK), ("maker", TABLET), ("surveyor", PHONE))
    }


FAULTS: list[str] = []
# Set SCREENSHOTS to a folder to keep the pictures that are taken on the way.
PICTURES = os.environ.get("SCREENSHOTS", "")


def look(page: Page, name: str) -> None:
    """Nothing runs out of the page on a phone, a tablet and a desk; a picture of each is kept where asked."""
    before = page.viewport_size
    for words, (width, height) in (("phone", PHONE), ("tablet", TABLET), ("desk", DESK)):
        page.set_viewport_size({"width": width, "height": height})
        too_wide = page.evaluate(
            "document.documentElement.scrollWidth - document.documentElement.clientWidth"
        )
        assert too_wide <= 0, f"{name} is {too_wide} px too wide on a {words}"
        if PICTURES:
            page.screenshot(path=f"{PICTURES}/{name}-{words}.png", full_page=True)
    page.set_viewport_size(before)


def open_browser(context: BrowserContext, live_server, username: str) -> Page:
    client = Client()
    client.force_login(User.objects.get(username=username))
    cookie = {"name": "sessionid", "value": client.cookies["sessionid"].value, "url": live_server.url}
    context.add_cookies([cookie])
    context.set_default_timeout(10_000)
    page = context.new_page()
    page.on("pageerror", lambda error: FAULTS.append(f"{username}: {error}"))
    return page


def test_ten_objects_go_from_the_list_to_their_shelf(people, live_server, stock):
    FAULTS.clear()
    manager, maker, surveyor = people["manager"], people["maker"], people["surveyor"]
    take_in_the_list(manager, live_server)
    measure_what_has_no_size(surveyor, live_server)
    plan(manager, live_server)
    campaign = Campaign.objects.get()

    spoil_one_and_cut_all(maker, live_server)
    ask_a_question(maker, live_server)
    make_all_but_the_one_that_waits(maker, live_server)
    home_says(manager, live_server, housed=9)
    answer_it(manager, live_server)
    undo_and_finish_the_last(maker, live_server)
    home_says(manager, live_server, housed=10)

    assert FAULTS == []
    everything_adds_up(campaign, stock)


def take_in_the_list(manager: Page, live_server) -> None:
    manager.goto(f"{live_server.url}/import/")
    manager.locator("input[type=file]").set_input_files(
        {"name": "catalogue.csv", "mimeType": "text/csv", "buffer": CATALOGUE.encode()}
    )
    manager.get_by_role("button", name="Read the list").click()
    manager.get_by_role("button", name="Save all 10 rows").click()
    expect(manager.get_by_role("main")).to_contain_text("saved", ignore_case=True)
    assert CatalogueObject.objects.filter(size_state="known").count() == 8


def measure_what_has_no_size(surveyor: Page, live_server) -> None:
    place = Location.objects.get(path=OTHER)
    surveyor.goto(f"{live_server.url}/catalogue/survey/{place.pk}/")
    ready(surveyor)
    for number in UNMEASURED:
        measure(surveyor, number, "7")
    for _ in range(50):  # what is kept on the device is sent by and by
        if SurveyEntry.objects.count() == len(UNMEASURED):
            break
        surveyor.wait_for_timeout(100)
    assert set(SurveyEntry.objects.values_list("object__number", flat=True)) == set(UNMEASURED)


def plan(manager: Page, live_server) -> None:
    manager.goto(f"{live_server.url}/objects/")
    manager.get_by_label("All that match the filter").check()
    ticked = manager.get_by_role("group", name="With the objects ticked")
    ticked.get_by_label("Campaign").select_option(label="Storage move")
    manager.get_by_role("button", name="Add to the campaign").click()
    manager.goto(f"{live_server.url}/campaigns/{Campaign.objects.get().pk}/")
    manager.get_by_role("button", name="Plan the campaign").click()
    expect(manager.get_by_role("main")).to_contain_text("are planned")
    assert Housing.objects.filter(status="planned").count() == 10
    assert set(PlannedSheet.objects.values_list("person__name", flat=True)) == {"Tovi"}


def spoil_one_and_cut_all(maker: Page, live_server) -> None:
    sheets = PlannedSheet.objects.count()
    for number in range(sheets):
        maker.goto(f"{live_server.url}/bench/")
        maker.get_by_role("link", name="See what to cut from it").click()
        if number == 0:
            look(maker, "sheet")
        maker.get_by_role("button", name="Begin").click()
        expect(maker.get_by_text("It lies at the bench.")).to_be_visible()
        if number == 0:
            maker.get_by_text("The sheet is spoiled").click()
            maker.get_by_role("button", name="Write this sheet off").click()
            expect(maker.get_by_text("is written off").first).to_be_visible()
        maker.get_by_label("Minutes", exact=True).fill("20")
        maker.get_by_role("button", name="Sheet is cut").click()
        expect(maker.get_by_text("It is cut").first).to_be_visible()
    assert not PlannedSheet.objects.filter(cut_at=None).exists()


def box_of(number: str) -> Housing:
    return Housing.objects.get(contents__object__number=number, contents__is_live=True)


def ask_a_question(maker: Page, live_server) -> None:
    maker.goto(f"{live_server.url}/bench/boxes/{box_of('2001.5').pk}/")
    look(maker, "box")
    maker.get_by_text("Ask, and let the work rest meanwhile").click()
    maker.get_by_label("The question").fill("Is the crust on the rim salt or paint?")
    maker.get_by_role("button", name="Ask", exact=True).click()
    expect(maker.get_by_text("The work rests").first).to_be_visible()


def make_all_but_the_one_that_waits(maker: Page, live_server) -> None:
    for n in (1, 2, 3, 4, 6, 7, 8, 9, 10):
        make(maker, live_server, f"2001.{n}", place="New store" if n == 3 else "")


def make(maker: Page, live_server, number: str, place: str = "") -> None:
    maker.goto(f"{live_server.url}/bench/boxes/{box_of(number).pk}/")
    for _ in range(4):  # mark out and score, fold and glue, pad and fit, label
        step(maker)
    if number == "2001.1":
        look(maker, "box-made")
    maker.get_by_role("button", name="Yes, it fits").click()
    expect(maker.get_by_text("Tried: it fits.")).to_be_visible()
    if place:
        maker.get_by_label("New place, if it goes elsewhere").fill(place)
    maker.get_by_role("button", name="It is on its shelf").click()
    expect(maker.get_by_text("All steps are done.")).to_be_visible()


def step(maker: Page) -> None:
    """The next step of the box that is shown is done in five minutes."""
    now = maker.locator(".bench-now .bench-key").inner_text()
    maker.get_by_label("Minutes", exact=True).first.fill("5")
    maker.get_by_role("button", name="Done", exact=True).click()
    expect(maker.locator(".bench-now .bench-key")).not_to_have_text(now)


def answer_it(manager: Page, live_server) -> None:
    manager.goto(f"{live_server.url}/questions/")
    expect(manager.get_by_text("Is the crust on the rim salt or paint?")).to_be_visible()
    look(manager, "questions")
    manager.get_by_label("Answer").fill("Salt. Gloves, and do not brush it.")
    manager.get_by_role("button", name="Answer").click()
    expect(manager.get_by_role("main")).to_contain_text("can go on")


def undo_and_finish_the_last(maker: Page, live_server) -> None:
    maker.goto(f"{live_server.url}/bench/boxes/{box_of('2001.5').pk}/")
    step(maker)
    maker.get_by_role("button", name="Undo this step").click()
    expect(maker.locator(".bench-now .bench-key")).to_contain_text("Mark out and score")
    make(maker, live_server, "2001.5")


def home_says(manager: Page, live_server, housed: int) -> None:
    manager.goto(live_server.url)
    expect(manager.get_by_role("main")).to_contain_text("still unhoused")
    look(manager, f"home-{housed}")
    words = manager.get_by_role("main").inner_text()
    assert f"{10 - housed} of 10 objects" in words.replace("\n", " ")


def everything_adds_up(campaign: Campaign, size) -> None:
    """Counts, ledger and history, told apart from the pages."""
    assert Housing.objects.filter(status="housed").count() == 10
    assert not Task.objects.exclude(state="done").exists()
    sheets = PlannedSheet.objects.count()
    assert balance_of(size) == 12 - sheets - 1
    moves = StockMovement.objects.order_by("sequence").values_list("quantity", "balance")
    assert [balance for _, balance in moves] == [
        sum(quantity for quantity, _ in moves[: place + 1]) for place in range(len(moves))
    ]
    for housing in Housing.objects.all():
        trail = [event.status for event in housing.events.all()]
        assert trail == ["planned", "in_work", "made", "housed"]
        assert {event.by.username for event in housing.events.exclude(status="planned")} == {"maker"}
    moved = ObjectMove.objects.get()
    assert (moved.object.number, moved.path, moved.by.username) == ("2001.3", "New store", "maker")
    hold = Hold.objects.get()
    assert (hold.asked_by.username, hold.answered_by.username) == ("maker", "manager")
    assert BenchEntry.objects.filter(what="undo").count() == 1
    # four steps of five minutes each, and the sheets' twenty minutes each, shared over the boxes to the cent
    spent = sum(Task.objects.exclude(spent_minutes=None).values_list("spent_minutes", flat=True))
    assert spent == 10 * 4 * 5 + sheets * 20
