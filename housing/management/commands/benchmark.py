"""Measures a part of the planner beside general-purpose libraries, and prints a table."""

from contextlib import nullcontext
from importlib import import_module
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError


class Command(BaseCommand):
    help = "Measures the nesting beside general-purpose packing libraries on the same questions."
    requires_system_checks: list[str] = []  # nothing needs the database

    def add_arguments(self, parser) -> None:
        parser.add_argument("part", choices=("nesting",), help="What to measure.")
        parser.add_argument(
            "--quick", action="store_true", help="Minutes instead of an hour: fewer and shorter."
        )
        parser.add_argument(
            "--instances",
            metavar="DIR",
            type=Path,
            help="Published instances and campaigns to take from a folder.",
        )
        parser.add_argument("--output", metavar="FILE.md", type=Path, help="Write the table here as well.")

    def handle(self, *args, **given) -> None:
        folder, output = given["instances"], given["output"]
        if folder and not any(folder.glob("*.json")):
            raise CommandError(
                f"There are no instances in {folder}: no file there ends in .json.", returncode=2
            )
        if output and not output.parent.is_dir():
            raise CommandError(
                f"There is no folder {output.parent}. Make it, or write elsewhere.", returncode=2
            )
        measure = _measuring(given["part"])
        with output.open("w", encoding="utf-8") if output else nullcontext() as file:

            def write(line: str) -> None:
                self.stdout.write(line)
                self.stdout.flush()
                if file:
                    print(line, file=file, flush=True)

            measure.main(quick=given["quick"], instances=folder, write=write)


def _measuring(part: str) -> Any:
    """The script that measures a part; an installation may have been made without the tests."""
    try:
        return import_module(f"tests.benchmarks.{part}")
    except ModuleNotFoundError as error:
        if (error.name or "").split(".")[0] != "tests":
            raise
        raise CommandError(
            "The folder tests is not here, and what measures is part of it.", returncode=2
        ) from error
