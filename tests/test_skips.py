"""A test that lacks a program is skipped and says what to install; where every test must run, it fails."""

import os
import subprocess
import sys

import pytest
from django.conf import settings
from playwright.sync_api import Page

from tests.browser import BROWSER_MISSING, find_browser
from tests.office import OFFICE_MISSING, find_office

TEST_OF_BROWSER, TEST_OF_OFFICE = "test_the_browser_shows_a_page", "test_the_office_is_there"


def test_the_browser_shows_a_page(page: Page):
    page.set_content("<h1>Cut sheet</h1>")

    assert page.inner_text("h1") == "Cut sheet"


@pytest.mark.office
def test_the_office_is_there():
    assert find_office()


def test_without_a_browser_a_test_is_skipped_and_says_what_to_install():
    done = run_here(TEST_OF_BROWSER, CI="", REQUIRE_ALL_TESTS="")

    reason, summary = done.stdout.splitlines()[-2:]
    assert reason.endswith(f": {BROWSER_MISSING}")
    assert summary.startswith("1 skipped in ")
    assert done.returncode == 0


def test_where_every_test_must_run_those_without_their_program_fail():
    done = run_here(TEST_OF_BROWSER, TEST_OF_OFFICE, CI="", REQUIRE_ALL_TESTS="1")

    for missing in (BROWSER_MISSING, OFFICE_MISSING):
        assert f"every test must run here, but this one was skipped: Skipped: {missing}" in done.stdout
    assert "2 errors" in done.stdout
    assert done.returncode == 1


def test_a_browser_named_in_the_environment_comes_first(monkeypatch):
    monkeypatch.setenv("BROWSER_PATH", sys.executable)

    assert find_browser("") == sys.executable


def run_here(*tests: str, **environment: str) -> subprocess.CompletedProcess:
    """Runs some tests of this file by themselves where none of the programs they need is to be found."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith("PYTEST_")}
    return subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "-rs", "-n0", *(f"{__file__}::{test}" for test in tests)],
        cwd=settings.BASE_DIR,
        env={**kept, "BROWSER_PATH": "/no/such/browser", "OFFICE_PATH": "/no/such/office", **environment},
        capture_output=True,
        text=True,
    )
