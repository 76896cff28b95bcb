"""Presses: processes that set the pieces of a print side by side, watched by the one that asked for it."""

import json
import logging
import os
import subprocess
import sys
from collections.abc import Callable, Sequence
from concurrent.futures import FIRST_COMPLETED, ThreadPoolExecutor, wait
from pathlib import Path
from queue import SimpleQueue

from django.conf import settings
from django.db import connection

from housing.printing.addresses import site_addresses
from housing.printing.asked import Asked
from housing.printing.pieces import PrintRefused, set_piece
from objects.core import words

log = logging.getLogger(__name__)

LOOK_SECONDS = 0.5  # between two looks at whether the print is cancelled
MOST_PRESSES = 4  # by themselves: each takes up to 250 MB
TRIES = 2  # of a piece whose process was ended from outside, for want of memory perhaps


class PressFailed(Exception):
    """A piece could not be set for an unforeseen reason; the message is for the log."""


class Press:
    """A process that sets pieces, begun when the first is asked for and anew when it has grown too large."""

    def __init__(self) -> None:
        self._where = _where()
        self._process: subprocess.Popen[str] | None = None
        self._is_stopped = False

    def set(self, piece: Asked, folder: Path, language: str) -> str:
        """The name of a piece's file in the folder; raises PrintRefused, or PressFailed."""
        asked = {"piece": piece.kept(), "folder": str(folder), "language": language}
        for _ in range(TRIES):
            answer = self._ask(asked)
            if answer or self._is_stopped:
                break
        if "file" in answer:
            return answer["file"]
        if "refused" in answer:
            raise PrintRefused(answer["refused"])
        raise PressFailed(answer.get("failed", "the process that sets the pages was ended from outside"))

    def stop(self) -> None:
        """End the process at once, from any thread."""
        self._is_stopped = True
        if self._process:
            self._process.kill()

    def leave(self) -> None:
        """Let the process end, and wait for it."""
        if self._process:
            self._process.kill()
            self._process.communicate()
            self._process = None

    def _ask(self, asked: dict) -> dict:
        """The answer to one piece; empty where the process ended without one."""
        if self._is_stopped:
            return {}
        process = self._process = self._process or _begun(self._where)
        try:
            process.stdin.write(json.dumps(asked) + "\n")
            process.stdin.flush()
            line = process.stdout.readline()
        except (OSError, ValueError):
            line = ""
        answer = json.loads(line) if line else {}
        if not answer or answer["peak_mb"] > settings.PRINT_MEMORY_MB:
            self.leave()
        return answer


def _where() -> dict:
    """What a process must be told before it can print what this one sees."""
    return {
        "database": records_name(),
        "media": str(settings.MEDIA_ROOT),
        "addresses": site_addresses(),
    }


def _begun(where: dict) -> subprocess.Popen[str]:
    """A process that is told which records to read. Only this process holds the other end of its input."""
    process = subprocess.Popen(
        [sys.executable, "-m", "housing.printing.setting"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        encoding="utf-8",
        cwd=settings.BASE_DIR,
    )
    process.stdin.write(json.dumps(where) + "\n")
    return process


def records_name() -> str:
    """The name of the database in use, which in a test is not that of the settings."""
    return str(connection.settings_dict["NAME"])


def number_of_presses(pieces: int) -> int:
    """How many processes set so many pieces; 0 for this one alone, where others would not see its records."""
    if connection.in_atomic_block or (connection.vendor == "sqlite" and connection.is_in_memory_db()):
        return 0
    asked = settings.PRINT_PROCESSES
    return min(_cores_free_to_use() if asked is None else asked, pieces)


def _cores_free_to_use() -> int:
    return min(
        MOST_PRESSES, os.process_cpu_count() if hasattr(os, "process_cpu_count") else os.cpu_count() or 1
    )


def set_all(pieces: Sequence[Asked], folder: Path, tell: Callable[[int], None]) -> list[str]:
    """Have the files of all pieces in a folder; returns their names there in the order of the pieces.

    tell: called with the number of records printed so far, at every look; what it raises ends the work, and
    the pieces that are finished stay.
    """
    presses = [Press() for _ in range(number_of_presses(len(pieces)))]
    if not presses:
        return set_here(pieces, folder, tell)
    idle: SimpleQueue[Press] = SimpleQueue()
    for press in presses:
        idle.put(press)
    language = words.spoken()

    def on_any_press(piece: Asked) -> str:
        press = idle.get()
        try:
            return press.set(piece, folder, language)
        finally:
            idle.put(press)

    threads = ThreadPoolExecutor(len(presses), thread_name_prefix="press")
    try:
        found = {threads.submit(on_any_press, piece): piece for piece in pieces}
        pending = set(found)
        tell(0)
        while pending:
            done, pending = wait(pending, LOOK_SECONDS, FIRST_COMPLETED)
            for one in done:
                one.result()
            tell(sum(len(found[one].keys) for one in found.keys() - pending))
        return [one.result() for one in found]
    finally:
        for press in presses:
            press.stop()
        threads.shutdown(cancel_futures=True)
        for press in presses:
            press.leave()


def set_here(pieces: Sequence[Asked], folder: Path, tell: Callable[[int], None]) -> list[str]:
    names, printed = [], 0
    for piece in pieces:
        tell(printed)
        names.append(set_piece(piece, folder))
        printed += len(piece.keys)
    return names
