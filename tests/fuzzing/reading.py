"""Looks for files that crash the reading of lists, and sizes that crash their grammar. Run by hand:

    .venv/bin/python -m pip install "atheris~=3.1"
    .venv/bin/python -m tests.fuzzing.reading files -max_total_time=300
    .venv/bin/python -m tests.fuzzing.reading sheets -max_total_time=300
    .venv/bin/python -m tests.fuzzing.reading sizes -max_total_time=300

What follows the word is for libFuzzer; a folder behind it keeps what was found interesting. A crash is
written to crash-… in the current folder; give its name as the last word to see it again.
"""

import os
import sys
import tempfile
from pathlib import Path

import atheris

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.settings")

with atheris.instrument_imports(include=["objects", "zipfile"]):
    import django

    django.setup()
    from objects.core.dimensions import read_dimensions
    from objects.core.list_text import ListError
    from objects.intake.files import read_file
    from tests.objects.intake.lido import record, wrapped
    from tests.objects.intake.workbooks import handmade, package, parts_of, workbook

SIZES = (
    "10 x 8 3/4 x 7 1/8 in.",
    "H. 20 cm; W. 15 cm; D. 9.5 cm",
    "Diam. 12,5 cm, H. 4 cm",
    "5'-3 1/2\" x 2'-0\"",
    "overall: 42 x 60 cm; sheet: 30 x 45 cm",
    "(a) 10 x 6 cm (b) 4 x 4 cm; 3.5 kg",
    "12-14 in. (approx.)",
)
SHEET = "xl/worksheets/sheet1.xml"
SHEETS = (
    parts_of()[SHEET].encode(),
    parts_of('<row><c t="b"><v>1</v></c><c t="d"><v>2020-01-01</v></c></row><row r="5"><c/></row>')[
        SHEET
    ].encode(),
)
FILES = (
    b"Number,Name\n1,Bowl\n",
    "Number\tName\n1\t\u201cJug\u201d\n".encode("utf-16"),
    workbook(Store=[("Number", "Name"), ("1", "Bowl"), (2.5, True)]),
    handmade(),
    package(parts_of(), compression=0),
    wrapped(record(number="1", title="Bowl", sides={"height": "20 cm"})),
)


def files(data: bytes) -> None:
    """Any file is a list or refused."""
    read_one(data)


def sheets(data: bytes) -> None:
    """Any bytes as the sheet of a workbook, which nothing but chance would pack rightly."""
    read_one(package({**parts_of(), SHEET: data}))


def read_one(data: bytes) -> None:
    try:
        read = read_file(data)
    except ListError as refused:
        assert str(refused).endswith("."), str(refused)
    else:
        assert {len(row) for row in read.rows} == {len(read.header)}
        assert len(read.rows) == len(read.line_numbers)


def sizes(data: bytes) -> None:
    """Any text is a size, something to look at, or refused; never a crash."""
    given = atheris.FuzzedDataProvider(data)
    unit = given.PickValueInList([None, "in", "ft", "cm", "mm", "m"])
    reading = read_dimensions(given.ConsumeUnicodeNoSurrogates(300), unit)
    assert reading.status in ("read", "check", "empty", "refused"), reading
    assert reading.status == "read" or reading.notes, reading


SEARCHES = {
    "files": (files, FILES),
    "sheets": (sheets, SHEETS),
    "sizes": (sizes, tuple(b"\x00" + size.encode() for size in SIZES)),
}


def main() -> None:
    search, seeds = SEARCHES[sys.argv[1]]
    with tempfile.TemporaryDirectory() as folder:
        for place, seed in enumerate(seeds):
            Path(folder, str(place)).write_bytes(seed)
        seeing_again = [name for name in sys.argv[2:] if Path(name).is_file()]
        atheris.Setup([sys.argv[0], *sys.argv[2:], *([] if seeing_again else [folder])], search)
        atheris.Fuzz()


if __name__ == "__main__":
    main()
