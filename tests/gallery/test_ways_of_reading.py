"""Pages for those who read otherwise: by keyboard, at twice the size, without motion, in own colours."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from tests.gallery.looking import keep_picture, layout_faults
from tests.gallery.museum import Museum

MAIN_PAGES = (
    "/",
    "/objects/",
    "/boards/",
    "/campaigns/1/",
    "/campaigns/1/plan/",
    "/bench/",
    "/prints/",
    "/report/",
)

# Every element that takes the focus by Tab, and how it shows that it has it.
FOCUSED = """() => {
  const at = document.activeElement, box = at.getBoundingClientRect(), style = getComputedStyle(at);
  const inside = box.width > 0 && box.bottom > 0 && box.top < innerHeight
    && box.right > 0 && box.left < innerWidth;
  return {
    name: at.outerHTML.slice(0, 120),
    isBody: at === document.body,
    isShown: inside,
    isMarked: style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2
      || style.boxShadow !== "none",
    order: at.tabIndex,
  };
}"""
MOVING = """() => [...document.querySelectorAll("*")].filter((element) => {
  const style = getComputedStyle(element);
  const ms = (time) => parseFloat(time) * (time.includes("ms") ? 1 : 1000);
  const long = (times) => times.split(",").some((time) => ms(time) > 10);
  return long(style.transitionDuration) || (style.animationName !== "none" && long(style.animationDuration));
}).map((element) => element.outerHTML.slice(0, 120))"""
WITHOUT_EDGE = """() => [...document.querySelectorAll("main :is(.btn, button, input, select, textarea)")]
  .filter((element) => element.checkVisibility() && !element.closest(".visually-hidden"))
  .filter((element) => !["checkbox", "radio", "hidden", "file", "range"].includes(element.type))
  .filter((element) => parseFloat(getComputedStyle(element).borderTopWidth) < 1)
  .map((element) => element.outerHTML.slice(0, 120))"""


@pytest.fixture(scope="module")
def contexts(browser: Browser, museum: Museum) -> Iterator:
    opened: list[BrowserContext] = []

    def sign_in(**options) -> Page:
        context = browser.new_context(**options)
        opened.append(context)
        museum.sign_in(context)
        return context.new_page()

    yield sign_in
    for context in opened:
        context.close()


@pytest.fixture(scope="module")
def desk(contexts) -> Page:
    """Without motion, so that the page has come to rest wherever it was scrolled to."""
    return contexts(viewport={"width": 1280, "height": 900}, reduced_motion="reduce")


@pytest.fixture(scope="module")
def twice(contexts) -> Page:
    """A window of 1280 px at 200 %: half as many CSS px. Source: WCAG 2.2, 1.4.4 (resize text)."""
    return contexts(viewport={"width": 640, "height": 450}, device_scale_factor=2)


@pytest.fixture(scope="module")
def still(contexts) -> Page:
    return contexts(viewport={"width": 1280, "height": 900}, reduced_motion="reduce")


@pytest.fixture(scope="module")
def own_colours(contexts) -> Page:
    return contexts(viewport={"width": 1280, "height": 900}, forced_colors="active")


@pytest.mark.parametrize("address", MAIN_PAGES)
def test_the_focus_is_seen_wherever_tab_leads(address: str, desk: Page, museum: Museum):
    """Source: WCAG 2.2, 2.4.3 (focus order), 2.4.7 (focus visible), 2.4.11 (focus not obscured)."""
    desk.goto(museum.url + address)

    stops = []
    for _ in range(40):
        desk.keyboard.press("Tab")
        stop = desk.evaluate(FOCUSED)
        if stop["isBody"]:
            break
        stops.append(stop)

    assert "skip-link" in stops[0]["name"]
    assert len(stops) > 10
    assert [stop["name"] for stop in stops if not (stop["isShown"] and stop["isMarked"])] == []
    assert {stop["order"] for stop in stops} == {0}  # the order of the page itself, nothing put before it


def test_the_first_link_leads_past_the_menu(desk: Page, museum: Museum):
    desk.goto(museum.url + "/objects/")

    desk.keyboard.press("Tab")
    desk.keyboard.press("Enter")

    assert desk.evaluate("document.activeElement.id") == "main"


@pytest.mark.parametrize("address", MAIN_PAGES)
def test_pages_hold_together_at_twice_the_size(address: str, twice: Page, museum: Museum):
    twice.goto(museum.url + address)

    keep_picture(twice, f"twice{address.replace('/', '-')}")
    assert layout_faults(twice) == []


@pytest.mark.parametrize("address", MAIN_PAGES)
def test_nothing_moves_for_those_who_ask_for_no_motion(address: str, still: Page, museum: Museum):
    still.goto(museum.url + address)

    assert still.evaluate(MOVING) == []


@pytest.mark.parametrize("address", MAIN_PAGES)
def test_buttons_and_fields_keep_an_edge_in_forced_colours(address: str, own_colours: Page, museum: Museum):
    """There backgrounds are taken away, and a button without an edge is only a word."""
    own_colours.goto(museum.url + address)

    keep_picture(own_colours, f"forced{address.replace('/', '-')}")
    assert own_colours.evaluate(WITHOUT_EDGE) == []
