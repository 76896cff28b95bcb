"""Takes the catalogue out into a file."""

from pathlib import Path

from django.core.management.base import BaseCommand, CommandError, CommandParser

from housing.printing.exports import FORMATS, LATEST, Wanted, write_export
from housing.printing.list_files import ListRefused


class Command(BaseCommand):
    help = "Writes the catalogue, or a part of it, into a list: CSV, TSV, XLSX or LIDO (.xml)."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", type=Path, help="Its ending says the kind: .csv, .tsv, .xlsx or .xml.")
        parser.add_argument(
            "--filter", default="", help="As the address of the object list has it: status=housed&q=bowl"
        )
        parser.add_argument(
            "--headings",
            default=LATEST,
            help="The number of a saved list of objects, “latest” (as when left out), or “own” for ours.",
        )
        parser.add_argument("--unit", choices=["in", "mm"], default="in", help="Of boxes, besides mm.")
        parser.add_argument("--no-mark", action="store_true", help="Leave out the byte order mark of text.")

    def handle(self, *args, file: Path, **options) -> None:
        kind = file.suffix.lower().removeprefix(".")
        if kind not in FORMATS:
            endings = ", ".join(f".{key}" for key in FORMATS)
            raise CommandError(
                f"“{file.name}” ends in none of {endings}. Give the file one of these endings."
            )
        wanted = Wanted(kind, options["filter"], options["headings"], not options["no_mark"], options["unit"])
        half = file.with_name(f"{file.name}.part")
        try:
            with half.open("wb") as written:
                number = write_export(wanted, written)
            half.replace(file)
        except OSError as error:
            raise CommandError(f"“{file}” cannot be written: {error.strerror}.") from error
        except ListRefused as refused:
            raise CommandError(str(refused)) from refused
        finally:
            half.unlink(missing_ok=True)
        self.stdout.write(f"{'1 object is' if number == 1 else f'{number:,} objects are'} in {file}.")
