"""What a design gives for a size, in the reader's words: sizes, marks, areas, drawings, and the proof."""

from dataclasses import dataclass

from django.utils.safestring import SafeString, mark_safe

from housing.core.clearances import MM2_PER_M2
from housing.core.drawing.blank_svg import Manner, blank_svg
from housing.core.drawing.closed_svg import closed_svg
from housing.core.enclosures import Enclosure
from housing.core.enclosures.form import BOARD, Part, Supply
from housing.core.enclosures.seating import fits
from housing.core.errors import PaperTooSmall, SizeRefused
from housing.core.joining import split
from housing.core.making import alike, making_steps
from housing.core.proof import faults
from housing.core.too_large import SheetFace
from housing.models import Campaign, Design
from housing.printing.scoring import scored_with
from housing.services.nesting import sheet_face
from objects.core.words import say
from objects.readers import Reader

ROOM_MM = (170, 120)  # for one drawing on the page


@dataclass(frozen=True)
class TriedPart:
    """One part of a trial: sides and marks, counts, and its drawing. Alike parts are told once."""

    name: str
    count: int
    material: str
    sides_mm: tuple[float, float]
    marks_x: str
    marks_y: str
    flap_marks: str
    waste: str
    folds: int
    joints: int
    caption: str
    svg: SafeString


@dataclass(frozen=True)
class TriedFit:
    """How loosely a part goes over or into the first, mm in all."""

    part: str
    room_mm: tuple[float, float]


@dataclass(frozen=True)
class TriedJoin:
    """How a part larger than every sheet is made of joined ones: in a sentence, and each drawn."""

    part: str
    sentence: str
    parts: tuple[tuple[str, SafeString], ...]


@dataclass(frozen=True)
class Trial:
    """What a design gives for a size, or the sentence with which it refuses."""

    refusal: str = ""
    asked_mm: tuple[float, ...] = ()
    inside_mm: tuple[float, ...] = ()
    outside_mm: tuple[float, ...] = ()
    board_m2: float = 0.0
    used_m2: float = 0.0
    weight_g: float | None = None
    notes: tuple[str, ...] = ()
    steps: tuple[str, ...] = ()
    supplies: tuple[Supply, ...] = ()
    fits: tuple[TriedFit, ...] = ()
    faults: tuple[str, ...] = ()
    closed: SafeString | str = ""
    parts: tuple[TriedPart, ...] = ()
    joined: tuple[TriedJoin, ...] = ()
    enclosure: Enclosure | None = None


def make_trial(design: Design, made: Enclosure, reader: Reader) -> Trial:
    """Everything the page shows of an enclosure a design gives."""
    board = [part for part in made.parts if part.material == BOARD]
    used_m2 = sum(part.blank.board_area_mm2 for part in board) / MM2_PER_M2
    grammage = design.board.grammage_g_m2
    return Trial(
        asked_mm=(made.asked.z_mm, made.asked.x_mm, made.asked.y_mm),
        inside_mm=(made.inside.z_mm, made.inside.x_mm, made.inside.y_mm),
        outside_mm=(made.outside.z_mm, made.outside.x_mm, made.outside.y_mm),
        board_m2=sum(part.blank.gross_area_mm2 for part in board) / MM2_PER_M2,
        used_m2=used_m2,
        weight_g=used_m2 * float(grammage) if grammage else None,
        notes=made.notes,
        steps=tuple(making_steps(made.parts)),
        supplies=made.supplies,
        fits=tuple(TriedFit(fit.part, (fit.x_mm, fit.y_mm)) for fit in fits(made.parts)),
        faults=tuple(faults(made)),
        closed=_closed(made, reader),
        parts=tuple(_part(design, part, count, reader) for part, count in alike(made.parts)),
        joined=_joins(design, board, reader),
        enclosure=made,
    )


def _part(design: Design, part: Part, count: int, reader: Reader) -> TriedPart:
    blank, name = part.blank, part.name.capitalize()
    try:
        drawing = blank_svg(
            blank,
            title=say("{name} of {design}", name=name, design=design),
            format_length=reader.length,
            paper_width_mm=ROOM_MM[0],
            paper_height_mm=ROOM_MM[1],
            manner=Manner(
                "flutes" if design.board.to_core().is_fluted else "grain", scored_with(design.board)
            ),
        )
        svg, caption = drawing.svg, say("{name}, drawn {scale}", name=name, scale=drawing.scale)
    except PaperTooSmall:
        svg, caption = "", say("{name}: too intricate to draw here; work from the figures.", name=name)
    return TriedPart(
        name=name,
        count=count,
        material="" if part.material == BOARD else part.material,
        sides_mm=(blank.x_mm, blank.y_mm),
        marks_x=_run(blank.marks_x, reader),
        marks_y=_run(blank.marks_y, reader),
        flap_marks=" and ".join(
            filter(None, (_run(blank.flap_marks_x, reader), _run(blank.flap_marks_y, reader)))
        ),
        waste="; ".join(
            say("{n} of {size}", n=n, size=reader.size((w, h))) for w, h, n in blank.corner_waste
        ),
        folds=blank.folds,
        joints=blank.glue_joints,
        caption=caption,
        svg=mark_safe(svg),
    )


def _joins(design: Design, parts: list[Part], reader: Reader) -> tuple[TriedJoin, ...]:
    """Parts, each kind once, that fit no sheet of the board as its flutes run, made of joined ones."""
    trim = float(Campaign._meta.get_field("trim_mm").default)
    faces = [sheet_face(size, trim) for size in design.board.sheet_sizes.select_related("board")]
    return tuple(
        _joined(design, part, faces, reader)
        for part, _ in alike(parts)
        if faces and not any(face.holds(part.blank.along_mm, part.blank.across_mm) for face in faces)
    )


def _joined(design: Design, part: Part, faces: list[SheetFace], reader: Reader) -> TriedJoin:
    """The fewest parts that some sheet of the board allows."""
    ways = []
    for face in faces:
        try:
            ways.append(split(part.blank, face.along_mm, face.across_mm))
        except SizeRefused:
            continue
    if not ways:
        return TriedJoin(part.name, say("Every sheet of this board is too small even for joined parts."), ())
    best = min(ways, key=lambda way: (len(way.parts), way.lap_area_mm2))
    drawn = []
    for number, piece in enumerate(best.parts, start=1):
        name = say(
            "{part_name}, part {number} of {count}",
            part_name=part.name.capitalize(),
            number=number,
            count=len(best.parts),
        )
        size = reader.size((piece.blank.x_mm, piece.blank.y_mm))
        try:
            drawing = blank_svg(
                piece.blank, title=name, format_length=reader.length,
                paper_width_mm=ROOM_MM[0], paper_height_mm=ROOM_MM[1],
            )  # fmt: skip
        except PaperTooSmall:
            continue
        drawn.append(
            (
                say("{name}: {size}, drawn {scale}", name=name, size=size, scale=drawing.scale),
                mark_safe(drawing.svg),
            )
        )
    said = say(
        "The {part_name} is larger than every sheet of {code}. {sentence}",
        part_name=part.name,
        code=design.board.code,
        sentence=best.sentence,
    )
    return TriedJoin(part.name, said, tuple(drawn))


def _run(marks: tuple[float, ...], reader: Reader) -> str:
    return " · ".join(reader.length(mark) for mark in marks)


def _closed(made: Enclosure, reader: Reader) -> SafeString | str:
    try:
        return mark_safe(closed_svg(made.parts, made.outside, title="Closed", format_length=reader.length))
    except PaperTooSmall:
        return ""
