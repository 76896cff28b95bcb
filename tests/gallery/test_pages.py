"""Every page of the demo at three widths, in daylight and in the dark: nothing overlaps, axe finds nothing.

Sources: WCAG 2.2, levels A and AA, as far as axe-core's rules check them; 1.4.10 (reflow at 320 CSS px).
"""

import re
from collections.abc import Iterator

import pytest
from django.urls import URLResolver, get_resolver, resolve
from playwright.sync_api import APIResponse, BrowserContext, Page

from tests.gallery.addresses import PAGES
from tests.gallery.looking import HEIGHT, WIDTHS, faults_of, file_name, keep_picture, layout_faults
from tests.gallery.museum import Museum

# Pages of bench, survey and prints, and those with the most words in the least room.
WORDY = [
    "/",
    "/bench/",
    "/bench/boxes/{housing_housing: status = 'planned' AND campaign_id = 1}/",
    "/bench/sheets/{housing_plannedsheet: cut_at IS NULL}/",
    "/campaigns/1/",
    "/catalogue/survey/{objects_location: path LIKE '%Shelf 1'}/",
    "/objects/",
    "/prints/",
    "/stock/",
    "/work/",
]


@pytest.fixture
def shown(signed_in: BrowserContext) -> Iterator[Page]:
    page = signed_in.new_page()
    page.set_default_timeout(30_000)
    yield page
    page.close()


@pytest.mark.parametrize("address", PAGES)
def test_nothing_is_wrong_with_the_page(address: str, shown: Page, museum: Museum):
    said: list[str] = []
    shown.on("console", lambda message: said.append(message.text) if message.type == "error" else None)
    shown.on("pageerror", lambda error: said.append(str(error)))

    answer = shown.goto(museum.url + filled(address, museum))

    assert answer.status == 200
    assert faults_of(shown, file_name(re.sub(r"\{\w+.*?\}", "one", address))) == []
    assert said == []


def test_no_page_is_forgotten(signed_in: BrowserContext, museum: Museum):
    """Whatever answers with a page of its own to somebody who only looks is among the addresses above."""
    looked_at = {resolve(re.sub(r"\{.*?\}", "1", address).split("?")[0]).route for address in PAGES}
    others = [route for route in routes(get_resolver()) if route not in looked_at]

    forgotten = [
        route
        for route in others
        if is_page(signed_in.request.get(f"{museum.url}/{PLACES.sub('1', route)}", max_redirects=0))
    ]

    assert forgotten == []


PLACES = re.compile(r"<.*?>")


def routes(resolver: URLResolver, before: str = "") -> Iterator[str]:
    for pattern in resolver.url_patterns:
        route = f"{before}{pattern.pattern}"
        if isinstance(pattern, URLResolver):
            yield from routes(pattern, route)
        else:
            yield route


def is_page(answer: APIResponse) -> bool:
    return answer.status == 200 and "<main" in answer.text()


@pytest.mark.parametrize("language", ["es", "fr"])
@pytest.mark.parametrize("address", WORDY)
def test_longer_words_find_room_too(address: str, language: str, browser, museum: Museum):
    """Spanish and French need about a quarter more room than English."""
    context = browser.new_context(locale=language)
    museum.sign_in(context)
    page = context.new_page()

    page.goto(museum.url + filled(address, museum))

    assert page.locator("html").get_attribute("lang") == language
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": HEIGHT})
        keep_picture(page, f"{language}-{file_name(re.sub(r'{.*?}', 'one', address))}-{width}")
        assert layout_faults(page) == []
    context.close()


def filled(address: str, museum: Museum) -> str:
    """The address with the keys of records in place of what stands in braces."""
    return re.sub(
        r"\{([\w ]+?)(?:: (.*?))?\}", lambda found: str(museum.key(found[1], found[2] or "")), address
    )
