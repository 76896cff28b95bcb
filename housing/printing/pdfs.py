"""Prints as PDF files, in pieces joined at the end so that a big one needs no more memory."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import asdict
from io import BytesIO

import pikepdf
from django.template.loader import render_to_string

from housing.models import Housing
from housing.pdf import PdfUnavailable, render_pdf
from housing.printing.cut_sheets import cut_sheet
from housing.printing.labels import LabelLayout, labels_context
from housing.printing.papers import PAPERS, Paper
from housing.queries.prints import boxes_to_print
from objects.core.refusals import Refusal
from objects.readers import Reader

CHUNK_PAGES = 50
CUT_SHEETS, LABELS = "cut_sheets", "labels"


class PrintRefused(Refusal):
    """A print cannot be made; the message is a sentence for the reader."""


def cut_sheets_context(housings: Sequence[Housing], reader: Reader, paper: Paper, base_url: str) -> dict:
    """All that the page of cut sheets shows."""
    return {
        "sheets": [cut_sheet(housing, reader, paper, base_url) for housing in housings],
        "paper": paper.key,
        "unit": reader.unit,
    }


def print_parameters(
    *,
    what: str,
    boxes: Sequence[int],
    reader: Reader,
    paper: Paper,
    base_url: str,
    layout: LabelLayout,
    start: int,
) -> dict:
    """What a job keeps about a print, so that it can be made without the page that asked for it."""
    return {
        "what": what,
        "boxes": list(boxes),
        "unit": reader.unit,
        "paper": paper.key,
        "base_url": base_url,
        "layout": asdict(layout),
        "start": start,
    }


def make_print(*, parameters: dict, progress: Callable[[int, str], None]) -> bytes:
    """The PDF file of a print. parameters: as print_parameters() gives them.

    Raises PrintRefused when no box is left to print or PDF cannot be made on this computer.
    """
    chunks = list(_chunks(parameters))
    with pikepdf.new() as whole:
        for done, chunk in enumerate(chunks):
            progress(100 * done // len(chunks), f"Setting part {done + 1} of {len(chunks)}")
            housings = boxes_to_print(chunk["boxes"])
            if housings:
                with pikepdf.open(BytesIO(_pdf(housings, chunk))) as part:
                    whole.pages.extend(part.pages)
        if not whole.pages:
            raise PrintRefused("None of the boxes is there any more. Choose anew what to print.")
        file = BytesIO()
        whole.save(file)
    return file.getvalue()


def _chunks(parameters: dict) -> Iterator[dict]:
    """The same print cut into pieces; only the first may start in the middle of a label sheet."""
    boxes, start, size = parameters["boxes"], parameters["start"], CHUNK_PAGES
    if parameters["what"] == LABELS:
        size *= LabelLayout(**parameters["layout"]).on_a_sheet
    else:
        start = 1
    first = size - start + 1
    yield {**parameters, "boxes": boxes[:first]}
    for at in range(first, len(boxes), size):
        yield {**parameters, "boxes": boxes[at : at + size], "start": 1}


def _pdf(housings: Sequence[Housing], asked: dict) -> bytes:
    reader, paper = Reader(asked["unit"], asked["paper"]), PAPERS[asked["paper"]]
    if asked["what"] == LABELS:
        layout = LabelLayout(**asked["layout"])
        context = labels_context(housings, paper, asked["base_url"], layout, asked["start"])
    else:
        context = cut_sheets_context(housings, reader, paper, asked["base_url"])
    try:
        return render_pdf(render_to_string(f"print/{asked['what']}.html", context))
    except PdfUnavailable as missing:
        raise PrintRefused(str(missing)) from missing
