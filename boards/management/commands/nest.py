"""Lays the blanks of an instance file on sheets, and writes the cutting plan to a file."""

import math
import os
import signal
import sys
import threading
import time
from collections import Counter
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from boards.core.nesting import Layout, Piece, Rules, Sheet, Standing, bound, check, layout_cost, nest
from boards.core.nesting.errors import NestingError
from boards.core.nesting.instance_file import VARIANTS, InstanceRefused, Question, read_question
from boards.core.nesting.plan_file import plan_text
from boards.core.nesting.shapes import size_text

REFUSED, BROKEN, STOPPED = 2, 1, 130


class Command(BaseCommand):
    help = "Lays the blanks of an instance file on sheets for the least money, and writes the cutting plan."
    requires_system_checks: list[str] = []  # nothing needs the database

    def add_arguments(self, parser) -> None:
        parser.add_argument("instance", metavar="INSTANCE.json", type=Path, help="Blanks, sheets and rules.")
        parser.add_argument("--output", metavar="PLAN.json", type=Path, required=True, help="Where to write.")
        parser.add_argument(
            "--time-limit", metavar="S", default="10", help="Seconds of search; 10 if not said."
        )
        parser.add_argument("--seed", metavar="N", type=int, default=0, help="The same one, the same plan.")
        parser.add_argument("--corners", action="store_true", help="Cut small blanks from waste corners too.")
        parser.add_argument("--pick", metavar="ID", help="Of a class pack, the instance.")
        parser.add_argument("--variant", choices=VARIANTS, help="Of a class pack, how items may lie.")
        parser.add_argument("--progress", action="store_true", help="A line a second on how it stands.")

    def execute(self, *args, **options):
        """As other commands, but a refusal is the sentence alone, and Ctrl+C gets one as well."""
        try:
            return super().execute(*args, **options)
        except KeyboardInterrupt:
            problem = CommandError("Stopped before there was a plan; nothing is written.", returncode=STOPPED)
        except CommandError as error:
            problem = error
        if not getattr(self, "_called_from_command_line", False):
            raise problem
        self.stderr.write(str(problem))
        sys.exit(problem.returncode)

    def handle(self, *args, **given) -> None:
        seconds = _seconds(given["time_limit"])
        output = _writable(given["output"], given["instance"])
        question = _question(given)
        _compile()
        watching = Watching(self.stderr.write if given["progress"] else None)
        with watching:
            try:
                layout = nest(*_asked(question), given["seed"], seconds, watching)
            except NestingError as refused:
                raise _refusal(given["instance"], str(refused)) from refused
        took = time.monotonic() - watching.begun
        _refuse_incomplete(question, layout, given["instance"])
        if faults := check(layout, *_asked(question)):
            raise CommandError(
                f"The plan breaks a rule, which is a fault of this program ({faults[0].rstrip('.')}); "
                f"nothing is written, so please report it with the instance and --seed {given['seed']}.",
                returncode=BROKEN,
            )
        _write(output, plan_text(question, layout, given["seed"]))
        if watching.is_asked:
            self.stdout.write("Stopped early, as asked; this is the best plan so far.")
        for line in _summary(question, layout):
            self.stdout.write(_printable(line, self.stdout))
        self.stdout.write(_printable(f"{took:.1f} s, seed {given['seed']}; written to {output}", self.stdout))


class Watching:
    """Looks on while a search runs: tells how it stands once a second, and lets Ctrl+C end it with its best.

    The second Ctrl+C ends the command. Ctrl+C is as before once the search is over.
    """

    def __init__(self, write: Callable[[str], Any] | None) -> None:
        self.write, self.is_asked = write, False
        self.begun = self.told = time.monotonic()

    def __enter__(self) -> None:
        self.begun = self.told = time.monotonic()
        if threading.current_thread() is threading.main_thread():
            self.before = signal.signal(signal.SIGINT, self._ask)

    def __exit__(self, *args) -> None:
        if threading.current_thread() is threading.main_thread():
            signal.signal(signal.SIGINT, self.before)

    def _ask(self, *args) -> None:
        if self.is_asked:
            raise KeyboardInterrupt
        self.is_asked = True

    def __call__(self, standing: Standing) -> bool:
        now = time.monotonic()
        if self.write and now >= self.told + 1:
            self.told = now
            self.write(
                f"{now - self.begun:.0f} s: {_count(standing.sheets, 'sheet')}, cost {standing.cost:f}, "
                f"{standing.share:.0%} of the search done"
            )
        return self.is_asked


# ---- Before the search -----------------------------------------------------------------------------------


def _seconds(given: str | float) -> float:
    try:
        seconds = float(given)
    except ValueError:
        seconds = math.nan
    if not 0 < seconds < math.inf:
        raise CommandError(
            f"--time-limit is {given}; it must be a number of seconds above 0, such as 10.",
            returncode=REFUSED,
        )
    return seconds


