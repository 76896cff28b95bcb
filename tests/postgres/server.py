"""A PostgreSQL server of the tests' own: made in a temporary folder, gone when they end."""

import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

POSTGRES_MISSING = (
    "the PostgreSQL server programs initdb and pg_ctl were not found. "
    "Debian: sudo apt-get install postgresql; Fedora: sudo dnf install postgresql-server; "
    "macOS: brew install postgresql"
)


def find_programs() -> Path | None:
    """The folder of initdb and pg_ctl: from PATH, else the newest where Debian and Homebrew put them."""
    if found := shutil.which("initdb"):
        return Path(found).resolve().parent
    places = [
        *Path("/usr/lib/postgresql").glob("*/bin/initdb"),
        *Path("/opt/homebrew/opt").glob("postgresql*/bin/initdb"),
    ]
    newest = max(places, key=lambda place: place.stat().st_mtime, default=None)
    return newest.parent if newest else None


@contextmanager
def running_server(programs: Path) -> Iterator[str]:
    """A server reached by its Unix socket only, as the DATABASE_URL to use; stopped at the end."""
    folder = Path(tempfile.mkdtemp(prefix="planner-pg-"))
    data, log = folder / "data", folder / "server.log"
    careless = "-c fsync=off -c synchronous_commit=off -c full_page_writes=off"  # it lives for minutes only
    options = f"-c listen_addresses='' -c unix_socket_directories='{folder}' {careless}"
    try:
        hand_over(folder)
        run(
            folder,
            programs / "initdb",
            "-D",
            data,
            "-U",
            "planner",
            "-A",
            "trust",
            "-E",
            "UTF8",
            "--locale=C",
            "-N",
        )
        run(folder, programs / "pg_ctl", "start", "-w", "-D", data, "-l", log, "-o", options)
        try:
            yield f"postgres://planner@/planner?host={folder}"
        finally:
            run(folder, programs / "pg_ctl", "stop", "-w", "-D", data, "-m", "immediate")
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def hand_over(folder: Path) -> None:
    """PostgreSQL refuses to run as root, so as root the folder and the server belong to the user postgres."""
    if is_root():
        shutil.chown(folder, "postgres", "postgres")


def run(folder: Path, *command: str | Path) -> None:
    """Runs one of the server's programs; what it wrote is shown if it fails."""
    account = {"user": "postgres", "group": "postgres", "extra_groups": []} if is_root() else {}
    with (folder / "programs.log").open("a+") as output:
        done = subprocess.run(command, cwd=folder, stdout=output, stderr=output, **account)
        output.seek(0)
        assert done.returncode == 0, output.read()


def is_root() -> bool:
    return hasattr(os, "geteuid") and os.geteuid() == 0
