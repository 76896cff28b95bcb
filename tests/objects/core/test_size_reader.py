"""Sizes read once: what was kept, or read by other processes, is what reading says."""

import multiprocessing
import os
import subprocess
import sys
import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from objects.core.dimensions import read_dimensions
from objects.core.size_reader import WORTH_SHARING, SizeReader

UNITS = st.sampled_from(["", "in", "cm", "mm"])
FIGURES = st.from_regex(r"[1-9][0-9]?( [1-7]/8|\.[0-9])?", fullmatch=True)
SIZES = st.builds(
    "{}{} x {} x {} {}".format,
    st.sampled_from(["", "H ", "ca. ", "Overall: ", "weighs 2 kg, "]),
    FIGURES,
    FIGURES,
    FIGURES,
    st.sampled_from(["", "cm", "in.", "mm", "(frame)"]),
)


@given(text=SIZES | st.text(max_size=40), unit=UNITS)
def test_a_size_that_was_kept_reads_as_it_did(text, unit):
    reader = SizeReader()
    first = reader.read(text, unit)

    again = SizeReader(reader.packed()).read(text, unit)

    assert first == again == read_dimensions(text, unit or None)


@pytest.fixture
def two_cores(monkeypatch):
    monkeypatch.setattr(os, "cpu_count", lambda: 2)


@pytest.mark.parametrize("number", [WORTH_SHARING - 1, WORTH_SHARING, WORTH_SHARING + 1])
def test_helpers_read_what_one_process_would(two_cores, number):
    texts = [(f"{n} x {n + 1} x 3 cm", "") for n in range(1, number + 1)]
    reader = SizeReader()

    with reader.with_helpers():
        reader.read_ahead(texts)

    assert [reader.read(*text) for text in texts] == [read_dimensions(text) for text, _ in texts]


def test_a_helper_that_was_killed_is_done_without(two_cores):
    texts = [(f"{n} x 2 x 3 cm", "") for n in range(1, WORTH_SHARING + 1)]
    reader = SizeReader()

    with reader.with_helpers():
        (helper,) = multiprocessing.active_children()
        helper.kill()
        helper.join()
        reader.read_ahead(texts)

    assert [reader.read(*text).dimensions.height_mm for text in texts] == [
        10 * n for n in range(1, WORTH_SHARING + 1)
    ]


@pytest.mark.skipif(not os.path.exists("/proc/self/task"), reason="looks for processes in /proc")
def test_helpers_end_with_the_process_that_started_them_however_it_ends(tmp_path):
    script = tmp_path / "starts_helpers.py"
    script.write_text(
        "import multiprocessing, os, time\n"
        "from objects.core.size_reader import SizeReader\n"
        "if __name__ == '__main__':\n"
        "    os.cpu_count = lambda: 2\n"
        "    with SizeReader().with_helpers():\n"
        "        print(multiprocessing.active_children()[0].pid, flush=True)\n"
        "        time.sleep(600)\n"
    )
    environment = {**os.environ, "PYTHONPATH": os.getcwd()}

    with subprocess.Popen(
        [sys.executable, script],
        env=environment,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
    ) as starter:
        helper = int(starter.stdout.readline())
        starter.kill()

    deadline = time.monotonic() + 30
    while _runs(helper) and time.monotonic() < deadline:
        time.sleep(0.1)
    assert not _runs(helper)


def _runs(process: int) -> bool:
    """Whether it runs still; one that ended but was not collected yet does not."""
    try:
        with open(f"/proc/{process}/stat") as state:
            return state.read().rpartition(")")[2].split()[0] != "Z"
    except FileNotFoundError:
        return False
