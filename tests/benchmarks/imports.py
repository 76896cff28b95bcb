"""How long 100,000 rows take from a file to saved records, beside plain csv + bulk_create.

    python -m tests.benchmarks.imports [--rows 100000] [--databases sqlite postgres]

The list is invented, the same for the same seed. Each database works in a process of its own, so that its
memory is its own; processor seconds are told too, because the machine may be shared.
"""

import argparse
import csv
import json
import os
import random
import resource
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager, nullcontext, suppress
from pathlib import Path
from tempfile import TemporaryDirectory
from threading import Thread
from time import perf_counter, sleep

ROWS, SEED = 100_000, 1
HEADINGS = (
    "Object number", "Object name", "Description", "Classification", "Materials", "Dimensions", "Weight",
    "Quantity", "Condition", "Hazards", "Location", "Priority", "Present housing",
)  # fmt: skip
NAMES = (
    "Bowl",
    "Jug",
    "Basket",
    "Spindle whorl",
    "Ledger",
    "Fan",
    "Mask",
    "Lamp",
    "Clock",
    "Saddle",
    "Flute",
)
STATES = ("glazed", "carved", "painted", "woven", "turned", "cast", "plain", "inscribed", "inlaid")
MATERIALS = ("earthenware", "oak", "iron", "cotton", "paper", "copper alloy", "glass", "leather", "bone")
EIGHTHS = ("", " 1/8", " 1/4", " 3/8", " 1/2", " 5/8", " 3/4", " 7/8")


def main() -> None:
    given = _arguments()
    if given.child:
        _work(given.child, given.file)
        return
    with TemporaryDirectory(prefix="planner-imports-") as folder:
        file = Path(folder) / "objects.csv"
        write_list(file, given.rows)
        print(f"{given.rows:,} rows, {file.stat().st_size / 1e6:.1f} MB, {os.cpu_count()} cores\n")
        for database in given.databases:
            with _server(database) as url:
                ours = _in_a_process("ours", file, Path(folder) / f"{database}-ours", url)
                plain = _in_a_process("plain", file, Path(folder) / f"{database}-plain", url)
                _tell(database, given.rows, ours, plain)


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--rows", type=int, default=ROWS)
    parser.add_argument(
        "--databases", nargs="+", choices=("sqlite", "postgres"), default=("sqlite", "postgres")
    )
    parser.add_argument("--child", choices=("ours", "plain"), help=argparse.SUPPRESS)
    parser.add_argument("--file", type=Path, help=argparse.SUPPRESS)
    return parser.parse_args()


# ---- The list ---------------------------------------------------------------------------------------------


def write_list(file: Path, rows: int, seed: int = SEED) -> None:
    """An invented catalogue of as many rows, about one in ten with something for a person to look at."""
    chance = random.Random(seed)
    with file.open("w", encoding="utf-8", newline="") as out:
        writer = csv.writer(out)
        writer.writerow(HEADINGS)
        writer.writerows(_row(chance, number) for number in range(rows))


def _row(chance: random.Random, number: int) -> tuple[str, ...]:
    name, state, material = chance.choice(NAMES), chance.choice(STATES), chance.choice(MATERIALS)
    grams = chance.lognormvariate(6.5, 1)
    return (
        f"{1890 + number % 130}.{number // 130 + 1}.{number % 7 + 1}",
        name,
        f"{name}, {state}, of {material}; found with others in box {number % 977}, two of its edges worn.",
        f"Class {number % 24}",
        material if chance.random() < 0.7 else f"{material}; {chance.choice(MATERIALS)}",
        _size(chance),
        "heavy" if chance.random() < 0.01 else chance.choice(
            ("", "", f"{grams:.0f} g", f"{grams / 1000:.2f} kg", f"{grams / 454:.0f} lb 4 oz")
        ),
        str(chance.choice((1, 1, 1, 1, 2, 6))),
        chance.choice(("good", "Fair", "poor", "Fragile", "")),
        chance.choice(("",) * 18 + ("arsenic", "lead; sharp")),
        f"North store / Room {number % 6 + 1} / Bay {number % 40 + 1} / Shelf {number % 7 + 1}",
        chance.choice("ABC"),
        chance.choice(("none", "poor", "adequate", "none")),
    )  # fmt: skip


