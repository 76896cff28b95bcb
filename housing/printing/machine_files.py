"""Files for cutting tables and plotters: of each part of a box or of a trial, and of whole planned sheets."""

import io
import re
import unicodedata
import zipfile
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from boards.models import Board
from housing.core import blank as core
from housing.core.enclosures.form import BOARD, Part
from housing.core.errors import SizeRefused
from housing.core.joining import Joined, JoinedPart, split
from housing.core.machine.drawings import Laid, blank_drawing, sheet_drawing
from housing.core.machine.dxf import dxf_text
from housing.core.machine.layers import LAYERS, SCORE_INSIDE, SCORE_OUTSIDE, TEXT
from housing.core.machine.strokes import Drawing
from housing.core.machine.svg_file import svg_text
from housing.core.making import alike
from housing.models import Campaign, Housing, PlannedSheet
from housing.printing.papers import contents_of, listed
from housing.printing.scoring import scored_with
from housing.queries.plans import cut_sheet_of, label_of, placements_of
from housing.services.nesting import sheet_face
from objects.core.words import say

WRITERS = {"dxf": dxf_text, "svg": svg_text}
CONTENT_TYPES = {"dxf": "image/vnd.dxf", "svg": "image/svg+xml"}
LONGEST_NAME = 40  # signs of each part of a file's name


@dataclass(frozen=True)
class MachineFile:
    """Something a file is made of: its name without the ending, what it is in words, and its drawing."""

    name: str
    says: str
    size_mm: tuple[float, float]
    drawing: Drawing
    count: int = 1

    def text(self, kind: str) -> str:
        """The file. kind: a key of WRITERS."""
        return WRITERS[kind](self.drawing)


def zip_of(files: Iterable[MachineFile]) -> bytes:
    """All files in both formats, in one; names that would be there twice are numbered."""
    whole, taken = io.BytesIO(), set()
    with zipfile.ZipFile(whole, "w", zipfile.ZIP_DEFLATED) as packed:
        for file in files:
            name, number = file.name, 2
            while name.lower() in taken:
                name, number = f"{file.name}-{number}", number + 1
            taken.add(name.lower())
            for kind in WRITERS:
                packed.writestr(f"{name}.{kind}", file.text(kind))
    return whole.getvalue()


def box_files(housing: Housing) -> list[MachineFile]:
    """For each part of a box, fetched by boxes_to_print(), one; joined parts of one too large for a sheet."""
    board = housing.design.board
    numbers = listed(thing.number for thing in contents_of(housing))
    return [
        file
        for blank in housing.blanks.all()
        for file in _part_files(
            blank.to_core(), blank.part, blank.material, board, housing.box_number,
            say("{box} · {numbers}", box=housing.box_number, numbers=numbers),
        )
    ]  # fmt: skip


def trial_files(parts: Sequence[Part], board: Board, design: str) -> list[MachineFile]:
    """One for each kind of part of what a design gives for a size."""
    return [
        file
        for part, count in alike(parts)
        for file in _part_files(part.blank, part.name, part.material, board, design, design, count)
    ]


def sheet_file(sheet: PlannedSheet) -> MachineFile:
    """One whole sheet, fetched by sheets_to_print().

    Raises SizeRefused where a blank on it is not as large any more as its place.
    """
    made, shape = cut_sheet_of(sheet)
    laid = [
        Laid(blank.blank.to_core(), place, label_of(blank))
        for blank, place in zip(placements_of(sheet), made.placements, strict=True)
    ]
    board, campaign = sheet.board, sheet.plan.campaign
    title = say("Sheet {number} of {board}", number=sheet.position, board=board.code)
    drawing = sheet_drawing(
        shape,
        laid,
        made.offcuts,
        score_layer=score_layer(board),
        title=title,
        is_fluted=board.to_core().is_fluted,
        notes=[f"{title} · {campaign}", *_notes(board)],
    )
    name = "_".join(map(_plain, (board.code, f"plan-{sheet.plan_id}", f"sheet-{sheet.position:03}")))
    return MachineFile(name, title, (shape.along_mm, shape.across_mm), drawing)