def _writable(output: Path, instance: Path) -> Path:
    """Where the plan is written, a link followed; refused before the search rather than after it."""
    if output.is_dir():
        fault = f"--output {output} is a folder; give the name of a file in it."
    elif output.exists() and not output.is_file():
        fault = f"--output {output} is no file; give the name of one."
    elif output.exists() and instance.exists() and output.samefile(instance):
        fault = f"--output {output} is the instance itself; write elsewhere."
    elif not output.parent.is_dir():
        fault = f"There is no folder {output.parent}; make it, or write elsewhere."
    elif not os.access(output.parent, os.W_OK):
        fault = f"The folder {output.parent} cannot be written; allow it, or write elsewhere."
    else:
        return output.resolve()
    raise CommandError(fault, returncode=REFUSED)


def _question(given: dict[str, Any]) -> Question:
    path = given["instance"]
    try:
        text = path.read_bytes().decode("utf-8-sig")
        return read_question(text, given["corners"], given["pick"], given["variant"])
    except FileNotFoundError:
        fault = "there is no such file; look at the name and the folder."
    except IsADirectoryError:
        fault = "this is a folder; give the name of a file in it."
    except OSError as error:
        fault = f"it cannot be read ({error.strerror}); look at the file and who may read it."
    except UnicodeDecodeError as error:
        fault = f"this is no text in UTF-8 from byte {error.start + 1} on; save it as UTF-8."
    except InstanceRefused as refused:
        fault = str(refused)
    raise _refusal(path, fault)


def _refusal(path: Path, fault: str) -> CommandError:
    return CommandError(f"{path}: {fault}", returncode=REFUSED)


def _asked(question: Question) -> tuple[tuple[Piece, ...], tuple[Sheet, ...], Rules]:
    return question.pieces, question.sheets, question.rules


def _compile() -> None:
    """Have the search compiled, which a fresh copy does at its first use, before its time counts.

    The four blanks round a fifth fit a sheet, but no cuts from edge to edge set them free, so that no first
    plan is good enough and the search begins.
    """
    sides = ((2, 1), (1, 2), (2, 1), (1, 2), (1, 1))
    pieces = [Piece(str(n), *pair, corners=((0.5, 0.5),) * 4) for n, pair in enumerate(sides)]
    nest(pieces, [Sheet("", 3, 3, Decimal(1))], Rules(use_corners=True))


# ---- After the search ------------------------------------------------------------------------------------


def _refuse_incomplete(question: Question, layout: Layout, path: Path) -> None:
    """Name the first blank that lies on no sheet, and count the others."""
    if not layout.unplaced:
        return
    key, others = layout.unplaced[0].key, len(layout.unplaced) - 1
    piece = next(piece for piece in question.pieces if piece.key == key)
    size = size_text(piece.along_mm, piece.across_mm)
    more = f" and {_count(others, 'blank')} more find" if others else " finds"
    raise _refusal(
        path,
        f"part {question.part_ids[key]}, {size},{more} no room, since the sheets in stock are used up; "
        'nothing is written, so raise "stock" or take parts out.',
    )


def _write(output: Path, text: str) -> None:
    """Write a file as a whole or not at all."""
    beside = output.with_name(f".{output.name[:100]}.{os.getpid()}")
    try:
        try:
            beside.write_text(text, encoding="utf-8")
            os.replace(beside, output)
        finally:
            beside.unlink(missing_ok=True)
    except OSError as error:
        raise CommandError(
            f"{output} cannot be written ({error.strerror}); make room or write elsewhere.",
            returncode=REFUSED,
        ) from error


def _summary(question: Question, layout: Layout) -> list[str]:
    blanks, sheets = _count(len(question.pieces), "blank"), _count(len(layout.sheets), "sheet")
    used = Counter(sheet.sheet_key for sheet in layout.sheets)
    sizes = [
        f"{used[sheet.key]} x {sheet.key} ({size_text(sheet.along_mm, sheet.across_mm)})"
        for sheet in question.sheets
        if used[sheet.key]
    ]
    lines = [
        f"{blanks} on {sheets}: {', '.join(sizes)}",
        f"cost {_cost_text(layout_cost(layout, question.sheets), bound(*_asked(question)).cost)}",
    ]
    if question.rules.use_corners:
        hosted = sum(placed.host is not None for sheet in layout.sheets for placed in sheet.placements)
        lines.append(f"{_count(hosted, 'blank')} cut from waste corners")
    return lines


def _cost_text(cost: Decimal, least: Decimal) -> str:
    if cost <= least:
        return f"{cost:f}, the least possible"
    if not least:
        return f"{cost:f}; nothing is known of the least possible"
    percent = math.ceil(1000 * (cost / least - 1)) / 10
    return f"{cost:f}, at most {percent:.1f} % above the least possible ({least:f})"


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}{'' if number == 1 else 's'}"


def _printable(line: str, out: Any) -> str:
    """A line in the letters that a terminal has; names may hold any."""
    encoding = getattr(out, "encoding", None) or "utf-8"
    return line.encode(encoding, "backslashreplace").decode(encoding)
