"""What all tests share: a real browser where there is one, and no unseen skip where every test must run."""

import os
from collections.abc import Iterator
from dataclasses import asdict
from decimal import Decimal
from threading import Lock

import pytest
from django.core.handlers.wsgi import WSGIHandler
from django.test import Client
from hypothesis import settings

from housing.core.label_sheets import USUAL
from tests.browser import BROWSER_MISSING, find_browser, launch_flags
from tests.factories import make_user
from tests.office import OFFICE_MISSING, find_office

# Playwright keeps an event loop in the thread, and Django would refuse to make the test database beside it.
os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "true")

# HYPOTHESIS_PROFILE=thorough tries thousands of examples a property (see examples.py); no example is timed.
settings.register_profile("usual", deadline=None)
settings.register_profile("thorough", deadline=None, max_examples=3000)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "usual"))

BROWSER_FIXTURES = {"page", "context", "new_context", "browser"}
NEEDS_MORE_THAN_PYTHON = {"browser", "office", "pango", "postgres"}


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Marks browser tests as such, and lets one process run them all when tests are spread over the cores."""
    for item in items:
        if BROWSER_FIXTURES & set(getattr(item, "fixturenames", ())):
            item.add_marker("browser")
            item.add_marker(pytest.mark.xdist_group("browser"))
    # The longest of all first, so that at the end no core waits for it.
    items.sort(key=lambda item: item.get_closest_marker("postgres") is None)


def pytest_runtest_setup(item: pytest.Item) -> None:
    if item.get_closest_marker("pango"):
        from housing.pdf import pdf_problem

        if problem := pdf_problem():
            pytest.skip(problem)
    if item.get_closest_marker("office") and find_office() is None:
        pytest.skip(OFFICE_MISSING)


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item) -> Iterator[None]:
    """Where every test must run, one that lacks its browser, LibreOffice, PostgreSQL or Pango failed."""
    report = yield
    markers = {marker.name for marker in item.iter_markers()}
    if report.skipped and every_test_must_run() and markers & NEEDS_MORE_THAN_PYTHON:
        report.outcome = "failed"
        report.longrepr = f"every test must run here, but this one was skipped: {report.longrepr[-1]}"
    return report


def every_test_must_run() -> bool:
    """Whether CI or REQUIRE_ALL_TESTS is set."""
    return any(os.environ.get(name, "") not in ("", "0", "false") for name in ("CI", "REQUIRE_ALL_TESTS"))


@pytest.fixture(scope="session")
def browser_type_launch_args(browser_type_launch_args: dict, playwright) -> dict:
    """Starts the browser that is installed; skips, naming how to install one, if there is none."""
    if (path := find_browser(playwright.chromium.executable_path)) is None:
        pytest.skip(BROWSER_MISSING)
    return {**browser_type_launch_args, "executable_path": path, "args": launch_flags()}


@pytest.fixture(scope="session")
def live_server(django_db_setup, live_server):
    """The server, started when the database is there, so that its threads use the test's connection."""
    return live_server


@pytest.fixture(autouse=True)
def one_request_at_a_time(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """The threads of the server share one connection, whose transactions must not mix."""
    if "live_server" not in request.fixturenames:
        return
    turn, handle = Lock(), WSGIHandler.__call__

    def handle_in_turn(*given):
        with turn:
            return handle(*given)

    monkeypatch.setattr(WSGIHandler, "__call__", handle_in_turn)


# ---- Somebody who has signed in --------------------------------------------------------------------------


@pytest.fixture
def manager(db: None, client: Client) -> Client:
    return signed_in(client, "manager")


@pytest.fixture
def maker(db: None, client: Client) -> Client:
    return signed_in(client, "maker")


@pytest.fixture
def surveyor(db: None, client: Client) -> Client:
    return signed_in(client, "surveyor")


@pytest.fixture
def viewer(db: None, client: Client) -> Client:
    return signed_in(client, "viewer")


def signed_in(client: Client, role: str) -> Client:
    client.force_login(make_user(role))
    return client


@pytest.fixture
def usual_label_sheets(db: None) -> None:
    """The label sheets of a new installation, which tests that empty the database take from others."""
    from housing.models import LabelSheet  # late: models are not ready when this file is read

    for name, layout in USUAL:
        sizes = {
            key: round(Decimal(value), 4) for key, value in asdict(layout).items() if key.endswith("_mm")
        }
        counts = {"columns": layout.columns, "rows": layout.rows}
        LabelSheet.objects.get_or_create(name=name, defaults={**sizes, **counts})
