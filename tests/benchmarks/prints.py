"""How long prints take: python -m tests.benchmarks.prints --boxes 1000 --labels 2400

A throwaway database is filled with boxes of every form, photos on a share of them, and a cutting plan. Cut
sheets and labels are printed through the job that the worker runs, in a process of its own, so that the
memory told is that of printing. Beside them words and lines of the same records are set by hand with
reportlab, in one process: drawings line by line, texts and tables at places known beforehand, with nothing
that flows or breaks. On a machine that does other work as well the processor's seconds tell more than the
clock; the load is told too.
"""

import os
import re
import resource
import subprocess
import sys
from argparse import ArgumentParser
from dataclasses import asdict
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory
from time import perf_counter

SITE = "https://planner.example/"
WIDTHS = (7, 9, 9, 9, 9, 10, 8)


def main() -> None:
    asked = ArgumentParser(description=__doc__)
    asked.add_argument("--boxes", type=int, default=1000, help="cut sheets, one a box")
    asked.add_argument("--labels", type=int, default=2400)
    asked.add_argument("--processes", type=int, help="that set pages side by side; one a core if not given")
    asked.add_argument(
        "--folder", type=Path, help="keep the records and the prints here, or use those there are"
    )
    asked.add_argument("--one", choices=["cut_sheets", "labels", "by_hand_cut_sheets", "by_hand_labels"])
    given = asked.parse_args()
    if given.one:
        _set_up(given.folder)
        number = given.boxes if given.one.endswith("cut_sheets") else given.labels
        print(*_measured(given.one, number))
        return
    with TemporaryDirectory(prefix="planner-prints-") as folder:
        _compare(given, given.folder or Path(folder))


def _compare(given, folder: Path) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    _set_up(folder)
    _fill(max(given.boxes, given.labels))
    print(f"{os.cpu_count()} cores, load {', '.join(f'{load:.1f}' for load in os.getloadavg())} before")
    _row("", "pages", "wall, s", "CPU, s", "pages/s", "a CPU s", "peak, MB", "MB")
    seconds: dict[str, float] = {}
    for what in ("cut_sheets", "by_hand_cut_sheets", "labels", "by_hand_labels"):
        command = [sys.executable, "-m", "tests.benchmarks.prints", "--one", what, "--folder", str(folder)]
        command += ["--boxes", str(given.boxes), "--labels", str(given.labels)]
        environ = {**os.environ, **({"PRINT_PROCESSES": str(given.processes)} if given.processes else {})}
        told = subprocess.run(command, check=True, stdout=subprocess.PIPE, text=True, env=environ).stdout
        pages, wall, cpu, peak, size = map(float, told.split()[-5:])
        seconds[what] = cpu / pages
        figures = (pages, ".0f"), (wall, ".1f"), (cpu, ".1f"), (pages / wall, ".1f"), (pages / cpu, ".1f")
        _row(what.replace("_", " "), *(f"{x:{how}}" for x, how in (*figures, (peak, ".0f"), (size, ".1f"))))
    for what in ("cut_sheets", "labels"):
        ratio = seconds[what] / seconds[f"by_hand_{what}"]
        print(f"{what.replace('_', ' ')}: {ratio:.1f} times the processor's time of setting by hand, a page")
    print(f"load {', '.join(f'{load:.1f}' for load in os.getloadavg())} after")


def _row(what: str, *figures: str) -> None:
    print(f"{what:20}" + "".join(f"{figure:>{width}}" for figure, width in zip(figures, WIDTHS, strict=True)))


def _set_up(folder: Path) -> None:
    file = (folder / "prints.sqlite3").resolve()
    os.environ.update(DEBUG="", VAR_DIR=str(folder.resolve()), DATABASE_URL=f"sqlite:///{file}")
    os.environ.update(DJANGO_SETTINGS_MODULE="housing.config.settings", LOG_LEVEL="WARNING")
    import django

    django.setup()


def _fill(boxes: int) -> None:
    from django.core.management import call_command
    from django.db import transaction

    from housing.models import Housing
    from tests.benchmarks import print_museum

    call_command("migrate", verbosity=0)
    if Housing.objects.count() < boxes:
        with transaction.atomic():
            print_museum.fill(boxes - Housing.objects.count())


