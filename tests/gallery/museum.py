"""The demo museum, loaded once for all tests of a run and served from a copy to each process that asks."""

import fcntl
import os
import shutil
import socket
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path
from time import sleep
from urllib.error import URLError
from urllib.request import urlopen

from django.conf import settings
from playwright.sync_api import BrowserContext

from housing.management.demo_collection import PASSWORD

MANAGE = Path(settings.BASE_DIR) / "manage.py"


@dataclass(frozen=True)
class Museum:
    """The served demo: where, and its records."""

    url: str
    folder: Path

    def key(self, table: str, where: str = "") -> int | str:
        """The key of a table's first record that meets a condition; what it lacks is a fault of the demo."""
        column = "code" if table.startswith("code of ") else "id"
        table = table.removeprefix("code of ")
        rows = self.rows(
            f"SELECT {column} FROM {table}{f' WHERE {where}' if where else ''} ORDER BY id LIMIT 1"
        )
        if not rows:
            raise LookupError(f"the demo has no {table} {where}".rstrip())
        return rows[0][0]

    def rows(self, sql: str) -> list[tuple]:
        with closing(sqlite3.connect(self.folder / "planner.sqlite3")) as records:
            return records.execute(sql).fetchall()

    def sign_in(self, context: BrowserContext, role: str = "manager") -> None:
        page = context.new_page()
        page.goto(f"{self.url}/accounts/login/")
        page.locator("input[name=username]").fill(role)
        page.locator("input[name=password]").fill(PASSWORD)
        page.locator("main button[type=submit]").click()
        page.wait_for_url(f"{self.url}/")
        page.close()


def load_once(shared: Path) -> Path:
    """The folder of the loaded demo: the first process that asks loads it, others wait until it is there."""
    folder = shared / "demo"
    with (shared / "demo.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not (folder / "loaded").exists():
            _manage(folder, "demo", "--no-serve")
            (folder / "loaded").touch()
    return folder


@contextmanager
def served(loaded: Path, folder: Path) -> Iterator[Museum]:
    """A copy of the loaded demo, served on a free port until the block ends."""
    shutil.copytree(loaded, folder)
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    server = subprocess.Popen(
        [sys.executable, MANAGE, "runserver", f"127.0.0.1:{port}", "--noreload", "--verbosity=0"],
        env=_environment(folder), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
    )  # fmt: skip
    try:
        _wait_for(server, f"http://127.0.0.1:{port}/accounts/login/")
        yield Museum(f"http://127.0.0.1:{port}", folder)
    finally:
        server.terminate()
        server.wait(20)


def _wait_for(server: subprocess.Popen, address: str) -> None:
    for _ in range(600):
        try:
            urlopen(address).close()
            return
        except URLError:
            if server.poll() is not None:
                break
            sleep(0.1)
    raise AssertionError("the demo's server did not start")


def _manage(folder: Path, *arguments: str) -> None:
    subprocess.run(
        [sys.executable, MANAGE, *arguments], env=_environment(folder), check=True, stdout=subprocess.DEVNULL
    )


def _environment(folder: Path) -> dict[str, str]:
    """That of a newcomer's copy, with records and files in a folder of their own."""
    kept = {name: value for name, value in os.environ.items() if name not in ("DATABASE_URL", "DEBUG")}
    return {**kept, "VAR_DIR": str(folder), "DJANGO_SETTINGS_MODULE": "housing.config.settings"}
