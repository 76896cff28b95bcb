"""LibreOffice Calc for the tests: finds it, and has it work workbooks out anew."""

import os
import shutil
import subprocess
from collections.abc import Sequence
from io import BytesIO
from pathlib import Path

from openpyxl import Workbook, load_workbook

OFFICE_MISSING = (
    "No LibreOffice was found to work spreadsheets out. Debian, Ubuntu: sudo apt-get install "
    "libreoffice-calc-nogui; elsewhere install LibreOffice, or name its soffice in OFFICE_PATH."
)
USUAL_PLACES = (
    "/Applications/LibreOffice.app/Contents/MacOS/soffice",
    r"C:\Program Files\LibreOffice\program\soffice.exe",
)
TIME_LIMIT_S = 180


def find_office() -> str | None:
    """The program of LibreOffice; the one named in the environment counts alone."""
    if named := os.environ.get("OFFICE_PATH"):
        return shutil.which(named)
    found = shutil.which("soffice") or shutil.which("libreoffice")
    return found or next((place for place in USUAL_PLACES if Path(place).exists()), None)


def recalculated(books: Sequence[Workbook], folder: Path) -> list[Workbook]:
    """Workbooks as LibreOffice works them out, with values only. folder: an empty one.

    openpyxl keeps no values of formulas when it saves, so that each of them has to be worked out.
    """
    for number, book in enumerate(books):
        book.save(folder / f"{number}.xlsx")
    done = folder / "done"
    subprocess.run(
        [
            find_office(), f"-env:UserInstallation={(folder / 'profile').as_uri()}", "--headless",
            "--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir", str(done),
            *(str(folder / f"{number}.xlsx") for number in range(len(books))),
        ],
        check=True, capture_output=True, timeout=TIME_LIMIT_S,
    )  # fmt: skip
    return [load_workbook(done / f"{number}.xlsx", data_only=True) for number in range(len(books))]


def opened(data: bytes, *, values: bool = False) -> Workbook:
    """A workbook with its formulas, or with the values that it carries beside them."""
    return load_workbook(BytesIO(data), data_only=values)
