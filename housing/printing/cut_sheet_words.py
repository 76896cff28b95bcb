"""The words of a cut sheet in rows: cutting list, tables of cuts and scores, cautions, steps."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from housing.printing.box_parts import PartSheet
from housing.printing.cut_lines import LineRow
from housing.printing.cut_sheet_content import CutSheet
from housing.printing.typefaces import width_of
from housing.printing.typesetting import TEXT_MM, Row, Run, heading, paragraph, table_row
from objects.core.words import say


@dataclass(frozen=True)
class Sections:
    """The words of one sheet set in a column, section by section in the order they are read in.

    tables: those of each part. shifts: how far lines were moved for the thickness of the board.
    """

    notes: list[Row]
    listed: list[Row]
    tables: list[list[Row]]
    shifts: list[Row]
    cautions: list[Row]
    steps: list[Row]

    def all_but(self, left_out: Collection[str] = ()) -> list[Row]:
        """Every row but those of the sections named."""
        rows: list[Row] = []
        for name in ("notes", "listed", "tables", "shifts", "cautions", "steps"):
            if name not in left_out:
                rows += sum(self.tables, []) if name == "tables" else getattr(self, name)
        return rows


def sections_of(sheet: CutSheet, width: float) -> Sections:
    listed = heading(say("Cutting list"), width)
    for name, count, size, place in sheet.listed:
        listed += paragraph([(f"{count} × {name} ", True), (f"{size}: {place}.", False)], width)
    if sheet.supplies:
        needed = say("Also needed: {what}.", what="; ".join(sheet.supplies))
        listed += paragraph([(needed, False)], width)
    cautions = heading(say("Take care"), width)
    for caution in sheet.cautions:
        cautions += paragraph([(caution, True)], width, bar=True, indent_mm=2.5, after_mm=0.9)
    steps = heading(say("Steps"), width)
    for at, step in enumerate(sheet.steps, start=1):
        steps += paragraph([(step, False)], width, mark=f"{at}", indent_mm=5.5, after_mm=0.7)
    return Sections(
        notes=[
            row for note in sheet.notes for row in paragraph([(note, True)], width, bar=True, indent_mm=2.5)
        ],
        listed=listed,
        tables=[_tables(part, sheet, width) for part in sheet.parts],
        shifts=[row for told in sheet.shifts for row in paragraph([(told, False)], width)],
        cautions=cautions,
        steps=steps,
    )


def _tables(part: PartSheet, sheet: CutSheet, width: float) -> list[Row]:
    rows = heading(say("{part}, in {unit}", part=part.name, unit=sheet.unit_name), width)
    if part.cuts:
        what = say("Cut / {flutes}", flutes=say(part.manner.direction))
        heads = [_bold("№"), _bold(what), _bold(say("From edge")), _bold(say("Runs"))]
        rows += _table(
            heads, [[_bold(r.numbers), _plain(r.what), _from(r), _plain(r.runs)] for r in part.cuts], width
        )
    if part.scores:
        heads = [
            _bold(say("Score")),
            _bold(say("From edge")),
            _bold(say("Runs, {face} face", face=sheet.face)),
        ]
        rows += _table(heads, [[_plain(r.what), _from(r), _plain(r.runs)] for r in part.scores], width)
    for told in part.openings:
        rows += paragraph([(say("Cut out {opening}.", opening=told), False)], width)
    return rows + paragraph([(say("Panels: {panels}.", panels=part.panels), False)], width)


def _table(heads: list[list[Run]], body: list[list[list[Run]]], width: float) -> list[Row]:
    """A table whose columns are as wide as what stands in them, within bounds; the last takes the rest."""
    bounds = {4: (0.14, 0.30, 0.38), 3: (0.2, 0.4)}[len(heads)]
    widths = []
    for at, most in enumerate(bounds):
        set_ = [width_of(" ".join(words for words, _ in row[at]), True) for row in (heads, *body)]
        widths.append(min(max(set_) * TEXT_MM + 2.0, most * width))
    words = [word for row in (heads, *body) for run in row[-1] for word in run[0].split(" ")]
    short = TEXT_MM * max(map(width_of, words)) + 1.4 - (width - sum(widths))
    widths[-1] -= max(0.0, short)  # so that no length of the last column is broken
    widths.append(width - sum(widths))
    return [table_row(heads, widths, is_head=True), *(table_row(row, widths) for row in body)]


def _bold(words: str) -> list[Run]:
    return [(words, True)]


def _plain(words: str) -> list[Run]:
    return [(words, False)]


def _from(row: LineRow) -> list[Run]:
    return [(row.edge, False), (row.at, True)]


def column(rows: Sequence[Row], x: float, y: float) -> list[str]:
    drawn = []
    for row in rows:
        drawn.append(row.draw(x, y))
        y += row.height_mm
    return drawn


def height_of(rows: Sequence[Row]) -> float:
    return sum(row.height_mm for row in rows)
