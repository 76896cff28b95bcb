"""Gets a command of manage.py running on a fresh copy, with the standard library alone until Django is there.

Three cases, told apart in `run`:
    inside .venv                                  what pyproject.toml asks for is installed, once
    inside an environment of one's own            nothing is made; if it has Django, it is used as it is
    anywhere else                                 .venv is made, and the command starts again inside it
"""

import importlib.metadata
import json
import os
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterable
from pathlib import Path

from housing.config.installing import SetupProblem, install, make_environment

ROOT = Path(__file__).resolve().parents[2]
PROJECT = ROOT / "pyproject.toml"
VENV = ROOT / ".venv"
STAMP = VENV / "installed.json"
OLDEST_DJANGO = (6, 1)
# By command, what it takes beyond the planner.
EXTRAS = {"test": ("test",), "benchmark": ("test", "benchmark")}


def run(arguments: list[str]) -> int | str:
    """Carry out one command; returns an exit code, or the sentence to stop with."""
    command = arguments[0] if arguments else ""
    try:
        ready = make_ready(EXTRAS.get(command, ()))
    except SetupProblem as problem:
        return str(problem)
    except KeyboardInterrupt:
        return "\nStopped. The same command goes on where it stopped."
    if not ready:
        return start_again(arguments)
    if command == "test":
        return run_tests(arguments[1:])
    try:
        return run_django(arguments)
    except KeyboardInterrupt:  # packages may still be on their way in, or the work under way
        return "\nStopped."


def make_ready(extras: Iterable[str]) -> bool:
    """Make or find an environment with all that is wanted; False if the command must go on inside it."""
    wanted = requirements(PROJECT, extras)
    if is_same_place(Path(sys.prefix), VENV):
        if is_installed(STAMP, wanted):
            return True
        install(wanted, log=VENV / "install.log")
        write_stamp(STAMP, wanted)
        return False
    if has_django():
        refuse_if_lacking(wanted)
        return True
    if not venv_python().exists():
        make_environment(VENV)
    return False


# ---- What is wanted, and what is there -------------------------------------------------------------------


def requirements(project: Path, extras: Iterable[str]) -> list[str]:
    """The packages pyproject.toml asks for, with those of the named extras."""
    table = tomllib.loads(project.read_text(encoding="utf-8"))["project"]
    wanted = list(table["dependencies"])
    for extra in extras:
        wanted += table["optional-dependencies"][extra]
    return list(dict.fromkeys(wanted))


def package_name(requirement: str) -> str:
    """'psycopg[binary]~=3.3.9' is about 'psycopg'."""
    return re.split(r"[^\w.-]", requirement, maxsplit=1)[0]


def is_installed(stamp: Path, wanted: list[str]) -> bool:
    """Whether an install for this Python that covered all that is wanted has run to its end."""
    return set(wanted) <= set(read_stamp(stamp))


def read_stamp(stamp: Path) -> list[str]:
    """What was installed for this Python; nothing if no install ended, or another Python did it."""
    try:
        kept = json.loads(stamp.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return []
    return kept["requirements"] if kept["python"] == python_version() else []


def write_stamp(stamp: Path, wanted: list[str]) -> None:
    """Note what is installed now. Extras installed earlier count on if pyproject.toml still names them so."""
    earlier = set(read_stamp(stamp)) & set(every_requirement(PROJECT))
    kept = {"python": python_version(), "requirements": sorted(earlier | set(wanted))}
    stamp.write_text(json.dumps(kept, indent=1) + "\n", encoding="utf-8")


def every_requirement(project: Path) -> list[str]:
    """All that pyproject.toml names, with every extra."""
    table = tomllib.loads(project.read_text(encoding="utf-8"))["project"]
    return requirements(project, table["optional-dependencies"])


def python_version() -> str:
    """Packages installed for one minor version are of no use to another."""
    return f"{sys.version_info.major}.{sys.version_info.minor}"


def has_django() -> bool:
    """Whether this Python has a Django that is new enough."""
    version = installed_version("django")
    return version is not None and tuple(int(part) for part in version.split(".")[:2]) >= OLDEST_DJANGO


def installed_version(package: str) -> str | None:
    try:
        return importlib.metadata.version(package)
    except importlib.metadata.PackageNotFoundError:
        return None


def refuse_if_lacking(wanted: list[str]) -> None:
    """An environment of one's own is left alone, so what it lacks is named."""
    lacking = [each for each in wanted if installed_version(package_name(each)) is None]
    if lacking:
        quoted = " ".join(f'"{each}"' for each in lacking)
        raise SetupProblem(
            f"This Python has Django already ({sys.executable}), so no environment is made, but it lacks "
            f"{', '.join(map(package_name, lacking))}.\nInstall what is lacking, then type the same again:\n"
            f"  {sys.executable} -m pip install {quoted}"
        )


# ---- Going on --------------------------------------------------------------------------------------------


def is_same_place(one: Path, other: Path) -> bool:
    return one.resolve() == other.resolve()


def venv_python() -> Path:
    return VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def start_again(arguments: list[str]) -> int:
    """Run the same command with the Python of .venv."""
    command = [str(venv_python()), str(ROOT / "manage.py"), *arguments]
    if os.name == "nt":  # there execv gives the console back before the command has ended
        return subprocess.call(command)
    os.execv(command[0], command)


def run_django(arguments: list[str]) -> int | str:
    """Any command but `test` is Django's or the planner's own."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "housing.config.settings")
    from django.core.exceptions import ImproperlyConfigured
    from django.core.management import execute_from_command_line

    try:
        execute_from_command_line(["manage.py", *arguments])
    except ImproperlyConfigured as problem:
        return str(problem)
    return 0


def run_tests(arguments: list[str]) -> int:
    """All tests, spread over the cores, or those the arguments name; the arguments are pytest's."""
    import pytest

    os.chdir(ROOT)
    return int(
        pytest.main(
            arguments if picks_tests(arguments) else ["-n", "auto", "--dist", "loadgroup", *arguments]
        )
    )


def picks_tests(arguments: list[str]) -> bool:
    """Whether the arguments name files, or say themselves how to spread: then one process is quicker."""
    own_way = ("-n", "--numprocesses", "--pdb", "-p", "-k", "-m", "--collect-only", "--co")
    return any(each.startswith(own_way) or Path(each.split("::")[0]).exists() for each in arguments)
