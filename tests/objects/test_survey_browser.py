"""Measuring at the shelf in a real browser: what is recorded without a connection arrives once."""

from decimal import Decimal
from io import BytesIO

import pytest
from PIL import Image
from playwright.sync_api import BrowserContext, Page, expect

from objects.core.lengths import LengthError, parse_length
from objects.core.weights import WeightError, parse_weight
from objects.models import CatalogueObject, SurveyEntry
from objects.services import survey as survey_service
from objects.views import survey as survey_views
from tests.factories import make_location, make_object, make_user

PHONE, TABLET = {"width": 390, "height": 844}, {"width": 820, "height": 1180}
TO_PRESS = "#survey :is(a, button, select, summary, input:not([type=hidden]))"
SMALL = """(selector) => [...document.querySelectorAll(selector)]
  .filter((element) => element.offsetParent)
  .map((element) => ["checkbox", "radio"].includes(element.type) ? element.labels[0] : element)
  .filter((element) => Math.min(element.offsetWidth, element.offsetHeight) < 44)
  .map((element) => element.outerHTML)"""


@pytest.fixture
def shelf(transactional_db):
    """A shelf with three objects that nobody has measured."""
    shelf = make_location("Shelf 2")
    for number, name in (("1995.4.1", "Jar"), ("1995.4.2", "Lid"), ("1995.4.3", "Print")):
        make_object(number=number, name=name, location=shelf, height_mm=None, width_mm=None, depth_mm=None)
    return shelf


@pytest.fixture
def surveyor(transactional_db):
    return make_user("surveyor", username="surveyor")


@pytest.fixture
def tablet(context: BrowserContext, live_server, client, surveyor) -> BrowserContext:
    """A phone on which a surveyor has signed in."""
    sign_in(context, live_server, client, surveyor)
    context.set_default_timeout(8000)
    return context


def sign_in(context: BrowserContext, live_server, client, user) -> None:
    client.force_login(user)
    cookie = {"name": "sessionid", "value": client.cookies["sessionid"].value, "url": live_server.url}
    context.add_cookies([cookie])


def open_shelf(tablet: BrowserContext, live_server, shelf, viewport=PHONE) -> Page:
    page = tablet.new_page()
    page.set_viewport_size(viewport)
    page.goto(f"{live_server.url}/catalogue/survey/{shelf.pk}/")
    ready(page)
    expect(page.get_by_text("This place now opens without a connection too.")).to_be_visible()
    return page


def ready(page: Page) -> None:
    page.wait_for_selector("#survey[data-ready]")


def measure(page: Page, number: str, height: str, fraction: str = "") -> None:
    """Types a height of whole inches, presses a fraction, and saves."""
    expect(page.get_by_role("heading", name=number)).to_be_visible()
    page.get_by_role("textbox", name="Height").fill(height)
    if fraction:
        keys = page.get_by_role("group", name="Fraction of the height")
        keys.get_by_role("button", name=fraction, exact=True).click()
    page.get_by_role("textbox", name="Width").fill("8 3/4")
    page.get_by_role("textbox", name="Depth").fill("7,5")
    page.get_by_role("button", name="Save and next").click()
    expect(page.get_by_role("heading", name=number)).to_be_hidden()  # it is kept on the device


def waiting(page: Page):
    return page.locator("[data-sync]")


def picture() -> bytes:
    kept = BytesIO()
    Image.new("RGB", (2400, 1200), "teal").save(kept, "JPEG")
    return kept.getvalue()


