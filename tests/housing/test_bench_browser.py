"""The bench in a real browser: whatever happens to tablet, connection or server, an entry is kept once."""

import os
import socket
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from time import sleep

import pytest
from django.db import connection
from playwright.sync_api import BrowserContext, Page, expect
from playwright.sync_api import Error as BrowserError

from housing.models import BenchEntry, WorkSpell
from tests.factories import balance_of, make_person, make_user
from tests.housing.benches import make_due, sheet_of

TABLET = 820
WIDTHS = (320, 390, TABLET, 1280)
PRESSED = "#bench :is(a, button, select, summary, input:not([type=hidden]))"
SMALL = """(pressed) => [...document.querySelectorAll(pressed)]
  .filter((element) => element.offsetParent && !element.closest("svg"))
  .map((element) => ["checkbox", "radio"].includes(element.type) ? element.labels[0] : element)
  .filter((element) => Math.min(element.offsetWidth, element.offsetHeight) < 44)
  .map((element) => element.outerHTML)"""
TINY = """() => [...document.querySelectorAll("#bench *")]
  .filter((element) => !element.closest("svg, .visually-hidden") && element.offsetParent)
  .filter((element) => [...element.childNodes].some((node) => node.nodeType === 3 && node.data.trim()))
  .filter((element) => parseFloat(getComputedStyle(element).fontSize) < 20)
  .map((element) => element.outerHTML)"""


@pytest.fixture
def ada(transactional_db):
    return make_person(name="Ada", user=make_user("maker", username="ada"))


@pytest.fixture
def box(ada):
    return make_due(ada)


@pytest.fixture
def tablet(context: BrowserContext, live_server, client, ada) -> BrowserContext:
    sign_in(context, live_server.url, client, ada)
    return context


def lead_to(context: BrowserContext, address: str, other: str) -> None:
    """Let a server answer at another address than its own."""

    def answer(route):
        with suppress(BrowserError):  # a page that was left meanwhile wants its answer no more
            route.fulfill(response=route.fetch(url=route.request.url.replace(address, other)))

    context.route(f"{address}/**", answer)


@contextmanager
def running(records: Path, port: int) -> Iterator[None]:
    """A server in a process of its own, killed at the end."""
    environment = {
        **os.environ,
        "DJANGO_SETTINGS_MODULE": "tests.settings",
        "DATABASE_URL": f"sqlite:///{records}",
    }
    serve = [sys.executable, "-m", "django", "runserver", "--noreload", "--skip-checks", f"localhost:{port}"]
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    with subprocess.Popen(serve, env=environment, **quiet) as process:
        try:
            wait_for(port)
            yield
        finally:
            process.kill()


def copy_records(to: Path) -> None:
    with closing(sqlite3.connect(to)) as copied:
        connection.connection.backup(copied)


def free_port() -> int:
    with socket.socket() as asked:
        asked.bind(("localhost", 0))
        return asked.getsockname()[1]


def wait_for(port: int) -> None:
    """Until somebody listens there, for half a minute at most."""
    for _ in range(300):
        with socket.socket() as asked:
            if asked.connect_ex(("localhost", port)) == 0:
                return
        sleep(0.1)
    raise AssertionError(f"No server on port {port}")


def sign_in(context: BrowserContext, url: str, client, person) -> None:
    client.force_login(person.user)
    context.add_cookies([{"name": "sessionid", "value": client.cookies["sessionid"].value, "url": url}])
    context.set_default_timeout(8000)


def open_page(context: BrowserContext, url: str, address: str = "/bench/", width: int = TABLET) -> Page:
    page = context.new_page()
    page.set_viewport_size({"width": width, "height": 900})
    page.goto(url + address)
    ready(page)
    return page


def ready(page: Page) -> None:
    page.wait_for_selector("#bench[data-ready]")


def button(page: Page, words: str):
    return page.get_by_role("button", name=words, exact=True)


def address_of(box) -> str:
    return f"/bench/sheets/{sheet_of(box).pk}/"


def kept() -> list[str]:
    """The kinds of entries in the order in which they were kept."""
    return list(BenchEntry.objects.order_by("pk").values_list("what", flat=True))


def test_a_double_click_begins_once(tablet, live_server, box):
    page = open_page(tablet, live_server.url, address_of(box))

    button(page, "Begin").dblclick()

    expect(page.get_by_text("is begun.").first).to_be_visible()
    expect(button(page, "Pause")).to_be_visible()
    assert kept() == ["start"]
    assert balance_of(sheet_of(box).sheet_size) == 4  # of five one is taken


def test_two_tablets_cut_one_sheet_once(tablet, live_server, box):
    one, other = (open_page(tablet, live_server.url, address_of(box)) for _ in range(2))
    button(one, "Sheet is cut").click()
    expect(one.get_by_text("It is cut")).to_be_visible()

    other.get_by_label("Minutes").fill("30")
    button(other, "Sheet is cut").click()

    aside = other.locator(".bench-put-aside")
    expect(aside).to_contain_text("was cut already")
    expect(aside).to_contain_text("minutes: 30")  # what was entered can still be read
    assert kept() == ["sheet_cut"]
    assert balance_of(sheet_of(box).sheet_size) == 4

    other.get_by_label("Minutes").fill("")
    button(other, "Discard this entry").click()
    expect(other.get_by_text("It is cut")).to_be_visible()
    expect(aside).to_have_count(0)