def score_layer(board: Board) -> str:
    """The layer of a board's scores: the face on which its folds are made."""
    return SCORE_OUTSIDE if Board.Fold(board.fold_share) is Board.Fold.INSIDE else SCORE_INSIDE


def layers_of(files: Sequence[MachineFile]) -> list[tuple[str, str]]:
    """Name of each layer that some files have, and what is done with it."""
    used = {stroke.layer for file in files for stroke in file.drawing.strokes} | {TEXT}
    return [(layer.name, say(layer.says)) for layer in LAYERS.values() if layer.name in used]


def _part_files(
    blank: core.Blank, part: str, material: str, board: Board, owner: str, of: str, count: int = 1
) -> list[MachineFile]:
    said = say(part.replace("_", " "))
    is_board = material == BOARD
    joined = _joined(blank, board) if is_board else None
    pieces = joined.parts if joined else [JoinedPart(blank, 0.0, 0.0)]
    files = []
    for number, piece in enumerate(pieces, start=1):
        words, name = said, _plain(part)
        if joined:
            words = say("{part}, part {number} of {count}", part=said, number=number, count=len(pieces))
            name += f"-{number}-of-{len(pieces)}"
        drawing = blank_drawing(
            piece.blank,
            score_layer=score_layer(board),
            name=f"{of} {words}",
            is_fluted=board.to_core().is_fluted if is_board else None,
            notes=[
                f"{of}: {words}, {board.code if is_board else say(material)}",
                *(_notes(board) if is_board else ()),
            ],
            laps=_laps(piece, joined.parts) if joined else (),
        )
        start = "_".join(map(_plain, (board.code if is_board else material, owner)))
        size = piece.blank.x_mm, piece.blank.y_mm
        files.append(MachineFile(f"{start}_{name}", words, size, drawing, count))
    return files


def _notes(board: Board) -> list[str]:
    """What stands beneath every drawing on board."""
    return [
        say("True size in mm, inside face up; no width of a cut is added."),
        say("Scores: {how}.", how=say(scored_with(board))),
    ]


def _joined(blank: core.Blank, board: Board) -> Joined | None:
    """The joined parts of a blank larger than every sheet of its board; None where one holds it."""
    trim = float(Campaign._meta.get_field("trim_mm").default)
    faces = [sheet_face(size, trim) for size in board.sheet_sizes.select_related("board")]
    if not faces or any(face.holds(blank.along_mm, blank.across_mm) for face in faces):
        return None
    ways = []
    for face in faces:
        try:
            ways.append(split(blank, face.along_mm, face.across_mm))
        except SizeRefused:
            continue
    return min(ways, key=lambda way: (len(way.parts), way.lap_area_mm2), default=None)


def _laps(piece: JoinedPart, parts: Sequence[JoinedPart]) -> list[core.Line]:
    """Up to where its neighbours lie over a joined part, mm from its own corner."""
    wide, high = piece.blank.x_mm, piece.blank.y_mm
    lines = []
    for other in parts:
        if other is piece:
            continue
        left, near = other.x_mm - piece.x_mm, other.y_mm - piece.y_mm
        right, far = left + other.blank.x_mm, near + other.blank.y_mm
        if abs(near) < core.SAME_LINE_MM and right > 0 and left < wide:
            at = left if left > 0 else right
            lines.append(core.Line(at, 0.0, at, high))
        elif abs(left) < core.SAME_LINE_MM and far > 0 and near < high:
            at = near if near > 0 else far
            lines.append(core.Line(0.0, at, wide, at))
    return lines


def _plain(text: str) -> str:
    """A text as part of a file's name: letters and digits that every system takes."""
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode()
    return re.sub(r"[^A-Za-z0-9]+", "-", plain).strip("-")[:LONGEST_NAME] or "x"