def test_what_is_recorded_without_a_connection_arrives_once(tablet, live_server, shelf):
    page = open_shelf(tablet, live_server, shelf)
    tablet.set_offline(True)

    page.locator("input[type=file]").set_input_files(
        {"name": "jar.jpg", "mimeType": "image/jpeg", "buffer": picture()}
    )
    expect(page.get_by_text("goes with this entry")).to_be_visible()
    measure(page, "1995.4.1", "10", "3/4")
    measure(page, "1995.4.2", "2", "1/16")
    page.reload()
    ready(page)
    measure(page, "1995.4.3", "12")
    expect(waiting(page)).to_contain_text("3 entries wait to be sent. No connection")
    assert not SurveyEntry.objects.exists()
    tablet.set_offline(False)

    expect(waiting(page)).to_have_text("All entries are sent.")
    kept = {entry.object.number: entry for entry in SurveyEntry.objects.select_related("object")}
    # 10 3/4 in = 10.75 x 25.4 = 273.05 mm; 2 1/16 in = 2.0625 x 25.4 = 52.3875; 12 x 25.4 = 304.8;
    # 8 3/4 in = 222.25; 7.5 in = 190.5.
    assert {number: entry.sides_mm for number, entry in kept.items()} == {
        "1995.4.1": (Decimal("273.05"), Decimal("222.25"), Decimal("190.5")),
        "1995.4.2": (Decimal("52.3875"), Decimal("222.25"), Decimal("190.5")),
        "1995.4.3": (Decimal("304.8"), Decimal("222.25"), Decimal("190.5")),
    }
    assert SurveyEntry.objects.count() == 3
    with kept["1995.4.1"].photo.open() as file, Image.open(file) as photo:
        assert photo.size == (1600, 800)  # made small on the device: half of 2400 x 1200, then 1600 at most
    assert set(CatalogueObject.objects.values_list("size_state", flat=True)) == {"known"}


def test_an_entry_whose_answer_was_lost_is_sent_again_and_kept_once(tablet, live_server, shelf, monkeypatch):
    page = open_shelf(tablet, live_server, shelf)
    asked = []

    def lose_the_first_answer(**given):
        kept = survey_service.record_entry(**given)
        asked.append(kept.is_new)
        if len(asked) == 1:
            raise RuntimeError("the answer is lost on its way")
        return kept

    monkeypatch.setattr(survey_views, "record_entry", lose_the_first_answer)
    measure(page, "1995.4.1", "10")
    expect(waiting(page)).to_contain_text("1 entry waits to be sent. The server is in trouble")
    page.evaluate("dispatchEvent(new Event('online'))")

    expect(waiting(page)).to_have_text("All entries are sent.")
    assert asked == [True, False]
    assert SurveyEntry.objects.count() == 1


def test_an_entry_that_the_server_refuses_stays_to_be_put_right(tablet, live_server, shelf):
    page = open_shelf(tablet, live_server, shelf)
    page.get_by_label("Object number", exact=True).fill("1999.9")
    page.get_by_role("button", name="Go to it").click()
    page.get_by_role("textbox", name="Height").fill("10")

    page.get_by_role("button", name="Save and next").click()

    refused = page.get_by_role("alert").filter(has_text="1999.9: not taken by the server")
    expect(refused).to_contain_text("There is no object “1999.9”. Look at its label again.")
    assert not SurveyEntry.objects.exists()

    make_object(number="1999.6", height_mm=None)
    page.reload()
    ready(page)
    refused.get_by_role("button", name="Put it right").click()
    page.get_by_label("Number of the object that lies here").fill("1999.6")
    page.get_by_role("button", name="Save and next").click()

    expect(refused).to_have_count(0)
    expect(waiting(page)).to_have_text("All entries are sent.")
    entry = SurveyEntry.objects.get(how="tape")
    assert (entry.object.number, entry.found, entry.place) == ("1999.6", "elsewhere", shelf)


def test_after_the_session_has_ended_entries_wait_until_somebody_signs_in_again(
    tablet, live_server, client, surveyor, shelf
):
    page = open_shelf(tablet, live_server, shelf)
    tablet.clear_cookies(name="sessionid")

    measure(page, "1995.4.1", "10")

    expect(waiting(page)).to_contain_text("1 entry waits to be sent. Sign in again; nothing is lost.")
    assert not SurveyEntry.objects.exists()
    sign_in(tablet, live_server, client, surveyor)
    page.reload()
    ready(page)
    expect(waiting(page)).to_have_text("All entries are sent.")
    assert SurveyEntry.objects.get().by == surveyor


def test_entries_of_somebody_else_on_the_device_wait_for_that_person(tablet, live_server, client, shelf):
    page = open_shelf(tablet, live_server, shelf)
    tablet.set_offline(True)
    measure(page, "1995.4.1", "10")
    expect(waiting(page)).to_contain_text("1 entry waits")
    sign_in(tablet, live_server, client, make_user("surveyor"))
    tablet.set_offline(False)
    expect(waiting(page)).to_contain_text("Sign in again")

    page.reload()
    ready(page)

    expect(waiting(page)).to_contain_text("1 entry of somebody else on this device")
    assert not SurveyEntry.objects.exists()


