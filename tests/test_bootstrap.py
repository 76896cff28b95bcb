"""manage.py on a fresh copy: old Pythons, what is to be installed, and what is seen meanwhile."""

import json
import subprocess
import sys
from pathlib import Path

import pytest
from django.conf import settings

import manage
from housing.config import bootstrap, installing
from housing.config.installing import SetupProblem

ROOT = Path(settings.BASE_DIR)


@pytest.fixture
def project(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A pyproject.toml with one package, one more for the tests and one for the benchmark."""
    file = tmp_path / "pyproject.toml"
    file.write_text(
        '[project]\ndependencies = ["django~=6.1"]\n'
        '[project.optional-dependencies]\npostgres = ["psycopg[binary]~=3.3"]\ntest = ["pytest~=9.2"]\n'
        'benchmark = ["rectpack~=0.2"]\n'
    )
    monkeypatch.setattr(bootstrap, "PROJECT", file)
    return file


# ---- Old Pythons -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("version", [(3, 12, 0), (3, 13, 0), (4, 0, 0)])
def test_a_python_from_3_12_on_will_do(version: tuple[int, int, int]):
    assert manage.version_problem(version, "python3", ["demo"]) is None


@pytest.mark.parametrize("version", [(2, 7, 18), (3, 9, 2), (3, 11, 7)])
def test_an_older_python_is_told_what_is_needed_and_what_to_type(version: tuple[int, int, int]):
    sentence = manage.version_problem(version, "/usr/bin/python3", ["demo", "--no-serve"])

    assert sentence == (
        f"The planner needs Python 3.12 or newer, and this is Python {version[0]}.{version[1]} "
        "(/usr/bin/python3). Get a newer one from https://www.python.org/downloads/ or from your system's "
        "packages, then type for example: python3.13 manage.py demo --no-serve"
    )


def test_manage_py_holds_nothing_that_python_2_cannot_read():
    # PEP 498 (f-strings, 3.6), PEP 3107 (annotations, 3.0), PEP 572 (:=, 3.8), PEP 3120 (UTF-8 source, 3.0)
    source = (ROOT / "manage.py").read_bytes()

    assert source.isascii()
    assert [
        mark for mark in (b' f"', b"(f'", b'(f"', b" -> ", b":=", b"import annotations") if mark in source
    ] == []


# ---- What is wanted and what is there --------------------------------------------------------------------


def test_the_packages_are_read_from_the_project_file(project: Path):
    assert bootstrap.requirements(project, ()) == ["django~=6.1"]
    assert bootstrap.requirements(project, ("test",)) == ["django~=6.1", "pytest~=9.2"]


@pytest.mark.parametrize(
    ("arguments", "wanted"),
    [
        ([], ["django~=6.1"]),
        (["demo"], ["django~=6.1"]),
        (["test", "-q"], ["django~=6.1", "pytest~=9.2"]),
        (["benchmark", "nesting"], ["django~=6.1", "pytest~=9.2", "rectpack~=0.2"]),
    ],
)
def test_a_command_gets_the_packages_it_takes(
    arguments: list[str], wanted: list[str], project: Path, monkeypatch: pytest.MonkeyPatch
):
    asked: list[str] = []
    monkeypatch.setattr(
        bootstrap, "make_ready", lambda extras: asked.extend(bootstrap.requirements(project, extras))
    )
    monkeypatch.setattr(bootstrap, "start_again", lambda arguments: 0)

    bootstrap.run(arguments)

    assert asked == wanted


@pytest.mark.parametrize(
    ("requirement", "name"),
    [("django~=6.1.3", "django"), ("psycopg[binary]~=3.3", "psycopg"), ("django-tables2", "django-tables2")],
)
def test_a_requirement_names_a_package(requirement: str, name: str):
    assert bootstrap.package_name(requirement) == name


def test_nothing_is_installed_before_a_stamp_is_written(tmp_path: Path):
    assert not bootstrap.is_installed(tmp_path / "installed.json", ["django~=6.1"])


def test_what_a_stamp_names_is_installed(tmp_path: Path, project: Path):
    bootstrap.write_stamp(tmp_path / "installed.json", ["django~=6.1"])

    assert bootstrap.is_installed(tmp_path / "installed.json", ["django~=6.1"])
    assert not bootstrap.is_installed(tmp_path / "installed.json", ["django~=6.1", "pytest~=9.2"])


def test_the_packages_for_tests_stay_installed_when_the_planner_changes(tmp_path: Path, project: Path):
    bootstrap.write_stamp(tmp_path / "installed.json", ["django~=6.1", "pytest~=9.2"])
    project.write_text(project.read_text().replace("django~=6.1", "django~=6.2"))

    bootstrap.write_stamp(tmp_path / "installed.json", ["django~=6.2"])

    assert bootstrap.read_stamp(tmp_path / "installed.json") == ["django~=6.2", "pytest~=9.2"]


@pytest.mark.parametrize(
    "text",
    ["", "{", json.dumps({"python": "3.11", "requirements": ["django~=6.1"]})],
    ids=["empty", "torn", "other"],
)
def test_a_torn_stamp_or_one_of_another_python_counts_for_nothing(tmp_path: Path, text: str):
    (tmp_path / "installed.json").write_text(text)

    assert not bootstrap.is_installed(tmp_path / "installed.json", ["django~=6.1"])


def test_an_environment_of_ones_own_is_told_what_it_lacks():
    with pytest.raises(SetupProblem) as problem:
        bootstrap.refuse_if_lacking(["django~=6.1", "no-such-package~=1.0"])

    assert str(problem.value).endswith(f'{sys.executable} -m pip install "no-such-package~=1.0"')


@pytest.mark.parametrize(
    ("arguments", "picks"),
    [
        ([], False),
        (["-q"], False),
        (["-x", "--lf"], False),
        (["tests/test_layout.py::test_x"], True),
        (["-n0"], True),
    ],
)
def test_tests_are_spread_over_the_cores_unless_some_are_picked(
    arguments: list[str], picks: bool, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.chdir(ROOT)

    assert bootstrap.picks_tests(arguments) == picks


# ---- What is seen meanwhile ------------------------------------------------------------------------------

# What pip 24.2 writes, shortened.
PIP_LINES = """\
Collecting django~=6.1.3
  Downloading django-6.1.3-py3-none-any.whl.metadata (3.9 kB)
Collecting asgiref>=3.9.1 (from django~=6.1.3)
  Using cached asgiref-3.13.0-py3-none-any.whl (27 kB)
Requirement already satisfied: segno~=1.6.6 in ./lib/python3.13/site-packages (1.6.6)
Downloading django-6.1.3-py3-none-any.whl (8.4 MB)
Installing collected packages: asgiref, django
Successfully installed asgiref-3.13.0 django-6.1.3
"""


def test_each_package_is_named_while_pip_works(capsys: pytest.CaptureFixture):
    installing.show_progress(iter(PIP_LINES.splitlines(keepends=True)))

    assert capsys.readouterr().out.splitlines() == [
        "      django, asgiref, segno, 8.4 MB of django",
        "[3/3] Unpacking 2 packages ... done in 0 s",
    ]


def test_long_lists_of_packages_are_wrapped(capsys: pytest.CaptureFixture):
    installing.show_progress(iter(["Collecting a-package-of-twenty\n"] * 6))

    assert [len(line) <= installing.LINE_WIDTH + 10 for line in capsys.readouterr().out.splitlines()] == [
        True,
        True,
    ]


def test_without_a_network_the_reason_and_the_next_step_are_said(tmp_path: Path):
    log = tmp_path / "install.log"
    log.write_text(
        "Retrying ... NewConnectionError: Failed to establish a new connection\nERROR: No matching\n"
    )

    sentence = installing.explain(log)

    assert sentence == (
        "  | Retrying ... NewConnectionError: Failed to establish a new connection\n"
        "  | ERROR: No matching\n"
        "The package index cannot be reached. Look at the network connection; "
        "behind a proxy, set HTTPS_PROXY.\n"
        f"Then type the same command again: it goes on where it stopped. pip's full log: {log}"
    )


def test_debians_python_without_venv_is_told_what_to_install(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("importlib.util.find_spec", lambda module: None)

    with pytest.raises(SetupProblem, match="sudo apt-get install python3-venv"):
        installing.make_environment(tmp_path / ".venv")


def test_a_fresh_copy_makes_an_environment_then_goes_on_inside_it(tmp_path: Path):
    copy = fresh_copy(tmp_path)

    first = start(copy, "check")

    # No index is named, so pip finds nothing; what matters is how far it came and what is said.
    assert first.stdout.splitlines()[0].startswith("[1/3] Making an environment in .venv ... done in ")
    wanted = len(bootstrap.requirements(bootstrap.PROJECT, ()))
    assert first.stdout.splitlines()[1] == f"[2/3] Fetching {wanted} packages and what they rest on:"
    assert first.returncode == 1
    assert "Then type the same command again" in first.stderr
    assert not (copy / ".venv" / "installed.json").exists()


def fresh_copy(folder: Path) -> Path:
    """The files a clone has that make the environment."""
    copy = folder / "planner"
    (copy / "housing" / "config").mkdir(parents=True)
    for name in ("manage.py", "pyproject.toml", "housing/__init__.py", "housing/config/__init__.py"):
        (copy / name).write_bytes((ROOT / name).read_bytes())
    for name in ("bootstrap.py", "installing.py"):
        (copy / "housing/config" / name).write_bytes((ROOT / "housing/config" / name).read_bytes())
    return copy


def start(copy: Path, *arguments: str) -> subprocess.CompletedProcess:
    """Runs manage.py with a Python that has no package, cut off from every package index."""
    return subprocess.run(
        [sys._base_executable, "-s", str(copy / "manage.py"), *arguments],
        env={"PIP_NO_INDEX": "1", "PIP_CONFIG_FILE": "/dev/null", "HOME": str(copy)},
        capture_output=True,
        text=True,
    )


def test_a_command_stopped_while_packages_come_in_says_so(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(bootstrap, "make_ready", lambda extras: True)
    monkeypatch.setattr(bootstrap, "run_django", stopped_by_hand)

    assert bootstrap.run(["demo"]) == "\nStopped."


def stopped_by_hand(arguments: list[str]) -> int:
    raise KeyboardInterrupt
