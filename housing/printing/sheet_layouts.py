"""Each sheet of a cutting plan on one page: drawn with its marks, its cuts in order, its pieces."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format

from boards.core.nesting.shapes import CutSheet, Sheet
from boards.models import Offcut
from housing.core.drawing.cut_order import CutStep, cut_steps, is_free
from housing.core.drawing.layout_svg import layout_svg
from housing.core.drawing.sheet_corners import can_be_mirrored, corners_in_use
from housing.models import PlannedBlank, PlannedSheet
from housing.printing.papers import Paper
from housing.printing.planned_sheets import letter_of, mark, marks_in_a_row, unbroken
from housing.printing.qr import qr_data_uri
from housing.printing.sheet_facts import boxes_on, facts_of
from housing.printing.sheet_layout_pages import pages_of
from housing.queries.plans import corners_of_hosts, cut_sheet_of, label_of, placements_of
from housing.queries.progress import is_plan_current
from housing.queries.sheet_prints import kept_of, numbers_of_sheets, sheets_to_print
from housing.queries.waits import open_holds
from objects.core.words import noted, say
from objects.readers import Reader

LARGE_MM = 1000.0  # assumed: a side from which a sheet is carried by two
# Common practice, no source.
KNIFE = noted(
    "Knife: fresh blade, metal rule with finger guard; cut away from the hand that holds it. "
    "Local rules go first."
)
TWO_PEOPLE = noted("Large sheet: carry and turn it with two people, upright, clear of doors.")
CHECK = noted("Measure the sheet and check that the corner you mark from is square before you mark anything.")
MARKED_ON = {
    "near": noted("left, right: {marks}"),
    "left": noted("near, far: {marks}"),
    "right": noted("near, far: {marks}"),
}
FROM_ITS_EDGE = {
    "near": noted("near: {marks}"),
    "left": noted("left: {marks}"),
    "right": noted("right: {marks}"),
}


@dataclass(frozen=True)
class LaidPiece:
    """A blank in the list of a sheet: its letter in the drawing, what it is, its box, its size as it lies."""

    letter: str
    name: str
    box: str
    size: str


@dataclass(frozen=True)
class CutRow:
    """One part in hand in the list of cuts.

    running: the edges of the sheet that carry the marks, and where these are from its corner, "" in a corner
    that falls off. marks: the edge of the part and where they are from there. sentence: instead of these.
    """

    numbers: str
    part: str
    running: str
    marks: str
    gives: str
    sentence: str = ""


@dataclass(frozen=True)
class KeptPiece:
    """What is kept of a sheet: its name in the drawing, its size, and its number on the rack or ""."""

    name: str
    size: str
    number: str


@dataclass(frozen=True)
class SheetLayout:
    """One page, everything on it in words."""

    title: str
    board: str
    campaign: str
    facts: list[tuple[str, str]]
    pieces: list[LaidPiece]
    cuts: list[CutRow]
    kept: list[KeptPiece]
    cautions: list[str]
    warnings: list[str]
    how: str
    qr: str
    unit: str
    sides_mm: tuple[float, float]
    cut_count: int
    is_mirrored: bool
    printed: str
    pages: tuple[str, ...] = ()
    is_turned: bool = False

    @property
    def is_wide(self) -> bool:
        return self.sides_mm[0] > self.sides_mm[1]


def layouts_context(
    keys: Sequence[int], reader: Reader, paper: Paper, base_url: str, by: str = ""
) -> dict[str, object]:
    """All that the pages of some sheets show; nothing where none of them is there any more.

    keys: of planned sheets. base_url: the site's address. by: who prints them.
    """
    sheets = sheets_to_print(keys)
    if not sheets:
        return {}
    numbers, kept = numbers_of_sheets(sheet.plan_id for sheet in sheets), kept_of(sheets)
    boxes = {sheet.pk: boxes_on(sheet) for sheet in sheets}
    holds = open_holds({pk for of_sheet in boxes.values() for pk in of_sheet})
    campaigns = {sheet.plan_id: sheet.plan.campaign for sheet in sheets}
    current = {plan: is_plan_current(campaign) for plan, campaign in campaigns.items()}
    layouts = []
    for sheet in sheets:
        warnings = [words for box in boxes[sheet.pk] for words in holds.get(box, ())]
        if not current[sheet.plan_id] and not sheet.cut_at:
            warnings.insert(0, say("Do not cut: something the plan rests on has changed. Plan again first."))
        layouts.append(
            sheet_layout(
                sheet, reader, paper, base_url, of=numbers[sheet.plan_id], by=by,
                kept=kept.get(sheet.pk, []), warnings=warnings,
            )
        )  # fmt: skip
    return {"layouts": layouts, "paper": paper.key, "unit": reader.unit}


def sheet_layout(
    sheet: PlannedSheet,
    reader: Reader,
    paper: Paper,
    base_url: str,
    *,
    of: int,
    by: str = "",
    kept: Sequence[Offcut] = (),
    warnings: Sequence[str] = (),
) -> SheetLayout:
    """The page of one sheet, fetched by sheets_to_print().

    of: how many the plan has. kept: what of it lies on the rack. warnings: said before all else.
    """
    made, shape = cut_sheet_of(sheet)
    blanks, corners = placements_of(sheet), corners_of_hosts(sheet)
    keys = [str(blank.pk) for blank in blanks]
    letters = {key: letter_of(number) for number, key in enumerate(keys)}
    labels = dict(zip(keys, map(label_of, blanks), strict=True))
    is_mirrored = reader.hand == "left" and can_be_mirrored(made, corners)
    steps = cut_steps(
        made,
        shape,
        labels={key: f"{letters[key]} {label}" for key, label in labels.items()},
        write=lambda lengths: marks_in_a_row(lengths, reader),
        write_size=lambda sides: unbroken(reader.size(sides)),
        corners=corners,
        kerf_mm=float(sheet.plan.kerf_mm),
        is_mirrored=is_mirrored,
        is_short=True,
    )
    pieces = [_piece(blank, letters[str(blank.pk)], reader) for blank in blanks]
    cuts, kept_pieces = [_row(step) for step in steps], _kept(made, kept, reader)
    facts, cautions = facts_of(sheet, shape, reader, by), _cautions(shape)
    direction = "flutes" if sheet.board.to_core().is_fluted else "grain"
    title = say("Sheet {number} of {count}", number=sheet.position, count=of)

    def draw(width_mm: float, height_mm: float) -> str:
        return layout_svg(
            made,
            shape,
            labels=labels,
            letters=letters,
            format_length=reader.length,
            format_mark=lambda mm: mark(mm, reader),
            paper_width_mm=width_mm,
            paper_height_mm=height_mm,
            corners=corners,
            title=f"{title}, {sheet.board}",
            direction=direction,
            offcut_names=[piece.name for piece in kept_pieces],
            is_mirrored=is_mirrored,
        )

    layout = SheetLayout(
        title=title,
        board=str(sheet.board),
        campaign=str(sheet.plan.campaign),
        facts=facts,
        pieces=pieces,
        cuts=cuts,
        kept=kept_pieces,
        cautions=cautions,
        warnings=list(warnings),
        how=_how(made, corners_in_use(made, corners) != [], is_mirrored),
        qr=qr_data_uri(base_url.rstrip("/") + reverse("housing:bench-sheet", args=[sheet.pk])),
        unit=reader.unit,
        sides_mm=(shape.along_mm, shape.across_mm),
        cut_count=len(made.cuts),
        is_mirrored=is_mirrored,
        printed=date_format(timezone.localdate(), "j M Y"),
    )
    pages, is_turned = pages_of(layout, paper, draw)
    return replace(layout, pages=tuple(pages), is_turned=is_turned)


def _piece(placed: PlannedBlank, letter: str, reader: Reader) -> LaidPiece:
    size = reader.size((placed.along_mm, placed.across_mm))
    if placed.turned:
        size = say("{size}, turned", size=size)
    return LaidPiece(letter, label_of(placed), unbroken(placed.blank.housing.box_number), size)


def _row(step: CutStep) -> CutRow:
    gives = "; ".join(step.gives)
    if not step.marks:
        return CutRow(step.numbers, "", "", "", gives, sentence=step.what)
    return CutRow(
        step.numbers,
        step.part,
        say(MARKED_ON[step.edge], marks=step.running) if step.running else "",
        say(FROM_ITS_EDGE[step.edge], marks=step.marks),
        gives,
    )


def _kept(made: CutSheet, kept: Sequence[Offcut], reader: Reader) -> list[KeptPiece]:
    """What is left over, numbered as in the drawing; on the rack the numbers are those of their labels."""
    numbers = [str(offcut.pk) for offcut in kept] if len(kept) == len(made.offcuts) else []
    return [
        KeptPiece(
            say("keep {number}", number=place),
            unbroken(reader.size((offcut.along_mm, offcut.across_mm))),
            numbers[place - 1] if numbers else "",
        )
        for place, offcut in enumerate(made.offcuts, start=1)
    ]


def _cautions(shape: Sheet) -> list[str]:
    is_large = max(shape.along_mm, shape.across_mm) >= LARGE_MM
    return [say(KNIFE), *([say(TWO_PEOPLE)] if is_large else []), say(CHECK)]


def _how(made: CutSheet, has_guests: bool, is_mirrored: bool) -> str:
    """How the page is read, in a few sentences."""
    if is_mirrored:
        said = [say("Mirrored for the left hand: measure from the near right corner.")]
    else:
        said = [say("Measure from the near left corner.")]
    if is_free(made):
        said.append(say("Mark each piece on both edges of its two lines, then cut round it."))
    else:
        said.append(
            say("Each cut has a mark on two facing edges: join them with the rule, cut in the order given.")
        )
    if has_guests:
        said.append(
            say("Pieces in hatched corners come last: cut out the large piece and trim its corners first.")
        )
    return " ".join(said)
