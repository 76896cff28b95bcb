"""A print in pieces: by this process or by several, resumed, joined, and never with what is out of date."""

import os
import signal
import sqlite3
import subprocess
import sys
import time
import zipfile
from base64 import b64encode
from contextlib import closing
from dataclasses import asdict
from io import BytesIO
from pathlib import Path

import pikepdf
import pytest
from django.db import connection
from django.urls import reverse
from PIL import Image
from pypdf import PdfReader

from housing.pdf import render_pdf
from housing.printing import addresses, pieces, presses
from housing.printing.addresses import site_addresses, taken_over
from housing.printing.asked import Asked
from housing.printing.joining import join
from housing.printing.labels import DEFAULT_LAYOUTS
from housing.printing.papers import PAPERS
from housing.printing.pdfs import PrintRefused, make_print, write_print
from housing.services.jobs import JobCancelled
from objects.readers import Reader
from tests.factories import make_location, make_object, make_person, make_tasks
from tests.housing.printing.boxes import make_box

pytestmark = [pytest.mark.django_db, pytest.mark.pango]


def asked_of(*boxes, what="cut_sheets", **options) -> Asked:
    given = {"layout": asdict(DEFAULT_LAYOUTS["A4"]), "start": 1, **options}
    keys = tuple(box.pk for box in boxes)
    return Asked(what, keys, Reader("mm"), PAPERS["A4"], "https://planner.example/", options=given)


def boxes_of(*numbers: str) -> list:
    return [make_box(make_object(number=number)) for number in numbers]


def printed(asked: Asked, folder: Path, tell=lambda percent, stage: None) -> Path:
    return write_print(asked=asked, folder=folder, title="The print", tell=tell)


def text_of(page) -> str:
    return " ".join(page.extract_text().split())


@pytest.fixture
def pages_of_one(monkeypatch):
    """Every piece is one page, so that three boxes are three pieces."""
    monkeypatch.setattr(pieces, "PIECE_PAGES", 1)
    monkeypatch.setattr(pieces, "LEAST_PAGES", 1)


# ---- Pieces ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("boxes", "sizes"),
    # 6 pages at least and 25 at most are a piece, and four pieces are wanted: by hand
    [(1, [1]), (6, [6]), (7, [6, 1]), (40, [10] * 4), (103, [25] * 4 + [3])],
)
def test_a_print_is_cut_into_pieces_of_some_pages(boxes, sizes):
    asked = Asked("cut_sheets", tuple(range(boxes)), Reader(), PAPERS["A4"], "https://planner.example/")

    assert [len(piece.keys) for piece in pieces.pieces_of(asked)] == sizes


def test_only_the_first_piece_of_labels_begins_in_the_middle_of_a_sheet():
    # By hand: 24 labels a sheet; of 1,000 from the 11th place on there are 43 sheets (1,010 / 24 is 42.1), so
    # pieces of 11 sheets, which is 264 labels, of which the first has room for 254
    asked = Asked(
        "labels", tuple(range(1000)), Reader(), PAPERS["A4"], "https://planner.example/",
        options={"layout": asdict(DEFAULT_LAYOUTS["A4"]), "start": 11},
    )  # fmt: skip

    cut = list(pieces.pieces_of(asked))

    assert [(len(piece.keys), piece.options["start"]) for piece in cut] == [
        (254, 11), (264, 1), (264, 1), (218, 1),
    ]  # fmt: skip
    assert tuple(key for piece in cut for key in piece.keys) == asked.keys


def test_pieces_are_joined_in_order_with_title_and_language(pages_of_one, tmp_path):
    boxes = boxes_of("1.1", "1.2", "1.3")

    made = printed(asked_of(*boxes), tmp_path)

    pages = PdfReader(made).pages
    assert [box.box_number in text_of(page) for box, page in zip(boxes, pages, strict=True)] == [True] * 3
    with pikepdf.open(made) as whole:
        assert (str(whole.docinfo.Title), str(whole.Root.Lang)) == ("The print", "en")


def tagged_files(folder: Path, number: int) -> list[Path]:
    """Files of two pages each, with headings and a table."""
    table = '<table><tr><th scope="row">A</th><td>1</td></tr></table>'
    for at in range(number):
        pages = "".join(
            f'<section style="break-after: page"><h1>{at}.{n}</h1>{table}</section>' for n in (1, 2)
        )
        (folder / f"{at}.pdf").write_bytes(render_pdf(f'<html lang="en"><title>{at}</title>{pages}</html>'))
    return [folder / f"{at}.pdf" for at in range(number)]


def test_joined_files_stay_readable_by_screen_readers(tmp_path):
    join(tagged_files(tmp_path, 3), tmp_path / "whole.pdf", "The print")

    with pikepdf.open(tmp_path / "whole.pdf") as whole:
        assert (bool(whole.Root.MarkInfo.Marked), str(whole.Root.Lang)) == (True, "en")
        with whole.open_metadata() as metadata:
            assert (metadata["dc:title"], metadata["pdfuaid:part"]) == ("The print", "1")
        headings = [child.K[0].S for child in whole.Root.StructTreeRoot.K[0].K]
        assert headings == ["/H1"] * 6


