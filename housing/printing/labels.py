"""Labels for the boxes: how a label sheet is divided, and what stands on each label."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from django.urls import reverse

from housing.core.choosing import MARKS, mark_names
from housing.core.drawing.svg import text_width
from housing.models import Housing
from housing.models.housings import marks_of
from housing.printing.papers import TWO_PEOPLE_G, Paper, contents_of, hazards_of, listed, shortened, weight_g
from housing.printing.photos import photo_data_uri
from housing.printing.qr import qr_data_uri
from housing.queries.handling import handling_of
from objects.core.lengths import MM_PER_INCH
from objects.core.refusals import Refusal
from objects.models import CatalogueObject
from objects.models.locations import SEPARATOR

LEAST_MM = (45.0, 22.0)  # below this a code that a telephone reads leaves no room for words; assumed
EDGE_MM = 2.0
CODE_MM = 20.0
PHOTO_MM = 14.0
TALL_MM = 33.0  # from here there is room beneath the code for a name, a place and a line on handling; assumed
PT_PER_MM = 72 / float(MM_PER_INCH)
NUMBER_MM = (1.5, 5.3)  # least and greatest size of the object number
ONE_LINE_MM = 3.0  # a number that would be smaller than this on one line is broken onto two
TWO_LINES = 1.7  # not 2, for the break seldom falls in the middle; assumed
STACK = "Stack "
MARK_SIGNS = (
    48  # of advised marks: on the shortest label they then take two lines at most; tried in a browser
)
BOLD = 1.12  # how much wider bold type runs; assumed


class LayoutRefused(Refusal):
    """Labels do not fit the paper as asked; the message is a sentence for the reader."""


@dataclass(frozen=True)
class LabelLayout:
    """How a sheet is divided; margins and gaps in mm, the same left and right, above and below."""

    columns: int = 3
    rows: int = 8
    margin_x_mm: float = 7.0
    margin_y_mm: float = 12.0
    gap_x_mm: float = 2.5
    gap_y_mm: float = 0.0

    @property
    def on_a_sheet(self) -> int:
        return self.columns * self.rows

    def label_mm(self, paper: Paper) -> tuple[float, float]:
        """Width and height of one label; raises LayoutRefused for one too small to be read."""
        wide = _share(paper.width_mm, self.margin_x_mm, self.gap_x_mm, self.columns)
        high = _share(paper.height_mm, self.margin_y_mm, self.gap_y_mm, self.rows)
        for size, least, many, names in (
            (wide, LEAST_MM[0], self.columns, "columns"), (high, LEAST_MM[1], self.rows, "rows"),
        ):  # fmt: skip
            if size < least:
                room = f"{size:.1f} mm each" if size > 0 else "no room at all"
                raise LayoutRefused(
                    f"{many} {names} do not fit this paper: margins and gaps leave {room}, and a label needs "
                    f"{least:g} mm. Take fewer {names}, or smaller margins and gaps."
                )
        return wide, high


# Common practice, no source: 3 x 8 on A4; 3 x 10 on US Letter, each label 1 in high.
DEFAULT_LAYOUTS = {
    "A4": LabelLayout(),
    "letter": LabelLayout(3, 10, margin_x_mm=4.7625, margin_y_mm=12.7, gap_x_mm=3.175),
}


@dataclass(frozen=True)
class Label:
    """One label, everything in words; the object number's size so that it stays inside."""

    numbers: str
    number_pt: float
    name: str
    box: str
    location: str
    photo: str
    qr: str
    hazards: str
    handling: tuple[str, ...]


def make_label(housing: Housing, label_mm: tuple[float, float], base_url: str) -> Label:
    """The label of one box. base_url: the site's address, for the code that leads to the object's page."""
    things = contents_of(housing)
    numbers = listed((thing.number for thing in things), 2)
    photo = next((photo for thing in things if (photo := photo_data_uri(thing))), "")
    hazards = hazards_of(things)
    return Label(
        numbers=numbers,
        number_pt=number_pt(numbers, words_mm(label_mm[0], bool(photo))),
        name=shortened(listed((thing.name for thing in things), 2), 80),
        box=housing.box_number,
        location=_nearest(things[0]),
        photo=photo,
        qr=qr_data_uri(base_url.rstrip("/") + reverse("housing:object-detail", args=[things[0].pk])),
        hazards=f"Hazard: {', '.join(hazards)}" if hazards else "",
        handling=tuple(_handling(housing, things)),
    )