def test_without_a_connection_a_place_not_opened_before_leads_to_those_that_were(tablet, live_server, shelf):
    page = open_shelf(tablet, live_server, shelf)
    other = make_location("Shelf 3")
    tablet.set_offline(True)

    page.goto(f"{live_server.url}/catalogue/survey/{other.pk}/")

    expect(page.get_by_role("heading", name="No connection")).to_be_visible()
    page.get_by_role("link", name="Shelf 2").click()
    ready(page)
    expect(page.get_by_role("heading", name="1995.4.1")).to_be_visible()


def test_what_cannot_be_right_is_refused_on_the_device(tablet, live_server, shelf):
    page = open_shelf(tablet, live_server, shelf, TABLET)
    tablet.set_offline(True)

    page.get_by_role("textbox", name="Height").fill("40 m")
    page.get_by_role("button", name="Save and next").click()

    said = page.locator(".survey-said")
    expect(said).to_have_text(
        "“40 m” is 40 m, and more than 20 m cannot be right. Check the figure and the unit."
    )
    expect(waiting(page)).to_have_text("All entries are sent.")


def test_what_somebody_else_sent_shows_as_done(tablet, live_server, shelf):
    page = open_shelf(tablet, live_server, shelf)
    jar = CatalogueObject.objects.get(number="1995.4.1")
    CatalogueObject.objects.filter(pk=jar.pk).update(
        height_mm=10, width_mm=10, depth_mm=10, size_state="known", surveyed_at="2026-03-05T10:00Z"
    )

    page.reload()
    ready(page)

    expect(page.locator("[data-progress]")).to_have_text("2 of 3 still to do")
    page.get_by_text("All objects here (3)").click()
    expect(page.get_by_role("listitem").filter(has_text="1995.4.1")).to_contain_text("Done")


@pytest.mark.parametrize("viewport", [PHONE, TABLET])
def test_everything_to_press_is_large_enough_for_a_finger(tablet, live_server, shelf, viewport):
    page = open_shelf(tablet, live_server, shelf, viewport)
    page.locator("details[data-list] summary").click()

    # 44 px: WCAG 2.2, success criterion 2.5.5.
    assert page.evaluate(SMALL, TO_PRESS) == []
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")


# ---- The device reads as the server does -----------------------------------------------------------------

LENGTHS = [
    ("10 3/4", "in"), ("10-3/4", "in"), ("10¾", "in"), ("10¾″", "mm"), ("3/4", "in"), ("5'-3 1/2\"", "in"),
    ("1' 4", "mm"), ("24,1", "cm"), ("24.1 cm", "in"), ("1,250", "mm"), ("1.250,5", "mm"), (".5", "in"),
    ("27.3 CM.", "in"), ("10 4/3", "in"), ("1/0", "in"), ("-3", "in"), ("0", "mm"), ("40 m", "in"),
    ("tall", "in"), ("10 x 8", "in"), ("10 in 8 in", "in"), ("1,250", "in"),
    ("10 ⅝ in", "mm"), ("12mm", "in"),
]  # fmt: skip
WEIGHTS = [
    ("1.2", "kg"), ("1,2 kg", "g"), ("2 lb 4 oz", "kg"), ("3 1/2", "lb"), ("0", "g"), ("-1", "kg"),
    ("heavy", "kg"), ("6000", "kg"), ("850g", "lb"), ("12 stones", "kg"),
]  # fmt: skip
READ = """([kind, cases]) => import("/static/housing/survey_lengths.js").then((reading) =>
  cases.map(([text, unit]) => {
    try { return reading[kind](text, unit); } catch (refused) { return refused.message; }
  }))"""


@pytest.mark.parametrize(
    ("kind", "cases", "read", "refusal"),
    [
        ("readLength", LENGTHS, parse_length, LengthError),
        ("readWeight", WEIGHTS, parse_weight, WeightError),
    ],
)
def test_a_device_reads_and_refuses_as_the_server_does(
    tablet, live_server, shelf, kind, cases, read, refusal
):
    def on_server(text: str, unit: str):
        try:
            return float(read(text, unit))
        except refusal as refused:
            return str(refused)

    page = tablet.new_page()
    page.goto(f"{live_server.url}/catalogue/survey/{shelf.pk}/")

    assert page.evaluate(READ, [kind, cases]) == [on_server(*case) for case in cases]
