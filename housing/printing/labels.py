"""Labels for the boxes: what is said on each in the reader's words, and where it lies on the sheet."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from housing.core.choosing import MARKS
from housing.core.drawing.handling_signs import HAZARD, SIGNS, STACKING, WEIGHT_SIGN
from housing.core.label_codes import spaced
from housing.core.label_face import (
    LINE,
    NUMBER_LINE,
    Area,
    Block,
    Face,
    Line,
    Mark,
    Said,
    lay_out,
)
from housing.core.label_sheets import USUAL, LabelLayout, LayoutRefused, label_numbers
from housing.models import Housing
from housing.models.housings import marks_of
from housing.printing.papers import TWO_PEOPLE_G, contents_of, hazards_of, listed, weight_g
from housing.printing.photos import photo_data_uri
from housing.printing.qr import STORE, label_address, modules_of, qr_code, qr_picture
from housing.queries.handling import handling_of
from objects.core.words import decimal, say
from objects.models import CatalogueObject
from objects.models.locations import SEPARATOR

__all__ = ["DEFAULT_LAYOUTS", "Label", "LabelLayout", "LayoutRefused", "labels_context", "make_label"]

# The usual sheet of a paper, where nobody has described one.
DEFAULT_LAYOUTS = {"A4": USUAL[0][1], "letter": USUAL[3][1]}
LONGEST_NAME = 80


@dataclass(frozen=True)
class Label:
    """One label laid out. said: all it could say; photo, qr: pictures, blank where they are left out."""

    said: Said
    face: Face
    photo: str
    qr: str


@dataclass
class Styles:
    """What positions and sizes a page of labels needs, each once; a strict page allows none on the labels."""

    names: dict[str, str] = field(default_factory=dict)

    def of(self, rule: str) -> str:
        """The class of a rule, such as "left: 2mm"."""
        return self.names.setdefault(rule, f"l{len(self.names)}")

    def at(self, area: Area) -> str:
        """The class of an area of the label."""
        return self.of(
            f"left: {area.left:.2f}mm; top: {area.top:.2f}mm; "
            f"width: {area.width:.2f}mm; height: {area.height:.2f}mm"
        )


def make_label(housing: Housing, size_mm: tuple[float, float], base_url: str) -> Label:
    """The label of one box. size_mm: of the label. base_url: the site's address, for the code."""
    things = contents_of(housing)
    code = qr_code(label_address(housing, base_url), STORE)
    with_photo = next((thing for thing in things if thing.photo), None)
    said = said_of(housing, things, modules_of(code), has_photo=with_photo is not None)
    face = lay_out(said, *size_mm)
    photo = ""
    if face.photo and with_photo:
        photo = photo_data_uri(with_photo, max(face.photo.width, face.photo.height))
        if not photo:  # its file is gone or cannot be read: the words take its room
            said = said_of(housing, things, modules_of(code), has_photo=False)
            face = lay_out(said, *size_mm)
    return Label(said, face, photo, qr_picture(code) if face.code else "")


def said_of(housing: Housing, things: list[CatalogueObject], code_modules: int, *, has_photo: bool) -> Said:
    """All that the label of a box could say, in the reader's words."""
    code = f" · {spaced(housing.code)}" if housing.code else ""
    hazards = ", ".join(str(hazard) for hazard in hazards_of(things))
    return Said(
        number=listed((thing.number for thing in things), 2),
        box=box_name(housing) + code,
        name=listed((thing.name for thing in things), 2)[:LONGEST_NAME],
        place=nearest(things[0]) if things else "",
        hazards=Mark(SIGNS[HAZARD].character, say("Hazard: {hazards}", hazards=hazards)) if hazards else None,
        marks=tuple(handling_marks(housing, things)),
        has_photo=has_photo,
        code_modules=code_modules,
    )


def box_name(housing: Housing) -> str:
    """The box's number in the reader's words."""
    return say("Box {number:04d}", number=housing.pk)