def _size(chance: random.Random) -> str:
    """One of the ways in which catalogues write a size."""
    cm = [round(chance.lognormvariate(2.7, 0.6), 1) for _ in range(3)]
    inches = [f"{int(side / 2.54) or 1}{chance.choice(EIGHTHS)}" for side in cm]
    return chance.choice((
        f"{cm[0]} x {cm[1]} x {cm[2]} cm",
        f"{cm[0] * 10:.0f} x {cm[1] * 10:.0f} x {cm[2] * 10:.0f} mm",
        f"{inches[0]} x {inches[1]} x {inches[2]} in. ({cm[0]} x {cm[1]} x {cm[2]} cm)",
        f"{inches[0]} × {inches[1]} × {inches[2]} in.",
        f"H. {cm[0]} cm, W. {cm[1]} cm, D. {cm[2]} cm",
        f"height {cm[0]} cm, diameter {cm[1]} cm",
        f"Overall: {cm[0]} x {cm[1]} x {cm[2]} cm",
        f'{inches[0]}" H x {inches[1]}" W x {inches[2]}" D',
        f"Höhe {str(cm[0]).replace('.', ',')} cm, Breite {str(cm[1]).replace('.', ',')} cm",
        f"{cm[0]} x {cm[1]} cm",
        f"diam. {cm[0]} cm",
        f"ca. {cm[0]} cm",
        "",
    ))  # fmt: skip


# ---- The work, in a process of its own --------------------------------------------------------------------


def _work(which: str, file: Path) -> None:
    import django

    django.setup()
    from django.core.management import call_command

    call_command("migrate", verbosity=0)
    memory = Memory()
    stages = {"ours": _ours, "plain": _plain}[which](file)
    print(json.dumps({"stages": stages, "peak_mib": memory.peak_mib}))


def _ours(file: Path) -> dict[str, tuple[float, float]]:
    from housing.intake.imports import read_rows, stage_list
    from housing.intake.saving import save_list
    from objects.models import CatalogueObject, ImportedRow, ListImport

    stages: dict[str, tuple[float, float]] = {}
    with _timed(stages, "handed in"):
        listed = stage_list(kind="objects", file_name=file.name, data=file.read_bytes())
    listed = ListImport.objects.get(pk=listed.pk)
    with _timed(stages, "read and shown"):
        read_rows(listed=listed)
    listed = ListImport.objects.get(pk=listed.pk)
    storing: list[float] = []
    with _timed(stages, "saved, with a report"):
        save_list(
            listed=listed,
            progress=lambda percent, stage, *_: storing.append(perf_counter()) if percent == 95 else None,
        )
    stages["of which the one transaction"] = perf_counter() - storing[-1], 0.0
    counts = ListImport.objects.get(pk=listed.pk).counts
    assert CatalogueObject.objects.count() == sum(counts.values()) - counts["refused"]
    assert ImportedRow.objects.count() == sum(counts.values())
    print(counts, file=sys.stderr)
    again = stage_list(kind="objects", file_name=file.name, data=file.read_bytes())
    with _timed(stages, "the same list read again: all unchanged"):
        read_rows(listed=again)
    assert again.counts["new"] == again.counts["changed"] == 0
    return stages


def _plain(file: Path) -> dict[str, tuple[float, float]]:
    """What anybody would write in ten lines: the cells as they stand, nothing read, checked or told."""
    from django.db import transaction

    from objects.models import CatalogueObject

    stages: dict[str, tuple[float, float]] = {}
    with _timed(stages, "csv + bulk_create"), file.open(encoding="utf-8", newline="") as lines:
        things = [
            CatalogueObject(
                number=row["Object number"],
                number_key=row["Object number"],
                name=row["Object name"],
                description=row["Description"],
                classification=row["Classification"],
                materials=row["Materials"],
                dimensions_text=row["Dimensions"],
                quantity=row["Quantity"],
                condition=row["Condition"].lower(),
                hazards=row["Hazards"],
                priority=row["Priority"],
                present_housing=row["Present housing"],
            )
            for row in csv.DictReader(lines)
        ]
        with transaction.atomic():
            CatalogueObject.objects.bulk_create(things, batch_size=1000)
    return stages