def test_tags_of_joined_files_lead_to_their_own_pages(tmp_path):
    join(tagged_files(tmp_path, 3), tmp_path / "whole.pdf", "The print")

    with pikepdf.open(tmp_path / "whole.pdf") as whole:
        tree = whole.Root.StructTreeRoot
        numbers = list(tree.ParentTree.Nums)
        of_page = dict(zip(map(int, numbers[::2]), numbers[1::2], strict=True))
        for page in whole.pages:
            tags = of_page[int(page.obj.StructParents)]
            assert len(tags) > 0
            assert {tag.Pg.objgen for tag in tags} == {page.obj.objgen}
        names = [bytes(name) for name in list(tree.IDTree.Names)[::2]]
        assert len(names) == 6 and names == sorted(set(names))


def test_a_picture_that_several_pieces_show_is_in_the_file_once(tmp_path):
    drawn = BytesIO()
    Image.effect_noise((80, 80), 60).save(drawn, "PNG")
    source = f"data:image/png;base64,{b64encode(drawn.getvalue()).decode()}"
    files = []
    for number in range(3):
        files.append(tmp_path / f"{number}.pdf")
        files[-1].write_bytes(
            render_pdf(f'<html lang="en"><title>T</title><p>{number}</p><img src="{source}" alt="Noise">')
        )

    join(files, tmp_path / "whole.pdf", "T")

    with pikepdf.open(tmp_path / "whole.pdf") as whole:
        pictures = {picture.objgen for page in whole.pages for picture in page.obj.Resources.XObject.values()}
        assert (len(whole.pages), len(pictures)) == (3, 1)


def test_nothing_that_is_left_to_print_is_refused(tmp_path):
    asked = asked_of(*boxes_of("1.1"))
    gone = asked.of([987_654_321])

    for make in (lambda: make_print(asked=gone), lambda: printed(gone, tmp_path)):
        with pytest.raises(PrintRefused, match="Nothing of it is there any more"):
            make()


# ---- Going on ----------------------------------------------------------------------------------------------


def cancel_at(number: int):
    looks = []

    def tell(percent, stage):
        looks.append(percent)
        if len(looks) > number:
            raise JobCancelled("enough")

    return tell


def test_what_is_finished_is_not_set_again(pages_of_one, tmp_path, monkeypatch):
    asked = asked_of(*boxes_of("1.1", "1.2", "1.3"))
    with pytest.raises(JobCancelled):
        printed(asked, tmp_path, cancel_at(2))
    kept = len(list(tmp_path.glob("*.pdf")))
    set_now = []
    monkeypatch.setattr(pieces, "pdf_of", lambda page, make=pieces.pdf_of: set_now.append(page) or make(page))

    made = printed(asked, tmp_path)

    assert (kept, len(set_now), len(PdfReader(made).pages)) == (2, 1, 3)


def test_a_piece_that_would_print_otherwise_now_is_set_anew(pages_of_one, tmp_path):
    boxes = boxes_of("1.1", "1.2", "1.3")
    with pytest.raises(JobCancelled):
        printed(asked_of(*boxes), tmp_path, cancel_at(2))
    thing = boxes[0].objects_in_it.get()
    thing.name = "Renamed bowl"
    thing.save()

    made = printed(asked_of(*boxes), tmp_path)

    assert "Renamed bowl" in text_of(PdfReader(made).pages[0])


def test_pieces_left_for_some_days_are_removed_but_not_those_at_work(settings, tmp_path):
    settings.VAR_DIR = tmp_path
    old = time.time() - (pieces.KEPT_DAYS * 24 + 1) * 3600
    for job in (1, 2, 3):
        folder = pieces.folder_of(job)
        (folder / "a.pdf").write_bytes(b"%PDF")
        if job != 3:
            os.utime(folder, (old, old))

    pieces.drop_old_pieces(but=2)

    assert [pieces.kept_pieces(job) for job in (1, 2, 3)] == [0, 1, 1]


# ---- A ZIP of files ----------------------------------------------------------------------------------------


def names_in(made: Path) -> list[str]:
    with zipfile.ZipFile(made) as whole:
        assert whole.testzip() is None
        return whole.namelist()


def test_a_file_for_every_box_is_named_for_box_and_object(tmp_path):
    boxes = boxes_of("1995.4/3", "1.2")

    made = printed(asked_of(*boxes, files="box"), tmp_path)

    assert names_in(made) == [f"{boxes[0].box_number} 1995.4 - 3.pdf", f"{boxes[1].box_number} 1.2.pdf"]