def handling_marks(housing: Housing, things: list[CatalogueObject]) -> list[Mark]:
    """What to heed in handling, advised by rules or worked out, the most urgent first.

    Source: names of the marks as in ISO 780 where it has them. A rule that forbids stacking goes before the
    height that was worked out.
    """
    advised = dict.fromkeys(marks_of(housing.advice))
    handling = handling_of(housing)
    if any(thing.condition == CatalogueObject.Condition.FRAGILE for thing in things):
        advised["fragile"] = None
    if any(blank.assembly.get("seat") == "over" for blank in housing.blanks.all()):
        advised["this_way_up"] = None
    if handling.two_people or (handling.gross_g is None and weight_g(things) > TWO_PEOPLE_G):
        advised["two_people"] = None
    if handling.boxes_high == 1:
        advised["do_not_stack"] = None
    found = [_mark(key) for key in MARKS if key in advised]
    if handling.lifting is not None and handling.lifting.shows_weight:
        after = [key for key in MARKS if key in advised]
        place = after.index("two_people") + 1 if "two_people" in after else len(after)
        kg = decimal(handling.lifting.gross_kg, 1)
        found.insert(place, Mark(SIGNS[WEIGHT_SIGN].character, f"{kg} kg"))
    found += [Mark("", key) for key in advised if key not in MARKS]
    if handling.boxes_high and "do_not_stack" not in advised:
        words = say("Stacking limit by number: {count}", count=handling.boxes_high)
        found.append(Mark(SIGNS[STACKING].character, words))
    return found


def _mark(key: str) -> Mark:
    sign = SIGNS.get(key)
    return Mark(sign.character if sign else "", say(MARKS[key]))


def nearest(thing: CatalogueObject) -> str:
    """The last two steps of where an object is kept: those that are looked for in the store."""
    return SEPARATOR.join(thing.location.path.split(SEPARATOR)[-2:]) if thing.location else ""


def labels_context(
    housings: Sequence[Housing],
    base_url: str,
    layout: LabelLayout,
    start: int = 1,
    *,
    outlines: bool = False,
) -> dict:
    """All that the label pages show; raises LayoutRefused. outlines: whether edges are printed."""
    size = layout.label_width_mm, layout.label_height_mm
    labels = [make_label(housing, size, base_url) for housing in housings]
    styles = Styles()
    shown = [_shown(label, styles) for label in labels]
    pages = [
        [(place, shown[number]) for place, number in sheet]
        for sheet in label_numbers(layout, len(labels), start)
    ]
    return {
        "pages": pages,
        "places": layout.places_mm(),
        "width_mm": round(layout.label_width_mm, 3),
        "height_mm": round(layout.label_height_mm, 3),
        "paper_mm": (layout.page_width_mm, layout.page_height_mm),
        "styles": [(name, rule) for rule, name in styles.names.items()],
        "outlines": outlines,
        "labels": labels,
    }


def _shown(label: Label, styles: Styles) -> Mapping[str, object]:
    """A label for the page: pictures and blocks with their classes."""
    face = label.face
    type_class = styles.of(f"font-size: {face.type_pt:g}pt; line-height: {LINE}")
    number_class = styles.of(f"font-size: {face.number_pt:g}pt; line-height: {NUMBER_LINE}")
    return {
        "photo": label.photo,
        "photo_class": styles.at(face.photo) if face.photo else "",
        "qr": label.qr,
        "code_class": styles.at(face.code) if face.code else "",
        "name": label.said.name,
        "blocks": [
            (f"{type_class} {styles.at(block.area)}", list(_lines(block, number_class)))
            for block in face.blocks
        ],
    }


def _lines(block: Block, number_class: str) -> Iterator[tuple[Line, str]]:
    """Each line with the class of its words."""
    for line in block.lines:
        yield line, number_class if line.kind == "number" else line.kind