def words_mm(label_width_mm: float, has_photo: bool) -> float:
    """Width left for words beside the code and the photo."""
    return label_width_mm - 3 * EDGE_MM - CODE_MM - (PHOTO_MM + EDGE_MM if has_photo else 0)


def number_pt(numbers: str, width_mm: float) -> float:
    """Type size of an object number in points: large, smaller for a long one, then for two lines."""
    least, greatest = NUMBER_MM
    fitting = width_mm / (text_width(numbers, 1.0) * BOLD)
    if fitting < ONE_LINE_MM:
        fitting = min(ONE_LINE_MM, TWO_LINES * fitting)
    return int(10 * PT_PER_MM * max(least, min(greatest, fitting))) / 10


def sheets_of(labels: Sequence[Label], layout: LabelLayout, start: int) -> Iterator[list[tuple[int, Label]]]:
    """(Place on the sheet from 0, label), sheet by sheet. start: the first free place, counted from 1."""
    placed = list(enumerate(labels, start=start - 1))
    for first in range(0, start - 1 + len(labels), layout.on_a_sheet):
        on_it = [(at - first, label) for at, label in placed if 0 <= at - first < layout.on_a_sheet]
        if on_it:
            yield on_it


def places_mm(layout: LabelLayout, paper: Paper) -> list[tuple[float, float]]:
    """(Left, top) of each place, row by row."""
    wide, high = layout.label_mm(paper)
    return [
        (
            round(layout.margin_x_mm + column * (wide + layout.gap_x_mm), 3),
            round(layout.margin_y_mm + row * (high + layout.gap_y_mm), 3),
        )
        for row in range(layout.rows)
        for column in range(layout.columns)
    ]


def labels_context(
    housings: Sequence[Housing], paper: Paper, base_url: str, layout: LabelLayout, start: int = 1
) -> dict:
    """All that the label page shows; raises LayoutRefused."""
    size = layout.label_mm(paper)
    labels = [make_label(housing, size, base_url) for housing in housings]
    return {
        "pages": list(sheets_of(labels, layout, start)),
        "places": places_mm(layout, paper),
        "width_mm": round(size[0], 3),
        "height_mm": round(size[1], 3),
        "is_tall": size[1] >= TALL_MM,
        "paper": paper.key,
        "paper_mm": (paper.width_mm, paper.height_mm),
        "type_sizes": sorted({label.number_pt for label in labels}),
    }


def _handling(housing: Housing, things: list[CatalogueObject]) -> Iterator[str]:
    """What to heed: what was worked out for the box, then the marks that rules advise, each once."""
    advised = mark_names(marks_of(housing.advice))
    words = list(_worked_out(housing, things))
    if MARKS["do_not_stack"] in advised:
        words = [word for word in words if not word.startswith(STACK)]
    yield from words
    yield from fitting([mark for mark in advised if mark not in words])


def fitting(marks: Sequence[str]) -> list[str]:
    """As many marks, the most urgent first, as leave room on a label for the rest; then how many more."""
    kept: list[str] = []
    for mark in marks:
        if len(" ".join([*kept, mark])) > MARK_SIGNS:
            return [*kept, f"+ {len(marks) - len(kept)} more on its page"]
        kept.append(mark)
    return kept


def _worked_out(housing: Housing, things: list[CatalogueObject]) -> Iterator[str]:
    """What the box and its contents call for. Source: names of the marks as in ISO 780 where it has them."""
    if any(thing.condition == CatalogueObject.Condition.FRAGILE for thing in things):
        yield MARKS["fragile"]
    if any(blank.assembly.get("seat") == "over" for blank in housing.blanks.all()):
        yield MARKS["this_way_up"]
    handling = handling_of(housing)
    if handling.two_people or (handling.gross_g is None and weight_g(things) > TWO_PEOPLE_G):
        yield MARKS["two_people"]
    if handling.lifting is not None and handling.lifting.shows_weight:
        yield f"{handling.lifting.gross_kg:.1f} kg"
    if handling.boxes_high == 1:
        yield MARKS["do_not_stack"]
    elif handling.boxes_high:
        yield f"{STACK}{handling.boxes_high} high at most"


def _nearest(thing: CatalogueObject) -> str:
    """The last two steps of where an object is kept: those that are looked for in the store."""
    return SEPARATOR.join(thing.location.path.split(SEPARATOR)[-2:]) if thing.location else ""


def _share(side_mm: float, margin_mm: float, gap_mm: float, number: int) -> float:
    return (side_mm - 2 * margin_mm - (number - 1) * gap_mm) / number
