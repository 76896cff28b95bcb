"""Every print of the demo as a file: no word lies on another one or runs off the paper."""

import re
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext

from housing.core.enclosures import ENCLOSURES
from tests.gallery.addresses import PRINTS
from tests.gallery.looking import PICTURES, file_name
from tests.gallery.museum import Museum
from tests.gallery.paper import pictures_of, sheets_of
from tests.gallery.test_pages import filled

pytestmark = pytest.mark.pango
OF_BOXES = ("cut-sheets", "labels")
ONE_OF_EACH_FORM = """
    SELECT MIN(tie.object_id) FROM housing_housedobject tie
    JOIN housing_housing box ON box.id = tie.housing_id
    JOIN housing_design design ON design.id = box.design_id
    JOIN housing_blank blank ON blank.housing_id = box.id WHERE tie.is_live GROUP BY design.form
"""


def pdf_of(signed_in: BrowserContext, address: str, folder: Path) -> Path:
    answer = signed_in.request.get(address, timeout=120_000)
    assert (answer.status, answer.headers["content-type"]) == (200, "application/pdf")
    file = folder / "print.pdf"
    file.write_bytes(answer.body())
    return file


def nothing_is_wrong(file: Path, name: str) -> None:
    if PICTURES:
        Path(PICTURES).mkdir(parents=True, exist_ok=True)
        pictures_of(file, Path(PICTURES) / f"print-{name}")
    sheets = sheets_of(file)
    assert sheets
    assert [fault for sheet in sheets for fault in sheet.faults()] == []


@pytest.mark.parametrize("address", PRINTS)
def test_words_of_a_print_stand_clear_of_each_other(address: str, signed_in, museum: Museum, tmp_path: Path):
    file = pdf_of(signed_in, museum.url + filled(address, museum), tmp_path)

    nothing_is_wrong(file, file_name(re.sub(r"\{\w+.*?\}", "one", address)))


@pytest.mark.parametrize("paper", ["A4", "letter"])
@pytest.mark.parametrize("what", OF_BOXES)
def test_prints_of_a_box_of_each_form_stand_clear(
    what: str, paper: str, signed_in, museum: Museum, tmp_path: Path
):
    things = museum.rows(ONE_OF_EACH_FORM)
    chosen = "&".join(f"object={key}" for (key,) in things)

    file = pdf_of(signed_in, f"{museum.url}/prints/{what}/?{chosen}&paper={paper}&format=pdf", tmp_path)

    assert len(things) >= len(ENCLOSURES) / 2  # the demo houses its objects in most of the forms
    nothing_is_wrong(file, f"{what}-{paper}")
