"""A test that lacks its browser is skipped and says what to install; where every test must run, it fails."""

import os
import subprocess
import sys

from django.conf import settings
from playwright.sync_api import Page

from tests.browser import BROWSER_MISSING, find_browser


def test_the_browser_shows_a_page(page: Page):
    page.set_content("<h1>Cut sheet</h1>")

    assert page.inner_text("h1") == "Cut sheet"


def test_without_a_browser_a_test_is_skipped_and_says_what_to_install():
    done = browser_test_without_browser(CI="", REQUIRE_ALL_TESTS="")

    reason, summary = done.stdout.splitlines()[-2:]
    assert reason.endswith(f": {BROWSER_MISSING}")
    assert summary.startswith("1 skipped in ")
    assert done.returncode == 0


def test_where_every_test_must_run_one_without_a_browser_fails():
    done = browser_test_without_browser(CI="", REQUIRE_ALL_TESTS="1")

    assert f"every test must run here, but this one was skipped: Skipped: {BROWSER_MISSING}" in done.stdout
    assert done.returncode == 1


def test_a_browser_named_in_the_environment_comes_first(monkeypatch):
    monkeypatch.setenv("BROWSER_PATH", sys.executable)

    assert find_browser("") == sys.executable


def browser_test_without_browser(**environment: str) -> subprocess.CompletedProcess:
    """Runs the first test of this file where no browser is to be found."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith("PYTEST_")}
    return subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "-rs", "-n0", f"{__file__}::test_the_browser_shows_a_page"],
        cwd=settings.BASE_DIR,
        env={**kept, "BROWSER_PATH": "/no/such/browser", **environment},
        capture_output=True,
        text=True,
    )
