"""Runs the tests marked any_database once more, on a real PostgreSQL."""

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from xml.etree import ElementTree

import pytest
from django.conf import settings
from django.db import connection

from tests.postgres.server import POSTGRES_MISSING, find_programs, running_server

LEAST_TESTS = 50  # about as many as carry the marker; a lost marker must not pass unseen


@pytest.fixture(scope="session")
def postgres_url() -> Iterator[str]:
    if (programs := find_programs()) is None:
        pytest.skip(POSTGRES_MISSING)
    with running_server(programs) as url:
        yield url


@pytest.mark.any_database
@pytest.mark.django_db
def test_the_database_in_use_is_the_one_that_was_named():
    named = os.environ.get("DATABASE_URL", "sqlite:///")

    assert connection.vendor == {"postgres": "postgresql", "sqlite": "sqlite"}[named.split(":")[0]]


@pytest.mark.postgres
def test_what_holds_on_sqlite_holds_on_postgresql(postgres_url: str, tmp_path: Path):
    report = tmp_path / "report.xml"
    command = [sys.executable, "-m", "pytest", "-q", "-n0", "-m", "any_database"]
    environment = {name: value for name, value in os.environ.items() if not name.startswith("PYTEST_")}

    done = subprocess.run(
        [*command, "--create-db", f"--junitxml={report}"],
        cwd=settings.BASE_DIR,
        env={**environment, "DATABASE_URL": postgres_url, "SECRET_KEY": settings.SECRET_KEY},
        capture_output=True,
        text=True,
    )

    counts = ElementTree.parse(report).getroot().find("testsuite").attrib
    assert done.returncode == 0, done.stdout
    assert counts["skipped"] == "0"
    assert int(counts["tests"]) >= LEAST_TESTS