class Memory:
    """The most that this process and those it started held together, looked at ten times a second."""

    def __init__(self) -> None:
        self.peak_mib = 0.0
        Thread(target=self._watch, daemon=True).start()

    def _watch(self) -> None:
        page_mib = resource.getpagesize() / 1024**2
        while True:
            held = sum(self._pages(process) for process in ("self", *self._started()))
            self.peak_mib = max(self.peak_mib, held * page_mib)
            sleep(0.1)

    def _started(self) -> list[str]:
        """Processes that any thread of this one started."""
        return [
            pid for tasks in Path("/proc/self/task").glob("*/children") for pid in tasks.read_text().split()
        ]

    def _pages(self, process: str) -> int:
        with suppress(OSError):  # it has ended meanwhile
            return int(Path(f"/proc/{process}/statm").read_text().split()[1])
        return 0


@contextmanager
def _timed(stages: dict[str, tuple[float, float]], name: str) -> Iterator[None]:
    wall, processor = perf_counter(), _processor_seconds()
    yield
    stages[name] = perf_counter() - wall, _processor_seconds() - processor


def _processor_seconds() -> float:
    both = [resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
    return sum(each.ru_utime + each.ru_stime for each in both)


# ---- Processes and what they tell -------------------------------------------------------------------------


@contextmanager
def _server(database: str) -> Iterator[str]:
    """The address of a database server, or nothing for SQLite."""
    from tests.postgres.server import find_programs, running_server

    with running_server(find_programs()) if database == "postgres" else nullcontext("") as url:
        yield url


def _in_a_process(which: str, file: Path, folder: Path, url: str) -> dict:
    settings = {"DEBUG": "", "VAR_DIR": str(folder), "DJANGO_SETTINGS_MODULE": "housing.config.settings"}
    if url:
        url = _new_database(url, which)
    done = subprocess.run(
        [sys.executable, "-m", "tests.benchmarks.imports", "--child", which, "--file", str(file)],
        env={**os.environ, **settings, **({"DATABASE_URL": url} if url else {})},
        stdout=subprocess.PIPE,
        text=True,
        check=True,
    )
    return json.loads(done.stdout)


def _new_database(url: str, name: str) -> str:
    import psycopg

    folder = url.partition("host=")[2]
    with psycopg.connect(host=folder, user="planner", dbname="postgres", autocommit=True) as server:
        server.execute(f"CREATE DATABASE {name}")
    return url.replace("/planner?", f"/{name}?")


def _tell(database: str, rows: int, ours: dict, plain: dict) -> None:
    print(f"{database:44} seconds   of processors")
    for name, (wall, processor) in [*ours["stages"].items(), *plain["stages"].items()]:
        print(f"  {name:42} {wall:7.1f}   {processor:7.1f}")
    parts = [ours["stages"][name] for name in ("handed in", "read and shown", "saved, with a report")]
    wall, processor = (sum(part[i] for part in parts) for i in (0, 1))
    (plain_wall, plain_processor) = plain["stages"]["csv + bulk_create"]
    print(f"  {'from the file to saved records':42} {wall:7.1f}   {processor:7.1f}")
    print(f"  {rows / wall:,.0f} rows/s beside {rows / plain_wall:,.0f}; ", end="")
    print(f"{wall / plain_wall:.1f} times the seconds, {processor / plain_processor:.1f} times the work")
    print(f"  peak memory {ours['peak_mib']:.0f} MiB beside {plain['peak_mib']:.0f} MiB\n")


if __name__ == "__main__":
    main()