def test_a_file_for_every_place_holds_its_boxes(tmp_path):
    shelf, other = make_location("Store 1 / Shelf A"), make_location("Store 1 / Shelf B")
    boxes = [make_box(make_object(location=place)) for place in (shelf, other, shelf, None)]

    made = printed(asked_of(*boxes, files="location"), tmp_path)

    assert names_in(made) == ["Store 1 - Shelf A.pdf", "Store 1 - Shelf B.pdf", "no location.pdf"]
    with zipfile.ZipFile(made) as whole:
        first = PdfReader(BytesIO(whole.read("Store 1 - Shelf A.pdf"))).pages
    assert [boxes[at].box_number in text_of(page) for at, page in zip((0, 2), first, strict=True)] == [
        True
    ] * 2


def test_a_file_for_everybody_is_of_those_who_cut_the_blanks(tmp_path):
    ana, ben = make_person(name="Ana"), make_person(name="Ben")
    boxes = boxes_of("1.1", "1.2", "1.3")
    make_tasks(boxes[0], "fetch", person=ben)
    make_tasks(boxes[0], "cut", person=ana)
    make_tasks(boxes[1], "label", person=ben)

    made = printed(asked_of(*boxes, files="person"), tmp_path)

    assert names_in(made) == ["Ana.pdf", "Ben.pdf", "nobody yet.pdf"]


# ---- Presses -----------------------------------------------------------------------------------------------


def test_a_press_knows_every_address_of_the_site(settings):
    kept = [reverse("housing:label-code", args=["ABC"]), reverse("objects:location-list")]
    taken = taken_over(site_addresses())
    addresses.urlpatterns[:] = taken
    try:
        settings.ROOT_URLCONF = addresses.__name__

        assert [reverse("housing:label-code", args=["ABC"]), reverse("objects:location-list")] == kept
    finally:
        addresses.urlpatterns[:] = []


def test_records_that_others_cannot_see_yet_are_printed_by_this_process(settings):
    settings.PRINT_PROCESSES = 2

    assert presses.number_of_presses(9) == 0  # a test's transaction is never stored


@pytest.fixture
def side_by_side(settings, pages_of_one, transactional_db, tmp_path):
    """Two processes print, out of records in a file that they can read too."""
    if connection.vendor == "sqlite" and connection.is_in_memory_db():
        copy = tmp_path / "records.sqlite3"

        def stored():
            connection.ensure_connection()
            with closing(sqlite3.connect(copy)) as file:
                connection.connection.backup(file)
            return str(copy)

    else:

        def stored():
            return str(connection.settings_dict["NAME"])

    settings.PRINT_PROCESSES, settings.PRINT_MEMORY_MB = 2, 2_000
    return stored


@pytest.mark.any_database
def test_two_processes_print_the_same_as_one(side_by_side, tmp_path, monkeypatch):
    asked = asked_of(*boxes_of("1.1", "1.2", "1.3"))
    (alone := tmp_path / "alone").mkdir()
    (two := tmp_path / "two").mkdir()
    monkeypatch.setattr(presses, "number_of_presses", lambda pieces: 0)
    printed(asked, alone)
    monkeypatch.setattr(presses, "number_of_presses", lambda pieces: 2)
    monkeypatch.setattr(presses, "records_name", side_by_side)

    made = printed(asked, two)

    assert sorted(file.name for file in two.glob("*.pdf")) == sorted(
        file.name for file in alone.glob("*.pdf")
    )
    assert len(PdfReader(made).pages) == 3


def test_a_press_that_is_ended_from_outside_is_begun_again(side_by_side, tmp_path, monkeypatch):
    [box] = boxes_of("1.1")
    monkeypatch.setattr(presses, "records_name", side_by_side)
    press = presses.Press()
    asked = asked_of(box)
    first = press.set(asked, tmp_path, "en")
    press._process.kill()

    assert press.set(asked, tmp_path, "en") == first
    press.leave()


def test_presses_end_with_whoever_asked_even_if_that_is_killed():
    code = (
        "import subprocess, sys, time\n"
        "command = [sys.executable, '-m', 'housing.printing.setting']\n"
        "process = subprocess.Popen(command, stdin=subprocess.PIPE)\n"
        "print(process.pid, flush=True)\n"
        "time.sleep(60)\n"
    )
    asking = subprocess.Popen([sys.executable, "-c", code], stdout=subprocess.PIPE, text=True)
    press = int(asking.stdout.readline())

    asking.send_signal(signal.SIGKILL)
    asking.communicate()

    assert wait_until(lambda: not is_running(press))


def is_running(pid: int) -> bool:
    try:
        with open(f"/proc/{pid}/stat") as file:
            return file.read().rpartition(")")[2].split()[0] != "Z"
    except FileNotFoundError:
        return False


def wait_until(holds, seconds: float = 30) -> bool:
    for _ in range(int(seconds * 10)):
        if holds():
            return True
        time.sleep(0.1)
    return False
