"""Every page of the demo at three widths, in daylight and in the dark: nothing overlaps, axe finds nothing.

Sources: WCAG 2.2, levels A and AA, as far as axe-core's rules check them; 1.4.10 (reflow at 320 CSS px).
"""

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import BrowserContext, Page

from tests.gallery.addresses import PAGES
from tests.gallery.looking import faults_of, file_name
from tests.gallery.museum import Museum

# Said by the browser itself of pages that are meant to answer so.
EXPECTED = re.compile(r"favicon")


@pytest.fixture(scope="module")
def signed_in(browser, museum: Museum) -> Iterator[BrowserContext]:
    context = browser.new_context()
    museum.sign_in(context)
    yield context
    context.close()


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


def filled(address: str, museum: Museum) -> str:
    """The address with the keys of records in place of what stands in braces."""
    return re.sub(
        r"\{([\w ]+?)(?:: (.*?))?\}", lambda found: str(museum.key(found[1], found[2] or "")), address
    )
