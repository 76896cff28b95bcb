"""The files of other projects are the ones that VENDORED.txt names, each with its licence."""

import hashlib
import re
from pathlib import Path

from django.conf import settings

VENDOR = Path(settings.BASE_DIR) / "housing/static/vendor"
LISTED = dict(
    reversed(line)
    for line in re.findall(r"^([0-9a-f]{64})  (\S+)$", (VENDOR / "VENDORED.txt").read_text(), re.M)
)


def kept() -> set[str]:
    return {path.relative_to(VENDOR).as_posix() for path in VENDOR.glob("*/**/*") if path.is_file()}


def test_every_file_is_listed_and_every_listed_file_is_there():
    assert kept() == set(LISTED)


def test_every_file_has_the_sum_listed():
    sums = {name: hashlib.sha256((VENDOR / name).read_bytes()).hexdigest() for name in LISTED}

    assert sums == LISTED


def test_every_folder_has_its_licence_and_is_described():
    folders = {path.name for path in VENDOR.iterdir() if path.is_dir()}
    described = {
        f"{name}-{version}"
        for name, version in re.findall(r"^(\S+) ([\d.]+), ", (VENDOR / "VENDORED.txt").read_text(), re.M)
    }

    assert folders == described
    assert all((VENDOR / folder / "LICENSE").is_file() for folder in folders)


def test_no_style_sheet_asks_for_a_file_that_is_not_kept_here():
    # A source map that is missing stops collectstatic; a file from elsewhere is refused by the page.
    missing = [
        (sheet.name, address)
        for sheet in VENDOR.parent.rglob("*.css")
        for address in re.findall(r"url\([\"']?([^\"')]+)", sheet.read_text("utf-8"))
        if not address.startswith("data:") and not (sheet.parent / address).is_file()
    ]

    assert missing == []
    assert not any("sourceMappingURL" in sheet.read_text("utf-8") for sheet in VENDOR.rglob("*.css"))