def test_what_was_put_right_in_its_form_needs_no_discarding(tablet, live_server, box):
    page = open_page(tablet, live_server.url, address_of(box))
    page.get_by_label("Minutes").fill("9999")
    button(page, "Sheet is cut").click()
    expect(page.locator(".bench-put-aside")).to_contain_text("from 0 to 1440")

    page.get_by_label("Minutes").fill("12")
    button(page, "Sheet is cut").click()

    expect(page.get_by_text("It is cut")).to_be_visible()
    expect(page.locator(".bench-put-aside")).to_have_count(0)
    assert kept() == ["sheet_cut"]


def test_the_back_button_shows_the_page_as_it_is_now(tablet, live_server, box):
    page = open_page(tablet, live_server.url, address_of(box))
    button(page, "Begin").click()
    expect(button(page, "Pause")).to_be_visible()
    page.goto(f"{live_server.url}/bench/")
    button(page, "Pause").click()
    expect(page.get_by_text("is paused.").first).to_be_visible()

    page.go_back()

    ready(page)
    if page.url.endswith("/bench/"):
        page.go_back()
    expect(button(page, "Go on")).to_be_visible()
    assert kept() == ["start", "pause"]


def test_what_is_entered_without_a_connection_is_sent_once_it_is_back_in_order(tablet, live_server, box):
    page = open_page(tablet, live_server.url, address_of(box))
    tablet.set_offline(True)

    button(page, "Begin").click()
    expect(page.get_by_text("1 entry is kept on this device, will be sent.")).to_be_visible()
    expect(button(page, "Begin")).to_be_disabled()
    page.get_by_label("Minutes").fill("12")
    button(page, "Sheet is cut").click()
    expect(page.get_by_text("2 entries are kept on this device, will be sent.")).to_be_visible()
    assert kept() == []
    tablet.set_offline(False)

    expect(page.get_by_text("It is cut")).to_be_visible()
    assert kept() == ["start", "sheet_cut"]
    assert BenchEntry.objects.get(what="sheet_cut").minutes == 12
    assert not WorkSpell.objects.filter(ended_at=None).exists()


def test_an_entry_whose_answer_was_lost_is_kept_once_though_the_tab_is_closed(tablet, live_server, box):
    def lose_the_answer(route):
        route.fetch()  # the server keeps it, the device never hears of it
        route.abort()

    page = open_page(tablet, live_server.url, address_of(box))
    page.route("**/bench/entries/", lose_the_answer)
    button(page, "Begin").click()
    expect(page.get_by_text("kept on this device, will be sent.").first).to_be_visible()
    page.close()

    again = open_page(tablet, live_server.url)

    expect(again.get_by_text("Running now")).to_be_visible()
    expect(again.locator("[data-waiting]")).to_be_hidden()
    assert kept() == ["start"]


def test_when_another_process_takes_the_place_of_the_server_nothing_is_lost(
    context, live_server, tmp_path, client, ada, box
):
    records, port = tmp_path / "records.sqlite3", free_port()
    address = f"http://localhost:{port}"
    sign_in(context, address, client, ada)
    copy_records(records)
    lead_to(context, address, live_server.url)
    page = open_page(context, address, address_of(box))
    context.unroute_all()  # nobody listens there any more
    button(page, "Begin").click()
    expect(page.get_by_text("1 entry is kept on this device, will be sent.")).to_be_visible()

    with running(records, port):
        button(page, "Send now").click()
        expect(button(page, "Pause")).to_be_visible()
    with closing(sqlite3.connect(records)) as copied:
        assert copied.execute("select what from housing_benchentry").fetchall() == [("start",)]


def test_after_the_session_has_ended_an_entry_waits_for_its_maker(tablet, live_server, client, ada, box):
    page = open_page(tablet, live_server.url, address_of(box))
    tablet.clear_cookies(name="sessionid")

    button(page, "Begin").click()

    expect(page.get_by_role("link", name="Sign in again")).to_be_visible()
    assert kept() == []
    other = make_person(name="Ben", user=make_user("maker"))
    sign_in(tablet, live_server.url, client, other)
    page.goto(f"{live_server.url}/bench/")
    expect(page.get_by_text("1 of somebody else's wait until they sign in on this device.")).to_be_visible()
    assert kept() == []
    sign_in(tablet, live_server.url, client, ada)
    page.reload()
    expect(page.get_by_text("Running now")).to_be_visible()
    assert BenchEntry.objects.get().by == ada.user


def test_pages_are_read_at_arms_length_and_pressed_with_a_thumb(tablet, live_server, box):
    page = open_page(tablet, live_server.url)
    for address in ("/bench/", address_of(box), f"/bench/boxes/{box.pk}/"):
        page.goto(live_server.url + address)
        ready(page)
        for details in page.locator("#bench details summary").all():
            details.click()
        for width in WIDTHS:
            page.set_viewport_size({"width": width, "height": 900})

            # 44 px: WCAG 2.2, success criterion 2.5.5. 20 px at arm's length: common practice, no source.
            assert page.evaluate(SMALL, PRESSED) == []
            assert page.evaluate(TINY) == []
            assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
