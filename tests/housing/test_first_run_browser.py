"""A newcomer in a browser: from an empty database to a printed cut sheet; words that explain themselves."""

import pytest
from playwright.sync_api import Page, expect

from housing.models import Campaign
from objects.models import CatalogueObject
from tests.factories import make_user

PASSWORD = "bone folder"


@pytest.fixture
def newcomer(page: Page, live_server, transactional_db, monkeypatch) -> Page:
    """A browser at the sign-in page of an empty museum; an error in its console fails the test."""
    monkeypatch.setattr("housing.services.first_run.SEARCH_SECONDS", 1)
    errors: list[str] = []
    page.on("console", lambda message: errors.append(message.text) if message.type == "error" else None)
    page.set_default_timeout(180_000)  # the server plans within the request here
    make_user(role="", username="mirel", password=PASSWORD, is_superuser=True)
    page.goto(live_server.url)
    page.get_by_label("Username").fill("mirel")
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    yield page
    assert errors == []


def test_three_clicks_lead_from_the_first_sign_in_to_a_printed_cut_sheet(newcomer: Page):
    for role, name in (
        ("link", "Begin, or go on where you stopped"),
        ("button", "Take all samples and plan them"),
        ("link", "Print the first cut sheet"),
    ):
        newcomer.get_by_role(role, name=name).click()

    expect(newcomer.get_by_role("region", name="Cut sheet of SAMPLE.1,")).to_contain_text("floor")
    expect(newcomer.get_by_role("button", name="Print")).to_be_visible()


def test_step_by_step_each_button_comes_after_the_one_before(newcomer: Page):
    newcomer.get_by_role("link", name="Enter your boards").click()
    for name in ("Take the sample boards", "Take the sample list", "Take the sample designs"):
        step = newcomer.locator("[aria-current=step]")
        step.get_by_role("button", name=name).click()
    newcomer.get_by_role("button", name="Plan a campaign of the 38 objects that need a box").click()
    newcomer.get_by_role("link", name="Print the first cut sheet").click()

    expect(newcomer.get_by_role("region", name="Cut sheet of SAMPLE.1,")).to_contain_text("floor")
    assert CatalogueObject.objects.count() == 40


def test_what_was_left_is_taken_up_again(newcomer: Page, live_server):
    newcomer.get_by_role("link", name="Enter your boards").click()
    newcomer.get_by_role("button", name="Take the sample boards").click()
    newcomer.get_by_role("navigation", name="Pages").get_by_role("link", name="How far are we?").click()
    newcomer.get_by_role("link", name="Begin, or go on where you stopped").click()

    expect(newcomer.locator("[aria-current=step]")).to_contain_text("Take in your list of objects")


def test_the_samples_go_at_one_click(newcomer: Page, live_server):
    newcomer.goto(f"{live_server.url}/first-steps/")
    newcomer.get_by_role("button", name="Take all samples and plan them").click()
    newcomer.get_by_role("button", name="Remove the samples").click()

    expect(newcomer.get_by_role("main")).to_contain_text("The samples are removed: 40 objects")
    assert not Campaign.objects.exists()


@pytest.mark.parametrize("width", [320, 640, 1280])
@pytest.mark.parametrize("address", ["/", "/first-steps/", "/glossary/", "/guide/", "/guide/plan/"])
def test_nothing_runs_off_a_narrow_screen(newcomer: Page, live_server, width, address):
    newcomer.set_viewport_size({"width": width, "height": 700})
    newcomer.goto(live_server.url + address)

    assert newcomer.evaluate("document.documentElement.scrollWidth") <= width


# ---- Words that explain themselves (WCAG 2.2, 1.4.13: dismissible, hoverable, persistent) -----------------


@pytest.fixture
def word(newcomer: Page, live_server):
    """A marked word on the page of first steps, and its note."""
    newcomer.goto(f"{live_server.url}/first-steps/")
    term = newcomer.locator(".term").first
    return term.locator(".term-word"), term.locator(".term-note")


def test_pointing_at_a_word_shows_its_note_which_can_be_pointed_at_too(newcomer, word):
    link, note = word
    expect(note).to_be_hidden()

    link.hover()
    expect(note).to_be_visible()
    note.hover()

    expect(note).to_be_visible()
    newcomer.mouse.move(5, 5)
    expect(note).to_be_hidden()


def test_escape_hides_the_note_and_leaves_the_focus(newcomer, word):
    link, note = word
    newcomer.keyboard.press("Tab")
    link.focus()
    expect(note).to_be_visible()

    newcomer.keyboard.press("Escape")

    expect(note).to_be_hidden()
    expect(link).to_be_focused()


def test_the_note_is_said_with_the_word(word):
    link, note = word

    described = link.get_attribute("aria-describedby")

    assert described == note.get_attribute("id")


def test_the_note_stays_within_a_narrow_window(newcomer, word):
    link, note = word
    newcomer.set_viewport_size({"width": 320, "height": 600})

    link.hover()

    box = note.bounding_box()
    assert box["x"] >= 0
    assert box["x"] + box["width"] <= 320


def test_a_first_tap_shows_the_note_and_a_second_leads_to_the_glossary(
    new_context, live_server, client, newcomer
):
    phone = new_context(viewport={"width": 390, "height": 780}, has_touch=True, is_mobile=True)
    phone.add_cookies(newcomer.context.cookies())
    page = phone.new_page()
    page.goto(f"{live_server.url}/first-steps/")
    link, note = page.locator(".term-word").first, page.locator(".term-note").first

    link.tap()
    expect(note).to_be_visible()
    assert page.url.endswith("/first-steps/")
    link.tap()

    page.wait_for_url("**/glossary/#board")


def test_the_glossary_searches_while_one_types(newcomer, live_server):
    newcomer.goto(f"{live_server.url}/glossary/")

    newcomer.get_by_label("Look for a word").press_sequentially("nesting")

    expect(newcomer.get_by_role("status").filter(has_text="1 term with")).to_be_visible()
    expect(newcomer.locator("#cutting_plan")).to_be_visible()
    expect(newcomer.locator("#campaign")).to_have_count(0)