def _measured(what: str, number: int) -> tuple[float, float, float, float, float]:
    """Pages, seconds by the clock and of the processor, MB of the largest process, MB of the file."""
    from pypdf import PdfReader

    begun, before = perf_counter(), _cpu()
    made = _by_hand(what, number) if what.startswith("by_hand") else _by_job(what, number)
    wall, cpu = perf_counter() - begun, _cpu() - before
    peak = max(resource.getrusage(who).ru_maxrss for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return len(PdfReader(BytesIO(made)).pages), wall, cpu, peak / 1024, len(made) / 1e6


def _cpu() -> float:
    spent = os.times()
    return spent.user + spent.system + spent.children_user + spent.children_system


def _asked(what: str, number: int):
    from housing.models import Housing
    from housing.printing.asked import Asked
    from housing.printing.labels import DEFAULT_LAYOUTS
    from housing.printing.papers import PAPERS
    from objects.readers import Reader

    keys = tuple(Housing.objects.order_by("pk").values_list("pk", flat=True)[:number])
    options = {"layout": asdict(DEFAULT_LAYOUTS["A4"]), "start": 1}
    return Asked(what, keys, Reader("mm", "A4"), PAPERS["A4"], SITE, options=options)


def _by_job(what: str, number: int) -> bytes:
    """As the worker makes it, from the job on."""
    from housing.models import Job
    from housing.services.jobs import run_job

    job = Job.objects.create(kind=Job.Kind.PRINT, title=what, parameters=_asked(what, number).kept())
    run_job.call(job.pk)
    job.refresh_from_db()
    if job.state != Job.State.DONE:
        raise SystemExit(job.message)
    with job.file.open("rb") as file:
        return file.read()


# ---- By hand -----------------------------------------------------------------------------------------------

_TEXT = re.compile(r"<(text|tspan|line|rect|path)\b([^>]*)>([^<]*)")
_GIVEN = re.compile(r'([\w-]+)="([^"]*)"')
PT = 72 / 25.4


def _by_hand(what: str, number: int) -> bytes:
    """The words and lines of the same records, each put at a place that is known."""
    from reportlab.lib.pagesizes import A4
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont
    from reportlab.pdfgen.canvas import Canvas

    from housing.printing.typefaces import truetype

    pdfmetrics.registerFont(TTFont("Plain", truetype(False)))
    file = BytesIO()
    canvas = Canvas(file, pagesize=A4, pageCompression=1)
    asked = _asked(what.removeprefix("by_hand_"), number)
    set_page = _labels_by_hand if what.endswith("labels") else _sheets_by_hand
    for at in range(0, number, 240):
        set_page(canvas, asked.of(asked.keys[at : at + 240]))
    canvas.save()
    return file.getvalue()


def _sheets_by_hand(canvas, asked) -> None:
    """One page a box: code, words, tables of lines, and the drawings of its blanks."""
    from reportlab.lib.utils import ImageReader

    from housing.core.drawing.blank_svg import blank_svg
    from housing.queries.prints import boxes_to_print

    for box in boxes_to_print(asked.keys):
        thing = box.contents.all()[0].object
        canvas.setFont("Plain", 18)
        canvas.drawString(30, 800, thing.number)
        canvas.setFont("Plain", 8)
        words = [
            thing.name,
            box.box_number,
            str(thing.location),
            str(box.design),
            box.design.board.code,
            *box.notes,
        ]
        for row, line in enumerate(words):
            canvas.drawString(30, 785 - 11 * row, line[:90])
        canvas.drawImage(ImageReader(_code(box)), 520, 770, 48, 48)
        high = 0.0
        for blank in list(box.blanks.all())[:2]:
            flat = blank.to_core()
            drawing = blank_svg(
                flat, title=blank.part, format_length=lambda mm: f"{mm:.0f}", paper_width_mm=102,
                paper_height_mm=110,
            )  # fmt: skip
            _draw(canvas, drawing.svg, 30, 680 - high)
            high += 330
        for row, line in enumerate(_table(box)):
            canvas.drawString(340, 690 - 10 * row, line)
        canvas.showPage()


def _table(box) -> list[str]:
    rows = []
    for blank in box.blanks.all():
        flat = blank.to_core()
        for name, lines in (("cut", flat.cuts), ("score", flat.scores)):
            rows += [f"{name} {line.x1:.0f} {line.y1:.0f} to {line.x2:.0f} {line.y2:.0f}" for line in lines]
    return rows[:60]


def _draw(canvas, svg: str, left: float, top: float) -> None:
    """The lines and words of a drawing, where it has them."""
    canvas.setFont("Plain", 6)
    for name, given, words in _TEXT.findall(svg):
        place = dict(_GIVEN.findall(given))
        if name == "line":
            x1, y1, x2, y2 = (float(place[side]) * PT for side in ("x1", "y1", "x2", "y2"))
            canvas.line(left + x1, top - y1, left + x2, top - y2)
        elif name == "rect":
            x, y, wide, high = (float(place.get(side, 0)) * PT for side in ("x", "y", "width", "height"))
            canvas.rect(left + x, top - y - high, wide, high)
        elif words.strip() and "x" in place and "y" in place:
            canvas.drawString(left + float(place["x"]) * PT, top - float(place["y"]) * PT, words)


def _labels_by_hand(canvas, asked) -> None:
    """24 labels a page: code, number, name, box and place."""
    from reportlab.lib.utils import ImageReader

    from housing.queries.prints import boxes_to_print

    for at, box in enumerate(boxes_to_print(asked.keys)):
        if at and not at % 24:
            canvas.showPage()
        row, column = divmod(at % 24, 3)
        left, top = 20 + 190 * column, 800 - 97 * row
        thing = box.contents.all()[0].object
        canvas.setFont("Plain", 12)
        canvas.drawString(left + 62, top - 14, thing.number)
        canvas.setFont("Plain", 7)
        for line, words in enumerate((box.box_number, box.code or "", thing.name, str(thing.location))):
            canvas.drawString(left + 62, top - 26 - 9 * line, words[:34])
        canvas.drawImage(ImageReader(_code(box)), left, top - 60, 57, 57)
    canvas.showPage()


def _code(box) -> BytesIO:
    from housing.printing.qr import label_address, qr_code

    picture = BytesIO()
    qr_code(label_address(box, SITE)).save(picture, kind="png", scale=1, border=4)
    picture.seek(0)
    return picture


if __name__ == "__main__":
    main()
