"""Makes .venv and fills it with pip, showing that something happens; the standard library alone."""

import importlib.util
import re
import shutil
import subprocess
import sys
import time
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TextIO

LINE_WIDTH = 90

VENV_MISSING = """\
This Python ({python}) cannot make an environment: its module venv or ensurepip is missing.
On Debian and Ubuntu install it, then type the same again:
  sudo apt-get install python3-venv"""

SIGNS_OF_NO_NETWORK = ("ConnectionError", "NameResolutionError", "Timeout", "ProxyError", "SSLError")
NO_NETWORK = (
    "The package index cannot be reached. Look at the network connection; behind a proxy, set HTTPS_PROXY."
)
PIP_FAILED = "pip could not install the packages; the lines above say why."


class SetupProblem(Exception):
    """The planner cannot be made ready; the message says why and what to do."""


def make_environment(venv: Path) -> None:
    """Step 1: an empty environment, in place of one whose Python is gone."""
    if any(importlib.util.find_spec(module) is None for module in ("venv", "ensurepip")):
        raise SetupProblem(VENV_MISSING.format(python=sys.executable))
    with timed(f"[1/3] Making an environment in {venv.name}"):
        made = quietly(sys.executable, "-m", "venv", "--clear", str(venv))
        if made.returncode:
            shutil.rmtree(venv, ignore_errors=True)
            raise SetupProblem(f"\n{made.stdout}\nThe environment {venv} could not be made.")


def install(wanted: list[str], log: Path) -> None:
    """Steps 2 and 3: have pip fetch and unpack what is wanted into the environment this runs in."""
    repair_pip()
    print(f"[2/3] Fetching {len(wanted)} packages and what they rest on:", flush=True)
    options = ["--no-input", "--disable-pip-version-check", "--progress-bar", "off"]
    if not sys.dont_write_bytecode:
        options.append("--no-compile")  # Python compiles, and keeps, what is imported: far less than all
    command = [sys.executable, "-m", "pip", "install", *options, *wanted]
    with (
        log.open("w", encoding="utf-8") as file,
        subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True) as pip,
    ):
        show_progress(copied(pip.stdout or (), file))
    if pip.returncode:
        raise SetupProblem(explain(log))


def repair_pip() -> None:
    """An environment whose making was interrupted has no pip, or half of one."""
    if quietly(sys.executable, "-m", "pip", "--version").returncode == 0:
        return
    if quietly(sys.executable, "-m", "ensurepip", "--upgrade").returncode:
        raise SetupProblem(f"{sys.prefix} is not whole. Delete that folder, then type the same again.")


def quietly(*command: str) -> subprocess.CompletedProcess[str]:
    """Run a command whose output is looked at only if it fails."""
    return subprocess.run(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)


# ---- What is shown meanwhile -----------------------------------------------------------------------------


@contextmanager
def timed(what: str) -> Iterator[None]:
    """Say what starts, and how long it took once it ends."""
    started = time.monotonic()
    print(f"{what} ...", end=" ", flush=True)
    yield
    print(f"done in {time.monotonic() - started:.0f} s", flush=True)


def copied(lines: Iterable[str], file: TextIO) -> Iterator[str]:
    """The lines as they come, each kept in the file too."""
    for line in lines:
        file.write(line)
        yield line


def show_progress(lines: Iterator[str]) -> None:
    """Name each package when pip comes to it, then say how many are unpacked and how long that takes."""
    column = 0
    for line in lines:
        if count := packages_to_unpack(line):
            print()
            with timed(f"[3/3] Unpacking {count} packages"):
                for _ in lines:
                    pass
            return
        if word := package_in(line):
            if column + len(word) > LINE_WIDTH:
                print(",")
                column = 0
            print(", " if column else "      ", word, sep="", end="", flush=True)
            column += len(word) + 2
    print()


def package_in(line: str) -> str | None:
    """The package a line of pip's is about, with the size of one that takes a while; None for other lines."""
    if found := re.match(r"(?:Collecting|Requirement already satisfied:) ([\w.-]+)", line):
        return found[1]
    if found := re.match(r"\s*Downloading (?:\S+/)?([\w.]+)-\S+(?<!\.metadata) \((\d.* [MG]B)\)", line):
        return f"{found[2]} of {found[1]}"
    if "Retrying" in line:
        return "(no answer, trying again)"
    return None


def packages_to_unpack(line: str) -> int:
    """How many packages pip is about to unpack; 0 for any other line."""
    if not line.startswith("Installing collected packages: "):
        return 0
    return line.count(",") + 1


def explain(log: Path) -> str:
    """The end of pip's log, then what to do about it."""
    lines = log.read_text(encoding="utf-8").splitlines()
    unreachable = any(sign in line for line in lines for sign in SIGNS_OF_NO_NETWORK)
    tail = "\n".join(f"  | {line[:120]}" for line in lines[-8:])
    return (
        f"{tail}\n{NO_NETWORK if unreachable else PIP_FAILED}\n"
        f"Then type the same command again: it goes on where it stopped. pip's full log: {log}"
    )
